import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findSymmetricEigenpairs } from "./eigen-dense.ts";
import { countEigenvaluesBelow, multiplySkylineInto, shiftSkyline } from "./eigen-skyline.ts";
import { findLowestEigenpairs } from "./eigen-sparse.ts";
import { addToSkyline, createSkyline, factorSkylineInPlace, type SkylineMatrix, solveSkylineInto } from "./skyline-ldlt.ts";

/** Skyline matrix from its entries in the lower triangle, unknown i standing at place order[i]. */
function skyline(n: number, options: { entry: (i: number, j: number) => number; order?: readonly number[] }): SkylineMatrix {
  const { entry, order = Array.from({ length: n }, (_, i) => i) } = options;
  const first = Int32Array.from({ length: n }, (_, i) => i);
  const visit = (action: (row: number, column: number, value: number) => void): void => {
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        const value = entry(i, j);
        if (value !== 0) action(Math.max(order[i]!, order[j]!), Math.min(order[i]!, order[j]!), value);
      }
    }
  };
  visit((row, column) => {
    first[row] = Math.min(first[row]!, column);
  });
  const matrix = createSkyline(first);
  visit((row, column, value) => addToSkyline(matrix, { row, column }, value));
  return matrix;
}

const unit = (n: number): SkylineMatrix => skyline(n, { entry: (i, j) => (i === j ? 1 : 0) });

/** Five-point Laplacian on 10 x 10 inner points, mesh width 1. */
function laplacian(order?: readonly number[]): SkylineMatrix {
  const entry = (i: number, j: number): number => {
    const apart = Math.abs((i % 10) - (j % 10)) + Math.abs(Math.floor(i / 10) - Math.floor(j / 10));
    return apart === 0 ? 4 : apart === 1 ? -1 : 0;
  };
  return skyline(100, order === undefined ? { entry } : { entry, order });
}

/** Order along the diagonals of the square: a shorter skyline. */
const byDiagonals = (() => {
  const points = Array.from({ length: 100 }, (_, i) => i);
  points.sort((a, b) => (a % 10) + Math.floor(a / 10) - (b % 10) - Math.floor(b / 10) || a - b);
  const order = new Array<number>(100);
  points.forEach((point, place) => {
    order[point] = place;
  });
  return order;
})();

describe("lowest eigenpairs of a sparse problem", () => {
  it("finds the double values of the Laplacian on a square, in any order of the unknowns", () => {
    // Closed form 4 - 2 cos(i pi/11) - 2 cos(j pi/11).
    const exact: number[] = [];
    for (let i = 1; i <= 10; i++) {
      for (let j = 1; j <= 10; j++) exact.push(4 - 2 * Math.cos((i * Math.PI) / 11) - 2 * Math.cos((j * Math.PI) / 11));
    }
    exact.sort((a, b) => a - b);
    expect(exact[0]).toBeCloseTo(0.1620281055, 9);
    for (const order of [undefined, byDiagonals]) {
      for (const count of [1, 2, 3, 4, 9, 20]) {
        const { values, isProven } = findLowestEigenpairs(laplacian(order), unit(100), { count });
        expect(isProven).toBe(true);
        // Rounding times the condition number (50).
        values.forEach((value, i) => {
          expect(Math.abs(value - exact[i]!)).toBeLessThan(1e-12);
        });
        expect(values.length).toBe(count);
      }
      for (const value of [0.1, 0.3, 0.4, 2, 7.9]) {
        expect(countEigenvaluesBelow(laplacian(order), unit(100), { value })).toBe(exact.filter((x) => x < value).length);
      }
    }
  });

  it("solves with the Laplacian on a square, in any order of the unknowns", () => {
    // Digits computed independently; rounding times the condition number (50) is 1e-14, the digits quoted end near 1e-13.
    for (const order of [undefined, byDiagonals]) {
      const matrix = laplacian(order);
      const last = matrix.start;
      expect(factorSkylineInPlace(matrix)).toBe(0);
      let logDeterminant = 0;
      for (let i = 0; i < 100; i++) logDeterminant += Math.log(matrix.values[last[i + 1]! - 1]!);
      const x = new Float64Array(100).fill(1);
      solveSkylineInto(x, matrix);
      const place = (i: number): number => order?.[i] ?? i;
      expect(Math.abs(x.reduce((sum, v) => sum + v, 0) / 501.00913308044 - 1)).toBeLessThan(1e-12);
      expect(Math.abs(x[place(44)]! / 8.732921362064 - 1)).toBeLessThan(1e-12);
      expect(Math.abs(x[place(0)]! / 1.342423770483 - 1)).toBeLessThan(1e-12);
      expect(Math.abs(logDeterminant / 121.128811905366 - 1)).toBeLessThan(1e-12);
    }
  });

  it("finds the frequencies of a rod held at one end", () => {
    // Unit rod of 8 linear elements with consistent mass, closed form of the discrete problem; digits computed independently.
    const h = 1 / 8;
    const isEnd = (i: number): boolean => i === 7;
    const stiffness = skyline(8, { entry: (i, j) => (i === j ? (isEnd(i) ? 1 : 2) / h : i - j === 1 ? -1 / h : 0) });
    const mass = skyline(8, { entry: (i, j) => (i === j ? ((isEnd(i) ? 2 : 4) * h) / 6 : i - j === 1 ? h / 6 : 0) });
    const { values } = findLowestEigenpairs(stiffness, mass, { count: 3 });
    [1.573320825388, 4.780780116751, 8.171904288827].forEach((omega, i) => {
      // The digits quoted end at 5e-13.
      expect(Math.abs(Math.sqrt(values[i]!) - omega)).toBeLessThan(1e-12);
    });
    const asFunction = findLowestEigenpairs(stiffness, (y, x) => multiplySkylineInto(y, mass, x), { count: 3 });
    expect(asFunction.isProven).toBe(false);
    expect(Math.abs(asFunction.values[2]! - values[2]!)).toBeLessThan(1e-10);
  });

  it("agrees with the dense solver on indefinite matrices, from any shift", () => {
    const cases = fc.integer({ min: 3, max: 14 }).chain((n) =>
      fc.record({
        n: fc.constant(n),
        entries: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n * n, maxLength: n * n }),
        masses: fc.array(fc.double({ min: 0.5, max: 2, noNaN: true }), { minLength: n, maxLength: n }),
        shift: fc.double({ min: -3, max: 3, noNaN: true }),
        count: fc.integer({ min: 1, max: 3 }),
      }),
    );
    fc.assert(
      fc.property(cases, ({ n, entries, masses, shift, count }) => {
        const entry = (i: number, j: number): number => (i - j > 3 ? 0 : entries[i * n + j]! + (i === j ? 1 : 0));
        const stiffness = skyline(n, { entry });
        const mass = skyline(n, { entry: (i, j) => (i === j ? masses[i]! : 0) });
        const scaled = new Float64Array(n * n);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j <= i; j++) scaled[i * n + j] = entry(i, j) / Math.sqrt(masses[i]! * masses[j]!);
        }
        const dense = findSymmetricEigenpairs(scaled, { n }).values;
        // A shift on an eigenvalue, or two values that are one to within rounding, are other cases.
        fc.pre(dense.every((value, i) => Math.abs(value - shift) > 1e-3 && (i === 0 || value - dense[i - 1]! > 1e-4)));
        // Without pivoting a small leading pivot costs digits; that is the factorisation's limit, not the search's.
        const factored = shiftSkyline(stiffness, mass, { shift });
        fc.pre(factorSkylineInPlace(factored) >= 0);
        fc.pre(factored.start.subarray(1).every((end) => Math.abs(factored.values[end - 1]!) > 0.05));
        const { values, vectors, nBelowShift, isProven } = findLowestEigenpairs(stiffness, mass, { count, shift });
        expect(isProven).toBe(true);
        expect(nBelowShift).toBe(dense.filter((value) => value < shift).length);
        const product = new Float64Array(n);
        const inertia = new Float64Array(n);
        for (let k = 0; k < count; k++) {
          // The error of a value is the square of the residual, 1e-9, or rounding times the growth of the factors.
          expect(Math.abs(values[k]! - dense[k]!)).toBeLessThan(1e-10);
          const x = vectors.subarray(k * n, (k + 1) * n);
          multiplySkylineInto(product, stiffness, x);
          multiplySkylineInto(inertia, mass, x);
          for (let i = 0; i < n; i++) expect(Math.abs(product[i]! - values[k]! * inertia[i]!)).toBeLessThan(1e-6);
        }
      }),
      { seed: 12, numRuns: 100 },
    );
  });

  it("returns only as many pairs as there are masses", () => {
    const stiffness = skyline(6, { entry: (i, j) => (i === j ? 2 : i - j === 1 ? -1 : 0) });
    const mass = skyline(6, { entry: (i, j) => (i === j && i > 3 ? 1 : 0) });
    const { values, isProven } = findLowestEigenpairs(stiffness, mass, { count: 5 });
    // Condensed by hand: [[2 - 4/5, -1], [-1, 2]].
    const root = Math.sqrt(0.8 * 0.8 + 4) / 2;
    expect(values.length).toBe(2);
    expect(isProven).toBe(true);
    expect(Math.abs(values[0]! - (1.6 - root))).toBeLessThan(1e-13);
    expect(Math.abs(values[1]! - (1.6 + root))).toBeLessThan(1e-13);
    expect(findLowestEigenpairs(stiffness, () => undefined, { count: 1 }).values.length).toBe(0);
  });

  it("refuses what it cannot do", () => {
    const stiffness = laplacian();
    expect(() => findLowestEigenpairs(stiffness, unit(100), { count: 0 })).toThrow(/count of at least 1/);
    expect(() => findLowestEigenpairs(stiffness, () => undefined, { count: 1, shift: 1 })).toThrow(/shift of 0/);
    expect(() => findLowestEigenpairs(unit(3), unit(3), { count: 1, shift: 1 })).toThrow(/no eigenvalue/);
    expect(() => countEigenvaluesBelow(unit(3), unit(4), { value: 0 })).toThrow(/3 rows/);
    expect(() => countEigenvaluesBelow(unit(100), stiffness, { value: 0 })).toThrow(/start at column/);
  });
});
