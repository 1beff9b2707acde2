/**
 * All eigenpairs of a dense symmetric matrix: Householder reduction to tridiagonal form, then implicit QL.
 *
 * Meant for small matrices (cost about 4 n^3). Error of a value: a few rounding units of the largest value; of a vector: that over
 * the distance to the next value. Source: Golub & Van Loan, Matrix Computations, section 8.3 (key golub2013, from memory).
 * Main test: eigen-dense.test.ts.
 */
import { solveTridiagonalInto } from "./eigen-tridiagonal.ts";

export interface DenseEigenpairs {
  /** [n] ascending. */
  readonly values: Float64Array;
  /** [n x n] row-major, row i is the unit vector of value i. */
  readonly vectors: Float64Array;
}

/** Eigenpairs of the n x n row-major symmetric matrix, of which the lower triangle is read. */
export function findSymmetricEigenpairs(matrix: Float64Array, options: { readonly n: number }): DenseEigenpairs {
  const { n } = options;
  if (matrix.length !== n * n) {
    throw new RangeError(`Cannot find eigenpairs: wanted a matrix of ${n} x ${n} entries, found ${matrix.length} entries`);
  }
  const work = Float64Array.from(matrix);
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) work[j * n + i] = work[i * n + j]!;
  const diagonal = new Float64Array(n);
  const offDiagonal = new Float64Array(n);
  const turned = new Float64Array(n * n);
  for (let i = 0; i < n; i++) turned[i * n + i] = 1;
  const u = new Float64Array(n);
  const p = new Float64Array(n);
  for (let k = 0; k < n - 2; k++) reflectInto(work, turned, { n, k, u, p });
  for (let i = 0; i < n; i++) {
    diagonal[i] = work[i * n + i]!;
    offDiagonal[i] = i < n - 1 ? work[(i + 1) * n + i]! : 0;
  }
  solveTridiagonalInto(diagonal, offDiagonal, { carried: turned, nRows: n });
  const vectors = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) vectors[j * n + i] = turned[i * n + j]!;
  return { values: diagonal, vectors };
}

/** Clears column k below the entry beside the diagonal by the reflection I - 2 u u^T, and carries the reflection in `turned`. */
function reflectInto(
  work: Float64Array,
  turned: Float64Array,
  at: { readonly n: number; readonly k: number; readonly u: Float64Array; readonly p: Float64Array },
): void {
  const { n, k, u, p } = at;
  let size = 0;
  for (let i = k + 1; i < n; i++) size = Math.hypot(size, work[i * n + k]!);
  let rest = 0;
  for (let i = k + 2; i < n; i++) rest = Math.max(rest, Math.abs(work[i * n + k]!));
  // Below this the squares vanish, and nothing that size is left in the answer.
  if (rest < 1e-150) return;
  const first = work[(k + 1) * n + k]!;
  u[k + 1] = first + (first < 0 ? -size : size);
  for (let i = k + 2; i < n; i++) u[i] = work[i * n + k]!;
  let length = 0;
  for (let i = k + 1; i < n; i++) length = Math.hypot(length, u[i]!);
  for (let i = k + 1; i < n; i++) u[i] = u[i]! / length;
  // A - 2 u p^T - 2 p u^T with p = A u - (u^T A u) u
  let middle = 0;
  for (let i = k; i < n; i++) {
    let sum = 0;
    for (let j = k + 1; j < n; j++) sum += work[i * n + j]! * u[j]!;
    p[i] = sum;
    if (i > k) middle += sum * u[i]!;
  }
  for (let i = k + 1; i < n; i++) p[i] = p[i]! - middle * u[i]!;
  u[k] = 0;
  for (let i = k; i < n; i++) {
    for (let j = k; j < n; j++) work[i * n + j] = work[i * n + j]! - 2 * (u[i]! * p[j]! + p[i]! * u[j]!);
  }
  for (let row = 0; row < n; row++) {
    let sum = 0;
    for (let j = k + 1; j < n; j++) sum += turned[row * n + j]! * u[j]!;
    for (let j = k + 1; j < n; j++) turned[row * n + j] = turned[row * n + j]! - 2 * sum * u[j]!;
  }
}
