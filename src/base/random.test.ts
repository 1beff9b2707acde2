import { describe, expect, it } from "vitest";
import { createRandomSource, latinHypercube } from "./random.ts";

const n = 40_000;
const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

describe("random source", () => {
  it("gives the same sequence for the same seed, another for another", () => {
    const draw = (seed: number): number[] => {
      const random = createRandomSource(seed);
      return Array.from({ length: 50 }, () => random.uniform());
    };
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
    expect(draw(-7)).not.toEqual(draw(7));
  });

  it("is uniform from its first number on, over neighbouring seeds", () => {
    const seeds = Array.from({ length: 2000 }, (_, i) => i - 1000);
    for (const skipped of [0, 1, 2]) {
      const drawn = seeds.map((seed) => {
        const random = createRandomSource(seed);
        for (let i = 0; i < skipped; i++) random.uniform();
        return random.uniform();
      });
      // five standard errors: 0.2887 / sqrt(2000) = 0.0065, and 0.0745 / sqrt(2000) for the variance
      expect(Math.abs(mean(drawn) - 0.5)).toBeLessThan(0.033);
      expect(Math.abs(mean(drawn.map((u) => (u - 0.5) ** 2)) - 1 / 12)).toBeLessThan(0.0084);
      // ten bins of 200 with a standard deviation of 13.4 each
      for (let bin = 0; bin < 10; bin++)
        expect(Math.abs(drawn.filter((u) => Math.floor(u * 10) === bin).length - 200)).toBeLessThan(67);
    }
  });

  it("has the moments of its distributions", () => {
    const random = createRandomSource(1);
    const uniform = Array.from({ length: n }, () => random.uniform());
    expect(uniform.every((u) => u > 0 && u < 1)).toBe(true);
    // five standard errors each
    expect(Math.abs(mean(uniform) - 0.5)).toBeLessThan((5 * 0.2887) / Math.sqrt(n));
    const neighbours = uniform.slice(1).map((u, i) => (u - 0.5) * (uniform[i]! - 0.5));
    expect(Math.abs(mean(neighbours))).toBeLessThan(5 / 12 / Math.sqrt(n));
    const normal = Array.from({ length: n }, () => random.normal());
    expect(Math.abs(mean(normal))).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(mean(normal.map((z) => z * z)) - 1)).toBeLessThan((5 * Math.SQRT2) / Math.sqrt(n));
    expect(Math.abs(mean(normal.map((z) => z ** 4)) - 3)).toBeLessThan((5 * Math.sqrt(96)) / Math.sqrt(n));
  });

  it("gives whole numbers in equal shares", () => {
    const random = createRandomSource(2);
    const counts = new Array<number>(7).fill(0);
    for (let i = 0; i < 7000; i++) counts[random.whole(7)]!++;
    // five standard deviations of a count of 1000 with chance 1/7
    for (const count of counts) expect(Math.abs(count - 1000)).toBeLessThan(5 * Math.sqrt((7000 * 6) / 49));
    expect(random.whole(1)).toBe(0);
  });
});

describe("latin hypercube", () => {
  it.each([
    [1, 1],
    [10, 3],
    [257, 5],
  ])("of %i points in %i dimensions hits each slice once", (count, dimensions) => {
    const points = latinHypercube(createRandomSource(3), { count, dimensions });
    expect(points.length).toBe(count * dimensions);
    for (let column = 0; column < dimensions; column++) {
      const slices = Array.from({ length: count }, (_, row) => Math.floor(points[row * dimensions + column]! * count));
      expect(slices.sort((a, b) => a - b)).toEqual(Array.from({ length: count }, (_, i) => i));
    }
  });

  it("does not tie one column to another", () => {
    const count = 2000;
    const points = latinHypercube(createRandomSource(4), { count, dimensions: 2 });
    const products = Array.from({ length: count }, (_, row) => (points[2 * row]! - 0.5) * (points[2 * row + 1]! - 0.5));
    // five standard errors of the correlation, 1 / sqrt(count)
    expect(Math.abs(12 * mean(products))).toBeLessThan(5 / Math.sqrt(count));
  });
});
