/**
 * Rounding the corners of a polygon: a beam root without a fillet is where a brittle beam starts to crack.
 *
 * Each chosen corner becomes an arc tangent to both its edges. A corner whose edges are too short (less than the tangent length at
 * either end, shared with the neighbour's) is refused rather than rounded less. Arcs are divided to the stated sagitta; points are
 * rounded to the grid. Main test: fillet.test.ts (area in closed form).
 */
import { arcPoints } from "./arc.ts";
import { roundToDbu } from "./grid.ts";
import type { Polygon } from "./polygon.ts";

export interface FilletOptions {
  /** [dbu] */
  readonly radius: number;
  /** Largest distance between arc and chord, [dbu]. */
  readonly sagitta: number;
  /** Which corners, seen from the material of a counter-clockwise polygon. */
  readonly corners: "concave" | "convex" | "all";
}

interface Corner {
  readonly x: number;
  readonly y: number;
  /** Unit vectors of the edge that arrives and of the edge that leaves. */
  readonly arriving: readonly [number, number];
  readonly leaving: readonly [number, number];
  /** Turn at the corner [rad], positive to the left (convex). */
  readonly turn: number;
  /** Length of the edge that leaves, [dbu]. */
  readonly edge: number;
}

function cornersOf(polygon: Polygon): readonly Corner[] {
  const n = polygon.length / 2;
  const at = (i: number): readonly [number, number] => [polygon[2 * ((i + n) % n)]!, polygon[2 * ((i + n) % n) + 1]!];
  return Array.from({ length: n }, (_, i) => {
    const [px, py] = at(i - 1);
    const [x, y] = at(i);
    const [qx, qy] = at(i + 1);
    const before = Math.hypot(x - px, y - py);
    const edge = Math.hypot(qx - x, qy - y);
    const arriving = [(x - px) / before, (y - py) / before] as const;
    const leaving = [(qx - x) / edge, (qy - y) / edge] as const;
    const turn = Math.atan2(
      arriving[0] * leaving[1] - arriving[1] * leaving[0],
      arriving[0] * leaving[0] + arriving[1] * leaving[1],
    );
    return { x, y, arriving, leaving, turn, edge };
  });
}

/** The polygon with the chosen corners rounded. */
export function filletCorners(polygon: Polygon, options: FilletOptions): Polygon {
  const { radius, sagitta } = options;
  if (!(radius > 0)) throw new RangeError(`Cannot fillet: wanted a positive radius, found ${radius}`);
  const corners = cornersOf(polygon);
  const tangents = corners.map(({ turn }) => {
    const chosen = options.corners === "all" || (options.corners === "convex") === turn > 0;
    return chosen ? radius * Math.tan(Math.abs(turn) / 2) : 0;
  });
  corners.forEach(({ edge, x, y }, i) => {
    const wanted = tangents[i]! + tangents[(i + 1) % tangents.length]!;
    if (wanted > edge) {
      throw new RangeError(
        `Cannot fillet the corner at (${x}, ${y}): wanted an edge of at least ${wanted.toFixed(1)} database units, found ${edge.toFixed(1)}`,
      );
    }
  });
  const points: number[] = [];
  corners.forEach((corner, i) => {
    const tangent = tangents[i]!;
    if (tangent === 0) {
      points.push(corner.x, corner.y);
      return;
    }
    const side = Math.sign(corner.turn);
    const [ax, ay] = corner.arriving;
    const centre = [corner.x - tangent * ax - side * radius * ay, corner.y - tangent * ay + side * radius * ax] as const;
    const from = Math.atan2(ay, ax) - (side * Math.PI) / 2;
    for (const value of arcPoints({ centre, radius, from, to: from + corner.turn }, { sagitta })) points.push(roundToDbu(value));
  });
  return Int32Array.from(points);
}
