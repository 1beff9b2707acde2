/**
 * Temperatures of an electro-thermal frame in time: switching on and off, pulses, any sequence of phases with constant sources.
 *
 * Method of lines on the spectral elements of the steady model with lumped Lobatto mass, and a five-stage diagonally implicit
 * Runge-Kutta method of order 4, L-stable, with an embedded third-order answer that sets the step: Hairer & Wanner, Solving Ordinary
 * Differential Equations II, table IV.6.5 (key hairer1996, from memory; its order conditions are a test). Currents follow at once.
 * Validity: as the steady model; electric time constants are ignored. Early times shorter than (element length)^2 c/(100 k) are not
 * resolved next to held ends. Main test: transient.test.ts (series solution of the heated bar).
 */
import { SolveError } from "#base";
import { assembledEndFlow, assembledSideLoss, type BranchState, createBranchState } from "./branch-operator.ts";
import { balanceEnergy } from "./energy-balance.ts";
import { type BranchField, fieldOfBranch, temperatureAlong } from "./field.ts";
import { checkNetwork, type ElectricSource, type ElectroThermalNetwork } from "./network.ts";
import { createNewtonSystem, type FrameState, iterateNewton, type NewtonSystem } from "./newton.ts";
import { degree, lobattoWeights, nNodes } from "./reference-element.ts";
import { firstMeshSize, type SteadyState } from "./steady.ts";
import { createTopology } from "./topology.ts";

export const gamma = 0.25;
/** Coefficients of the stages, the last row being the answer itself. */
export const stageCoefficients: readonly (readonly number[])[] = [
  [1 / 4],
  [1 / 2, 1 / 4],
  [17 / 50, -1 / 25, 1 / 4],
  [371 / 1360, -137 / 2720, 15 / 544, 1 / 4],
  [25 / 24, -49 / 48, 125 / 16, -85 / 12, 1 / 4],
];
export const embeddedWeights: readonly number[] = [59 / 48, -17 / 96, 225 / 32, -85 / 12, 0];
const nStages = stageCoefficients.length;
const weights = stageCoefficients[nStages - 1]!;

/** A stretch of time with constant sources. */
export interface TransientPhase {
  /** [s] */
  readonly duration: number;
  readonly sources: readonly ElectricSource[];
}

/** A snapshot handed to the observers. */
export interface TransientView {
  readonly fields: readonly BranchField[];
  /** [K] */
  readonly junctionTemperatures: Float64Array;
}

export interface TransientOptions {
  /** A steady state of the same network, or one temperature for everything [K]. */
  readonly start: SteadyState | number;
  readonly phases: readonly TransientPhase[];
  /** Numbers to record, for example the mean temperature of a branch. Smooth functions of the temperatures. */
  readonly observers: readonly ((view: TransientView) => number)[];
  /** Error allowed in one step [K]; 1e-3 where left out. */
  readonly stepTolerance?: number;
  /** Fewest elements of a branch; 3 where left out (fields begin steep at the ends). */
  readonly fewestElements?: number;
}

export interface TransientHistory {
  /** [nTimes] s, from 0; the end of every phase is among them. */
  readonly times: Float64Array;
  /** [nObservers][nTimes] */
  readonly observed: readonly Float64Array[];
  /** Rates of the observed numbers [1/s], for interpolation; [nObservers][nTimes]. At a switch: the rate before it. */
  readonly rates: readonly Float64Array[];
  /** Power at the terminals [W]; at a switch: before it. */
  readonly powers: Float64Array;
  /**
   * Energy that came in, minus what left, minus what is stored, over all that came in and left, at the end of each step: [nTimes].
   * Flows are those of the stages, storage is the heat capacity integrated over temperature: an error in time shows here.
   */
  readonly energyDefects: Float64Array;
  readonly final: TransientView;
}

interface Stepper {
  readonly network: ElectroThermalNetwork;
  readonly state: FrameState;
  readonly system: NewtonSystem;
  readonly sources: readonly ElectricSource[];
}

function stateFor(network: ElectroThermalNetwork, options: TransientOptions): FrameState {
  const { start } = options;
  const fewest = options.fewestElements ?? 3;
  const ambient = typeof start === "number" ? start : start.junctionTemperatures[0]!;
  const branches = network.branches.map((branch, b): BranchState => {
    const nElements = Math.max(
      fewest,
      firstMeshSize(branch, ambient),
      typeof start === "number" ? 1 : start.fields[b]!.nElements,
    );
    const made = createBranchState(branch, nElements, ambient);
    if (typeof start !== "number") {
      const field = start.fields[b]!;
      for (let i = 0; i < made.positions.length; i++) made.temperatures[i] = temperatureAlong(field, made.positions[i]!);
      made.current = field.current;
    }
    return made;
  });
  const junctionTemperatures = Float64Array.from(network.junctions, (junction, j) => {
    const before = typeof start === "number" ? start : start.junctionTemperatures[j]!;
    return junction.temperature ?? before;
  });
  for (const { branch, temperatures } of branches) {
    temperatures[0] = junctionTemperatures[branch.from]!;
    temperatures[temperatures.length - 1] = junctionTemperatures[branch.to]!;
  }
  const nNodesElectric = network.nTerminals + network.junctions.length;
  const nSources = Math.max(...options.phases.map((phase) => phase.sources.length));
  return {
    branches,
    junctionTemperatures,
    potentials: new Float64Array(nNodesElectric),
    sourceCurrents: new Float64Array(nSources),
  };
}

/** All temperatures of a state in one array: branches one after the other, then junctions. */
function gatherInto(values: Float64Array, state: FrameState): void {
  let at = 0;
  for (const { temperatures } of state.branches) {
    values.set(temperatures, at);
    at += temperatures.length;
  }
  values.set(state.junctionTemperatures, at);
}

function scatter(state: FrameState, values: Float64Array): void {
  let at = 0;
  for (const { temperatures } of state.branches) {
    temperatures.set(values.subarray(at, at + temperatures.length));
    at += temperatures.length;
  }
  state.junctionTemperatures.set(values.subarray(at));
}

function viewOf(state: FrameState): TransientView {
  return { fields: state.branches.map(fieldOfBranch), junctionTemperatures: Float64Array.from(state.junctionTemperatures) };
}

/**
 * Heat leaving the branches by their sides and into held ends [W], as assembled: right after a switch the fields are steeper at held
 * ends than any element follows, so that slopes there say little while the assembled flows still add up.
 */
function assembledHeat(stepper: Stepper): number {
  const { network, state } = stepper;
  let heat = 0;
  for (const branchState of state.branches) {
    const { branch } = branchState;
    if (branch.exchange !== undefined) heat += assembledSideLoss(branchState);
    if (network.junctions[branch.from]!.temperature !== undefined) heat -= assembledEndFlow(branchState, "from");
    if (network.junctions[branch.to]!.temperature !== undefined) heat -= assembledEndFlow(branchState, "to");
  }
  return heat;
}

interface StepResult {
  readonly end: Float64Array;
  readonly rate: Float64Array;
  /** Largest difference of the two answers [K]. */
  readonly error: number;
  readonly energyIn: number;
  readonly energyOut: number;
  readonly endPower: number;
}

/** One step from `begin`; undefined when a stage does not converge. */
function takeStep(stepper: Stepper, begin: Float64Array, dt: number): StepResult | undefined {
  const { network, state, system, sources } = stepper;
  const n = begin.length;
  const nJunctions = state.junctionTemperatures.length;
  const rates: Float64Array[] = [];
  let energyIn = 0;
  let energyOut = 0;
  let endPower = 0;
  scatter(state, begin);
  for (let i = 0; i < nStages; i++) {
    const base = Float64Array.from(begin);
    for (let j = 0; j < i; j++) {
      const factor = dt * stageCoefficients[i]![j]!;
      const rate = rates[j]!;
      for (let k = 0; k < n; k++) base[k] = base[k]! + factor * rate[k]!;
    }
    let at = 0;
    const bases = state.branches.map(({ temperatures }) => {
      at += temperatures.length;
      return base.subarray(at - temperatures.length, at);
    });
    const driven = {
      system,
      sources,
      fraction: 1,
      storage: { rate: 1 / (gamma * dt), base: bases },
      junctionBase: base.subarray(n - nJunctions),
    };
    if (!iterateNewton(state, driven, 1e-6).isConverged) return undefined;
    const rate = new Float64Array(n);
    gatherInto(rate, state);
    for (let k = 0; k < n; k++) rate[k] = (rate[k]! - base[k]!) / (gamma * dt);
    network.junctions.forEach((junction, j) => {
      if (junction.temperature !== undefined) rate[n - nJunctions + j] = 0;
    });
    rates.push(rate);
    const { balance } = balanceEnergy(state, system, sources);
    const share = dt * weights[i]!;
    energyIn += share * (balance.terminalPower - balance.leadPower);
    energyOut += share * (assembledHeat(stepper) + balance.sinkHeat + balance.lumpedHeat);
    endPower = balance.terminalPower;
  }
  const end = new Float64Array(n);
  gatherInto(end, state);
  let error = 0;
  for (let k = 0; k < n; k++) {
    let difference = 0;
    for (let i = 0; i < nStages; i++) difference += (weights[i]! - embeddedWeights[i]!) * rates[i]![k]!;
    const size = Math.abs(dt * difference);
    if (!(size <= error)) error = size;
  }
  return { end, rate: rates[nStages - 1]!, error, energyIn, energyOut, endPower };
}

/** Three-point Gauss rule on [0, 1]: exact for heat capacities up to the fifth power of temperature. */
const capacityNodes = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
const capacityWeights = [5 / 18, 8 / 18, 5 / 18] as const;

/** Heat stored on going from one set of temperatures to another [J]. */
function storedHeat(stepper: Stepper, from: Float64Array, to: Float64Array): number {
  const { network, state } = stepper;
  let heat = 0;
  let at = 0;
  for (const { branch, areas, temperatures, nElements } of state.branches) {
    const { heatCapacity } = branch;
    if (heatCapacity !== undefined) {
      const half = branch.length / nElements / 2;
      for (let e = 0; e < nElements; e++) {
        for (let i = 0; i < nNodes; i++) {
          const node = e * degree + i;
          const T0 = from[at + node]!;
          const rise = to[at + node]! - T0;
          let mean = 0;
          for (let g = 0; g < 3; g++) mean += capacityWeights[g]! * heatCapacity.at(T0 + capacityNodes[g]! * rise);
          heat += half * lobattoWeights[i]! * areas[node]! * mean * rise;
        }
      }
    }
    at += temperatures.length;
  }
  network.junctions.forEach((junction, j) => {
    if (junction.heatCapacity !== undefined && junction.temperature === undefined)
      heat += junction.heatCapacity * (to[at + j]! - from[at + j]!);
  });
  return heat;
}

/** Rates of the observers along the motion of the state, by central differences. */
function observerRates(stepper: Stepper, options: TransientOptions, motion: { at: Float64Array; rate: Float64Array }): number[] {
  const { state } = stepper;
  const { at, rate } = motion;
  const fastest = rate.reduce((max, value) => Math.max(max, Math.abs(value)), 0);
  if (!(fastest > 0)) return options.observers.map(() => 0);
  // A thousandth of a kelvin: far above rounding, far below any curvature of the laws.
  const shift = 1e-3 / fastest;
  const observeShifted = (sign: number): number[] => {
    scatter(
      state,
      Float64Array.from(at, (T, k) => T + sign * shift * rate[k]!),
    );
    const view = viewOf(state);
    return options.observers.map((observe) => observe(view));
  };
  const above = observeShifted(1);
  const below = observeShifted(-1);
  scatter(state, at);
  return above.map((value, o) => (value - below[o]!) / (2 * shift));
}

/** First step as a part of a phase, and the least one before the simulation gives up. */
const firstStepPart = 1e-5;
const leastStepPart = 1e-12;

/** Follows the frame through all phases. Throws a SolveError when it runs away or a stage cannot be solved. */
export function simulateTransient(network: ElectroThermalNetwork, options: TransientOptions): TransientHistory {
  checkNetwork(network);
  for (const source of options.phases.flatMap((phase) => phase.sources)) {
    if (source.kind === "voltage" && source.currentLimit !== undefined) {
      throw new RangeError(
        "Cannot simulate a transient with a current limit: wanted a voltage or a current source, found both in one",
      );
    }
  }
  const tolerance = options.stepTolerance ?? 1e-3;
  const state = stateFor(network, options);
  const n = state.branches.reduce((sum, { temperatures }) => sum + temperatures.length, 0) + state.junctionTemperatures.length;
  let present: Float64Array = new Float64Array(n);
  gatherInto(present, state);
  const beginning = Float64Array.from(present);
  const times: number[] = [];
  const observed: number[][] = options.observers.map(() => []);
  const rates: number[][] = options.observers.map(() => []);
  const powers: number[] = [];
  const energyDefects: number[] = [];
  let time = 0;
  let energyIn = 0;
  let energyOut = 0;
  let turnover = 0;
  const record = (stepper: Stepper, motion: { at: Float64Array; rate: Float64Array }, power: number): void => {
    const view = viewOf(stepper.state);
    times.push(time);
    powers.push(power);
    const slopes = observerRates(stepper, options, motion);
    options.observers.forEach((observe, o) => {
      observed[o]!.push(observe(view));
      rates[o]!.push(slopes[o]!);
    });
    const stored = storedHeat(stepper, beginning, motion.at);
    energyDefects.push(turnover > 0 ? Math.abs(energyIn - energyOut - stored) / turnover : 0);
  };
  for (const phase of options.phases) {
    const system = createNewtonSystem(network, createTopology(network, phase.sources));
    const stepper: Stepper = { network, state, system, sources: phase.sources };
    const end = time + phase.duration;
    let dt = firstStepPart * phase.duration;
    let isFirst = times.length === 0;
    while (time < end) {
      const isLast = time + dt >= end * (1 - 1e-14);
      const used = isLast ? end - time : dt;
      const step = takeStep(stepper, present, used);
      if (step === undefined || !(step.error <= tolerance)) {
        dt = used * (step === undefined ? 0.25 : Math.max(0.2, 0.9 * (tolerance / step.error) ** 0.25));
        if (!(dt > leastStepPart * phase.duration)) {
          throw new SolveError("Cannot follow the temperatures in time: they run away or change faster than any step", {
            method: "diagonally implicit Runge-Kutta of order 4",
            iterations: times.length,
            residual: step?.error ?? Number.NaN,
            target: tolerance,
            hint: `Lost at ${time} s. A current drive above the run-away current heats without limit: lower it or end the phase earlier.`,
          });
        }
        continue;
      }
      if (isFirst) {
        // The rate at time 0 is that of a vanishing step.
        const start = takeStep(stepper, present, used * 1e-3);
        scatter(state, present);
        record(stepper, { at: present, rate: start?.rate ?? step.rate }, start?.endPower ?? step.endPower);
        isFirst = false;
      }
      energyIn += step.energyIn;
      energyOut += step.energyOut;
      turnover += Math.abs(step.energyIn) + Math.abs(step.energyOut);
      present = step.end;
      scatter(state, present);
      time = isLast ? end : time + used;
      record(stepper, { at: present, rate: step.rate }, step.endPower);
      dt = used * Math.min(4, Math.max(0.3, 0.9 * (tolerance / Math.max(step.error, 1e-12 * tolerance)) ** 0.25));
    }
  }
  return {
    times: Float64Array.from(times),
    observed: observed.map((values) => Float64Array.from(values)),
    rates: rates.map((values) => Float64Array.from(values)),
    powers: Float64Array.from(powers),
    energyDefects: Float64Array.from(energyDefects),
    final: viewOf(state),
  };
}

/**
 * First time [s] at which an observed number reaches `level`, by cubic interpolation with the recorded rates; undefined if it never does.
 */
export function timeToReach(history: TransientHistory, observer: number, level: number): number | undefined {
  const { times } = history;
  const values = history.observed[observer]!;
  const slopes = history.rates[observer]!;
  for (let i = 1; i < times.length; i++) {
    const before = values[i - 1]! - level;
    const after = values[i]! - level;
    if (before === 0) return times[i - 1]!;
    if (before * after > 0) continue;
    const h = times[i]! - times[i - 1]!;
    const at = (s: number): number =>
      before * (1 + 2 * s) * (1 - s) ** 2 +
      after * s * s * (3 - 2 * s) +
      h * (slopes[i - 1]! * s * (1 - s) ** 2 - slopes[i]! * s * s * (1 - s));
    let low = 0;
    let high = 1;
    for (let k = 0; k < 60; k++) {
      const middle = 0.5 * (low + high);
      if (at(middle) * before > 0) low = middle;
      else high = middle;
    }
    return times[i - 1]! + 0.5 * (low + high) * h;
  }
  return undefined;
}
