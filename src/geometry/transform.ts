/**
 * Similarity transforms of the plane, applied to polygons on the mask grid and to outlines in metres.
 *
 * Quarter turns, mirrors about the axes and shifts by whole units are exact on the grid; any other transform rounds each
 * point to the nearest grid point, an error of at most 0.71 dbu. A mirror turns the sense of rotation round, so the order of the
 * points is reversed too: material stays counter-clockwise.
 * Main test: transform.test.ts.
 */
import { roundToDbu } from "./grid.ts";
import type { Polygon } from "./polygon.ts";

/** x' = xx x + xy y + x0, y' = yx x + yy y + y0. Offsets in the unit of the points. */
export interface Transform {
  readonly xx: number;
  readonly xy: number;
  readonly yx: number;
  readonly yy: number;
  readonly x0: number;
  readonly y0: number;
}

export const identity: Transform = { xx: 1, xy: 0, yx: 0, yy: 1, x0: 0, y0: 0 };

export function translation(x0: number, y0: number): Transform {
  return { ...identity, x0, y0 };
}

/** Sine and cosine that are exact for quarter turns given to within 1e-12 rad. */
function exactSineCosine(angle: number): readonly [sine: number, cosine: number] {
  const quarters = angle / (Math.PI / 2);
  const whole = Math.round(quarters);
  if (Math.abs(quarters - whole) > 1e-12) return [Math.sin(angle), Math.cos(angle)];
  const turn = ((whole % 4) + 4) % 4;
  return [[0, 1, 0, -1][turn]!, [1, 0, -1, 0][turn]!];
}

/** Rotation by an angle [rad], counter-clockwise, about the origin. */
export function rotation(angle: number): Transform {
  const [sine, cosine] = exactSineCosine(angle);
  return { xx: cosine, xy: -sine, yx: sine, yy: cosine, x0: 0, y0: 0 };
}

export function scaling(factor: number): Transform {
  if (!(factor > 0)) throw new RangeError(`Cannot scale: wanted a positive factor, found ${factor}`);
  return { xx: factor, xy: 0, yx: 0, yy: factor, x0: 0, y0: 0 };
}

/** Mirror about the line through a point that makes `angle` [rad] with the x axis. Angle 0 turns y round, pi/2 turns x round. */
export function mirror(angle: number, options: { through: readonly [x: number, y: number] }): Transform {
  const [sine, cosine] = exactSineCosine(2 * angle);
  const [px, py] = options.through;
  return { xx: cosine, xy: sine, yx: sine, yy: -cosine, x0: px - cosine * px - sine * py, y0: py - sine * px + cosine * py };
}

/** The transform that does `first`, then `second`. */
export function composeTransforms(first: Transform, second: Transform): Transform {
  return {
    xx: second.xx * first.xx + second.xy * first.yx,
    xy: second.xx * first.xy + second.xy * first.yy,
    yx: second.yx * first.xx + second.yy * first.yx,
    yy: second.yx * first.xy + second.yy * first.yy,
    x0: second.xx * first.x0 + second.xy * first.y0 + second.x0,
    y0: second.yx * first.x0 + second.yy * first.y0 + second.y0,
  };
}

export function isMirroring(transform: Transform): boolean {
  return transform.xx * transform.yy - transform.xy * transform.yx < 0;
}

function transformInto(
  out: Int32Array | Float64Array,
  points: ArrayLike<number>,
  options: { transform: Transform; place: (value: number) => number },
): void {
  const { transform, place } = options;
  const n = points.length;
  const reversed = isMirroring(transform);
  for (let i = 0; i < n; i += 2) {
    const x = points[i]!;
    const y = points[i + 1]!;
    const to = reversed ? n - 2 - i : i;
    out[to] = place(transform.xx * x + transform.xy * y + transform.x0);
    out[to + 1] = place(transform.yx * x + transform.yy * y + transform.y0);
  }
}

/** Polygon on the grid, moved; points off the grid are rounded to it. */
export function transformPolygon(polygon: Polygon, transform: Transform): Polygon {
  const out = new Int32Array(polygon.length);
  transformInto(out, polygon, { transform, place: roundToDbu });
  return out;
}

export function transformPolygons(polygons: readonly Polygon[], transform: Transform): readonly Polygon[] {
  return polygons.map((polygon) => transformPolygon(polygon, transform));
}

/** Outline in metres [x0 y0 ...], moved without rounding. */
export function transformOutline(outline: Float64Array, transform: Transform): Float64Array {
  const out = new Float64Array(outline.length);
  transformInto(out, outline, { transform, place: (value) => value });
  return out;
}
