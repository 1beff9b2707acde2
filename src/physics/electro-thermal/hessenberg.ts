/**
 * Eigenvalues of a small real upper Hessenberg matrix by the shifted QR algorithm with deflation.
 *
 * Source: Golub & Van Loan, Matrix Computations, section 7.5 (key golub2013, from memory): Francis double steps.
 * Validity: orders up to a few hundred; backward stable. Main test: hessenberg.test.ts.
 */
import { SolveError } from "#base";

export interface Eigenvalues {
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
}

const maxSweeps = 60;

/** Applies a reflector of up to 3 rows, starting at row k, from both sides within the active block. */
function reflect(
  h: Float64Array,
  n: number,
  block: { k: number; size: number; low: number; high: number; v: readonly number[] },
): void {
  const { k, size, low, high, v } = block;
  const norm = v.reduce((sum, value) => sum + value * value, 0);
  if (norm === 0) return;
  for (let j = Math.max(low, k - 1); j < n; j++) {
    let dot = 0;
    for (let i = 0; i < size; i++) dot += v[i]! * h[(k + i) * n + j]!;
    const factor = (2 * dot) / norm;
    for (let i = 0; i < size; i++) h[(k + i) * n + j] = h[(k + i) * n + j]! - factor * v[i]!;
  }
  for (let i = 0; i <= Math.min(high, k + 3); i++) {
    let dot = 0;
    for (let j = 0; j < size; j++) dot += v[j]! * h[i * n + k + j]!;
    const factor = (2 * dot) / norm;
    for (let j = 0; j < size; j++) h[i * n + k + j] = h[i * n + k + j]! - factor * v[j]!;
  }
}

/** Householder vector that turns x into a multiple of the first unit vector. */
function reflector(x: readonly number[]): number[] {
  const length = Math.hypot(...x);
  const sign = x[0]! >= 0 ? 1 : -1;
  return [x[0]! + sign * length, ...x.slice(1)];
}

function francisStep(h: Float64Array, n: number, block: { low: number; high: number; exceptional: boolean }): void {
  const { low, high, exceptional } = block;
  const at = (i: number, j: number): number => h[i * n + j]!;
  let trace = at(high - 1, high - 1) + at(high, high);
  let determinant = at(high - 1, high - 1) * at(high, high) - at(high - 1, high) * at(high, high - 1);
  if (exceptional) {
    const size = Math.abs(at(high, high - 1)) + Math.abs(at(high - 1, Math.max(low, high - 2)));
    trace = 1.5 * size;
    determinant = size * size;
  }
  let x = [
    at(low, low) * at(low, low) + at(low, low + 1) * at(low + 1, low) - trace * at(low, low) + determinant,
    at(low + 1, low) * (at(low, low) + at(low + 1, low + 1) - trace),
    low + 2 <= high ? at(low + 1, low) * at(low + 2, low + 1) : 0,
  ];
  for (let k = low; k < high; k++) {
    const size = Math.min(3, high - k + 1);
    reflect(h, n, { k, size, low, high, v: reflector(x.slice(0, size)) });
    x = [at(k + 1, k), k + 2 <= high ? at(k + 2, k) : 0, k + 3 <= high ? at(k + 3, k) : 0];
  }
}

/** Eigenvalues of `matrix` [n x n row-major], upper Hessenberg; it is not changed. */
export function hessenbergEigenvalues(matrix: Float64Array, n: number): Eigenvalues {
  const h = Float64Array.from(matrix);
  const real = new Float64Array(n);
  const imaginary = new Float64Array(n);
  let high = n - 1;
  let sweeps = 0;
  while (high >= 0) {
    let low = high;
    while (low > 0) {
      const size = Math.abs(h[low * n + low]!) + Math.abs(h[(low - 1) * n + low - 1]!);
      if (Math.abs(h[low * n + low - 1]!) <= 2 ** -52 * size) {
        h[low * n + low - 1] = 0;
        break;
      }
      low--;
    }
    if (low === high) {
      real[high] = h[high * n + high]!;
      high--;
      sweeps = 0;
    } else if (low === high - 1) {
      const [a, b, c, d] = [h[low * n + low]!, h[low * n + high]!, h[high * n + low]!, h[high * n + high]!];
      const middle = (a + d) / 2;
      const discriminant = ((a - d) / 2) ** 2 + b * c;
      const root = Math.sqrt(Math.abs(discriminant));
      if (discriminant >= 0) {
        const far = middle >= 0 ? middle + root : middle - root;
        real[high] = far;
        // the product of both, so that the small one is not the difference of two large ones
        real[low] = far === 0 ? 0 : (a * d - b * c) / far;
      } else {
        real[low] = middle;
        real[high] = middle;
        imaginary[low] = root;
        imaginary[high] = -root;
      }
      high -= 2;
      sweeps = 0;
    } else {
      if (++sweeps > maxSweeps) {
        throw new SolveError("Cannot find the eigenvalues: the QR sweeps do not converge", {
          method: "double-shift QR",
          iterations: sweeps,
          residual: Math.abs(h[high * n + high - 1]!),
          target: 0,
          hint: "The matrix may hold a value that is not finite.",
        });
      }
      francisStep(h, n, { low, high, exceptional: sweeps % 10 === 0 });
    }
  }
  return { real, imaginary };
}
