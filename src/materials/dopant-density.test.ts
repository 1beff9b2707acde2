import { describe, expect, it } from "vitest";
import {
  boronResistivityThurber,
  concentrationFromResistivity,
  type Dopant,
  resistivityFromConcentration,
} from "./dopant-density.ts";

const densities = [1e15, 1e16, 1e17, 1e18, 3e18, 5e18, 1e19, 2e19, 5e19, 1e20, 2e20];
const ohmCm = (dopant: Dopant, density: number): number => 100 * resistivityFromConcentration(dopant, density * 1e6);
const perCm3 = (dopant: Dopant, rho: number): number => 1e-6 * concentrationFromResistivity(dopant, rho / 100);
const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

// ASTM F723-99. Tolerance: half a unit of the last printed digit.
describe("dopant density and resistivity at 23 degC", () => {
  it("reproduces the table of boron", () => {
    const printed = [
      13.306, 1.4434, 0.20215, 4.3555e-2, 2.1456e-2, 1.5e-2, 8.8719e-3, 5.0156e-3, 2.2282e-3, 1.1689e-3, 6.0238e-4,
    ];
    densities.forEach((density, i) => {
      expect(relative(ohmCm("boron", density), printed[i]!)).toBeLessThan(5e-5);
    });
  });

  it("reproduces the table of phosphorus", () => {
    const printed = [
      4.4819, 0.52291, 8.3831e-2, 2.3559e-2, 1.3247e-2, 9.5954e-3, 5.7754e-3, 3.2462e-3, 1.4321e-3, 7.701e-4, 4.2861e-4,
    ];
    densities.forEach((density, i) => {
      expect(relative(ohmCm("phosphorus", density), printed[i]!)).toBeLessThan(5e-5);
    });
  });

  it("reproduces arsenic in both directions", () => {
    for (const [density, rho] of [
      [1e19, 5.555e-3],
      [2e19, 3.585e-3],
      [5e19, 1.616e-3],
      [1e20, 9.636e-4],
    ] as const) {
      // The polynomial of degree ten subtracts numbers of 1e4: its printed coefficients carry the value to 1e-3 only.
      expect(relative(ohmCm("arsenic", density), rho)).toBeLessThan(1e-3);
      expect(relative(perCm3("arsenic", ohmCm("arsenic", density)), density)).toBeLessThan(1e-9);
    }
  });

  it("reproduces the densities", () => {
    const printed: [number, number, number][] = [
      [0.001, 1.173e20, 7.376e19],
      [0.005, 2.014e19, 1.224e19],
      [0.01, 8.486e18, 4.533e18],
      [0.02, 3.24e18, 1.312e18],
      [0.1, 2.769e17, 7.839e16],
      [1, 1.459e16, 4.864e15],
    ];
    for (const [rho, boron, phosphorus] of printed) {
      expect(relative(perCm3("boron", rho), boron)).toBeLessThan(4.5e-4);
      expect(relative(perCm3("phosphorus", rho), phosphorus)).toBeLessThan(4.5e-4);
    }
    expect(relative(perCm3("phosphorus", 0.01), 4.5326e18)).toBeLessThan(1e-4);
  });

  it.each([
    // Greatest miss found, and the self-consistency that the standard states for its fits: 3 % and 4.5 %.
    ["boron", 1e13, 9e20, 0.0264],
    ["phosphorus", 1e13, 4e20, 0.0706],
  ] as const)("misses on a round trip of %s between %d and %d per cm³ by %d", (dopant, from, to, found) => {
    let worst = 0;
    for (let x = Math.log10(from); x <= Math.log10(to); x += 0.01) {
      worst = Math.max(worst, relative(perCm3(dopant, ohmCm(dopant, 10 ** x)), 10 ** x));
    }
    // Two separate fits: whoever makes them invert each other has changed one of them. A tenth of a percent for the sampling in x.
    expect(Math.abs(worst - found)).toBeLessThan(1e-3);
  });

  it("agrees with the carrier form of Thurber et al. 1980 within 5 %", () => {
    for (const density of [1e17, 1e18, 1e19, 5e19]) {
      expect(relative(100 * boronResistivityThurber(density * 1e6), ohmCm("boron", density))).toBeLessThan(0.05);
    }
  });

  it("refuses what the standard does not cover", () => {
    expect(() => resistivityFromConcentration("boron", 2e27)).toThrow(RangeError);
    expect(() => resistivityFromConcentration("arsenic", 1e24)).toThrow(RangeError);
    expect(() => concentrationFromResistivity("phosphorus", 1e3)).toThrow(RangeError);
    expect(() => concentrationFromResistivity("arsenic", 1)).toThrow(RangeError);
    expect(() => concentrationFromResistivity("boron", Number.NaN)).toThrow(RangeError);
  });
});
