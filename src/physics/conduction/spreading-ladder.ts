/**
 * The warm-up of a source on a plate as a short sum of exponentials: Z(t) = sum r_i (1 - exp(-t/tau_i)), a ladder of parallel
 * resistor-capacitor pairs in series, for use in a transient of the whole device.
 *
 * Z is a positive mixture of exponentials (the plate only diffuses), so time constants evenly spaced in the logarithm with resistances
 * that are not negative come near it: least squares of the relative misfit, the steady value kept exactly. The misfit found is given
 * back. It holds from the first time asked for; before, the ladder lags the true root of time. Ten terms give 1 % over three to five decades, eight 1.7 %.
 * Main test: spreading-ladder.test.ts.
 */

import { fitNonnegative } from "./nonnegative-fit.ts";
import { depthDecay } from "./plate-diffusion.ts";
import { type SpreadingPlate, type SpreadingSource, spreadingStep } from "./spreading.ts";

/** One resistor-capacitor pair: resistance [K/W], time constant [s]; its heat capacity is timeConstant/resistance. */
export interface LadderTerm {
  readonly resistance: number;
  readonly timeConstant: number;
}

export interface SpreadingLadder {
  /** In the order of the time constants; terms that the fit leaves at zero are dropped. */
  readonly terms: readonly LadderTerm[];
  /** Sum of the resistances [K/W]. */
  readonly steady: number;
  /** Largest relative misfit of Z from the first time on. */
  readonly worstMisfit: number;
}

/** Samples of Z per decade of time: a dozen for each term. */
const samplesPerDecade = 24;
/** Shortest time constant over the first time: what is left of it then is exp(-1/0.3), and its size can follow the root of time. */
const firstOverFrom = 0.3;
/** Weight of the steady value in the fit over that of a sample. */
const steadyWeight = 100;

/** Ladder of at most `nTerms` pairs for the mean temperature of a source with uniform flux, good from time `from` [s] on. */
export function spreadingLadder(
  plate: SpreadingPlate,
  options: { readonly source: SpreadingSource; readonly nTerms: number; readonly from: number },
): SpreadingLadder {
  const { source, nTerms, from } = options;
  if (!(Number.isInteger(nTerms) && nTerms >= 2 && from > 0)) {
    throw new RangeError(
      `Cannot make a ladder: wanted two or more terms and a first time above zero, found ${nTerms} terms from ${from} s`,
    );
  }
  const slowest = slowestTimeConstant(plate);
  if (!(from < slowest)) {
    throw new RangeError(
      `Cannot make a ladder: wanted a first time before the slowest time constant of ${slowest} s, found ${from} s`,
    );
  }
  const nSamples = Math.ceil(samplesPerDecade * Math.log10((20 * slowest) / from)) + 1;
  const times = Float64Array.from({ length: nSamples }, (_, i) => from * ((20 * slowest) / from) ** (i / (nSamples - 1)));
  const values = spreadingStep(plate, { source, times: [...times, Number.POSITIVE_INFINITY] });
  const steady = values[nSamples]!;
  const first = firstOverFrom * from;
  const timeConstants = Float64Array.from({ length: nTerms }, (_, i) => first * (slowest / first) ** (i / (nTerms - 1)));
  const resistances = fitResistances(timeConstants, { times, values });
  const sum = resistances.reduce((total, value) => total + value, 0);
  const terms: LadderTerm[] = [];
  timeConstants.forEach((timeConstant, i) => {
    if (resistances[i]! > 0) terms.push({ resistance: (resistances[i]! * steady) / sum, timeConstant });
  });
  const worstMisfit = times.reduce(
    (worst, time, i) => Math.max(worst, Math.abs(ladderResponse(terms, time) / values[i]! - 1)),
    0,
  );
  return { terms, steady, worstMisfit };
}

/** Z(t) of a ladder [K/W]. */
export function ladderResponse(terms: readonly LadderTerm[], time: number): number {
  return terms.reduce((sum, { resistance, timeConstant }) => sum - resistance * Math.expm1(-time / timeConstant), 0);
}

function slowestTimeConstant(plate: SpreadingPlate): number {
  const { thickness, conductivity, volumetricHeatCapacity, baseFilm } = plate;
  const depth = depthDecay(thickness, baseFilm / conductivity).wavenumbers[0]!;
  return volumetricHeatCapacity / (conductivity * depth * depth);
}

function fitResistances(
  timeConstants: Float64Array,
  samples: { readonly times: Float64Array; readonly values: Float64Array },
): Float64Array {
  const n = timeConstants.length;
  const nSamples = samples.times.length;
  const steady = samples.values[nSamples]!;
  // Every row is divided by its own value, so that all misfits are relative; the last row is the steady value.
  const matrix = new Float64Array((nSamples + 1) * n);
  for (let row = 0; row < nSamples; row++) {
    for (let i = 0; i < n; i++)
      matrix[row * n + i] = -Math.expm1(-samples.times[row]! / timeConstants[i]!) / samples.values[row]!;
  }
  matrix.fill(steadyWeight / steady, nSamples * n);
  const wanted = new Float64Array(nSamples + 1).fill(1);
  wanted[nSamples] = steadyWeight;
  return fitNonnegative(matrix, wanted);
}
