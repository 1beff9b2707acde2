/** From places of the die to pixels of a picture. Main test: window.test.ts. */
import type { DeviceView } from "#devices";

export interface Frame {
  /** Size of the canvas, [px]. */
  readonly width: number;
  readonly height: number;
  /** Pixels of the screen for one of the page. */
  readonly density: number;
}

/** What of the die stands in the middle of the canvas, and how large. */
export interface Window {
  /** [m] */
  readonly x: number;
  readonly y: number;
  /** Pixels for a metre. */
  readonly zoom: number;
}

/** Free pixels round the whole. */
const margin = 16;

/** Every line and outer outline of a view. */
export const linesOfView = (view: DeviceView): readonly Float64Array[] => [
  ...view.bodies.map(({ outlines }) => outlines[0]!),
  ...view.beams.map(({ line }) => line),
];

/** Ends of what lines cover, [m]; turned inside out where there is none. */
export interface Extent {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

export function extentOf(lines: readonly Float64Array[]): Extent {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const line of lines)
    for (let i = 0; i < line.length; i += 2) {
      left = Math.min(left, line[i]!);
      right = Math.max(right, line[i]!);
      bottom = Math.min(bottom, line[i + 1]!);
      top = Math.max(top, line[i + 1]!);
    }
  return { left, right, bottom, top };
}

/** The window that shows all lines, [n × 2] m each. */
export function wholeOf(lines: readonly Float64Array[], frame: Pick<Frame, "width" | "height">): Window {
  const { left, right, bottom, top } = extentOf(lines);
  const zoom = Math.min(
    (frame.width - 2 * margin) / Math.max(right - left, 1e-6),
    (frame.height - 2 * margin) / Math.max(top - bottom, 1e-6),
  );
  return { x: (left + right) / 2, y: (bottom + top) / 2, zoom };
}

export interface Projection {
  x(metres: number): number;
  y(metres: number): number;
  /** A line in pixels, [n × 2]. */
  line(points: Float64Array): Float64Array;
}

export function projection(window: Window, frame: Pick<Frame, "width" | "height">): Projection {
  const x = (metres: number): number => frame.width / 2 + (metres - window.x) * window.zoom;
  const y = (metres: number): number => frame.height / 2 - (metres - window.y) * window.zoom;
  return { x, y, line: (points) => points.map((metres, i) => (i % 2 === 0 ? x(metres) : y(metres))) };
}
