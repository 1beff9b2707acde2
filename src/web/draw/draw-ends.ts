/** Rings on the ends of beams that can be taken hold of. */
import type { Tokens } from "#picture";
import type { PlacedEnd } from "./ends.ts";
import { type Frame, projection, type Window } from "./window.ts";

export function drawEnds(
  canvas: CanvasRenderingContext2D,
  ends: readonly PlacedEnd[],
  at: {
    readonly frame: Frame;
    readonly window: Window;
    readonly tokens: Tokens;
    /** Of each ring, [px]. */
    readonly radius: number;
    /** The one in hand, or under the pointer. */
    readonly held: PlacedEnd | undefined;
  },
): void {
  const { frame, window, tokens, radius, held } = at;
  const { x, y } = projection(window, frame);
  canvas.lineWidth = 1.75;
  canvas.strokeStyle = tokens.handle;
  for (const { at: place } of [...ends, ...(held === undefined ? [] : [held])]) {
    const isHeld = held?.at === place;
    canvas.beginPath();
    canvas.arc(x(place.x), y(place.y), radius + (isHeld ? 2 : 0), 0, 2 * Math.PI);
    canvas.fillStyle = isHeld ? tokens.handle : tokens.sheet;
    canvas.fill();
    canvas.stroke();
  }
}
