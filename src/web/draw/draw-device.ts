/** The device on a canvas: outlines as built, each beam and body in the colours of its temperature, everything at one scale. */
import type { DeviceView } from "#devices";
import type { Tokens } from "#picture";
import { type Frame, projection, type Window } from "./window.ts";

export interface Span {
  readonly low: number;
  readonly high: number;
}

/** Below this difference no colours are shown, [K]. */
const leastSpan = 1;
const [outline, litEdge] = [0.75, 1.25];

/** Coldest and hottest of a view, [K]. */
export function spanOf(view: DeviceView): Span {
  let [low, high] = [Infinity, -Infinity];
  const take = (values: Float64Array): void => {
    for (const value of values) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  };
  for (const { field } of view.bodies) take(field.temperatures);
  for (const { temperatures } of view.beams) take(temperatures);
  return { low, high };
}

/** Colour of a temperature on the even map; undefined where everything is equally warm. */
function colours(span: Span, tokens: Tokens): ((value: number) => string) | undefined {
  if (!(span.high - span.low > leastSpan)) return undefined;
  const { ember } = tokens;
  return (value) => {
    const share = (value - span.low) / (span.high - span.low);
    return ember[Math.min(ember.length - 1, Math.max(0, Math.floor(share * ember.length)))]!;
  };
}

/** Many openings are outlined only where one of 8 um spans more than three pixels. */
const showsOpenings = (outlines: readonly Float64Array[], { zoom }: Window): boolean => outlines.length < 40 || zoom * 8e-6 > 3;

export function drawDevice(
  canvas: CanvasRenderingContext2D,
  view: DeviceView,
  at: { readonly frame: Frame; readonly window: Window; readonly tokens: Tokens; readonly isLit: (part: string) => boolean },
): Span {
  const { frame, window, tokens, isLit } = at;
  const { density } = frame;
  canvas.setTransform(density, 0, 0, density, 0, 0);
  canvas.fillStyle = tokens.glass;
  canvas.fillRect(0, 0, frame.width, frame.height);
  const { x, y } = projection(window, frame);
  const span = spanOf(view);
  const colourOf = colours(span, tokens);
  const pathOf = (points: Float64Array): Path2D => {
    const path = new Path2D();
    path.moveTo(x(points[0]!), y(points[1]!));
    for (let i = 2; i < points.length; i += 2) path.lineTo(x(points[i]!), y(points[i + 1]!));
    path.closePath();
    return path;
  };
  canvas.lineCap = "butt";
  for (const { name, line, widths, temperatures } of view.beams) {
    const n = temperatures.length;
    // its outline: what is cold is as dark as the ground in some lights
    canvas.lineWidth = Math.max(1, Math.max(...widths) * window.zoom) + 2 * (isLit(name) ? litEdge : outline);
    canvas.strokeStyle = isLit(name) ? tokens.handle : tokens.ink2;
    canvas.beginPath();
    for (let i = 0; i < line.length; i += 2) canvas.lineTo(x(line[i]!), y(line[i + 1]!));
    canvas.stroke();
    for (let i = 0; i < n; i++) {
      const share = (i + 0.5) / n;
      canvas.lineWidth = Math.max(1, (widths[0] + share * (widths[1] - widths[0])) * window.zoom);
      canvas.strokeStyle = colourOf?.(temperatures[i]!) ?? tokens.silicon;
      canvas.beginPath();
      canvas.moveTo(x(line[2 * i]!), y(line[2 * i + 1]!));
      // half a pixel on, so that no seam shows between pieces
      const [dx, dy] = [x(line[2 * i + 2]!) - x(line[2 * i]!), y(line[2 * i + 3]!) - y(line[2 * i + 1]!)];
      const more = 1 + 0.5 / Math.max(0.5, Math.hypot(dx, dy));
      canvas.lineTo(x(line[2 * i]!) + dx * more, y(line[2 * i + 1]!) + dy * more);
      canvas.stroke();
    }
  }
  for (const { name, kind, outlines, field } of view.bodies) {
    const path = new Path2D();
    for (const points of outlines) path.addPath(pathOf(points));
    canvas.fillStyle = kind === "anchor" ? tokens.anchors : tokens.silicon;
    if (colourOf !== undefined && kind === "plate") {
      const [from, to] = [field.from, field.to];
      const gradient = canvas.createLinearGradient(x(from.x), y(from.y), x(to.x), y(to.y));
      field.shares.forEach((share, i) => {
        gradient.addColorStop(Math.min(1, Math.max(0, share)), colourOf(field.temperatures[i]!));
      });
      canvas.fillStyle = gradient;
    }
    canvas.fill(path, "evenodd");
    canvas.lineWidth = isLit(name) ? 2 * litEdge : outline;
    canvas.strokeStyle = isLit(name) ? tokens.handle : tokens.ink2;
    // edges of openings only a few pixels wide would hide the openings
    canvas.stroke(showsOpenings(outlines, window) ? path : pathOf(outlines[0]!));
  }
  canvas.strokeStyle = tokens.ink;
  canvas.lineWidth = 2.25;
  for (const { line } of view.stops) {
    canvas.beginPath();
    canvas.moveTo(x(line[0]!), y(line[1]!));
    canvas.lineTo(x(line[2]!), y(line[3]!));
    canvas.stroke();
  }
  return span;
}
