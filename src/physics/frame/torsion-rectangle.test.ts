import { describe, expect, it } from "vitest";
import { rectangleTorsion } from "./torsion-rectangle.ts";

describe("torsion of a rectangle", () => {
  // Timoshenko & Goodier, table p. 312 (from memory, three digits there); digits computed independently.
  const table = [
    [1, 0.140577015, 0.20816526],
    [1.2, 0.16611891, 0.218933545],
    [1.5, 0.195760709, 0.230969127],
    [2, 0.228681677, 0.245878342],
    [2.5, 0.249365075, 0.257589942],
    [3, 0.263316931, 0.267208046],
    [4, 0.280812958, 0.281665666],
    [5, 0.291316754, 0.291500204],
    [6, 0.298319507, 0.29835854],
    [8, 0.307072963, 0.3070747],
    [10, 0.312325037, 0.312325114],
    [1e9, 1 / 3, 1 / 3],
  ] as const;

  it("agrees with the tables, whichever side is the longer", () => {
    for (const [ratio, beta, c1] of table) {
      for (const [width, thickness] of [
        [2e-6 * ratio, 2e-6],
        [2e-6, 2e-6 * ratio],
      ] as const) {
        const { torsionConstant, torsionModulus } = rectangleTorsion(width, thickness);
        // Nine digits are quoted, so half of the last is up to 4e-9 of the smallest.
        expect(Math.abs(torsionConstant / (beta * ratio * 16e-24) - 1)).toBeLessThan(4e-9);
        expect(Math.abs(torsionModulus / (c1 * ratio * 8e-18) - 1)).toBeLessThan(4e-9);
      }
    }
  });

  it("lies within 0.5 % of the one-term fit", () => {
    // Roark's Formulas for Stress and Strain (from memory): a b^3 [1/3 - 0.21 (b/a)(1 - b^4/(12 a^4))].
    for (let ratio = 1; ratio < 20; ratio *= 1.1) {
      const fit = ratio * (1 / 3 - (0.21 / ratio) * (1 - 1 / (12 * ratio ** 4)));
      expect(Math.abs(rectangleTorsion(ratio, 1).torsionConstant / fit - 1)).toBeLessThan(0.005);
    }
  });

  it("refuses sides that are none", () => {
    expect(() => rectangleTorsion(0, 1)).toThrow(/two positive sides, found 0 m and 1 m/);
    expect(() => rectangleTorsion(1, Number.POSITIVE_INFINITY)).toThrow(/two positive sides/);
  });
});
