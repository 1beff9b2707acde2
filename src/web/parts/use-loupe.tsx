/** The loupe over the picture: it follows the pointer, a finger that stays beside it, or the arrows. */
import { type Signal, useSignal } from "@preact/signals";
import type { Tokens } from "#picture";
import { type LoupeView, loupeRadius, loupeWords } from "../draw/loupe-scene.ts";
import { layers, loupe, magnifications, toggleLoupe } from "../state/layers.ts";
import type { PictureWindow } from "./use-window.ts";

interface Pixel {
  readonly x: number;
  readonly y: number;
}

/** Steps by the arrows, alone and with Shift, [px]; room between a finger and the loupe. */
const steps = { plain: 8, fine: 1 } as const;
const fingerRoom = 32;

export interface Loupe {
  readonly spot: Signal<Pixel | undefined>;
  /** Moves it under a pointer; a finger does not cover it. */
  follow(event: PointerEvent): void;
  /** True where the key moved it. */
  takesKey(event: KeyboardEvent): boolean;
  /** What it shows now; undefined where there is none. Reads signals. */
  view(tokens: Tokens): LoupeView | undefined;
}

export function useLoupe(picture: PictureWindow): Loupe {
  const spot = useSignal<Pixel | undefined>(undefined);
  const isFinger = useSignal(false);
  const middle = (): Pixel => ({ x: picture.frame.value.width / 2, y: picture.frame.value.height / 2 });
  /** Above a finger, or beside it where there is no room. */
  const centreOf = (at: Pixel): Pixel => {
    if (!isFinger.value) return at;
    const { width } = picture.frame.value;
    const room = loupeRadius + fingerRoom;
    if (at.y >= room + loupeRadius / 2) return { x: Math.max(loupeRadius, Math.min(width - loupeRadius, at.x)), y: at.y - room };
    return { x: at.x < width / 2 ? at.x + room : at.x - room, y: Math.max(at.y, loupeRadius) };
  };
  return {
    spot,
    follow(event) {
      isFinger.value = event.pointerType === "touch";
      spot.value = picture.pixelOf(event);
    },
    takesKey({ key, shiftKey }) {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
      if (loupe.peek() === undefined || way === undefined) return false;
      const { x, y } = spot.peek() ?? middle();
      const step = shiftKey ? steps.fine : steps.plain;
      const { width, height } = picture.frame.peek();
      isFinger.value = false;
      spot.value = {
        x: Math.max(0, Math.min(width, x + step * way[0]!)),
        y: Math.max(0, Math.min(height, y + step * way[1]!)),
      };
      return true;
    },
    view(tokens) {
      const [found, times, window] = [layers.value, loupe.value, picture.window()];
      if (found === undefined || times === undefined || window === undefined) return undefined;
      const at = spot.value ?? middle();
      return { layers: found, place: picture.placeOf(at), zoom: times * window.zoom, centre: centreOf(at), spot: at, tokens };
    },
  };
}

/** On and off, and how large. */
export function LoupeChoice() {
  return (
    <fieldset class="exaggeration" aria-label="Loupe">
      <button type="button" class="choice" aria-pressed={loupe.value !== undefined} onClick={toggleLoupe}>
        loupe
      </button>
      {loupe.value === undefined
        ? null
        : magnifications.map((times) => (
            <button
              key={times}
              type="button"
              class="choice"
              aria-pressed={loupe.value === times}
              aria-label={`Loupe ${times} times as large as the picture`}
              onClick={() => {
                loupe.value = times;
              }}
            >
              × {times}
            </button>
          ))}
    </fieldset>
  );
}

/** What stands in its middle, and at what scale it is seen. */
export function wordsOfLoupe(view: LoupeView): readonly [found: string, scale: string] {
  const across = ((2 * loupeRadius) / view.zoom) * 1e6;
  const size = across >= 1000 ? `${Number((across / 1e3).toPrecision(2))} mm` : `${Number(across.toPrecision(2))} µm`;
  return [
    loupeWords(view.layers, view.place),
    `Loupe ${loupe.value} times as large as the picture, ${size} across, at rest: filled as built, dashed as drawn.`,
  ];
}
