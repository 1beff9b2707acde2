/**
 * Eigenvalues of a symmetric tridiagonal matrix by implicit QL steps, with the rows of a matrix carried along.
 *
 * Starting from the unit matrix the carried rows become the eigenvectors; starting from one unit row they become that component of
 * every eigenvector, which is all that a Lanczos residual needs. Error: a few rounding units of the largest eigenvalue.
 * Source: Golub & Van Loan, Matrix Computations, section 8.3 (key golub2013, from memory). Main test: eigen-dense.test.ts.
 */
import { SolveError } from "#base";

/** QL needs two or three steps per eigenvalue; more than this many means that the matrix is not finite. */
const maxSteps = 60;

/**
 * Turns `diagonal` [n] into the eigenvalues, ascending. `offDiagonal` [n] holds the entries beside the diagonal in 0..n-2 and is
 * destroyed. `carried` [nRows x n] row-major is multiplied from the right by the eigenvectors, column j belonging to value j.
 */
export function solveTridiagonalInto(
  diagonal: Float64Array,
  offDiagonal: Float64Array,
  options: { readonly carried: Float64Array; readonly nRows: number },
): void {
  const { carried, nRows } = options;
  const n = diagonal.length;
  if (n === 0) return;
  offDiagonal[n - 1] = 0;
  for (let l = 0; l < n; l++) {
    for (let step = 0; ; step++) {
      let m = l;
      for (; m < n - 1; m++) {
        const size = Math.abs(diagonal[m]!) + Math.abs(diagonal[m + 1]!);
        if (Math.abs(offDiagonal[m]!) <= Number.EPSILON * size) break;
      }
      if (m === l) break;
      if (step === maxSteps) throw notFinished(offDiagonal[l]!);
      stepInto(diagonal, offDiagonal, { l, m, carried, nRows });
    }
  }
  sortInto(diagonal, carried, nRows);
}

function notFinished(residual: number): SolveError {
  return new SolveError("Cannot find eigenvalues: wanted a vanishing off-diagonal entry, found one that does not shrink", {
    method: "implicit QL",
    iterations: maxSteps,
    residual: Math.abs(residual),
    target: Number.EPSILON,
    hint: "look for entries of the matrix that are not finite",
  });
}

/** One implicit QL step on rows l..m, with the shift of the leading 2 x 2 block. */
function stepInto(
  d: Float64Array,
  e: Float64Array,
  range: { readonly l: number; readonly m: number; readonly carried: Float64Array; readonly nRows: number },
): void {
  const { l, m, carried, nRows } = range;
  const n = d.length;
  let g = (d[l + 1]! - d[l]!) / (2 * e[l]!);
  let r = Math.hypot(g, 1);
  g = d[m]! - d[l]! + e[l]! / (g + (g < 0 ? -r : r));
  let s = 1;
  let c = 1;
  let p = 0;
  for (let i = m - 1; i >= l; i--) {
    let f = s * e[i]!;
    const b = c * e[i]!;
    r = Math.hypot(f, g);
    e[i + 1] = r;
    if (r === 0) {
      // An entry vanished on the way: the matrix falls in two, start again on the smaller part.
      d[i + 1] = d[i + 1]! - p;
      e[m] = 0;
      return;
    }
    s = f / r;
    c = g / r;
    g = d[i + 1]! - p;
    r = (d[i]! - g) * s + 2 * c * b;
    p = s * r;
    d[i + 1] = g + p;
    g = c * r - b;
    for (let row = 0; row < nRows; row++) {
      const at = row * n + i;
      f = carried[at + 1]!;
      carried[at + 1] = s * carried[at]! + c * f;
      carried[at] = c * carried[at]! - s * f;
    }
  }
  d[l] = d[l]! - p;
  e[l] = g;
  e[m] = 0;
}

function sortInto(values: Float64Array, carried: Float64Array, nRows: number): void {
  const n = values.length;
  for (let i = 0; i < n - 1; i++) {
    let least = i;
    for (let j = i + 1; j < n; j++) if (values[j]! < values[least]!) least = j;
    if (least === i) continue;
    const value = values[i]!;
    values[i] = values[least]!;
    values[least] = value;
    for (let row = 0; row < nRows; row++) {
      const entry = carried[row * n + i]!;
      carried[row * n + i] = carried[row * n + least]!;
      carried[row * n + least] = entry;
    }
  }
}
