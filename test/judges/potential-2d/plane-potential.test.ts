/** The judge itself against exact solutions. */
import { describe, expect, it } from "vitest";
import { judgeConduction } from "./plane-potential.ts";
import { rectangle } from "./sections.ts";

describe("judge of plane conduction", () => {
  it("gives a wide thin plate the strip's factor: twice the exact pair of strips", () => {
    // Strip of width w at distance h over a plane: double two strips 2h apart, 2 × 3.263468863 for w/2h = 2 (integral equation of Love
    // type, computed to ten digits; the reference of Palmer's formula). The plate here is a fiftieth of its gap thick.
    const { heat } = judgeConduction([rectangle([0, 4, 0.02, 1])], { nSteps: 12, isSymmetric: true });
    // Thickness adds about (t/pi)(1 + ln(4 pi w/t)) of width per unit gap [from memory], 1.1 % of this plate.
    expect(heat[0]! / (2 * 3.263468863)).toBeGreaterThan(1);
    expect(heat[0]! / (2 * 3.263468863)).toBeLessThan(1.02);
  });

  it("is the same on the half as on the whole, and moves with its grid as the square of the steps", () => {
    const bodies = [rectangle([-8, 6, 20, 5]), rectangle([8, 6, 20, 5])];
    const half = judgeConduction(bodies, { nSteps: 5, isSymmetric: true });
    const whole = judgeConduction(bodies, { nSteps: 5, isSymmetric: false });
    // The half has one more edge, on the axis, and so another grid.
    expect(Math.abs(half.heat[0]! / whole.heat[1]! - 1)).toBeLessThan(4e-3);
    expect(Math.abs(whole.heat[0]! / whole.heat[1]! - 1)).toBeLessThan(1e-9);
    const finer = judgeConduction(bodies, { nSteps: 10, isSymmetric: true });
    expect(half.correction / finer.correction).toBeGreaterThan(2.3);
    expect(half.correction / finer.correction).toBeLessThan(5);
  });
});
