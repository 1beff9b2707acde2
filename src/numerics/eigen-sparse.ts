/**
 * The lowest eigenpairs of K x = lambda M x, K symmetric skyline (it may have negative eigenvalues), M positive semidefinite.
 *
 * Lanczos steps with (K - s M)^-1 M in the inner product of M, orthogonalised against every earlier vector, so that no copy of a
 * pair appears. Where M is a matrix, the eigenvalues below the last one found are counted by negative pivots; if one was missed (a
 * single Lanczos sequence sees only one vector of a multiple eigenvalue) another sequence runs in the complement of those found.
 * Validity: the factors are not pivoted; where a leading block of K - s M is nearly singular digits are lost, and the count refuses the
 * result: another shift helps. Error: of a value about the square of `tolerance` relative to its distance from the others, of a vector `tolerance`.
 * Source: Parlett, The Symmetric Eigenvalue Problem, chapters 3, 13 and 15 (key parlett1998, from memory).
 * Main test: eigen-sparse.test.ts.
 */
import { SolveError } from "#base";
import { countEigenvaluesBelow, multiplySkylineInto, shiftSkyline } from "./eigen-skyline.ts";
import { solveTridiagonalInto } from "./eigen-tridiagonal.ts";
import { factorSkylineInPlace, type SkylineMatrix, solveSkylineInto } from "./skyline-ldlt.ts";

/** Writes M x into its first argument. */
export type MassProduct = (product: Float64Array, x: Float64Array) => void;

export interface EigenOptions {
  /** How many of the lowest pairs are wanted. */
  readonly count: number;
  /** Where the search starts [unit of lambda]: must not be an eigenvalue. Only 0 where the mass is a function. Left out = 0. */
  readonly shift?: number;
  /** K - s M already factored with its number of negative pivots, where the caller has it. */
  readonly factored?: { readonly matrix: SkylineMatrix; readonly nNegative: number };
  /** Residual of (K - s M)^-1 M x = x / (lambda - s) relative to 1 / (lambda - s). Left out = 1e-9. */
  readonly tolerance?: number;
}

export interface Eigenpairs {
  /** [nPairs] ascending; fewer than wanted only where the mass matrix has too low a rank for more. */
  readonly values: Float64Array;
  /** [nPairs x n] row-major, x^T M x = 1. */
  readonly vectors: Float64Array;
  /** Number of eigenvalues below the shift. */
  readonly nBelowShift: number;
  /** True where the count of negative pivots shows that no lower eigenvalue was missed; false where the mass is a function. */
  readonly isProven: boolean;
}

interface Pair {
  /** 1 / (lambda - shift). */
  readonly inverse: number;
  readonly vector: Float64Array;
}

interface Operator {
  readonly n: number;
  readonly factored: SkylineMatrix;
  readonly multiply: MassProduct;
  readonly tolerance: number;
}

export function findLowestEigenpairs(
  stiffness: SkylineMatrix,
  mass: SkylineMatrix | MassProduct,
  options: EigenOptions,
): Eigenpairs {
  const { count, shift = 0, tolerance = 1e-9 } = options;
  const matrix = typeof mass === "function" ? undefined : mass;
  if (!(Number.isInteger(count) && count > 0)) {
    throw new RangeError(`Cannot find eigenpairs: wanted a count of at least 1, found ${count}`);
  }
  if (matrix === undefined && shift !== 0) {
    throw new RangeError(`Cannot find eigenpairs: wanted a shift of 0 where the mass is a function, found ${shift}`);
  }
  const { matrix: factored, nNegative } = options.factored ?? factorShifted(stiffness, matrix, shift);
  const multiply: MassProduct = typeof mass === "function" ? mass : (product, x) => multiplySkylineInto(product, mass, x);
  const operator = { n: stiffness.n, factored, multiply, tolerance };
  const found: Pair[] = [];
  for (let sequence = 0; ; sequence++) {
    const left = Math.max(0, nNegative - found.filter((pair) => pair.inverse < 0).length);
    const fresh = runLanczos(operator, found, { sequence, nNegative: left, count: sequence === 0 ? Math.max(count, left) : 1 });
    found.push(...fresh);
    found.sort((a, b) => shift + 1 / a.inverse - (shift + 1 / b.inverse));
    const lowest = found.slice(0, count);
    const last = lowest.at(-1);
    if (last === undefined) return pack([], { n: stiffness.n, shift, nNegative, isProven: false });
    if (matrix === undefined) return pack(lowest, { n: stiffness.n, shift, nNegative, isProven: false });
    const counts = margins.map((part) => {
      const value = belowLast(last, shift, part);
      const below = countEigenvaluesBelow(stiffness, matrix, { value });
      return { below, found: found.filter((pair) => shift + 1 / pair.inverse < value).length };
    });
    if (counts.some((entry) => entry.below === entry.found)) {
      return pack(lowest, { n: stiffness.n, shift, nNegative, isProven: true });
    }
    if (fresh.length === 0 || sequence > 2 * count + nNegative) throw notComplete(counts[0]!.found, counts[0]!.below, sequence);
  }
}

/**
 * How far below the last eigenvalue the others are counted, as a part of it: far enough for a sure count, too near for another mode of
 * any interest. Stiffnesses that span ten decades blur the count by more than the first.
 */
const margins = [1e-7, 1e-4] as const;

function belowLast(last: Pair, shift: number, part: number): number {
  const value = shift + 1 / last.inverse;
  return value - part * Math.max(Math.abs(value), Math.abs(value - shift));
}

function factorShifted(
  stiffness: SkylineMatrix,
  mass: SkylineMatrix | undefined,
  shift: number,
): { matrix: SkylineMatrix; nNegative: number } {
  const matrix =
    mass === undefined || shift === 0
      ? { ...stiffness, values: Float64Array.from(stiffness.values) }
      : shiftSkyline(stiffness, mass, { shift });
  const nNegative = factorSkylineInPlace(matrix);
  if (nNegative >= 0) return { matrix, nNegative };
  throw new SolveError(`Cannot find eigenpairs: wanted a shift that is no eigenvalue, found one at ${shift}`, {
    method: "shift-invert Lanczos",
    iterations: 0,
    residual: Number.NaN,
    target: 0,
    hint: "choose another shift, below the eigenvalues wanted",
  });
}

function notComplete(found: number, below: number, sequences: number): SolveError {
  return new SolveError(`Cannot find eigenpairs: wanted all ${below} eigenvalues below the last one, found ${found}`, {
    method: "shift-invert Lanczos",
    iterations: sequences + 1,
    residual: below - found,
    target: 0,
    hint: "ask for more pairs, or move the shift nearer to them",
  });
}

function pack(
  pairs: readonly Pair[],
  about: { readonly n: number; readonly shift: number; readonly nNegative: number; readonly isProven: boolean },
): Eigenpairs {
  const { n, shift, nNegative, isProven } = about;
  const values = Float64Array.from(pairs, (pair) => shift + 1 / pair.inverse);
  const vectors = new Float64Array(pairs.length * n);
  pairs.forEach((pair, i) => {
    vectors.set(pair.vector, i * n);
  });
  return { values, vectors, nBelowShift: nNegative, isProven };
}

/** A vector without symmetry and without a random source: the fractions of multiples of an irrational number. */
function startVector(n: number, sequence: number): Float64Array {
  const step = 0.6180339887498949 + 0.0137 * sequence;
  return Float64Array.from({ length: n }, (_, i) => (((i + 1) * (step + 0.271828 * step * ((i % 7) + 1))) % 1) - 0.5);
}

/**
 * One Lanczos sequence in the complement of the pairs `found`: the `nNegative` pairs below the shift and the next above it, `count`
 * in all. It ends early where the complement is exhausted.
 */
function runLanczos(
  operator: Operator,
  found: readonly Pair[],
  wanted: { readonly sequence: number; readonly nNegative: number; readonly count: number },
): Pair[] {
  const { n, factored, multiply, tolerance } = operator;
  const basis: Float64Array[] = [];
  const images: Float64Array[] = [];
  const lockedImages = found.map((pair) => {
    const image = new Float64Array(n);
    multiply(image, pair.vector);
    return image;
  });
  const alpha: number[] = [];
  const beta: number[] = [];
  const orthogonalise = (x: Float64Array): void => {
    // The two last vectors hold all but rounding of what is to go; then once against all, and so twice in all, which is enough
    // to reach rounding (Kahan and Parlett).
    for (let i = basis.length - 1; i >= Math.max(0, basis.length - 2); i--) subtractPart(x, basis[i]!, images[i]!);
    for (let i = 0; i < found.length; i++) subtractPart(x, found[i]!.vector, lockedImages[i]!);
    for (let i = basis.length - 1; i >= 0; i--) subtractPart(x, basis[i]!, images[i]!);
  };
  // A first solve brings the start into the range of the operator: a part there that carries no mass would never leave again.
  let next = startVector(n, wanted.sequence);
  let image = new Float64Array(n);
  multiply(image, next);
  next.set(image);
  solveSkylineInto(next, factored);
  const firstSize = normOf(next, image, multiply);
  orthogonalise(next);
  orthogonalise(next);
  let size = normOf(next, image, multiply);
  if (!(size > 1e-10 * firstSize)) return [];
  const limit = 40 * (wanted.count + 5);
  for (;;) {
    for (let i = 0; i < n; i++) {
      next[i] = next[i]! / size;
      image[i] = image[i]! / size;
    }
    basis.push(next);
    images.push(image);
    next = Float64Array.from(image);
    solveSkylineInto(next, factored);
    alpha.push(dot(next, image));
    orthogonalise(next);
    image = new Float64Array(n);
    size = normOf(next, image, multiply);
    const steps = alpha.length;
    const isExhausted = !(size > 1e-13 * Math.max(...alpha.map(Math.abs), ...beta)) || steps === n;
    const isTime = steps >= wanted.count + 3 && (steps - wanted.count) % 3 === 0;
    if (isExhausted || isTime) {
      const chosen = chooseRitz(alpha, beta, { last: isExhausted ? 0 : size, tolerance, ...wanted });
      if (chosen !== undefined) return ritzPairs(basis, { alpha, beta, chosen, n });
    }
    if (steps >= limit) throw notConverged(steps);
    beta.push(size);
  }
}

function notConverged(iterations: number): SolveError {
  return new SolveError("Cannot find eigenpairs: wanted the lowest ones, found a sequence that does not settle", {
    method: "shift-invert Lanczos",
    iterations,
    residual: Number.NaN,
    target: 0,
    hint: "ask for fewer pairs, or move the shift nearer to them",
  });
}

function subtractPart(x: Float64Array, vector: Float64Array, image: Float64Array): void {
  const part = dot(x, image);
  for (let k = 0; k < x.length; k++) x[k] = x[k]! - part * vector[k]!;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** Writes M x into `image` and returns the norm of x. */
function normOf(x: Float64Array, image: Float64Array, multiply: MassProduct): number {
  multiply(image, x);
  return Math.sqrt(Math.max(0, dot(x, image)));
}

/** Indices of the wanted Ritz values in ascending order of the values, or undefined where one of them has not converged. */
function chooseRitz(
  alpha: readonly number[],
  beta: readonly number[],
  options: { readonly last: number; readonly tolerance: number; readonly nNegative: number; readonly count: number },
): number[] | undefined {
  const n = alpha.length;
  const values = Float64Array.from(alpha);
  const lastRow = new Float64Array(n);
  lastRow[n - 1] = 1;
  const off = Float64Array.from({ length: n }, (_, i) => beta[i] ?? 0);
  solveTridiagonalInto(values, off, { carried: lastRow, nRows: 1 });
  const largest = Math.max(Math.abs(values[0]!), Math.abs(values[n - 1]!));
  const chosen: number[] = [];
  // Values at rounding level stand for motions without mass; they are no modes.
  const isReal = (i: number): boolean => Math.abs(values[i]!) > 1e-14 * largest;
  for (let i = 0; i < Math.min(options.nNegative, n); i++) if (values[i]! < 0 && isReal(i)) chosen.push(i);
  for (let i = n - 1; i >= 0 && chosen.length < options.count; i--) if (values[i]! > 0 && isReal(i)) chosen.push(i);
  if (options.last === 0) return chosen;
  if (chosen.length < options.count) return undefined;
  const isSettled = chosen.every((i) => {
    const residual = Math.abs(options.last * lastRow[i]!);
    return residual <= Math.max(options.tolerance * Math.abs(values[i]!), 8 * Number.EPSILON * largest);
  });
  return isSettled ? chosen : undefined;
}

function ritzPairs(
  basis: readonly Float64Array[],
  options: {
    readonly alpha: readonly number[];
    readonly beta: readonly number[];
    readonly chosen: readonly number[];
    readonly n: number;
  },
): Pair[] {
  const { alpha, beta, chosen, n } = options;
  const m = alpha.length;
  const values = Float64Array.from(alpha);
  const off = Float64Array.from({ length: m }, (_, i) => beta[i] ?? 0);
  const weights = new Float64Array(m * m);
  for (let i = 0; i < m; i++) weights[i * m + i] = 1;
  solveTridiagonalInto(values, off, { carried: weights, nRows: m });
  return chosen.map((index) => {
    const vector = new Float64Array(n);
    for (let j = 0; j < m; j++) {
      const weight = weights[j * m + index]!;
      const from = basis[j]!;
      for (let k = 0; k < n; k++) vector[k] = vector[k]! + weight * from[k]!;
    }
    return { inverse: values[index]!, vector };
  });
}
