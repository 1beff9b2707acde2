import { describe, expect, it } from "vitest";
import { nestedRule } from "./nested-rule.ts";

describe("nested rule", () => {
  it.each([3, 5, 7, 25])("with %i points integrates powers up to 2 n - 1, its poorer part up to (n - 1) / 2", (n) => {
    const { nodes, weights, poorWeights } = nestedRule(n);
    const integral = (rule: Float64Array, power: number) => rule.reduce((sum, weight, i) => sum + weight * nodes[i]! ** power, 0);
    for (let power = 0; power < 2 * n; power++) {
      const exact = power % 2 === 0 ? 2 / (power + 1) : 0;
      // Rounding of some 25 terms.
      expect(Math.abs(integral(weights, power) - exact)).toBeLessThan(1e-13);
      if (power <= (n - 1) / 2) expect(Math.abs(integral(poorWeights, power) - exact)).toBeLessThan(1e-13);
    }
    // The poorer part is a rule of its own: it must fail where the better one does not.
    expect(Math.abs(integral(poorWeights, 2 * n - 2) - 2 / (2 * n - 1))).toBeGreaterThan(1e-8);
    expect(poorWeights.filter((weight) => weight !== 0)).toHaveLength((n + 1) / 2);
  });

  it("refuses an even number of points", () => {
    expect(() => nestedRule(4)).toThrow("wanted an odd number of points >= 3, found 4");
  });
});
