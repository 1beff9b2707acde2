import { describe, expect, it } from "vitest";
import { normalChanceBelow, normalQuantile } from "./normal-distribution.ts";

describe("normal distribution", () => {
  // Abramowitz & Stegun, tables 26.1 and 26.2, from memory; a unit of the last digit printed
  it.each([
    [0, 0.5, 1e-16],
    [1, 0.841344746, 5e-10],
    [1.96, 0.975002105, 5e-10],
    [2, 0.977249868, 5e-10],
    [3, 0.998650102, 5e-10],
    [-1, 0.158655254, 5e-10],
    [-5, 2.866515719e-7, 5e-17],
  ])("below %f lies %f", (z, chance, tolerance) => {
    expect(Math.abs(normalChanceBelow(z) - chance)).toBeLessThanOrEqual(tolerance);
  });

  // A&S 26.2.23 lists no digits; common quantiles from memory
  it.each([
    [0.975, 1.959963984540054],
    [0.95, 1.6448536269514722],
    [0.99, 2.3263478740408408],
    [0.5, 0],
  ])("a chance of %f is reached at %f", (chance, z) => {
    expect(Math.abs(normalQuantile(chance) - z)).toBeLessThan(1e-14);
  });

  it("joins its series and its continued fraction, and is symmetric", () => {
    const seam = 2.5 * Math.SQRT2;
    const slope = Math.exp(-0.5 * seam * seam) / Math.sqrt(2 * Math.PI);
    const step = 1e-9;
    const jump = normalChanceBelow(-seam + step) - normalChanceBelow(-seam - step) - 2 * step * slope;
    // relative to the chance of 2e-4 there; the series cancels to 1e-16 of one
    expect(Math.abs(jump)).toBeLessThan(3e-16);
    for (let z = 0; z < 8; z += 0.37) expect(normalChanceBelow(z) + normalChanceBelow(-z)).toBeCloseTo(1, 15);
  });

  it("inverts itself over the whole range", () => {
    for (const chance of [1e-300, 1e-100, 1e-20, 1e-9, 1e-3, 0.02, 0.1, 0.3, 0.49999, 0.5, 0.7, 0.999, 1 - 1e-9]) {
      // relative: the chance moves by z^2 times the relative rounding of z, 1400 times 1e-16 at the far end
      expect(Math.abs(normalChanceBelow(normalQuantile(chance)) / chance - 1)).toBeLessThan(5e-13);
    }
    for (let z = -8; z <= 5; z += 0.13) expect(Math.abs(normalQuantile(normalChanceBelow(z)) - z)).toBeLessThan(1e-10);
  });

  it("refuses what is no chance", () => {
    for (const chance of [0, 1, -0.1, 1.1, Number.NaN]) expect(() => normalQuantile(chance)).toThrow(RangeError);
    expect(normalChanceBelow(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalChanceBelow(Number.POSITIVE_INFINITY)).toBe(1);
  });
});
