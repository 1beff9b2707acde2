/**
 * The margin of a value to its limit, as a share: 0 on the fence, positive where it holds. All fences of a ledger line up on it.
 *
 * One-sided: distance to the limit over the size of the limit. Two-sided: 1 in the middle, 0 at either end.
 * A limit of zero has no size of its own: the value that was found gives the scale.
 */
import { comparedWith, type Need } from "../brief/need.ts";

export function marginOf(found: number, need: Need, scale: { readonly found: number }): number {
  if (!Number.isFinite(found)) return Number.NaN;
  const value = comparedWith(need, found);
  const { low, high } = need;
  if (low !== undefined && high !== undefined) {
    const half = (high - low) / 2;
    return (half - Math.abs(value - (low + high) / 2)) / half;
  }
  const limit = low ?? high ?? 0;
  const size = Math.abs(limit) || Math.abs(scale.found) || 1;
  return (low !== undefined ? value - limit : limit - value) / size;
}
