/**
 * One step in time of a frame: five implicit stages that share one factorisation while it serves.
 *
 * Method: runge-kutta.table.ts. Simplified Newton with the tangent of the beginning of the step (or of an earlier one), renewed where
 * it converges slowly; the error is the difference of the two answers, filtered by the same factors so that stiff parts that the
 * method damps do not shorten the steps (Hairer & Wanner II, section IV.8, key hairer1996, from memory).
 * Main test: transient.test.ts.
 */
import { type Drive, evaluateResidualInto, type FrameEquations, linearise, solveFrameInto } from "./frame-equations.ts";
import type { ElectricSource } from "./network.ts";
import { haveCurrentsSettled, largestTemperature } from "./newton.ts";
import { embeddedWeights, foretelling, gamma, stageCoefficients } from "./runge-kutta.table.ts";
import { heldHeat, type StepResult, sourcePower } from "./step-result.ts";

const nStages = stageCoefficients.length;
const weights = stageCoefficients[nStages - 1]!;
const maxIterations = 8;
/** Contraction of the iteration beyond which the tangent is renewed. */
const slowContraction = 0.3;
/** Contraction below which the tangent is good for the next step as well. */
const fastContraction = 0.05;
/** Contraction taken for a new tangent until one is seen. */
const freshContraction = 0.02;
const maxRenewals = 3;

/** Factors that outlive a step. */
export interface Stepper {
  readonly equations: FrameEquations;
  /** Stage rate of the present factors [1/s]; 0 where there are none. */
  factoredRate: number;
  /** Worst contraction seen with the present factors. */
  contraction: number;
  readonly residual: Float64Array;
}

export function createStepper(equations: FrameEquations): Stepper {
  return { equations, factoredRate: 0, contraction: freshContraction, residual: new Float64Array(equations.layout.nEntries) };
}

/** Solves one stage in place. Returns the heat that leaves the frame and its wiring [W], or undefined where it does not converge. */
function solveStage(
  x: Float64Array,
  stepper: Stepper,
  options: { readonly drive: Drive; readonly tolerance: number },
): { readonly out: number; readonly lead: number } | undefined {
  const { equations, residual } = stepper;
  const { layout } = equations;
  const { drive, tolerance } = options;
  let before = Number.POSITIVE_INFINITY;
  let isFound = false;
  let nRenewals = 0;
  for (let iteration = 0; iteration < maxIterations; iteration++) {
    const tally = evaluateResidualInto(residual, equations, { x, drive });
    const held = heldHeat(equations, residual);
    solveFrameInto(residual, equations);
    if (isFound) {
      // The flows had to be evaluated once more anyway: their residual improves the state for the price of a back-substitution.
      for (let k = 0; k < x.length; k++) x[k] = x[k]! - residual[k]!;
      const { sideLoss, sinkHeat, lumpedHeat, leadPower } = tally;
      return { out: sideLoss + sinkHeat + lumpedHeat + held, lead: leadPower };
    }
    let size = largestTemperature(residual, layout);
    if (!Number.isFinite(size)) return undefined;
    let contraction = stepper.contraction;
    if (before < Number.POSITIVE_INFINITY && size > tolerance) {
      contraction = size / before;
      stepper.contraction = Math.max(stepper.contraction, contraction);
    }
    if (contraction > slowContraction && size > tolerance && before < Number.POSITIVE_INFINITY) {
      if (nRenewals === maxRenewals || contraction > 2) return undefined;
      nRenewals++;
      if (linearise(residual, equations, { x, drive }).sign === 0) return undefined;
      stepper.factoredRate = drive.storage!.rate;
      stepper.contraction = freshContraction;
      solveFrameInto(residual, equations);
      size = largestTemperature(residual, layout);
      contraction = freshContraction;
    }
    for (let k = 0; k < x.length; k++) x[k] = x[k]! - residual[k]!;
    // What is left after this change is smaller than it by the contraction, and once more by the last improvement.
    const share = contraction * contraction;
    isFound = share * size <= tolerance && haveCurrentsSettled(x, residual, { layout, share });
    before = size;
  }
  return undefined;
}

/** Rates at the end of the step of what follows the temperatures at once, by a parabola through the stages at 1/2, 3/4 and 1. */
function immediateRatesInto(rates: Float64Array, stages: readonly Float64Array[], options: { first: number; dt: number }): void {
  const { first, dt } = options;
  const half = stages[3]!;
  const threeQuarters = stages[1]!;
  const end = stages[4]!;
  for (let k = first; k < rates.length; k++) rates[k] = (2 * (half[k]! - 4 * threeQuarters[k]! + 3 * end[k]!)) / dt;
}

/** First guess of a stage: temperatures by foretold rates, what follows them at once by foretold values. */
function foretellInto(
  x: Float64Array,
  known: {
    readonly stage: number;
    readonly dt: number;
    readonly base: Float64Array;
    readonly begin: Float64Array;
    readonly beginRates: Float64Array;
    readonly stages: readonly Float64Array[];
    readonly stageRates: readonly Float64Array[];
  },
): void {
  const { stage, dt, base, begin, beginRates, stages, stageRates } = known;
  const weight = foretelling[stage]!;
  const nTemperatures = base.length;
  const first = gamma * dt * weight[0]!;
  for (let k = 0; k < nTemperatures; k++) x[k] = base[k]! + first * beginRates[k]!;
  for (let k = nTemperatures; k < x.length; k++) x[k] = weight[0]! * begin[k]!;
  for (let j = 0; j < stage; j++) {
    const slope = stageRates[j]!;
    const value = stages[j]!;
    const factor = gamma * dt * weight[j + 1]!;
    for (let k = 0; k < nTemperatures; k++) x[k] = x[k]! + factor * slope[k]!;
    for (let k = nTemperatures; k < x.length; k++) x[k] = x[k]! + weight[j + 1]! * value[k]!;
  }
}

/** One step from the consistent state `begin` (by entries); undefined when a stage does not converge. */
export function takeStep(
  stepper: Stepper,
  begin: Float64Array,
  options: {
    readonly dt: number;
    /** Rates of the temperatures at the beginning, by entries [K/s]. */
    readonly beginRates: Float64Array;
    readonly sources: readonly ElectricSource[];
    readonly tolerance: number;
  },
): StepResult | undefined {
  const { equations } = stepper;
  const { dt, beginRates, sources, tolerance } = options;
  const { network, layout } = equations;
  const { nTemperatures, junctionEntry } = layout;
  const rate = 1 / (gamma * dt);
  const x = Float64Array.from(begin);
  const base = new Float64Array(nTemperatures);
  const drive: Drive = { sources, fraction: 1, storage: { rate, base } };
  if (stepper.factoredRate !== rate || stepper.contraction > fastContraction) {
    base.set(begin.subarray(0, nTemperatures));
    if (linearise(stepper.residual, equations, { x, drive }).sign === 0) return undefined;
    stepper.factoredRate = rate;
    stepper.contraction = freshContraction;
  }
  const stageRates: Float64Array[] = [];
  const stages: Float64Array[] = [];
  const sourceEnergies = new Float64Array(sources.length);
  let energyOut = 0;
  let leadEnergy = 0;
  for (let i = 0; i < nStages; i++) {
    base.set(begin.subarray(0, nTemperatures));
    for (let j = 0; j < i; j++) {
      const factor = dt * stageCoefficients[i]![j]!;
      const slope = stageRates[j]!;
      for (let k = 0; k < nTemperatures; k++) base[k] = base[k]! + factor * slope[k]!;
    }
    foretellInto(x, { stage: i, dt, base, begin, beginRates, stages, stageRates });
    for (let j = 0; j < network.junctions.length; j++) {
      if (network.junctions[j]!.temperature !== undefined) x[junctionEntry + j] = begin[junctionEntry + j]!;
    }
    const flows = solveStage(x, stepper, { drive, tolerance });
    if (flows === undefined) {
      // the factors may be of a state far from this one
      stepper.factoredRate = 0;
      return undefined;
    }
    const slope = new Float64Array(nTemperatures);
    for (let k = 0; k < nTemperatures; k++) slope[k] = (x[k]! - base[k]!) * rate;
    for (let j = 0; j < network.junctions.length; j++) {
      if (network.junctions[j]!.temperature !== undefined) slope[junctionEntry + j] = 0;
    }
    stageRates.push(slope);
    stages.push(Float64Array.from(x));
    const share = dt * weights[i]!;
    sources.forEach((source, index) => {
      sourceEnergies[index] = sourceEnergies[index]! + share * sourcePower(equations, x, { source, index });
    });
    leadEnergy += share * flows.lead;
    energyOut += share * flows.out;
  }
  const rates = new Float64Array(layout.nEntries);
  rates.set(stageRates[nStages - 1]!);
  immediateRatesInto(rates, stages, { first: nTemperatures, dt });
  const difference = new Float64Array(layout.nEntries);
  for (let k = 0; k < nTemperatures; k++) {
    let sum = 0;
    for (let i = 0; i < nStages; i++) sum += (weights[i]! - embeddedWeights[i]!) * stageRates[i]![k]!;
    difference[k] = rate * equations.capacities[k]! * dt * sum;
  }
  solveFrameInto(difference, equations);
  return {
    end: Float64Array.from(x),
    rates,
    error: largestTemperature(difference, layout),
    sourceEnergies,
    leadEnergy,
    energyOut,
  };
}
