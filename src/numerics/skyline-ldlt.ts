/**
 * Symmetric L D L^T factorisation in skyline storage, without pivoting: right for tangents that are definite, or indefinite without
 * zero pivots. The number of negative pivots is the number of negative eigenvalues (Sylvester), and so tells stability.
 * Source: George & Liu, Computer Solution of Large Sparse Positive Definite Systems (1981), chapter 4 (from memory).
 */

/** Symmetric matrix: row i holds columns firstColumn[i]..i at values[start[i]..]. */
export interface SkylineMatrix {
  readonly n: number;
  /** [n] first column stored in each row. */
  readonly firstColumn: Int32Array;
  /** [n + 1] where each row starts in `values`. */
  readonly start: Int32Array;
  readonly values: Float64Array;
}

/** An empty matrix whose rows reach left to `firstColumn`. */
export function createSkyline(firstColumn: Int32Array): SkylineMatrix {
  const n = firstColumn.length;
  const start = new Int32Array(n + 1);
  for (let i = 0; i < n; i++) start[i + 1] = start[i]! + (i - firstColumn[i]! + 1);
  return { n, firstColumn, start, values: new Float64Array(start[n]!) };
}

/** Adds to entry (row, column); only the lower triangle is kept, so the larger index counts as the row. */
export function addToSkyline(matrix: SkylineMatrix, at: { row: number; column: number }, value: number): void {
  const row = Math.max(at.row, at.column);
  const column = Math.min(at.row, at.column);
  const place = matrix.start[row]! + column - matrix.firstColumn[row]!;
  matrix.values[place] = matrix.values[place]! + value;
}

/** Factors in place. Returns the number of negative pivots, or -1 where a pivot vanishes. */
export function factorSkylineInPlace(matrix: SkylineMatrix): number {
  const { n, firstColumn, start, values } = matrix;
  let negative = 0;
  for (let i = 0; i < n; i++) {
    const first = firstColumn[i]!;
    const rowAt = start[i]! - first;
    // L(i, j) D(j) for every column of the row, from left to right
    for (let j = first; j < i; j++) {
      const from = Math.max(first, firstColumn[j]!);
      const otherAt = start[j]! - firstColumn[j]!;
      let sum = values[rowAt + j]!;
      for (let k = from; k < j; k++) sum -= values[rowAt + k]! * values[otherAt + k]!;
      values[rowAt + j] = sum;
    }
    let pivot = values[rowAt + i]!;
    const scale = Math.abs(pivot);
    for (let j = first; j < i; j++) {
      const scaled = values[rowAt + j]!;
      const unit = scaled / values[start[j + 1]! - 1]!;
      pivot -= scaled * unit;
      values[rowAt + j] = unit;
    }
    if (!(Math.abs(pivot) > 1e-14 * scale) || !Number.isFinite(pivot)) return -1;
    if (pivot < 0) negative++;
    values[rowAt + i] = pivot;
  }
  return negative;
}

/** Solves with a factored matrix; `x` [n] holds the right-hand side and then the solution. */
export function solveSkylineInto(x: Float64Array, factored: SkylineMatrix): void {
  const { n, firstColumn, start, values } = factored;
  for (let i = 0; i < n; i++) {
    const rowAt = start[i]! - firstColumn[i]!;
    let sum = x[i]!;
    for (let j = firstColumn[i]!; j < i; j++) sum -= values[rowAt + j]! * x[j]!;
    x[i] = sum;
  }
  for (let i = 0; i < n; i++) x[i] = x[i]! / values[start[i + 1]! - 1]!;
  for (let i = n - 1; i >= 0; i--) {
    const rowAt = start[i]! - firstColumn[i]!;
    const value = x[i]!;
    for (let j = firstColumn[i]!; j < i; j++) x[j] = x[j]! - values[rowAt + j]! * value;
  }
}
