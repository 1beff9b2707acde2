/**
 * Least squares with unknowns that may not be negative: the active-set method of [lawson1974] (FROM MEMORY) on normal equations.
 *
 * Meant for a few tens of unknowns, columns scaled alike. Exact to the rounding of the normal equations; the caller judges the misfit.
 * Main test: nonnegative-fit.test.ts, the conditions of optimality.
 */

import { SolveError } from "#base";
import { factorLdltInto, solveLdltInto } from "#numerics";

/** Unknowns x >= 0 that make |A x - b| least. `matrix` is [nRows × nUnknowns] row-major, `wanted` [nRows]. */
export function fitNonnegative(matrix: Float64Array, wanted: Float64Array): Float64Array {
  const nRows = wanted.length;
  const n = matrix.length / nRows;
  if (!Number.isInteger(n)) {
    throw new RangeError(`Cannot fit: wanted whole rows for ${nRows} values, found ${matrix.length} coefficients`);
  }
  const { normal, right } = normalEquations(matrix, wanted);
  const x = new Float64Array(n);
  const isFree = new Uint8Array(n);
  const tolerance = 1e-12 * right.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  for (let round = 0; round < 3 * n + 10; round++) {
    const entering = steepest(isFree, { normal, right, x, tolerance });
    if (entering === -1) return x;
    isFree[entering] = 1;
    settle(x, isFree, { normal, right });
  }
  throw new SolveError("Cannot fit: wanted a settled set of unknowns above zero, found it still changing", {
    method: "active set",
    iterations: 3 * n + 10,
    residual: Number.NaN,
    target: tolerance,
    hint: "Columns that are almost alike make the set cycle; use fewer of them.",
  });
}

function normalEquations(matrix: Float64Array, wanted: Float64Array): { normal: Float64Array; right: Float64Array } {
  const nRows = wanted.length;
  const n = matrix.length / nRows;
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n);
  for (let row = 0; row < nRows; row++) {
    for (let i = 0; i < n; i++) {
      const value = matrix[row * n + i]!;
      right[i] = right[i]! + value * wanted[row]!;
      for (let j = 0; j < n; j++) normal[i * n + j] = normal[i * n + j]! + value * matrix[row * n + j]!;
    }
  }
  return { normal, right };
}

/** The unknown held at zero whose growth would lessen the misfit most, or -1 where none does. */
function steepest(
  isFree: Uint8Array,
  fit: { normal: Float64Array; right: Float64Array; x: Float64Array; tolerance: number },
): number {
  const n = isFree.length;
  let best = -1;
  let most = fit.tolerance;
  for (let i = 0; i < n; i++) {
    if (isFree[i] === 1) continue;
    let gain = fit.right[i]!;
    for (let j = 0; j < n; j++) gain -= fit.normal[i * n + j]! * fit.x[j]!;
    if (gain > most) {
      most = gain;
      best = i;
    }
  }
  return best;
}

/** Solves for the free unknowns; those that would turn negative are held at zero one after another. Changes `x` and `isFree`. */
function settle(x: Float64Array, isFree: Uint8Array, fit: { normal: Float64Array; right: Float64Array }): void {
  for (;;) {
    const goal = solveFree(isFree, fit);
    let step = 1;
    for (let i = 0; i < x.length; i++) {
      if (isFree[i] === 1 && goal[i]! <= 0) step = Math.min(step, x[i]! / (x[i]! - goal[i]!));
    }
    if (step >= 1) {
      x.set(goal);
      return;
    }
    for (let i = 0; i < x.length; i++) {
      if (isFree[i] !== 1) continue;
      x[i] = x[i]! + step * (goal[i]! - x[i]!);
      if (goal[i]! <= 0 && x[i]! <= 1e-14 * Math.abs(goal[i]!) + Number.MIN_VALUE) {
        x[i] = 0;
        isFree[i] = 0;
      }
    }
  }
}

function solveFree(isFree: Uint8Array, { normal, right }: { normal: Float64Array; right: Float64Array }): Float64Array {
  const n = isFree.length;
  const free = Array.from(isFree.keys()).filter((i) => isFree[i] === 1);
  const small = new Float64Array(free.length * free.length);
  const solution = Float64Array.from(free, (i) => right[i]!);
  free.forEach((i, row) => {
    free.forEach((j, column) => {
      small[row * free.length + column] = normal[i * n + j]!;
    });
  });
  factorLdltInto(small, { n: free.length });
  solveLdltInto(solution, small, { n: free.length });
  const goal = new Float64Array(n);
  free.forEach((i, row) => {
    goal[i] = solution[row]!;
  });
  return goal;
}
