import { describe, expect, it } from "vitest";
import { breakChanceOfArea, breakChanceOfRoots, etchedSiliconStrength, stressForBreakChance } from "./strength.ts";

describe("Weibull strength", () => {
  it("gives 2e-4 for 40 roots at 105 MPa and 4 % at 300 MPa, by hand 40 (sigma/1.2 GPa)^5", () => {
    const hand = (stress: number): number => 1 - Math.exp(-40 * (stress / 1.2e9) ** 5);
    for (const stress of [105e6, 300e6]) {
      expect(breakChanceOfRoots(etchedSiliconStrength, { stress, nRoots: 40 })).toBeCloseTo(hand(stress), 12);
    }
    expect(breakChanceOfRoots(etchedSiliconStrength, { stress: 105e6, nRoots: 40 })).toBeCloseTo(2.05e-4, 6);
    expect(breakChanceOfRoots(etchedSiliconStrength, { stress: 300e6, nRoots: 40 })).toBeCloseTo(0.038, 3);
  });

  it("breaks 63 % at the reference strength, and survives as the product of its parts", () => {
    expect(breakChanceOfRoots(etchedSiliconStrength, { stress: 1.2e9, nRoots: 1 })).toBeCloseTo(1 - Math.exp(-1), 12);
    const one = breakChanceOfRoots(etchedSiliconStrength, { stress: 700e6, nRoots: 1 });
    const three = breakChanceOfRoots(etchedSiliconStrength, { stress: 700e6, nRoots: 3 });
    expect(1 - three).toBeCloseTo((1 - one) ** 3, 12);
    expect(breakChanceOfArea(etchedSiliconStrength, { stress: 700e6, area: 3e-9, referenceArea: 1e-9 })).toBeCloseTo(three, 12);
  });

  it("keeps tiny chances, ignores compression, passes on what is not a number", () => {
    expect(breakChanceOfRoots(etchedSiliconStrength, { stress: 1e6, nRoots: 1 }) / (1 / 1200) ** 5).toBeCloseTo(1, 9);
    expect(breakChanceOfRoots(etchedSiliconStrength, { stress: -5e9, nRoots: 10 })).toBe(0);
    expect(breakChanceOfRoots(etchedSiliconStrength, { stress: Number.NaN, nRoots: 10 })).toBeNaN();
    expect(() => breakChanceOfRoots(etchedSiliconStrength, { stress: 1, nRoots: -1 })).toThrow(RangeError);
  });

  it("inverts", () => {
    const stress = stressForBreakChance(etchedSiliconStrength, { chance: 1e-3, nRoots: 40 });
    expect(breakChanceOfRoots(etchedSiliconStrength, { stress, nRoots: 40 })).toBeCloseTo(1e-3, 12);
    expect(() => stressForBreakChance(etchedSiliconStrength, { chance: 1, nRoots: 40 })).toThrow(RangeError);
  });
});
