import { describe, expect, it } from "vitest";
import { findGas } from "#materials";
import {
  effectiveFilmViscosity,
  filmViscosityFactor,
  knudsenNumber,
  slidingSlipFactor,
  slipViscosityFactor,
} from "./rarefied-gas.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe("viscosity in narrow gaps", () => {
  it.each([
    [2e-6, 0.034, 0.8393396446, 0.8305647841],
    [1e-6, 0.068, 0.7005598675, 0.7102272727],
  ])("gap %d m, mean free path 68 nm: Kn %d, fit %d [veijola1995], slip %d", (gap, knudsen, fit, slip) => {
    const found = knudsenNumber(gap, 68e-9);
    expect(found).toBeCloseTo(knudsen, 15);
    expect(relative(filmViscosityFactor(found), fit)).toBeLessThan(1e-9);
    expect(relative(slipViscosityFactor(found), slip)).toBeLessThan(1e-9);
  });

  it("fit and slip agree within 2.6 % of the bulk where slip is trusted", () => {
    for (let knudsen = 0; knudsen <= 0.1; knudsen += 0.001) {
      expect(Math.abs(filmViscosityFactor(knudsen) - slipViscosityFactor(knudsen))).toBeLessThan(0.026);
    }
    expect(slidingSlipFactor(0.05)).toBeCloseTo(1 / 1.1, 12);
  });

  it("of air, nitrogen, helium and argon comes from the gas", () => {
    for (const name of ["air", "nitrogen", "helium", "argon"]) {
      const gas = findGas(name)!;
      const wide = effectiveFilmViscosity(gas, { T: 300, pressure: 101325, gap: 1e-3 });
      const narrow = effectiveFilmViscosity(gas, { T: 300, pressure: 101325, gap: 1e-6 });
      expect(relative(wide, gas.viscosity.at(300))).toBeLessThan(2e-3);
      expect(narrow / wide).toBeLessThan(0.75);
      expect(narrow / wide).toBeGreaterThan(0.35);
    }
    // Air at 300 K: 18.5 uPa s (67.3 nm): the factor of Kn = 0.0337 is 0.8408.
    expect(
      relative(effectiveFilmViscosity(findGas("air")!, { T: 300, pressure: 101325, gap: 2e-6 }), 18.54e-6 * 0.8408),
    ).toBeLessThan(1e-3);
  });

  it("refuses what no theory covers", () => {
    expect(() => filmViscosityFactor(900)).toThrow(RangeError);
    expect(() => slipViscosityFactor(0.2)).toThrow(RangeError);
    expect(() => slidingSlipFactor(-1)).toThrow(RangeError);
    expect(() => knudsenNumber(0, 1e-7)).toThrow(RangeError);
  });
});
