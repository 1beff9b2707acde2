/** Comparing two states of a frame: which branch a solution lies on. */

/** Largest difference of two sets of unknowns among the displacements, [m]. */
export function largestChange(a: Float64Array, b: Float64Array, isLength: Uint8Array): number {
  let largest = 0;
  for (let i = 0; i < a.length; i++) if (isLength[i] === 1) largest = Math.max(largest, Math.abs(a[i]! - b[i]!));
  return largest;
}

/** Sum of squared displacements that is rounding alone, [m^2]. */
const noise = 1e-24;

/** True where a state moves on in the way of the one before, instead of jumping to another branch. */
export function isAlong(next: Float64Array, before: Float64Array, isLength: Uint8Array): boolean {
  const { product, sizes } = compareMotions(next, before, isLength);
  return sizes[1] < noise || sizes[0] < noise || product >= 0.5 * Math.sqrt(sizes[0] * sizes[1]);
}

/** True where the joints lie on the same side as in the linear answer and no further than it makes sense. */
export function isLike(unknowns: Float64Array, linear: Float64Array, isJoint: Uint8Array): boolean {
  const { product, sizes } = compareMotions(unknowns, linear, isJoint);
  return sizes[0] < noise || (product >= 0.7 * Math.sqrt(sizes[0] * sizes[1]) && sizes[0] <= 4 * sizes[1]);
}

/** Inner product and squared sizes of the displacements of two states. */
function compareMotions(
  a: Float64Array,
  b: Float64Array,
  counts: Uint8Array,
): { product: number; sizes: readonly [number, number] } {
  let product = 0;
  let first = 0;
  let second = 0;
  for (let i = 0; i < a.length; i++) {
    if (counts[i] === 0) continue;
    product += a[i]! * b[i]!;
    first += a[i]! ** 2;
    second += b[i]! ** 2;
  }
  return { product, sizes: [first, second] };
}
