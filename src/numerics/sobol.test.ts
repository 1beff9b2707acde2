import { describe, expect, it } from "vitest";
import { createRandomSource } from "#base";
import { sobolDimensions, sobolPoints } from "./sobol.ts";
import { directionRows } from "./sobol-directions.table.ts";

/** Points of the published sequence in Gray-code order, six dimensions (Joe & Kuo, direction numbers of 2008); exact in binary. */
const published: ReadonlyMap<number, readonly number[]> = new Map([
  [0, [0, 0, 0, 0, 0, 0]],
  [1, [0.5, 0.5, 0.5, 0.5, 0.5, 0.5]],
  [2, [0.75, 0.25, 0.25, 0.25, 0.75, 0.75]],
  [3, [0.25, 0.75, 0.75, 0.75, 0.25, 0.25]],
  [4, [0.375, 0.375, 0.625, 0.875, 0.375, 0.125]],
  [5, [0.875, 0.875, 0.125, 0.375, 0.875, 0.625]],
  [7, [0.125, 0.625, 0.375, 0.125, 0.125, 0.375]],
  [15, [0.0625, 0.9375, 0.5625, 0.3125, 0.6875, 0.1875]],
  [100, [0.4140625, 0.2578125, 0.7734375, 0.7265625, 0.8828125, 0.7421875]],
]);

/** Whether x is primitive modulo the polynomial x^s + a_1 x^(s-1) + ... + 1: its powers run through all non-zero remainders. */
function isPrimitive(s: number, a: number): boolean {
  const polynomial = (1 << s) | (a << 1) | 1;
  let power = 1;
  for (let k = 1; k < 2 ** s; k++) {
    power <<= 1;
    if ((power >> s) & 1) power ^= polynomial;
    if (power === 1) return k === 2 ** s - 1;
  }
  return false;
}

describe("Sobol points", () => {
  it("are those that were published", () => {
    const points = sobolPoints({ count: 101, dimensions: 6 });
    for (const [row, values] of published) expect([...points.subarray(6 * row, 6 * row + 6)]).toEqual(values);
  });
  it("give the published mean of a product over 1024 points in six dimensions", () => {
    const points = sobolPoints({ count: 1024, dimensions: 6 });
    let sum = 0;
    for (let row = 0; row < 1024; row++) {
      let product = 1;
      for (let column = 0; column < 6; column++) product *= Math.abs(4 * points[6 * row + column]! - 2);
      sum += product;
    }
    expect(sum / 1024).toBeCloseTo(1.0486572557, 10);
  });
  it("rest on primitive polynomials that all differ, and on odd first numbers within their range", () => {
    expect(new Set(directionRows.map(({ s, a }) => `${s} ${a}`)).size).toBe(directionRows.length);
    for (const { s, a, m } of directionRows) {
      expect(isPrimitive(s, a)).toBe(true);
      expect(m.length).toBe(s);
      expect(m.every((value, k) => value % 2 === 1 && value < 2 ** (k + 1))).toBe(true);
    }
  });
  it.each([undefined, 1, 77])("hit every slice once in every column, shifted by seed %s or not", (seed) => {
    const count = 256;
    const shift = seed === undefined ? undefined : createRandomSource(seed);
    const points = sobolPoints({ count, dimensions: sobolDimensions }, shift);
    for (let column = 0; column < sobolDimensions; column++) {
      const hit = new Set(Array.from({ length: count }, (_, row) => Math.floor(points[row * sobolDimensions + column]! * count)));
      expect(hit.size).toBe(count);
    }
  });
  it("hit every one of 16 x 16 squares once in the first two columns", () => {
    const points = sobolPoints({ count: 256, dimensions: 2 }, createRandomSource(5));
    const hit = new Set(
      Array.from({ length: 256 }, (_, row) => `${Math.floor(16 * points[2 * row]!)} ${Math.floor(16 * points[2 * row + 1]!)}`),
    );
    expect(hit.size).toBe(256);
  });
  it("depend on the seed, and on nothing else", () => {
    const made = (seed: number) => [...sobolPoints({ count: 4, dimensions: 3 }, createRandomSource(seed))];
    expect(made(3)).toEqual(made(3));
    expect(made(3)).not.toEqual(made(4));
  });
  it("are refused beyond the table", () => {
    expect(() => sobolPoints({ count: 2, dimensions: 22 })).toThrow("direction numbers for 1 to 21");
  });
});
