/**
 * The region a pen of given width covers along a line of points: stream-file paths, wires.
 *
 * Bends are mitred, as paths in stream files are drawn, up to a turn of 120 degrees; sharper turns are cut square across the
 * bend. A gentle line gives one outline; where a segment is too short for its bends the segments and bends come as separate
 * overlapping polygons, whose union is the region. Either way the work and the number of points grow linearly with the line.
 * Main test: stroke.test.ts (areas in closed form).
 */
import { arcPoints } from "./arc.ts";
import { roundToDbu } from "./grid.ts";
import { counterClockwise, type Polygon, signedArea } from "./polygon.ts";

export interface StrokeOptions {
  /** Full width, [dbu]. */
  readonly width: number;
  /** How far the pen goes on beyond the first and the last point [dbu], or a half disc at both ends. */
  readonly ends: readonly [start: number, end: number] | "round";
  /** Largest distance between the half disc and its chords, [dbu]; used by round ends alone. */
  readonly sagitta: number;
}

interface Segment {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly along: readonly [number, number];
  readonly length: number;
}

const sharpestMitre = (2 * Math.PI) / 3;

function segmentsOf(line: Polygon): readonly Segment[] {
  const segments: Segment[] = [];
  for (let i = 0; i + 3 < line.length; i += 2) {
    const from = [line[i]!, line[i + 1]!] as const;
    const to = [line[i + 2]!, line[i + 3]!] as const;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (length > 0) segments.push({ from, to, length, along: [(to[0] - from[0]) / length, (to[1] - from[1]) / length] });
  }
  return segments;
}

function turnBetween(a: Segment, b: Segment): number {
  return Math.atan2(a.along[0] * b.along[1] - a.along[1] * b.along[0], a.along[0] * b.along[0] + a.along[1] * b.along[1]);
}

/** Point at `ahead` along the segment from `base` and `aside` to its left. */
function besides(base: readonly [number, number], segment: Segment, reach: { ahead: number; aside: number }): [number, number] {
  const [ux, uy] = segment.along;
  return [base[0] + reach.ahead * ux - reach.aside * uy, base[1] + reach.ahead * uy + reach.aside * ux];
}

function gridPolygons(outlines: readonly (readonly number[])[]): readonly Polygon[] {
  return outlines
    .map((outline) => counterClockwise(Int32Array.from(outline, roundToDbu)))
    .filter((polygon) => signedArea(polygon) !== 0);
}

function endCap(segment: Segment, options: StrokeOptions & { at: "start" | "end" }): readonly number[] {
  const half = options.width / 2;
  const start = options.at === "start";
  const base = start ? segment.from : segment.to;
  if (options.ends === "round") {
    const from = Math.atan2(segment.along[1], segment.along[0]) + (start ? Math.PI / 2 : -Math.PI / 2);
    return Array.from(arcPoints({ centre: base, radius: half, from, to: from + Math.PI }, options));
  }
  const ahead = start ? -options.ends[0] : options.ends[1];
  const side = start ? half : -half;
  return [...besides(base, segment, { ahead, aside: side }), ...besides(base, segment, { ahead, aside: -side })];
}

/** One outline: right side forward, end cap, left side back, start cap. */
function wholeOutline(segments: readonly Segment[], options: StrokeOptions): readonly number[] {
  const half = options.width / 2;
  const right: number[] = [];
  const left: number[] = [];
  for (let i = 0; i + 1 < segments.length; i++) {
    const ahead = half * Math.tan(turnBetween(segments[i]!, segments[i + 1]!) / 2);
    right.push(...besides(segments[i]!.to, segments[i]!, { ahead, aside: -half }));
    left.push(...besides(segments[i]!.to, segments[i]!, { ahead: -ahead, aside: half }).reverse());
  }
  return [
    ...right,
    ...endCap(segments[segments.length - 1]!, { ...options, at: "end" }),
    ...left.reverse(),
    ...endCap(segments[0]!, { ...options, at: "start" }),
  ];
}

function bendWedge(a: Segment, b: Segment, half: number): readonly number[] {
  const turn = turnBetween(a, b);
  const aside = turn > 0 ? -half : half;
  const corner = Math.abs(turn) <= sharpestMitre ? besides(a.to, a, { ahead: half * Math.tan(Math.abs(turn) / 2), aside }) : [];
  return [...a.to, ...besides(a.to, a, { ahead: 0, aside }), ...corner, ...besides(a.to, b, { ahead: 0, aside })];
}

function separatePieces(segments: readonly Segment[], options: StrokeOptions): readonly (readonly number[])[] {
  const half = options.width / 2;
  const last = segments.length - 1;
  return segments.flatMap((segment, i) => {
    const start =
      i === 0
        ? endCap(segment, { ...options, at: "start" })
        : [
            ...besides(segment.from, segment, { ahead: 0, aside: half }),
            ...besides(segment.from, segment, { ahead: 0, aside: -half }),
          ];
    const end =
      i === last
        ? endCap(segment, { ...options, at: "end" })
        : [
            ...besides(segment.to, segment, { ahead: 0, aside: -half }),
            ...besides(segment.to, segment, { ahead: 0, aside: half }),
          ];
    const body = [...start, ...end];
    return i === last ? [body] : [body, bendWedge(segment, segments[i + 1]!, half)];
  });
}

function isGentle(segments: readonly Segment[], half: number): boolean {
  let setback = 0;
  for (let i = 0; i < segments.length; i++) {
    const next = segments[i + 1];
    const turn = next === undefined ? 0 : Math.abs(turnBetween(segments[i]!, next));
    const nextSetback = half * Math.tan(turn / 2);
    if (turn > sharpestMitre || setback + nextSetback > segments[i]!.length) return false;
    setback = nextSetback;
  }
  return true;
}

/** Polygons whose union is the stroke along `line` [x0 y0 ..., dbu]. A line without length gives a dot for round or extended ends. */
export function strokePolygons(line: Polygon, options: StrokeOptions): readonly Polygon[] {
  if (!(options.width > 0)) throw new RangeError(`Cannot stroke a line: wanted a positive width, found ${options.width}`);
  const segments = segmentsOf(line);
  if (segments.length === 0) {
    const dot = [line[0]!, line[1]!] as const;
    return gridPolygons(separatePieces([{ from: dot, to: dot, along: [1, 0], length: 0 }], options));
  }
  return gridPolygons(
    isGentle(segments, options.width / 2) ? [wholeOutline(segments, options)] : separatePieces(segments, options),
  );
}
