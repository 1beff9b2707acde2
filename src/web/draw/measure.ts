/** The width or the gap at a place of a layer, square to the nearest edge. Main test: measure.test.ts. */
import { isInside } from "./part-at.ts";

interface Place {
  readonly x: number;
  readonly y: number;
}

export interface Measure {
  /** Across silicon, or across the free ground between. */
  readonly kind: "width" | "gap";
  /** [m]; undefined where nothing lies opposite. */
  readonly size: number | undefined;
  /** On the nearest edge, and opposite to it. */
  readonly from: Place;
  readonly to: Place | undefined;
  /** From the place to the nearest edge, [m]. */
  readonly distance: number;
}

/** An edge closer to the ray's start than this is the one it starts on, [m]: the mask grid. */
const grid = 1e-9;

interface Edges {
  readonly outlines: readonly Float64Array[];
}

/** Calls back with the ends of every edge. */
function eachEdge({ outlines }: Edges, take: (x0: number, y0: number, x1: number, y1: number) => void): void {
  for (const points of outlines) {
    const n = points.length / 2;
    for (let i = 0, j = n - 1; i < n; j = i++) take(points[2 * j]!, points[2 * j + 1]!, points[2 * i]!, points[2 * i + 1]!);
  }
}

/** `outlines` are filled by the even-odd rule; undefined where there are none. */
export function measureAt(outlines: readonly Float64Array[], place: Place): Measure | undefined {
  let nearest: { readonly at: Place; readonly distance: number; readonly along: Place } | undefined;
  eachEdge({ outlines }, (x0, y0, x1, y1) => {
    const [dx, dy] = [x1 - x0, y1 - y0];
    const square = dx * dx + dy * dy;
    if (square === 0) return;
    const share = Math.max(0, Math.min(1, ((place.x - x0) * dx + (place.y - y0) * dy) / square));
    const at = { x: x0 + share * dx, y: y0 + share * dy };
    const distance = Math.hypot(place.x - at.x, place.y - at.y);
    const length = Math.sqrt(square);
    if (nearest === undefined || distance < nearest.distance)
      nearest = { at, distance, along: { x: dx / length, y: dy / length } };
  });
  if (nearest === undefined) return undefined;
  const inside = isInside(outlines, place);
  const { at: from, distance, along } = nearest;
  // from the edge through the place; on the edge itself across it, to the side that is asked about
  let [nx, ny] = distance > grid ? [(place.x - from.x) / distance, (place.y - from.y) / distance] : [-along.y, along.x];
  if (distance <= grid && isInside(outlines, { x: from.x + 10 * grid * nx, y: from.y + 10 * grid * ny }) !== inside)
    [nx, ny] = [-nx, -ny];
  let size = Number.POSITIVE_INFINITY;
  eachEdge({ outlines }, (x0, y0, x1, y1) => {
    const [dx, dy] = [x1 - x0, y1 - y0];
    const area = nx * dy - ny * dx;
    if (area === 0) return;
    const [ox, oy] = [x0 - from.x, y0 - from.y];
    const way = (ox * dy - oy * dx) / area;
    const share = (ox * ny - oy * nx) / area;
    if (share >= 0 && share <= 1 && way > distance + grid && way < size) size = way;
  });
  const isOpen = !Number.isFinite(size);
  return {
    kind: inside ? "width" : "gap",
    size: isOpen ? undefined : size,
    from,
    to: isOpen ? undefined : { x: from.x + size * nx, y: from.y + size * ny },
    distance,
  };
}
