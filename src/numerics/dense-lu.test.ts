import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SolveError } from "#base";
import { factorInPlace, solveInto } from "./dense-lu.ts";

function solve(a: readonly number[], b: readonly number[]): Float64Array {
  const n = b.length;
  const lu = Float64Array.from(a);
  const pivots = new Int32Array(n);
  const x = Float64Array.from(b);
  factorInPlace(lu, n, pivots);
  solveInto(x, lu, n, pivots);
  return x;
}

describe("dense LU", () => {
  it("leaves a residual at rounding level for random systems", () => {
    const system = fc.integer({ min: 1, max: 12 }).chain((n) =>
      fc.record({
        a: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n * n, maxLength: n * n }),
        b: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n, maxLength: n }),
      }),
    );
    fc.assert(
      fc.property(system, ({ a, b }) => {
        const n = b.length;
        // The diagonal keeps the random matrix away from singular; its place in the row is shifted so that pivoting works.
        const shifted = a.map((value, k) => value + (k % n === (Math.floor(k / n) + 1) % n ? 2 * n : 0));
        const x = solve(shifted, b);
        for (let i = 0; i < n; i++) {
          let residual = -b[i]!;
          for (let j = 0; j < n; j++) residual += shifted[i * n + j]! * x[j]!;
          // Backward stability: about n eps |A| |x|, with |A| <= 3 n and |x| <= 1.
          expect(Math.abs(residual)).toBeLessThan(1e-14 * n * n);
        }
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  it("inverts the Hilbert matrix of order 4, whose inverse is in whole numbers", () => {
    const n = 4;
    const hilbert = Array.from({ length: n * n }, (_, k) => 1 / (Math.floor(k / n) + (k % n) + 1));
    const x = solve(hilbert, [1, 0, 0, 0]);
    // Known closed form: the first column of the inverse. Condition number 1.6e4, so 1e-11 is what rounding allows.
    [16, -120, 240, -140].forEach((exact, i) => {
      expect(Math.abs(x[i]! / exact - 1)).toBeLessThan(1e-11);
    });
  });

  it("needs and uses row exchanges", () => {
    expect(Array.from(solve([0, 1, 1, 0], [3, 5]))).toEqual([5, 3]);
  });

  it("refuses singular and non-finite matrices", () => {
    expect(() => solve([1, 2, 2, 4], [1, 1])).toThrow(SolveError);
    expect(() => solve([Number.NaN, 1, 1, 1], [1, 1])).toThrow(SolveError);
    expect(() => factorInPlace(new Float64Array(3), 2, new Int32Array(2))).toThrow(RangeError);
  });
});
