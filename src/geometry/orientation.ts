/**
 * Exact sign of the turn a -> b -> c, and what follows from it: whether segments meet, whether a polygon crosses itself.
 *
 * Coordinates are 32-bit integers, so a product of differences needs up to 66 bits: the double value decides where its rounding
 * error cannot change the sign, whole-number arithmetic otherwise. No tolerance, no wrong answer.
 * Main test: orientation.test.ts (against whole-number arithmetic throughout).
 */
import type { Polygon } from "./polygon.ts";

/** Two products of at most 2^64 each rounded and subtracted: error below 3 ulp of 2^65. */
const doubtfulBelow = 2 ** 15;

/** Sign of twice the area of triangle a b c: +1 counter-clockwise, -1 clockwise, 0 on one line. Whole coordinates [dbu]. */
export function turnSign(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): -1 | 0 | 1 {
  const left = (bx - ax) * (cy - ay);
  const right = (by - ay) * (cx - ax);
  const value = left - right;
  if (Math.abs(value) > doubtfulBelow) return value > 0 ? 1 : -1;
  if (Math.abs(left) < 2 ** 52 && Math.abs(right) < 2 ** 52) return value > 0 ? 1 : value < 0 ? -1 : 0;
  const exact = BigInt(bx - ax) * BigInt(cy - ay) - BigInt(by - ay) * BigInt(cx - ax);
  return exact > 0n ? 1 : exact < 0n ? -1 : 0;
}

/** True where segments p-q and r-s cross at a point inside both; touching does not count. Coordinates [dbu]. */
function segmentsCross(polygon: Polygon, i: number, j: number): boolean {
  const n = polygon.length;
  const [px, py, qx, qy] = [polygon[i]!, polygon[i + 1]!, polygon[(i + 2) % n]!, polygon[(i + 3) % n]!];
  const [rx, ry, sx, sy] = [polygon[j]!, polygon[j + 1]!, polygon[(j + 2) % n]!, polygon[(j + 3) % n]!];
  return (
    turnSign(px, py, qx, qy, rx, ry) * turnSign(px, py, qx, qy, sx, sy) < 0 &&
    turnSign(rx, ry, sx, sy, px, py) * turnSign(rx, ry, sx, sy, qx, qy) < 0
  );
}

/**
 * Indices of the first points of two edges that properly cross, or undefined. Touching boundaries are allowed.
 * Edges are swept by their left ends: fast for outlines, at worst quadratic in the number of points.
 */
export function findSelfCrossing(polygon: Polygon): readonly [number, number] | undefined {
  const n = polygon.length;
  const nEdges = n / 2;
  const low = new Float64Array(nEdges);
  const high = new Float64Array(nEdges);
  for (let e = 0; e < nEdges; e++) {
    const x0 = polygon[2 * e]!;
    const x1 = polygon[(2 * e + 2) % n]!;
    low[e] = Math.min(x0, x1);
    high[e] = Math.max(x0, x1);
  }
  const order = Array.from({ length: nEdges }, (_, e) => e).sort((a, b) => low[a]! - low[b]! || a - b);
  let active: number[] = [];
  for (const e of order) {
    active = active.filter((other) => high[other]! >= low[e]!);
    for (const other of active) if (segmentsCross(polygon, 2 * e, 2 * other)) return [Math.min(e, other), Math.max(e, other)];
    active.push(e);
  }
  return undefined;
}

/** Where a point stands against one polygon: +1 inside (by the non-zero rule), 0 on the boundary, -1 outside. */
export function sideOfPoint(polygon: Polygon, point: readonly [x: number, y: number]): -1 | 0 | 1 {
  const [x, y] = point;
  const n = polygon.length;
  let winding = 0;
  for (let i = 0; i < n; i += 2) {
    const [ax, ay, bx, by] = [polygon[i]!, polygon[i + 1]!, polygon[(i + 2) % n]!, polygon[(i + 3) % n]!];
    const turn = turnSign(ax, ay, bx, by, x, y);
    if (turn === 0 && x >= Math.min(ax, bx) && x <= Math.max(ax, bx) && y >= Math.min(ay, by) && y <= Math.max(ay, by)) return 0;
    if (ay <= y && by > y && turn > 0) winding++;
    if (ay > y && by <= y && turn < 0) winding--;
  }
  return winding === 0 ? -1 : 1;
}
