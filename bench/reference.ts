/**
 * The yardstick of all benches: a dense LU factorisation with row exchanges of one fixed 200 x 200 matrix, in plain loops.
 * A time divided by its time on the same computer says more than the time itself. Never speed it up.
 */

const n = 200;

/** Fixed matrix, [n x n] row-major, from a linear congruential sequence (constants from memory; any fixed matrix would do). */
function createReferenceMatrix(): Float64Array {
  const matrix = new Float64Array(n * n);
  let state = 1;
  for (let i = 0; i < matrix.length; i++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    matrix[i] = state / 2 ** 32 - 0.5;
  }
  return matrix;
}

const original = createReferenceMatrix();

/** Factorises the fixed matrix and returns the logarithm of the size of its determinant, so that no work can be left out. */
export function runReference(): number {
  const a = original.slice();
  let logDeterminant = 0;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[pivot * n + k]!)) pivot = i;
    for (let j = 0; j < n; j++) {
      const swapped = a[k * n + j]!;
      a[k * n + j] = a[pivot * n + j]!;
      a[pivot * n + j] = swapped;
    }
    logDeterminant += Math.log(Math.abs(a[k * n + k]!));
    for (let i = k + 1; i < n; i++) {
      const factor = a[i * n + k]! / a[k * n + k]!;
      a[i * n + k] = factor;
      for (let j = k + 1; j < n; j++) a[i * n + j] = a[i * n + j]! - factor * a[k * n + j]!;
    }
  }
  return logDeterminant;
}
