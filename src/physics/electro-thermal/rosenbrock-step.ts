/**
 * One step in time of a frame without any iteration: six linear stages with one tangent.
 *
 * Method: rosenbrock.table.ts, for C(T) dT/dt = -F(T, I) with currents and potentials that follow at once, 0 = -G(T, I). Each row of heat
 * is divided by its capacity in thought and multiplied by that of the beginning, so that the tangent is J + C' dT/dt + C/(gamma dt).
 * The energies are Simpson's sums with the middle of the step. Half the work of transient-step.ts or less where the temperatures need
 * not be right to much better than 1e-4 of their rise. Main test: rosenbrock-step.test.ts.
 */
import { evaluateFlowsInto, type FrameEquations, type HeatTally, linearise, solveFrameInto } from "./frame-equations.ts";
import type { ElectricSource } from "./network.ts";
import { largestTemperature } from "./newton.ts";
import { denseFirst, denseSecond, gamma, stagePlaces, stageSources } from "./rosenbrock.table.ts";
import { heldHeat, type StepResult, sourcePower } from "./step-result.ts";

const nStages = stagePlaces.length;

/** Powers at a state [W]. */
interface Powers {
  readonly out: number;
  readonly lead: number;
}

/** Room for steps, and what the last one knew about its end. */
export interface RosenbrockStepper {
  readonly equations: FrameEquations;
  readonly flows: Float64Array;
  readonly capacities: Float64Array;
  readonly middle: Float64Array;
  readonly base: Float64Array;
  readonly stages: readonly Float64Array[];
  last: { readonly x: Float64Array; readonly powers: Powers } | undefined;
}

export function createRosenbrockStepper(equations: FrameEquations): RosenbrockStepper {
  const { nEntries, nTemperatures } = equations.layout;
  return {
    equations,
    flows: new Float64Array(nEntries),
    capacities: new Float64Array(nEntries),
    middle: new Float64Array(nEntries),
    base: new Float64Array(nTemperatures),
    stages: Array.from({ length: nStages }, () => new Float64Array(nEntries)),
    last: undefined,
  };
}

function powersOf(equations: FrameEquations, flows: Float64Array, tally: HeatTally): Powers {
  const { sideLoss, sinkHeat, lumpedHeat, leadPower } = tally;
  return { out: sideLoss + sinkHeat + lumpedHeat + heldHeat(equations, flows), lead: leadPower };
}

/** Adds multiples of the stages to `x`. */
function addStages(x: Float64Array, stages: readonly Float64Array[], weights: readonly number[]): void {
  weights.forEach((weight, j) => {
    if (weight === 0) return;
    const stage = stages[j]!;
    for (let k = 0; k < x.length; k++) x[k] = x[k]! + weight * stage[k]!;
  });
}

/** Right-hand side of a stage at the place `x`, into `u`. */
function sourceInto(
  u: Float64Array,
  stepper: RosenbrockStepper,
  at: { x: Float64Array; stage: number; dt: number; sources: readonly ElectricSource[] },
): void {
  const { equations, flows, capacities, stages } = stepper;
  const { x, stage, dt, sources } = at;
  const { nTemperatures } = equations.layout;
  evaluateFlowsInto(flows, equations, { x, sources, capacities });
  u.fill(0);
  addStages(u, stages, stageSources[stage]!);
  for (let k = 0; k < nTemperatures; k++) {
    const capacity = equations.capacities[k]!;
    u[k] = capacity > 0 ? capacity * (u[k]! / dt - flows[k]! / capacities[k]!) : -flows[k]!;
  }
  for (let k = nTemperatures; k < u.length; k++) u[k] = -flows[k]!;
}

/** Rates of the temperatures from flows and capacities, by entries [K/s]. */
export function ratesFromFlowsInto(
  rates: Float64Array,
  equations: FrameEquations,
  at: { readonly flows: Float64Array; readonly capacities: Float64Array },
): void {
  const { nTemperatures, rowOfEntry } = equations.layout;
  for (let k = 0; k < nTemperatures; k++) {
    const capacity = at.capacities[k]!;
    rates[k] = capacity > 0 && rowOfEntry[k] !== -1 ? -at.flows[k]! / capacity : 0;
  }
}

/** One step from the consistent state `begin` (by entries); undefined where the tangent is singular or the step leaves all bounds. */
export function takeRosenbrockStep(
  stepper: RosenbrockStepper,
  begin: Float64Array,
  options: {
    readonly dt: number;
    /** Rates of the temperatures at the beginning, by entries [K/s]. */
    readonly beginRates: Float64Array;
    readonly sources: readonly ElectricSource[];
  },
): StepResult | undefined {
  const { equations, flows, capacities, middle, base, stages } = stepper;
  const { dt, beginRates, sources } = options;
  const { nTemperatures, nEntries } = equations.layout;
  const rate = 1 / (gamma * dt);
  if (stepper.last?.x !== begin) {
    const tally = evaluateFlowsInto(flows, equations, { x: begin, sources, capacities });
    stepper.last = { x: begin, powers: powersOf(equations, flows, tally) };
  }
  const beginPowers = stepper.last.powers;
  for (let k = 0; k < nTemperatures; k++) base[k] = begin[k]! - beginRates[k]! / rate;
  // with this base the stored part of the tangent is C rate + C' dT/dt
  if (linearise(flows, equations, { x: begin, drive: { sources, fraction: 1, storage: { rate, base } } }).sign === 0)
    return undefined;
  const first = stages[0]!;
  for (let k = 0; k < nEntries; k++) {
    const capacity = k < nTemperatures ? equations.capacities[k]! : 0;
    first[k] = capacity > 0 ? capacity * beginRates[k]! : -flows[k]!;
  }
  solveFrameInto(first, equations);
  let x = begin;
  for (let i = 1; i < nStages; i++) {
    x = begin.slice();
    addStages(x, stages, stagePlaces[i]!);
    sourceInto(stages[i]!, stepper, { x, stage: i, dt, sources });
    solveFrameInto(stages[i]!, equations);
  }
  const last = stages[nStages - 1]!;
  const end = x;
  for (let k = 0; k < nEntries; k++) end[k] = end[k]! + last[k]!;
  const error = largestTemperature(last, equations.layout);
  if (!Number.isFinite(error)) return undefined;

  const rates = new Float64Array(nEntries);
  for (let k = 0; k < nEntries; k++) {
    let b = 0;
    let c = 0;
    for (let j = 0; j < denseFirst.length; j++) {
      b += denseFirst[j]! * stages[j]![k]!;
      c += denseSecond[j]! * stages[j]![k]!;
    }
    middle[k] = 0.5 * (begin[k]! + end[k]! + 0.5 * (b + 0.5 * c));
    rates[k] = (end[k]! - begin[k]! - b - c) / dt;
  }
  const middlePowers = powersOf(equations, flows, evaluateFlowsInto(flows, equations, { x: middle, sources, capacities }));
  const endPowers = powersOf(equations, flows, evaluateFlowsInto(flows, equations, { x: end, sources, capacities }));
  ratesFromFlowsInto(rates, equations, { flows, capacities });
  stepper.last = { x: end, powers: endPowers };
  const simpson = (a: number, m: number, b: number): number => (dt * (a + 4 * m + b)) / 6;
  return {
    end,
    rates,
    error,
    sourceEnergies: Float64Array.from(sources, (source, index) =>
      simpson(
        sourcePower(equations, begin, { source, index }),
        sourcePower(equations, middle, { source, index }),
        sourcePower(equations, end, { source, index }),
      ),
    ),
    leadEnergy: simpson(beginPowers.lead, middlePowers.lead, endPowers.lead),
    energyOut: simpson(beginPowers.out, middlePowers.out, endPowers.out),
  };
}
