/**
 * Products and shifted copies of skyline matrices, and the count of eigenvalues below a number.
 *
 * By Sylvester's law of inertia K - s M has as many negative pivots as the problem K x = lambda M x (M positive semidefinite) has
 * eigenvalues below s. Source: Parlett, The Symmetric Eigenvalue Problem, section 3.3 (key parlett1998, from memory).
 * Main test: eigen-sparse.test.ts.
 */
import { factorSkylineInPlace, type SkylineMatrix } from "./skyline-ldlt.ts";

/** product = matrix x. */
export function multiplySkylineInto(product: Float64Array, matrix: SkylineMatrix, x: Float64Array): void {
  const { n, firstColumn, start, values } = matrix;
  product.fill(0);
  for (let i = 0; i < n; i++) {
    const first = firstColumn[i]!;
    const rowAt = start[i]! - first;
    const xi = x[i]!;
    let sum = values[rowAt + i]! * xi;
    for (let j = first; j < i; j++) {
      const entry = values[rowAt + j]!;
      sum += entry * x[j]!;
      product[j] = product[j]! + entry * xi;
    }
    product[i] = product[i]! + sum;
  }
}

/** A new matrix K - s M; every row of M must reach no further left than that of K. */
export function shiftSkyline(stiffness: SkylineMatrix, mass: SkylineMatrix, options: { readonly shift: number }): SkylineMatrix {
  const { n, firstColumn, start } = stiffness;
  const values = Float64Array.from(stiffness.values);
  if (mass.n !== n) throw new RangeError(`Cannot shift a matrix: wanted a mass matrix with ${n} rows, found ${mass.n}`);
  for (let i = 0; i < n; i++) {
    const first = mass.firstColumn[i]!;
    if (first < firstColumn[i]!) {
      throw new RangeError(
        `Cannot shift a matrix: wanted row ${i} to start at column ${firstColumn[i]} or later, found ${first}`,
      );
    }
    const to = start[i]! - firstColumn[i]!;
    const from = mass.start[i]! - first;
    for (let j = first; j <= i; j++) values[to + j] = values[to + j]! - options.shift * mass.values[from + j]!;
  }
  return { n, firstColumn, start, values };
}

/** Number of eigenvalues of K x = lambda M x below `value`; NaN where `value` is an eigenvalue to within rounding. */
export function countEigenvaluesBelow(
  stiffness: SkylineMatrix,
  mass: SkylineMatrix,
  options: { readonly value: number },
): number {
  const count = factorSkylineInPlace(shiftSkyline(stiffness, mass, { shift: options.value }));
  return count < 0 ? Number.NaN : count;
}
