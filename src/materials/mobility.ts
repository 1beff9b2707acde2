/**
 * Mobility of carriers in silicon and the density of intrinsic carriers.
 *
 * [masetti1983] at 300 K for one dopant; [arora1982] over 250-500 K, within 13 % of its data. Densities in 1/m^3, mobility in m^2/(V s).
 * In [arora1982] the number 0.88 Tn^-0.146 is an exponent. Some books print it as a factor, which misses the standard resistivity of
 * boron 1e19 by 8 % instead of 2 %. Main test: mobility.test.ts.
 */

import type { Dopant } from "./dopant-density.ts";
import { masettiParameters } from "./mobility.table.ts";

/** Mobility of the majority carriers at 300 K [m^2/(V s)] for a dopant density [1/m^3]. */
export function masettiMobility(dopant: Dopant, concentration: number): number {
  const { maximum, least, drop, reference, referenceHigh, exponent, exponentHigh, pc } = masettiParameters[dopant];
  const density = concentration * 1e-6;
  // For boron the first term carries the exponential and nothing is taken off the second.
  const base = pc === 0 ? least : least * Math.exp(-pc / density);
  const subtracted = pc === 0 ? least : 0;
  return (
    1e-4 *
    (base +
      (maximum - subtracted) / (1 + (density / reference) ** exponent) -
      drop / (1 + (referenceHigh / density) ** exponentHigh))
  );
}

/** Value and temperature slope, written into `out` as [value, slope]. */
type PairInto = (out: Float64Array, T: number, concentration: number) => void;

function aroraInto(constants: { floor: number; lattice: number; power: number; reference: number }): PairInto {
  const { floor, lattice, power, reference } = constants;
  return (out, T, concentration) => {
    const Tn = T / 300;
    const e = 0.88 * Tn ** -0.146;
    const logRatio = Math.log((concentration * 1e-6) / (reference * Tn ** 2.4));
    const x = Math.exp(e * logRatio);
    const logSlope = (e * (-0.146 * logRatio - 2.4)) / T;
    const first = floor * Tn ** -0.57;
    const second = (lattice * T ** power) / (1 + x);
    out[0] = 1e-4 * (first + second);
    out[1] = 1e-4 * ((-0.57 * first) / T + second * (power / T - (x / (1 + x)) * logSlope));
  };
}

/** Electron mobility over temperature, FROM MEMORY (first term READ second hand). `concentration` counts all dopants. */
export const electronMobilityInto: PairInto = aroraInto({ floor: 88, lattice: 7.4e8, power: -2.33, reference: 1.26e17 });

/** Hole mobility over temperature, READ second hand. */
export const holeMobilityInto: PairInto = aroraInto({ floor: 54.3, lattice: 1.36e8, power: -2.23, reference: 2.35e17 });

/** Mobility [m^2/(V s)] of electrons or holes at temperature T [K] for a total dopant density [1/m^3], [arora1982]. */
export function aroraMobility(carrier: "electron" | "hole", state: { T: number; concentration: number }): number {
  const out = new Float64Array(2);
  (carrier === "electron" ? electronMobilityInto : holeMobilityInto)(out, state.T, state.concentration);
  return out[0]!;
}

/** Density of intrinsic carriers [1/m^3], [misiakos1993] (READ second hand), measured 78-340 K: above 400 K an extrapolation. */
export function intrinsicConcentration(T: number): number {
  return 5.29e25 * (T / 300) ** 2.54 * Math.exp(-6726 / T);
}

/** d(ln n_i)/dT of `intrinsicConcentration` [1/K]. */
export function intrinsicLogSlope(T: number): number {
  return (2.54 + 6726 / T) / T;
}

/** Density of intrinsic carriers [1/m^3], [morin1954] (FROM MEMORY), measured 450-700 K. Differs from the other form by 45 % at 300 K, 4 % at 700 K. */
export function intrinsicConcentrationMorin(T: number): number {
  return 3.87e22 * T ** 1.5 * Math.exp(-7014 / T);
}
