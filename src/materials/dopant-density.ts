/**
 * Dopant density from resistivity and back, at 23 degC, by the standard fits of [astm1999] (READ second hand).
 *
 * The two directions are separate published fits: they do not invert each other exactly. Measured over their common range the round trip
 * misses by up to 2.6 % for boron and 7.1 % for phosphorus (near 2e18 cm^-3; dopant-density.test.ts). The standard states 3 % and 4.5 %:
 * for phosphorus 1e18-4e18 cm^-3 the coefficients as found do not keep that.
 * For arsenic only one direction is published; the other is its numerical inverse. Outside the ranges the functions refuse.
 */

import { arsenicResistivity, dopantRanges, phosphorusDensity, phosphorusResistivity } from "./dopant-density.table.ts";

export type Dopant = "boron" | "phosphorus" | "arsenic";

/** Temperature at which the fits hold [K]. */
export const dopantDensityTemperature = 296.15;

const electronCharge = 1.602176634e-19;

function evaluate(coefficients: readonly number[], x: number): number {
  let value = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) value = value * x + coefficients[i]!;
  return value;
}

function requireWithin(value: number, limits: readonly [number, number], what: string): void {
  if (!(value >= limits[0] && value <= limits[1])) {
    throw new RangeError(
      `Cannot convert the ${what}: wanted ${limits[0]} to ${limits[1]}, found ${Number(value.toPrecision(5))}`,
    );
  }
}

function arsenicOhmCm(density: number): number {
  return 10 ** evaluate(arsenicResistivity, Math.log10(density));
}

/** Resistivity [ohm m] at 23 degC of silicon with that density of dopant atoms [1/m^3]. */
export function resistivityFromConcentration(dopant: Dopant, concentration: number): number {
  const density = concentration * 1e-6;
  requireWithin(density, dopantRanges[dopant].density, `density of ${dopant} in 1/cm^3`);
  if (dopant === "boron") return 1e-2 * (1.305e16 / density + 1.133e17 / (density * (1 + (2.58e-19 * density) ** -0.737)));
  if (dopant === "arsenic") return 1e-2 * arsenicOhmCm(density);
  const x = Math.log10(density) - 16;
  return (
    1e-2 * (6.242e18 / density) * 10 ** (evaluate(phosphorusResistivity.above, x) / evaluate(phosphorusResistivity.below, x))
  );
}

/** Density of dopant atoms [1/m^3] in silicon of that resistivity [ohm m] at 23 degC. */
export function concentrationFromResistivity(dopant: Dopant, resistivity: number): number {
  const rho = resistivity * 100;
  requireWithin(rho, dopantRanges[dopant].resistivity, `resistivity of ${dopant}-doped silicon in ohm cm`);
  if (dopant === "boron") return 1e6 * (1.33e16 / rho + 1.082e17 / (rho * (1 + (54.56 * rho) ** 1.105)));
  if (dopant === "arsenic") return 1e6 * arsenicDensity(rho);
  const x = Math.log10(rho);
  return 1e6 * (6.242e18 / rho) * 10 ** (evaluate(phosphorusDensity.above, x) / evaluate(phosphorusDensity.below, x));
}

function arsenicDensity(rho: number): number {
  const [least, most] = dopantRanges.arsenic.density;
  requireWithin(rho, [arsenicOhmCm(most), arsenicOhmCm(least)], "resistivity of arsenic-doped silicon in ohm cm");
  let low = Math.log10(least);
  let high = Math.log10(most);
  // Bisection on a falling curve; 60 halvings reach rounding.
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (arsenicOhmCm(10 ** middle) > rho) low = middle;
    else high = middle;
  }
  return 10 ** ((low + high) / 2);
}

/** Resistivity [ohm m] at 300 K of boron-doped silicon by the carrier form of [thurber1980] (READ second hand), an alternative. */
export function boronResistivityThurber(concentration: number): number {
  const density = concentration * 1e-6;
  requireWithin(density, [1e14, 1e20], "density of boron in 1/cm^3");
  const chargeTimesResistivity = 0.00215 + 0.01838 / (1 + (density / 4.09e18) ** -0.727);
  return (1e-2 * chargeTimesResistivity) / (electronCharge * density);
}
