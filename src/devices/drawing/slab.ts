/** Geometry of slabs: outlines, what lies on them, and where a line leaves them. */
import type { Place, Slab } from "./part.ts";

/** Places closer than this are one, [m]: the grid of the mask. */
export const samePlace = 1e-9;

/** Corners [4 × 2] m, counter-clockwise from the own lower left. */
export function outlineOfSlab({ centre, width, height, turn }: Slab): Float64Array {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const corner = (u: number, v: number): readonly [number, number] => {
    const [x, y] = [(u * width) / 2, (v * height) / 2];
    return [centre.x + c * x - s * y, centre.y + s * x + c * y];
  };
  return Float64Array.from([corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)].flat());
}

/** A place in the slab's own axes about its centre, [m]. */
export function ownPlace(slab: Slab, place: Place): Place {
  const [c, s] = [Math.cos(slab.turn), Math.sin(slab.turn)];
  const [dx, dy] = [place.x - slab.centre.x, place.y - slab.centre.y];
  return { x: c * dx + s * dy, y: -s * dx + c * dy };
}

/** From the slab's own axes back to the die. */
export function placeFromOwn(slab: Slab, own: Place): Place {
  const [c, s] = [Math.cos(slab.turn), Math.sin(slab.turn)];
  return { x: slab.centre.x + c * own.x - s * own.y, y: slab.centre.y + s * own.x + c * own.y };
}

/** True where a place lies in the slab or on its edge, to the grid of the mask. */
export function liesOn(slab: Slab, place: Place): boolean {
  const own = ownPlace(slab, place);
  return Math.abs(own.x) <= slab.width / 2 + samePlace && Math.abs(own.y) <= slab.height / 2 + samePlace;
}

/** The slab with every edge moved in by `inward` [m]. */
export function shrinkSlab(slab: Slab, inward: number): Slab {
  return { ...slab, width: slab.width - 2 * inward, height: slab.height - 2 * inward };
}

/**
 * How far a straight line from `start` along the unit vector `along` runs until it leaves the slab for good [m]; negative where the
 * slab lies behind the start. Undefined where the line misses the slab.
 */
export function exitDistance(slab: Slab, start: Place, along: Place): number | undefined {
  const from = ownPlace(slab, start);
  const [c, s] = [Math.cos(slab.turn), Math.sin(slab.turn)];
  const direction = [c * along.x + s * along.y, -s * along.x + c * along.y] as const;
  let [enter, leave] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const [p, d, half] of [
    [from.x, direction[0], slab.width / 2],
    [from.y, direction[1], slab.height / 2],
  ] as const) {
    if (Math.abs(d) < 1e-14) {
      if (Math.abs(p) > half + samePlace) return undefined;
      continue;
    }
    const [a, b] = [(-half - p) / d, (half - p) / d];
    enter = Math.max(enter, Math.min(a, b));
    leave = Math.min(leave, Math.max(a, b));
  }
  return enter <= leave + samePlace ? leave : undefined;
}
