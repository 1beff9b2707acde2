import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitNonnegative } from "./nonnegative-fit.ts";

describe("least squares without negative unknowns", () => {
  it("is plain least squares where nothing would turn negative", () => {
    // Line through (0,1), (1,3), (2,5): 1 + 2 t.
    const x = fitNonnegative(Float64Array.of(1, 0, 1, 1, 1, 2), Float64Array.of(1, 3, 5));
    expect(x[0]!).toBeCloseTo(1, 12);
    expect(x[1]!).toBeCloseTo(2, 12);
  });

  it("meets the conditions of the optimum: no unknown below zero, no gain left, free unknowns settled", () => {
    const number = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(number, { minLength: 32, maxLength: 32 }),
        fc.array(number, { minLength: 8, maxLength: 8 }),
        (a, b) => {
          const matrix = Float64Array.from(a);
          // A diagonal keeps the columns apart; without it the optimum is not unique.
          for (let i = 0; i < 4; i++) matrix[i * 4 + i] = matrix[i * 4 + i]! + 2;
          const x = fitNonnegative(matrix, Float64Array.from(b));
          const residual = b.map((value, row) => value - x.reduce((sum, xi, i) => sum + matrix[row * 4 + i]! * xi, 0));
          for (let i = 0; i < 4; i++) {
            const gain = residual.reduce((sum, value, row) => sum + matrix[row * 4 + i]! * value, 0);
            expect(x[i]!).toBeGreaterThanOrEqual(0);
            expect(gain).toBeLessThan(1e-9);
            if (x[i]! > 0) expect(Math.abs(gain)).toBeLessThan(1e-9);
          }
        },
      ),
      { seed: 11, numRuns: 200 },
    );
  });

  it("refuses rows that do not fit", () => {
    expect(() => fitNonnegative(Float64Array.of(1, 2, 3), Float64Array.of(1, 2))).toThrow(RangeError);
  });
});
