import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createRandomSource } from "#base";
import { hessenbergEigenvalues } from "./hessenberg.ts";

describe("eigenvalues of a Hessenberg matrix", () => {
  it("are those of the second difference, 2 - 2 cos(k pi/(n + 1)) (common practice, no source)", () => {
    const n = 30;
    const matrix = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      matrix[i * n + i] = 2;
      if (i > 0) matrix[i * n + i - 1] = -1;
      if (i < n - 1) matrix[i * n + i + 1] = -1;
    }
    const { real, imaginary } = hessenbergEigenvalues(matrix, n);
    // backward stable: some units of rounding of the norm 4
    Float64Array.from(real)
      .sort()
      .forEach((value, k) => {
        expect(Math.abs(value - (2 - 2 * Math.cos(((k + 1) * Math.PI) / (n + 1))))).toBeLessThan(1e-13);
      });
    expect(imaginary.every((value) => value === 0)).toBe(true);
  });

  it("are the roots of the polynomial of a companion matrix, complex pairs too", () => {
    // (x - 3)(x + 1)(x^2 - 2x + 5): roots 3, -1, 1 + 2i, 1 - 2i
    const companion = Float64Array.of(4, -6, 4, 15, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0);
    const { real, imaginary } = hessenbergEigenvalues(companion, 4);
    const found = Array.from(real, (value, k) => [value, imaginary[k]!] as const).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    const wanted = [
      [-1, 0],
      [1, -2],
      [1, 2],
      [3, 0],
    ] as const;
    wanted.forEach(([re, im], k) => {
      expect(Math.abs(found[k]![0] - re)).toBeLessThan(1e-12);
      expect(Math.abs(found[k]![1] - im)).toBeLessThan(1e-12);
    });
  });

  it("have the sum of the diagonal, and their squares that of the square's", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 1e6 }), (n, seed) => {
        const random = createRandomSource(seed);
        const matrix = Float64Array.from({ length: n * n }, (_, k) => (Math.floor(k / n) > (k % n) + 1 ? 0 : random.normal()));
        const { real, imaginary } = hessenbergEigenvalues(matrix, n);
        let trace = 0;
        let squares = 0;
        for (let i = 0; i < n; i++) {
          trace += matrix[i * n + i]!;
          for (let j = 0; j < n; j++) squares += matrix[i * n + j]! * matrix[j * n + i]!;
        }
        // sums of n entries of size 1
        expect(Math.abs(real.reduce((sum, value) => sum + value, 0) - trace)).toBeLessThan(1e-12 * n);
        expect(Math.abs(real.reduce((sum, value, k) => sum + value ** 2 - imaginary[k]! ** 2, 0) - squares)).toBeLessThan(
          1e-11 * n,
        );
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});
