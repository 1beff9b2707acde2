/**
 * Resistivity of doped silicon over temperature, with the turnover where intrinsic carriers take over.
 *
 * 1/rho = q (n mu_n + p mu_p); majority density D/2 + sqrt(D²/4 + n_i²); mobilities of [arora1982], n_i of [misiakos1993].
 * Left out: incomplete ionisation, narrowing of the gap, scattering between carriers, so the turnover temperature is good to about 50 K;
 * the hump of nearly degenerate silicon below 300 K is missing. The mobility data end at 500 K: above, the shape is a model (10 %).
 * Main test: the table of boron and phosphorus in silicon-resistivity.test.ts.
 */

import type { Law, Source } from "#base";
import { concentrationFromResistivity, type Dopant } from "./dopant-density.ts";
import { tabulatedLaw } from "./law-makers.ts";
import { electronMobilityInto, holeMobilityInto, intrinsicConcentration, intrinsicLogSlope } from "./mobility.ts";

const electronCharge = 1.602176634e-19;

/** Hottest temperature for which a resistivity law vouches [K]. */
const hottest = 800;

/** Writes [resistivity in ohm m, slope in ohm m/K] at T [K] for one dopant of density `concentration` [1/m^3]. */
function resistivityInto(out: Float64Array, T: number, material: { dopant: Dopant; concentration: number }): void {
  const { dopant, concentration } = material;
  const ni = intrinsicConcentration(T);
  const root = Math.sqrt((concentration * concentration) / 4 + ni * ni);
  const majority = concentration / 2 + root;
  const minority = (ni * ni) / majority;
  // Majority and minority differ by the doping, so both grow alike.
  const growth = (ni * ni * intrinsicLogSlope(T)) / root;
  electronMobilityInto(out, T, concentration);
  const [electron, electronSlope] = [out[0]!, out[1]!];
  holeMobilityInto(out, T, concentration);
  const [hole, holeSlope] = [out[0]!, out[1]!];
  const [n, p] = dopant === "boron" ? [minority, majority] : [majority, minority];
  const conductivity = electronCharge * (n * electron + p * hole);
  const slope = electronCharge * (growth * (electron + hole) + n * electronSlope + p * holeSlope);
  out[0] = 1 / conductivity;
  out[1] = -slope / (conductivity * conductivity);
}

/** Resistivity [ohm m] at T [K] by the full model, for a density of one dopant [1/m^3]. */
export function modelResistivity(T: number, material: { dopant: Dopant; concentration: number }): number {
  const out = new Float64Array(2);
  resistivityInto(out, T, material);
  return out[0]!;
}

/** Temperature coefficient of the model at T: slope over value [1/K]. */
export function modelResistivityCoefficient(T: number, material: { dopant: Dopant; concentration: number }): number {
  const out = new Float64Array(2);
  resistivityInto(out, T, material);
  return out[1]! / out[0]!;
}

/** Temperature [K] of greatest resistivity between 250 and 1600 K; good to about 50 K as a prediction. */
export function turnoverTemperature(material: { dopant: Dopant; concentration: number }): number {
  let low = 250;
  let high = 1600;
  if (modelResistivityCoefficient(low, material) <= 0) return low;
  if (modelResistivityCoefficient(high, material) >= 0) return high;
  // Bisection on the sign of the slope to 1e-3 K.
  while (high - low > 1e-3) {
    const middle = (low + high) / 2;
    if (modelResistivityCoefficient(middle, material) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

export type SiliconResistivityOptions =
  | { readonly dopant: Dopant; readonly concentration: number }
  | { readonly dopant: Dopant; readonly resistivityAt300: number };

/**
 * Resistivity law [ohm m] of doped silicon.
 * With `concentration` [1/m^3] it is the model itself (20 %). With a measured `resistivityAt300` [ohm m] the density follows from the
 * standard conversion (made for 296 K; the 0.5 % between 296 and 300 K only touches the shape) and the model is scaled to pass
 * through the measured value: the spread of the law is then that of its shape (10 %), the spread of the measurement is the caller's.
 * The law vouches for 250 K up to 800 K or its turnover temperature, whichever is lower; beyond, the model goes on.
 */
export function siliconResistivity(options: SiliconResistivityOptions): Law {
  const { dopant } = options;
  const isMeasured = "resistivityAt300" in options;
  const concentration = isMeasured ? concentrationFromResistivity(dopant, options.resistivityAt300) : options.concentration;
  if (!(concentration > 0 && Number.isFinite(concentration))) {
    throw new RangeError(`Cannot make a resistivity law: wanted a dopant density above zero, found ${concentration}`);
  }
  const material = { dopant, concentration };
  const factor = isMeasured ? options.resistivityAt300 / modelResistivity(300, material) : 1;
  const turnover = turnoverTemperature(material);
  const source: Source = {
    key: "arora1982",
    consulted: "read second hand",
    note: `mobilities to 500 K, intrinsic density of misiakos1993, turnover near ${turnover.toFixed(0)} K (50 K)${isMeasured ? ", scaled to the measured value at 300 K, density from astm1999" : ""}`,
  };
  const scratch = new Float64Array(2);
  const pick = (index: 0 | 1) => (T: number) => {
    resistivityInto(scratch, T, material);
    return factor * scratch[index]!;
  };
  return tabulatedLaw(
    { at: pick(0), slopeAt: pick(1), from: 200, step: 10, nSteps: 120 },
    { unit: "ohm m", range: { from: 250, to: Math.min(hottest, turnover) }, relativeSpread: isMeasured ? 0.1 : 0.2, source },
  );
}
