import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { factorLdltInto, solveLdltInto } from "./dense-ldlt.ts";

/** G^T D G with G unit upper triangular: symmetric with the inertia of D. */
function withInertia(n: number, signs: readonly number[], entries: readonly number[]): Float64Array {
  const G = new Float64Array(n * n);
  let at = 0;
  for (let i = 0; i < n; i++) {
    G[i * n + i] = 1;
    for (let j = i + 1; j < n; j++) G[i * n + j] = entries[at++]!;
  }
  const A = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++)
      for (let k = 0; k < n; k++) A[i * n + j] = A[i * n + j]! + G[k * n + i]! * signs[k]! * G[k * n + j]!;
  }
  return A;
}

describe("dense LDL^T", () => {
  it("counts the negative eigenvalues and solves", () => {
    const cases = fc.integer({ min: 1, max: 9 }).chain((n) =>
      fc.record({
        n: fc.constant(n),
        signs: fc.array(fc.constantFrom(-2, -1, 1, 3), { minLength: n, maxLength: n }),
        entries: fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: n * n, maxLength: n * n }),
        b: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n, maxLength: n }),
      }),
    );
    fc.assert(
      fc.property(cases, ({ n, signs, entries, b }) => {
        const A = withInertia(n, signs, entries);
        const factors = Float64Array.from(A);
        expect(factorLdltInto(factors, { n })).toEqual({ nNegative: signs.filter((s) => s < 0).length, isSingular: false });
        const x = Float64Array.from(b);
        solveLdltInto(x, factors, { n });
        for (let i = 0; i < n; i++) {
          let sum = 0;
          for (let j = 0; j < n; j++) sum += A[i * n + j]! * x[j]!;
          // Well conditioned by construction: a few hundred rounding units of the solution.
          expect(Math.abs(sum - b[i]!)).toBeLessThan(1e-12 * (1 + Math.max(...x.map(Math.abs))));
        }
      }),
      { seed: 7, numRuns: 100 },
    );
  });

  it("reports an exactly singular matrix", () => {
    expect(factorLdltInto(Float64Array.from([1, 2, 2, 4]), { n: 2 }).isSingular).toBe(true);
  });
});
