/**
 * Polygons on the mask grid and what can be measured on one.
 *
 * A polygon is an Int32Array [x0 y0 x1 y1 ...] in database units; the last point joins the first and is not repeated. A set of
 * polygons means the region of points that the boundaries wind round a number of times other than zero: outer boundaries run
 * counter-clockwise, holes clockwise, and overlaps count once.
 *
 * Areas are exact while twice the area stays below 2^53 square database units (4500 mm^2); beyond, relative error about 1e-16 a point.
 * Main test: polygon.test.ts.
 */
import { largestDbu } from "./grid.ts";

/** Simple polygon [nPoints x 2] dbu, counter-clockwise for material, clockwise for a hole. */
export type Polygon = Int32Array;

export interface Box {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

/** Polygon from a list of numbers x0 y0 x1 y1 ... [dbu]; refuses fractions, odd lengths and fewer than three points. */
export function polygonFrom(coordinates: readonly number[]): Polygon {
  if (coordinates.length < 6 || coordinates.length % 2 !== 0) {
    throw new RangeError(
      `Cannot make a polygon: wanted at least three pairs of coordinates, found ${coordinates.length} numbers`,
    );
  }
  for (const value of coordinates) {
    if (!Number.isInteger(value) || Math.abs(value) > largestDbu) {
      throw new RangeError(`Cannot make a polygon: wanted whole database units within ${largestDbu}, found ${value}`);
    }
  }
  return Int32Array.from(coordinates);
}

/** Counter-clockwise rectangle over a box [dbu]. */
export function rectangle(box: Box): Polygon {
  return polygonFrom([box.left, box.bottom, box.right, box.bottom, box.right, box.top, box.left, box.top]);
}

export function countPoints(polygon: Polygon): number {
  return polygon.length / 2;
}

/** Signed area [dbu^2]: positive counter-clockwise. Taken about the first point, so that far from the origin nothing cancels. */
export function signedArea(polygon: Polygon): number {
  let twice = 0;
  const x0 = polygon[0]!;
  const y0 = polygon[1]!;
  for (let i = 2; i + 3 < polygon.length; i += 2) {
    twice += (polygon[i]! - x0) * (polygon[i + 3]! - y0) - (polygon[i + 2]! - x0) * (polygon[i + 1]! - y0);
  }
  return twice / 2;
}

/** Sum of the signed areas [dbu^2]: the area of the region, if the polygons overlap nowhere. */
export function sumOfAreas(polygons: readonly Polygon[]): number {
  return polygons.reduce((sum, polygon) => sum + signedArea(polygon), 0);
}

/** Length of the boundary [dbu]. */
export function perimeter(polygon: Polygon): number {
  let sum = 0;
  for (let i = 0; i < polygon.length; i += 2) {
    const j = (i + 2) % polygon.length;
    sum += Math.hypot(polygon[j]! - polygon[i]!, polygon[j + 1]! - polygon[i + 1]!);
  }
  return sum;
}

/** The same boundary run the other way round. */
export function reversePolygon(polygon: Polygon): Polygon {
  const reversed = new Int32Array(polygon.length);
  for (let i = 0; i < polygon.length; i += 2) {
    reversed[polygon.length - 2 - i] = polygon[i]!;
    reversed[polygon.length - 1 - i] = polygon[i + 1]!;
  }
  return reversed;
}

/** The polygon, run counter-clockwise. */
export function counterClockwise(polygon: Polygon): Polygon {
  return signedArea(polygon) < 0 ? reversePolygon(polygon) : polygon;
}

/** Smallest box about a set [dbu], or undefined for an empty set. */
export function boundingBox(polygons: readonly Polygon[]): Box | undefined {
  let left = Number.POSITIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (const polygon of polygons) {
    for (let i = 0; i < polygon.length; i += 2) {
      left = Math.min(left, polygon[i]!);
      right = Math.max(right, polygon[i]!);
      bottom = Math.min(bottom, polygon[i + 1]!);
      top = Math.max(top, polygon[i + 1]!);
    }
  }
  return left > right ? undefined : { left, bottom, right, top };
}
