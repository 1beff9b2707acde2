/**
 * The edge of a limit over a plane: a line of the stand-in, held to the model at points along it. There the design is moved square to the
 * edge until the model itself meets the limit; between these points the line follows by as much. Leaving one of them out says how far off
 * the line is in between.
 */
import { contourLines, type GridValues } from "#numerics";
import { fencesOf, type Need } from "../brief/need.ts";
import type { Axis } from "./design-space.ts";

export interface RegionEdge {
  /** The limit, SI, with the sign of the metric: a limit on a size has an edge on either side of zero. */
  readonly fence: number;
  readonly kind: "at least" | "at most";
  /** [n × 2] SI; the ground where the limit holds lies on the left. */
  readonly line: Float64Array;
  readonly closed: boolean;
  /** Points at which the model itself was asked, and how far the line was moved there at most, as a part of the plane. */
  readonly nExact: number;
  readonly moved: number;
  /** How far the line is off between those points, as a part of the plane; NaN where that is not known. */
  readonly error: number;
}

/** Edges of a limit from a grid of values over the plane. */
export function edgesOnGrid(need: Need, grid: GridValues, axes: readonly Axis[]): readonly RegionEdge[] {
  const [x, y] = axes as readonly [Axis, Axis];
  return fencesOf(need).flatMap(({ at: fence, kind }): RegionEdge[] => {
    const sign = kind === "at least" ? 1 : -1;
    const margins = { ...grid, values: grid.values.map((value) => sign * (value - fence)) };
    return contourLines(margins, 0).map(({ points, closed }) => ({
      fence,
      kind,
      closed,
      line: points.map((value, k) =>
        k % 2 === 0 ? x.low + (value / (grid.nx - 1)) * (x.high - x.low) : y.low + (value / (grid.ny - 1)) * (y.high - y.low),
      ),
      nExact: 0,
      moved: Number.NaN,
      error: Number.NaN,
    }));
  });
}

/** A point of an edge that is held to the model. */
export interface Anchor {
  /** Length along the edge, in parts of the plane, and where it stands in the unit square. */
  readonly at: number;
  readonly place: readonly [number, number];
  /** Slopes of the stand-in there. */
  readonly slope: readonly [number, number];
  /** How far along the slope it has been moved, in slopes. */
  way: number;
  state: "under way" | "held" | "lost";
}

/** Where the model is to be asked next. */
export function placeOf({ place, slope, way }: Anchor): readonly [number, number] {
  return [place[0] + way * slope[0], place[1] + way * slope[1]];
}

/** Moves an anchor by what the model said at its place. */
export function takeValue(anchor: Anchor, value: number, fence: number): void {
  const size = Math.hypot(...anchor.slope);
  anchor.way += (fence - value) / size ** 2;
  // a fifth of the plane away it is another edge
  if (!Number.isFinite(value) || Math.abs(anchor.way) * size > 0.2) anchor.state = "lost";
  // the stand-in's slope is good to a per cent or so, so that what is left after a small step is far smaller still
  else if (Math.abs(fence - value) / size < 1e-4) anchor.state = "held";
}

/** Lengths along a line to each of its points. */
function lengthsAlong(points: Float64Array): Float64Array {
  const lengths = new Float64Array(points.length / 2);
  for (let k = 1; k < lengths.length; k++)
    lengths[k] = lengths[k - 1]! + Math.hypot(points[2 * k]! - points[2 * k - 2]!, points[2 * k + 1]! - points[2 * k - 1]!);
  return lengths;
}

/** How far the edge is moved at a length along it, in parts of the plane. */
interface Moved {
  readonly at: number;
  readonly way: readonly [number, number];
}

function between(anchors: readonly Moved[], length: number): readonly [number, number] {
  const after = anchors.findIndex(({ at }) => at >= length);
  if (after === 0) return anchors[0]!.way;
  if (after < 0) return anchors.at(-1)!.way;
  const [a, b] = [anchors[after - 1]!, anchors[after]!];
  const part = (length - a.at) / (b.at - a.at);
  return [a.way[0] + part * (b.way[0] - a.way[0]), a.way[1] + part * (b.way[1] - a.way[1])];
}

/** The line of an edge in the unit square. */
function inSquare(line: Float64Array, axes: readonly Axis[]): Float64Array {
  return line.map((value, k) => (value - axes[k % 2]!.low) / (axes[k % 2]!.high - axes[k % 2]!.low));
}

/** Points of an edge to be held to the model: about one for each seventh of the plane, at most `most`, both ends among them. */
export function anchorsOf(
  edge: RegionEdge,
  options: {
    readonly most: number;
    readonly axes: readonly Axis[];
    readonly slopeAt: (s: number, t: number) => readonly [number, number];
  },
): readonly Anchor[] {
  const points = inSquare(edge.line, options.axes);
  const lengths = lengthsAlong(points);
  const whole = lengths.at(-1)!;
  const count = Math.max(2, Math.min(options.most, Math.ceil(7 * whole)));
  const anchors: Anchor[] = [];
  for (let k = 0; k < count; k++) {
    const wanted = (whole * k) / (count - 1);
    const nearest = lengths.reduce(
      (best, length, i) => (Math.abs(length - wanted) < Math.abs(lengths[best]! - wanted) ? i : best),
      0,
    );
    if (anchors.some(({ at }) => at === lengths[nearest])) continue;
    const place = [points[2 * nearest]!, points[2 * nearest + 1]!] as const;
    const slope = options.slopeAt(...place);
    if (Math.hypot(...slope) > 0) anchors.push({ at: lengths[nearest]!, place, slope, way: 0, state: "under way" });
  }
  return anchors;
}

/** The edge, moved with its anchors. Where the model could not be met anywhere along it, the edge stays as the stand-in has it. */
export function movedWith(edge: RegionEdge, anchors: readonly Anchor[], axes: readonly Axis[]): RegionEdge {
  const held = anchors
    .filter(({ state }) => state === "held")
    .map(({ at, way, slope }): Moved => ({ at, way: [way * slope[0], way * slope[1]] }));
  if (held.length === 0) return edge;
  const lengths = lengthsAlong(inSquare(edge.line, axes));
  const off = held.slice(1, -1).map(({ at, way }) => {
    const guess = between(
      held.filter((anchor) => anchor.at !== at),
      at,
    );
    return Math.hypot(way[0] - guess[0], way[1] - guess[1]);
  });
  const line = edge.line.slice();
  for (let k = 0; k < lengths.length; k++) {
    const way = between(held, lengths[k]!);
    for (const j of [0, 1] as const) line[2 * k + j]! += way[j] * (axes[j]!.high - axes[j]!.low);
  }
  return {
    ...edge,
    line,
    nExact: held.length,
    moved: Math.max(...held.map(({ way }) => Math.hypot(...way))),
    error: off.length === 0 ? Number.NaN : Math.max(...off),
  };
}
