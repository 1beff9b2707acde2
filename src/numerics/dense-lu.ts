/**
 * Dense LU factorisation with partial pivoting, for the small full matrices of boundary elements and frames.
 *
 * Row-major `Float64Array`, factors written over the matrix, no allocation. Backward stable: the residual is of the order
 * n × 1e-16 relative to the matrix for every matrix met in practice. Cost n³/3 multiplications; meant for n up to about 1000.
 * Main test: residual of random systems and the exact inverse of a Hilbert matrix, dense-lu.test.ts.
 */

import { SolveError } from "#base";

/**
 * Factors `a` [n × n, row-major] in place so that P a = L U, L with a unit diagonal.
 * `pivots` [n] receives the row exchanged with row k at step k.
 * Throws a SolveError where a pivot is zero or not finite: the matrix is singular to working precision.
 */
export function factorInPlace(a: Float64Array, n: number, pivots: Int32Array): void {
  if (a.length < n * n || pivots.length < n) {
    throw new RangeError(
      `Cannot factor the matrix: wanted ${n * n} entries and ${n} pivots, found ${a.length} and ${pivots.length}`,
    );
  }
  for (let k = 0; k < n; k++) {
    const rowK = k * n;
    let pivotRow = k;
    let largest = Math.abs(a[rowK + k]!);
    for (let i = k + 1; i < n; i++) {
      const size = Math.abs(a[i * n + k]!);
      if (size > largest) {
        largest = size;
        pivotRow = i;
      }
    }
    pivots[k] = pivotRow;
    // Written so that NaN fails too.
    if (!(largest > 0 && largest < Number.POSITIVE_INFINITY)) throw singular(k, largest);
    if (pivotRow !== k) swapRows(a, n, k, pivotRow);
    eliminateBelow(a, n, k);
  }
}

function singular(step: number, pivot: number): SolveError {
  return new SolveError(`Cannot factor the matrix: wanted a finite pivot in column ${step}, found ${pivot}`, {
    method: "dense LU with partial pivoting",
    iterations: step,
    residual: pivot,
    target: 0,
    hint: "The equations are dependent on one another or hold a value that is not finite.",
  });
}

function swapRows(a: Float64Array, n: number, i: number, j: number): void {
  const rowI = i * n;
  const rowJ = j * n;
  for (let c = 0; c < n; c++) {
    const held = a[rowI + c]!;
    a[rowI + c] = a[rowJ + c]!;
    a[rowJ + c] = held;
  }
}

function eliminateBelow(a: Float64Array, n: number, k: number): void {
  const rowK = k * n;
  const inverse = 1 / a[rowK + k]!;
  for (let i = k + 1; i < n; i++) {
    const rowI = i * n;
    const below = a[rowI + k]!;
    if (below === 0) continue;
    const factor = below * inverse;
    a[rowI + k] = factor;
    for (let c = k + 1; c < n; c++) a[rowI + c] = a[rowI + c]! - factor * a[rowK + c]!;
  }
}

/** Replaces the right-hand side in `x` [n] by the solution, with the factors and pivots of `factorInPlace`. */
export function solveInto(x: Float64Array, lu: Float64Array, n: number, pivots: Int32Array): void {
  if (x.length < n) throw new RangeError(`Cannot solve the equations: wanted ${n} right-hand sides, found ${x.length}`);
  for (let k = 0; k < n; k++) {
    const p = pivots[k]!;
    if (p === k) continue;
    const held = x[k]!;
    x[k] = x[p]!;
    x[p] = held;
  }
  for (let i = 1; i < n; i++) {
    const row = i * n;
    let sum = x[i]!;
    for (let j = 0; j < i; j++) sum -= lu[row + j]! * x[j]!;
    x[i] = sum;
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = i * n;
    let sum = x[i]!;
    for (let j = i + 1; j < n; j++) sum -= lu[row + j]! * x[j]!;
    x[i] = sum / lu[row + i]!;
  }
}
