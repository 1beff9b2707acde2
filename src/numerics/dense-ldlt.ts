/**
 * Dense symmetric factorisation A = L D L^T without row exchanges, with the count of negative pivots.
 *
 * By Sylvester's law of inertia the number of negative entries of D is the number of negative eigenvalues of A: a tangent
 * stiffness with a negative pivot belongs to an unstable equilibrium.
 * Validity: stable for definite matrices; for indefinite ones the growth of L is not bounded, so the caller must look at the
 * residual of what it solves (the frame model does). An exact zero pivot is reported, never divided by.
 * Source: Golub & Van Loan, Matrix Computations, section 4.1 (key golub2013, from memory). Main test: dense-ldlt.test.ts.
 */

export interface LdltOutcome {
  /** Number of negative pivots: negative eigenvalues of the matrix. */
  readonly nNegative: number;
  /** True when a pivot was exactly zero or not a number; the factors are then unusable. */
  readonly isSingular: boolean;
}

/** Factors the n x n row-major symmetric matrix in place (lower triangle read): L strictly below the diagonal, D on it. */
export function factorLdltInto(matrix: Float64Array, options: { readonly n: number }): LdltOutcome {
  const { n } = options;
  let nNegative = 0;
  for (let k = 0; k < n; k++) {
    const pivot = matrix[k * n + k]!;
    if (pivot === 0 || Number.isNaN(pivot)) return { nNegative, isSingular: true };
    if (pivot < 0) nNegative++;
    const inverse = 1 / pivot;
    for (let i = k + 1; i < n; i++) {
      const factor = matrix[i * n + k]! * inverse;
      if (factor === 0) continue;
      // The column below still holds unscaled entries L[j,k] D[k] for j >= i, which is what the update needs.
      for (let j = i; j < n; j++) matrix[j * n + i] = matrix[j * n + i]! - factor * matrix[j * n + k]!;
    }
    for (let i = k + 1; i < n; i++) matrix[i * n + k] = matrix[i * n + k]! * inverse;
  }
  return { nNegative, isSingular: false };
}

/** Solves with the factors of `factorLdltInto`; `vector` [n] holds the right-hand side on entry and the solution on return. */
export function solveLdltInto(vector: Float64Array, factors: Float64Array, options: { readonly n: number }): void {
  const { n } = options;
  for (let i = 0; i < n; i++) {
    let sum = vector[i]!;
    for (let j = 0; j < i; j++) sum -= factors[i * n + j]! * vector[j]!;
    vector[i] = sum;
  }
  for (let i = 0; i < n; i++) vector[i] = vector[i]! / factors[i * n + i]!;
  for (let i = n - 1; i >= 0; i--) {
    let sum = vector[i]!;
    for (let j = i + 1; j < n; j++) sum -= factors[j * n + i]! * vector[j]!;
    vector[i] = sum;
  }
}
