/**
 * Union, intersection, difference and exclusive or of polygon sets on the mask grid.
 *
 * Regions follow the non-zero rule (see polygon.ts). Results are outer boundaries counter-clockwise and holes clockwise, which
 * overlap nowhere. A crossing between grid points is cut off toward the origin, so a boundary may move by up to 1 dbu in x and in y
 * there, and a shifted set may be cut a little differently; sets whose edges run along the axes are exact.
 * Main test: boolean.test.ts (area of A + area of B = union + intersection; rectilinear sets exactly, against a raster).
 */
import { Clipper, ClipType, FillRule, type PolyPath64, PolyTree64 } from "clipper2-ts";
import { pathsFromPolygons, polygonFromPath } from "./clipper-path.ts";
import { type Polygon, sumOfAreas } from "./polygon.ts";

/** One connected piece: an outer boundary, counter-clockwise, and the holes in it, clockwise. */
export interface Region {
  readonly outer: Polygon;
  readonly holes: readonly Polygon[];
}

function combine(type: ClipType, operands: { a: readonly Polygon[]; b: readonly Polygon[] }): readonly Polygon[] {
  const { a, b } = operands;
  return Clipper.booleanOp(type, pathsFromPolygons(a), pathsFromPolygons(b), FillRule.NonZero).map(polygonFromPath);
}

/**
 * Points in either set, overlaps merged; of one set alone, its region. Two sets given apart are two regions; thrown into one list,
 * a clockwise ring of the one would cut a hole into the other.
 */
export function unionOf(a: readonly Polygon[], b: readonly Polygon[] = []): readonly Polygon[] {
  return combine(ClipType.Union, { a, b });
}

/** Points in both sets. */
export function intersectionOf(a: readonly Polygon[], b: readonly Polygon[]): readonly Polygon[] {
  return combine(ClipType.Intersection, { a, b });
}

/** Points in `a` that are not in `b`. */
export function differenceOf(a: readonly Polygon[], b: readonly Polygon[]): readonly Polygon[] {
  return combine(ClipType.Difference, { a, b });
}

/** Points in exactly one of the sets. */
export function exclusiveOrOf(a: readonly Polygon[], b: readonly Polygon[]): readonly Polygon[] {
  return combine(ClipType.Xor, { a, b });
}

/** Area of the region [dbu^2], overlaps counted once. */
export function areaOf(polygons: readonly Polygon[]): number {
  return sumOfAreas(unionOf(polygons));
}

function isSameList(a: readonly Polygon[], b: readonly Polygon[]): boolean {
  return (
    a.length === b.length &&
    a.every((polygon, i) => polygon.length === b[i]!.length && polygon.every((value, k) => value === b[i]![k]))
  );
}

/**
 * Area [dbu^2] on which two sets differ. Zero for the same list of polygons whatever its shape, and for the same region drawn
 * differently up to the cutting of its crossings.
 */
export function comparePolygonSets(a: readonly Polygon[], b: readonly Polygon[]): number {
  return isSameList(a, b) ? 0 : Math.max(0, sumOfAreas(exclusiveOrOf(a, b)));
}

/** The connected pieces of a set, each with its holes; an island in a hole is a piece of its own. */
export function regionsOf(polygons: readonly Polygon[]): readonly Region[] {
  const tree = new PolyTree64();
  Clipper.booleanOpWithPolyTree(ClipType.Union, pathsFromPolygons(polygons), null, tree, FillRule.NonZero);
  const regions: Region[] = [];
  const waiting: PolyPath64[] = [tree];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    for (let i = 0; i < node.count; i++) {
      const piece = node.child(i);
      const holes: Polygon[] = [];
      for (let k = 0; k < piece.count; k++) {
        holes.push(polygonFromPath(piece.child(k).poly ?? []));
        waiting.push(piece.child(k));
      }
      regions.push({ outer: polygonFromPath(piece.poly ?? []), holes });
    }
  }
  return regions;
}
