import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findSymmetricEigenpairs } from "./eigen-dense.ts";
import { solveTridiagonalInto } from "./eigen-tridiagonal.ts";

describe("eigenpairs of a dense symmetric matrix", () => {
  it("finds those of the Rosser matrix", () => {
    // Rosser, Lanczos, Hestenes & Karush 1951 (from memory): three values close together, one double, one zero.
    const rows = [
      [611, 196, -192, 407, -8, -52, -49, 29],
      [196, 899, 113, -192, -71, -43, -8, -44],
      [-192, 113, 899, 196, 61, 49, 8, 52],
      [407, -192, 196, 611, 8, 44, 59, -23],
      [-8, -71, 61, 8, 411, -599, 208, 208],
      [-52, -43, 49, 44, -599, 411, 208, 208],
      [-49, -8, 8, 59, 208, 208, 99, -911],
      [29, -44, 52, -23, 208, 208, -911, 99],
    ];
    const { values } = findSymmetricEigenpairs(Float64Array.from(rows.flat()), { n: 8 });
    const root = Math.sqrt(26);
    const large = 10 * Math.sqrt(10405);
    [-large, 0, 510 - 100 * root, 1000, 1000, 510 + 100 * root, 1020, large].forEach((value, i) => {
      // Rounding of numbers of size 1000 is 1e-13; a few dozen of them.
      expect(Math.abs(values[i]! - value)).toBeLessThan(1e-11);
    });
  });

  it("finds those of Wilkinson's matrix W21+, two of which agree to 14 digits", () => {
    // Wilkinson, The Algebraic Eigenvalue Problem, 1965 (from memory); digits computed independently.
    const n = 21;
    const matrix = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      matrix[i * n + i] = Math.abs(i - 10);
      if (i > 0) matrix[i * n + i - 1] = 1;
    }
    const { values } = findSymmetricEigenpairs(matrix, { n });
    expect(Math.abs(values[20]! - 10.74619418290339)).toBeLessThan(1e-13);
    expect(Math.abs(values[19]! - 10.74619418290332)).toBeLessThan(1e-13);
    expect(Math.abs(values[0]! + 1.125441522119984)).toBeLessThan(1e-13);
  });

  it("gives unit vectors that satisfy the problem", () => {
    const cases = fc
      .integer({ min: 1, max: 12 })
      .chain((n) => fc.array(fc.integer({ min: -4, max: 4 }), { minLength: n * n, maxLength: n * n }));
    fc.assert(
      fc.property(cases, (entries) => {
        const n = Math.round(Math.sqrt(entries.length));
        const at = (i: number, j: number): number => entries[Math.max(i, j) * n + Math.min(i, j)]!;
        const { values, vectors } = findSymmetricEigenpairs(Float64Array.from(entries), { n });
        for (let k = 0; k < n; k++) {
          for (let i = 0; i < n; i++) {
            let image = 0;
            let product = 0;
            for (let j = 0; j < n; j++) {
              image += at(i, j) * vectors[k * n + j]!;
              product += vectors[k * n + j]! * vectors[i * n + j]!;
            }
            // Entries up to 4, at most 12 of them: norm below 50, rounding about 1e-14.
            expect(Math.abs(image - values[k]! * vectors[k * n + i]!)).toBeLessThan(1e-12);
            expect(Math.abs(product - (i === k ? 1 : 0))).toBeLessThan(1e-13);
          }
          if (k > 0) expect(values[k]!).toBeGreaterThanOrEqual(values[k - 1]!);
        }
      }),
      { seed: 11, numRuns: 100 },
    );
  });

  it("refuses a matrix of another size and numbers that are not finite", () => {
    expect(() => findSymmetricEigenpairs(new Float64Array(5), { n: 2 })).toThrow(/wanted a matrix of 2 x 2/);
    const bad = { carried: new Float64Array(0), nRows: 0 };
    expect(() => solveTridiagonalInto(Float64Array.of(1, Number.NaN), Float64Array.of(1, 0), bad)).toThrow(/does not shrink/);
  });
});
