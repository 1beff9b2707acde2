/**
 * Dropping points that do not shape a polygon. The region stays the same, exactly.
 * Main test: tidy.test.ts.
 */
import { turnSign } from "./orientation.ts";
import type { Polygon } from "./polygon.ts";

type Idle = (previous: readonly [number, number], here: readonly [number, number], next: readonly [number, number]) => boolean;

const onStraightRunOrSpike: Idle = ([px, py], [x, y], [qx, qy]) => turnSign(px, py, x, y, qx, qy) === 0;

const atSpikeTip: Idle = (p, [x, y], q) =>
  onStraightRunOrSpike(p, [x, y], q) && (x - p[0]) * (q[0] - x) + (y - p[1]) * (q[1] - y) <= 0;

function dropWhere(polygon: Polygon, idle: Idle): Polygon {
  const kept: (readonly [number, number])[] = [];
  for (let i = 0; i < polygon.length; i += 2) {
    kept.push([polygon[i]!, polygon[i + 1]!]);
    while (kept.length >= 3 && idle(kept[kept.length - 3]!, kept[kept.length - 2]!, kept[kept.length - 1]!))
      kept.splice(kept.length - 2, 1);
  }
  let start = 0;
  for (let changed = true; changed && kept.length - start >= 3; ) {
    changed = false;
    if (idle(kept[kept.length - 2]!, kept[kept.length - 1]!, kept[start]!)) {
      kept.pop();
      changed = true;
    } else if (idle(kept[kept.length - 1]!, kept[start]!, kept[start + 1]!)) {
      start++;
      changed = true;
    }
  }
  return kept.length - start < 3 ? new Int32Array(0) : Int32Array.from(kept.slice(start).flat());
}

/** The polygon without repeated points, points in the middle of a straight run and spikes; empty if nothing remains. */
export function dropIdlePoints(polygon: Polygon): Polygon {
  return dropWhere(polygon, onStraightRunOrSpike);
}

/** The polygon without repeated points and spikes; points on straight runs stay. Empty if nothing remains. */
export function dropSpikes(polygon: Polygon): Polygon {
  return dropWhere(polygon, atSpikeTip);
}
