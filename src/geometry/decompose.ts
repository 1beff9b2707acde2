/**
 * Cutting a polygon set into simple polygons without holes and of few points, as stream files and pattern writers want them.
 *
 * Only pieces that have holes or too many points are cut, along lines parallel to an axis at whole coordinates. Where such a line meets a
 * slanting edge between grid points, the meeting point is first rounded and put into the boundary, so that both pieces share it:
 * they join without gap or overlap, and the area changes by at most half a unit times half that edge. Edges along the axes keep
 * the area exactly. Holes are split in the middle of their longer side rather than joined to the rim by a slit of no width.
 * Main test: decompose.test.ts.
 */
import { SolveError } from "#base";
import { intersectionOf, type Region, regionsOf } from "./boolean.ts";
import { roundToDbu } from "./grid.ts";
import { type Box, boundingBox, countPoints, type Polygon, perimeter, rectangle, sumOfAreas } from "./polygon.ts";
import { dropSpikes } from "./tidy.ts";

export interface DecomposeOptions {
  /** Most points a polygon may have; at least 4. */
  readonly mostPoints: number;
}

/** Change of area per length of boundary [dbu] with which a cut is taken at once. */
const goodChange = 0.05;

interface Cut {
  readonly axis: "x" | "y";
  readonly at: number;
}

/** The boundary with its crossings of the cut line put in as points on the grid. */
function withCutPoints(polygon: Polygon, cut: Cut): Polygon {
  const [along, across] = cut.axis === "x" ? [0, 1] : [1, 0];
  const points: number[] = [];
  const n = polygon.length;
  for (let i = 0; i < n; i += 2) {
    points.push(polygon[i]!, polygon[i + 1]!);
    const a = polygon[i + along]!;
    const b = polygon[((i + 2) % n) + along]!;
    if ((a < cut.at && b > cut.at) || (a > cut.at && b < cut.at)) {
      const from = polygon[i + across]!;
      const to = polygon[((i + 2) % n) + across]!;
      // Measured from the lower end whichever way the edge runs, so that equal edges of two polygons are cut at the same point.
      const share = a < b ? (cut.at - a) / (b - a) : (cut.at - b) / (a - b);
      const other = roundToDbu(a < b ? from + share * (to - from) : to + share * (from - to));
      if (cut.axis === "x") points.push(cut.at, other);
      else points.push(other, cut.at);
    }
  }
  return Int32Array.from(points);
}

function halves(box: Box, cut: Cut): readonly [Polygon, Polygon] {
  return cut.axis === "x"
    ? [rectangle({ ...box, right: cut.at }), rectangle({ ...box, left: cut.at })]
    : [rectangle({ ...box, top: cut.at }), rectangle({ ...box, bottom: cut.at })];
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

/** A line strictly inside the box, through the middle of the middle hole or through the middle one of the points. */
function chooseCut(region: Region, box: Box): Cut {
  const axis = box.right - box.left >= box.top - box.bottom ? "x" : "y";
  const [from, to] = axis === "x" ? [box.left, box.right] : [box.bottom, box.top];
  const candidates =
    region.holes.length > 0
      ? region.holes.map((hole) => {
          const span = boundingBox([hole])!;
          return Math.floor(axis === "x" ? (span.left + span.right) / 2 : (span.bottom + span.top) / 2);
        })
      : Array.from(region.outer.filter((_, i) => i % 2 === (axis === "x" ? 0 : 1)));
  const inside = [...new Set(candidates)].filter((at) => at > from && at < to);
  return { axis, at: inside.length > 0 ? median(inside) : Math.floor((from + to) / 2) };
}

interface CutPieces {
  readonly sides: readonly (readonly Polygon[])[];
  /** Area lost or gained, [dbu^2]. */
  readonly change: number;
}

function tryCut(boundary: readonly Polygon[], options: { box: Box; cut: Cut }): CutPieces {
  const prepared = boundary.map((polygon) => dropSpikes(withCutPoints(polygon, options.cut)));
  const sides = halves(options.box, options.cut).map((half) => intersectionOf(prepared, [half]));
  return { sides, change: Math.abs(sumOfAreas(sides.flat()) - sumOfAreas(boundary)) };
}

/**
 * The pieces on both sides of a cut. Very thin slits and wedges can close or cross when their cut points are rounded; then the cut
 * is tried a few units aside, and the one that changes the area least is taken. It never changes by more than the rounding of
 * a boundary explains.
 */
function cutRegion(region: Region, box: Box): readonly Region[] {
  const boundary = [region.outer, ...region.holes];
  const rim = boundary.reduce((sum, polygon) => sum + perimeter(polygon), 0);
  const first = chooseCut(region, box);
  const [from, to] = first.axis === "x" ? [box.left, box.right] : [box.bottom, box.top];
  let best: CutPieces = { sides: [], change: Number.POSITIVE_INFINITY };
  const asides = [0, 1, -1, 3, -3, 7, -7].filter((aside) => first.at + aside > from && first.at + aside < to);
  for (const aside of asides) {
    const pieces = tryCut(boundary, { box, cut: { axis: first.axis, at: first.at + aside } });
    if (pieces.change < best.change) best = pieces;
    if (best.change <= goodChange * rim) break;
  }
  if (best.change > rim / 2) {
    throw new SolveError(`Cannot cut the piece at (${box.left}, ${box.bottom}) without changing its area`, {
      method: "cut along an axis",
      iterations: asides.length,
      residual: best.change,
      target: rim / 2,
      hint: "Move the points of this polygon to a coarser grid.",
    });
  }
  return best.sides.flatMap((side) => regionsOf(side));
}

/** Simple polygons without holes, counter-clockwise, that together cover the set and overlap nowhere. */
export function decomposePolygons(polygons: readonly Polygon[], options: DecomposeOptions): readonly Polygon[] {
  const { mostPoints } = options;
  if (!(mostPoints >= 4))
    throw new RangeError(`Cannot decompose: wanted room for at least 4 points a polygon, found ${mostPoints}`);
  const waiting: Region[] = [...regionsOf(polygons)].reverse();
  const done: Polygon[] = [];
  for (let region = waiting.pop(); region !== undefined; region = waiting.pop()) {
    if (region.holes.length === 0 && countPoints(region.outer) <= mostPoints) {
      done.push(region.outer);
      continue;
    }
    const box = boundingBox([region.outer])!;
    if (Math.max(box.right - box.left, box.top - box.bottom) < 2) {
      throw new RangeError(`Cannot decompose the piece at (${box.left}, ${box.bottom}): it is smaller than two database units`);
    }
    waiting.push(...cutRegion(region, box));
  }
  return done;
}
