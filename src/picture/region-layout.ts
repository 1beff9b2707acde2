/**
 * Where everything of a region plot stands: dots on forbidden ground, edges and contours as paths, and the places of their words along
 * them. The picture that is saved and the map on the page are laid out by it alike. Main test: region-plot.test.ts.
 */
import { round, textWidth } from "./svg-text.ts";

/** A curve over the plane, [n × 2] in the units of the axes. */
export interface RegionCurve {
  readonly label: string;
  readonly line: Float64Array;
  /** True where free ground touches it. */
  readonly bounds: boolean;
}

export interface RegionContour {
  readonly label: string;
  readonly lines: readonly Float64Array[];
}

/** The frame of the plane, [px]. */
export interface RegionFrame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly base: number;
}

export interface RegionParts {
  readonly x: { readonly low: number; readonly high: number };
  readonly y: { readonly low: number; readonly high: number };
  /** Whether the design at a place, in parts of the ranges, breaks nothing. */
  readonly isFree: (s: number, t: number) => boolean;
  readonly edges: readonly RegionCurve[];
  readonly contours: readonly RegionContour[];
}

type Point = readonly [number, number];

/** The middle of words along a curve, and their turn, so that they read from left to right, [degrees]. */
export interface WordsPlace {
  readonly at: Point;
  readonly turn: number;
}

export interface LaidCurve {
  readonly label: string;
  readonly path: string;
  /** Undefined where no stretch is long and straight enough, or others have it. */
  readonly words: WordsPlace | undefined;
}

export interface RegionLayout {
  readonly place: (x: number, y: number) => Point;
  /** Back from a pixel to the units of the axes. */
  readonly valueAt: (pixel: Point) => Point;
  /** Dots as one path, each a square of one pixel. */
  readonly ground: string;
  readonly edges: readonly (LaidCurve & { readonly bounds: boolean })[];
  readonly contours: readonly LaidCurve[];
}

const pathOf = (points: readonly Point[]): string =>
  points.map(([x, y], k) => `${k === 0 ? "M" : "L"}${round(x)} ${round(y)}`).join("");

/** Dots on forbidden ground, on the house's pattern. */
function forbiddenGround(isFree: RegionParts["isFree"], { left, right, top, base }: RegionFrame): string {
  const step = 6;
  let path = "";
  let odd = false;
  for (let y = top + step / 2; y < base; y += step, odd = !odd)
    for (let x = left + (odd ? step : step / 2); x < right; x += step)
      if (!isFree((x - left) / (right - left), (base - y) / (base - top))) path += `M${round(x)} ${round(y)}h1v1h-1z`;
  return path;
}

/** A stretch of a curve that is long and straight enough for words, clear of the places taken; the middle of the curve first. */
function slotFor(points: readonly Point[], width: number, taken: Point[][]): WordsPlace | undefined {
  const lengths = [0];
  for (let k = 1; k < points.length; k++)
    lengths.push(lengths[k - 1]! + Math.hypot(points[k]![0] - points[k - 1]![0], points[k]![1] - points[k - 1]![1]));
  const whole = lengths.at(-1)!;
  const at = (length: number): Point => {
    const k = Math.max(
      1,
      lengths.findIndex((value) => value >= length),
    );
    const part = (length - lengths[k - 1]!) / Math.max(1e-9, lengths[k]! - lengths[k - 1]!);
    const [a, b] = [points[k - 1]!, points[k]!];
    return [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])];
  };
  for (const part of [0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88]) {
    const start = part * whole - width / 2;
    if (start < 0 || start + width > whole) continue;
    const [a, b] = [at(start), at(start + width)];
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < 0.9 * width) continue;
    const reach = Array.from({ length: 9 }, (_, k): Point => at(start + (width * k) / 8));
    if (taken.some((others) => others.some(([x, y]) => reach.some(([p, q]) => Math.abs(p - x) < 22 && Math.abs(q - y) < 16))))
      continue;
    taken.push(reach);
    const turn = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
    return { at: at(start + width / 2), turn: turn >= 90 ? turn - 180 : turn < -90 ? turn + 180 : turn };
  }
  return undefined;
}

/** Lays a region out in a frame; the words stand in type of `size` pixels. */
export function layoutRegion(parts: RegionParts, at: { readonly frame: RegionFrame; readonly size: number }): RegionLayout {
  const { x, y } = parts;
  const { left, right, top, base } = at.frame;
  const place = (a: number, b: number): Point => [
    left + ((a - x.low) / (x.high - x.low)) * (right - left),
    base - ((b - y.low) / (y.high - y.low)) * (base - top),
  ];
  const placed = (line: Float64Array): readonly Point[] =>
    Array.from({ length: line.length / 2 }, (_, k) => place(line[2 * k]!, line[2 * k + 1]!));
  const taken: Point[][] = [];
  const wordsFor = (label: string, points: readonly Point[]): WordsPlace | undefined =>
    slotFor(points, textWidth(label, { size: at.size }), taken);
  return {
    place,
    valueAt: ([a, b]) => [
      x.low + ((a - left) / (right - left)) * (x.high - x.low),
      y.low + ((base - b) / (base - top)) * (y.high - y.low),
    ],
    ground: forbiddenGround(parts.isFree, at.frame),
    // the edges that bound free ground choose the places of their words first
    edges: [...parts.edges]
      .sort((a, b) => Number(b.bounds) - Number(a.bounds))
      .map(({ label, line, bounds }) => {
        const points = placed(line);
        return { label, bounds, path: pathOf(points), words: wordsFor(label, points) };
      }),
    contours: parts.contours.map(({ label, lines }) => {
      const all = lines.map(placed).sort((a, b) => b.length - a.length);
      return { label, path: all.map(pathOf).join(""), words: all[0] === undefined ? undefined : wordsFor(label, all[0]) };
    }),
  };
}
