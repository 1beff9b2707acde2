import { describe, expect, it } from "vitest";
import {
  freeMolecularConductance,
  gapConductivity,
  gasDensity,
  meanFreePath,
  temperatureJumpCoefficient,
  temperatureJumpDistance,
} from "./gas.ts";
import { findGas } from "./library.ts";
import type { Gas } from "./material.ts";
import { radiatedFlux, radiativeFilmCoefficient } from "./radiation.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
function gas(name: string): Gas {
  const found = findGas(name);
  if (found === undefined) throw new Error(`no gas ${name}`);
  return found;
}
const air = gas("air");
const atmosphere = 101325;

// Vapour-form constants of Perry's handbook; tolerance half a unit of the last printed digit.
describe("gas properties", () => {
  const temperatures = [300, 400, 500, 600, 700, 800, 1000];
  it.each([
    ["air", [0.02611, 0.03297, 0.0394, 0.04552, 0.0514, 0.05708, 0.06798]],
    ["nitrogen", [0.02562, 0.03246, 0.0389, 0.04504, 0.05094, 0.05664, 0.06758]],
    ["helium", [0.1546, 0.1881, 0.2195, 0.2493, 0.2778, 0.3053, 0.3578]],
  ] as const)("conductivity of %s", (name, printed) => {
    temperatures.forEach((T, i) => {
      expect(Math.abs(gas(name).conductivity.at(T) - printed[i]!)).toBeLessThan(name === "helium" ? 0.51e-4 : 0.51e-5);
    });
  });

  it("conductivity of air agrees with the VDI heat atlas at 300 K within 2 %", () => {
    expect(relative(air.conductivity.at(300), 0.02651)).toBeLessThan(0.02);
  });

  it("viscosity and mean free path of air", () => {
    const viscosity = [18.54, 22.96, 26.83, 30.32, 33.5, 36.44, 41.77];
    const path = [67.3, 96.2, 125.7, 155.6, 185.7, 216.0, 276.8];
    temperatures.forEach((T, i) => {
      expect(Math.abs(air.viscosity.at(T) * 1e6 - viscosity[i]!)).toBeLessThan(0.0051);
      expect(Math.abs(meanFreePath(air, { T, pressure: atmosphere }) * 1e9 - path[i]!)).toBeLessThan(0.051);
    });
    expect(relative(meanFreePath(air, { T: 300, pressure: atmosphere }), 67.31e-9)).toBeLessThan(1e-4);
    expect(Math.abs(meanFreePath(gas("helium"), { T: 300, pressure: atmosphere }) * 1e9 - 195)).toBeLessThan(0.51);
  });

  it("has Prandtl numbers that fit its own cp mu / k within 5 %", () => {
    for (const name of ["air", "nitrogen", "helium", "argon"]) {
      const g = gas(name);
      const cp = ((g.heatRatio / (g.heatRatio - 1)) * 8.314462618) / g.molarMass;
      expect(relative((cp * g.viscosity.at(300)) / g.conductivity.at(300), g.prandtlNumber)).toBeLessThan(0.05);
    }
  });

  it("weighs 1.177 kg/m³ as air at 300 K (ideal gas)", () => {
    expect(relative(gasDensity(air, { T: 300, pressure: atmosphere }), 1.1766)).toBeLessThan(1e-4);
  });
});

describe("thin gaps", () => {
  it.each([
    ["air", 1.65, 2.017],
    ["nitrogen", 1.627, 1.989],
    ["helium", 1.874, 2.291],
  ])("temperature-jump coefficient of %s is %d at s = 1 and %d at s = 0.9", (name, full, most) => {
    expect(Math.abs(temperatureJumpCoefficient(gas(name), 1) - full)).toBeLessThan(0.00051);
    expect(Math.abs(temperatureJumpCoefficient(gas(name), 0.9) - most)).toBeLessThan(0.00051);
  });

  it.each([
    [101325, [0.786, 0.88, 0.936, 0.974], 0.00051],
    [6666, [0.195, 0.326, 0.492, 0.708], 0.00051],
    [667, [0.024, 0.046, 0.088, 0.195], 0.00051],
    [6.67, [0.0002, 0.0005, 0.001, 0.0024], 0.000051],
  ])("conducts less at %d Pa", (pressure, printed, tolerance) => {
    [1e-6, 2e-6, 4e-6, 10e-6].forEach((gap, i) => {
      const ratio = gapConductivity(air, { T: 300, pressure, accommodation: 0.9, gap }) / air.conductivity.at(300);
      expect(Math.abs(ratio - printed[i]!)).toBeLessThan(tolerance);
    });
  });

  it("has the ratio 0.8805 at 2 um, and each wall stands back by half of what the gap loses", () => {
    const state = { T: 300, pressure: atmosphere, accommodation: 0.9 };
    const ratio = gapConductivity(air, { ...state, gap: 2e-6 }) / air.conductivity.at(300);
    expect(relative(ratio, 0.8805)).toBeLessThan(1e-4);
    expect(relative(2e-6 / (2e-6 + 2 * temperatureJumpDistance(air, state)), ratio)).toBeLessThan(1e-12);
  });

  it.each([
    ["air", 1.171],
    ["nitrogen", 1.19],
    ["helium", 2.1],
  ])("without collisions %s carries %d W/(m² K Pa) at 300 K", (name, printed) => {
    const found = freeMolecularConductance(gas(name), { T: 300, accommodation: 1, otherAccommodation: 1 });
    expect(Math.abs(found - printed)).toBeLessThan(0.00051);
  });

  it("runs into the collisionless limit at low pressure within 15 %", () => {
    // The jump form divides by 2 zeta lambda; kinetic theory without collisions gives nearly the same number for a diatomic gas.
    const perPascal = gapConductivity(air, { T: 300, pressure: 1e-3, accommodation: 1, gap: 1e-6 }) / 1e-6 / 1e-3;
    expect(relative(perPascal, freeMolecularConductance(air, { T: 300, accommodation: 1, otherAccommodation: 1 }))).toBeLessThan(
      0.15,
    );
  });

  it("refuses impossible states", () => {
    expect(() => temperatureJumpCoefficient(air, 0)).toThrow(RangeError);
    expect(() => temperatureJumpCoefficient(air, 1.1)).toThrow(RangeError);
    expect(() => meanFreePath(air, { T: 300, pressure: 0 })).toThrow(RangeError);
    expect(() => gapConductivity(air, { T: 300, pressure: 1, accommodation: 1, gap: 0 })).toThrow(RangeError);
  });
});

describe("radiation", () => {
  it.each([
    [400, 6.8],
    [600, 15.8],
    [800, 31.5],
    [1000, 55.7],
  ])("from %d K with emissivity 0.7 is a film of %d W/(m² K)", (T, film) => {
    const options = { emissivity: 0.7, surroundings: 293.15 };
    expect(Math.abs(radiativeFilmCoefficient(T, options) - film)).toBeLessThan(0.051);
    expect(relative(radiativeFilmCoefficient(T, options) * (T - 293.15), radiatedFlux(T, options))).toBeLessThan(1e-12);
  });
});
