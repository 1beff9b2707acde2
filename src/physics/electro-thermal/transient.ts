/**
 * Temperatures of an electro-thermal frame in time: any sequence of phases with constant sources, limits of current included.
 *
 * Method of lines on the spectral elements of the steady model with lumped Lobatto mass, steps of transient-step.ts. Currents follow at
 * once. A source that meets its current limit, or leaves it, ends the step there: the moment is found on the length of the step itself.
 * Validity: as the steady model; electric time constants are ignored. Early times shorter than (element length)^2 c/(100 k) are not
 * resolved next to held ends. Main test: transient.test.ts (series solution of the heated bar).
 */
import { SolveError } from "#base";
import type { BranchState } from "./branch-state.ts";
import { actingSources, type LimitModes, overstep } from "./current-limit.ts";
import { fieldOfBranch } from "./field.ts";
import { createEquations, evaluateFlowsInto, type FrameEquations } from "./frame-equations.ts";
import { createLayout } from "./frame-layout.ts";
import { createBranchStates, junctionTemperaturesOf, readBranches } from "./frame-state.ts";
import { checkNetwork, type ElectricSource, type ElectroThermalNetwork } from "./network.ts";
import { iterateNewton } from "./newton.ts";
import { ratesFromFlowsInto } from "./rosenbrock-step.ts";
import { startTransientInto } from "./start-transient.ts";
import { type StepResult, sourcePower } from "./step-result.ts";
import { storedHeat } from "./stored-heat.ts";
import { createTimeStepper, type TimeStepper } from "./time-stepper.ts";
import type {
  LimitEvent,
  Observer,
  TrajectoryPoint,
  TransientHistory,
  TransientOptions,
  TransientPhase,
  TransientView,
} from "./transient-history.ts";
import { meshOfTransient } from "./transient-mesh.ts";

/** One phase ready to run. */
interface PhaseSystem {
  readonly equations: FrameEquations;
  readonly branches: readonly BranchState[];
  readonly stepper: TimeStepper;
}

interface RunState {
  readonly x: Float64Array;
  readonly sources: readonly ElectricSource[];
  readonly rates: Float64Array;
  readonly phase: number;
  readonly modes: LimitModes;
}

interface StepRequest {
  readonly x: Float64Array;
  readonly dt: number;
  readonly rates: Float64Array;
  readonly sources: readonly ElectricSource[];
  readonly modes: LimitModes;
}

/** First step as the change [K] in units of the tolerance that it is meant to make, and the least step as a part of the phase. */
const firstStepChange = 100;
const leastStepPart = 1e-12;
/** Part of all heat turned over so far that one step may lose or invent, where nothing else is said. */
const strictEnergy = 1e-7;
/** Error of the temperatures, in units of the tolerance, below which the heat of a step shows rounding alone. */
const leastTellingError = 1e-3;
/** How near to the end of what is known a run is followed, [K]. */
const endTolerance = 0.05;
/** Overstep of a limit that still counts as standing at it. */
const limitTolerance = 1e-8;

function readObserver(observer: Observer, view: TransientView): number {
  return typeof observer === "function" ? observer(view) : observer.value(view);
}

/** Energy that the sources bring into the frame in a step [J]. */
function deliveredEnergy(step: StepResult): number {
  return step.sourceEnergies.reduce((sum, energy) => sum + energy, 0) - step.leadEnergy;
}

/** Follows a frame through its phases; holds what grows on the way. */
class TransientRun {
  private readonly times: number[] = [];
  private readonly observed: number[][];
  private readonly rates: number[][];
  private readonly powers: number[] = [];
  private readonly energyDefects: number[] = [];
  private readonly sourceSeries: Record<"current" | "voltage" | "energy" | "currentRate" | "voltageRate", number[]>[];
  private readonly limitEvents: LimitEvent[] = [];
  private readonly systems = new Map<string, PhaseSystem>();
  private readonly sizes: number[];
  private readonly tolerance: number;
  private readonly energyTolerance: number;
  private readonly points: TrajectoryPoint[] = [];
  private isOver = false;
  private isStopped = false;
  private beginning: Float64Array | undefined;
  /** Largest change of any temperature since the beginning [K]. */
  private rise = 0;
  private readonly sourceEnergies: Float64Array;
  private time = 0;
  private energyIn = 0;
  private energyOut = 0;
  private turnover = 0;
  private stored = 0;

  constructor(
    private readonly network: ElectroThermalNetwork,
    private readonly options: TransientOptions,
  ) {
    const nSources = Math.max(0, ...options.phases.map(({ sources }) => sources.length));
    this.sizes = meshOfTransient(network, options);
    this.tolerance = options.stepTolerance ?? 1e-3;
    this.energyTolerance = options.energyTolerance ?? strictEnergy;
    this.observed = options.observers.map(() => []);
    this.rates = options.observers.map(() => []);
    this.sourceSeries = Array.from({ length: nSources }, () => ({
      current: [],
      voltage: [],
      energy: [],
      currentRate: [],
      voltageRate: [],
    }));
    this.sourceEnergies = new Float64Array(nSources);
  }

  run(): TransientHistory {
    const { phases } = this.options;
    let before: { x: Float64Array; system: PhaseSystem } | undefined;
    let final: TransientView | undefined;
    const equations: FrameEquations[] = [];
    for (const [index, phase] of phases.entries()) {
      if (this.isOver) break;
      const system = this.systemFor(phase.sources);
      const x = new Float64Array(system.equations.layout.nEntries);
      if (before === undefined) startTransientInto(x, system.equations, this.options.start);
      else x.set(before.x.subarray(0, system.equations.layout.potentialEntry));
      equations.push(system.equations);
      const end = this.follow(phase, { system, x, index });
      before = { x: end, system };
      final = this.viewOf(system, { x: end, sources: phase.sources, after: 0 });
    }
    if (final === undefined) throw new RangeError("Cannot simulate a transient: wanted one phase or more, found none");
    const array = (values: readonly number[]): Float64Array => Float64Array.from(values);
    return {
      times: array(this.times),
      observed: this.observed.map(array),
      rates: this.rates.map(array),
      powers: array(this.powers),
      sourceCurrents: this.sourceSeries.map(({ current }) => array(current)),
      sourceVoltages: this.sourceSeries.map(({ voltage }) => array(voltage)),
      sourceEnergies: this.sourceSeries.map(({ energy }) => array(energy)),
      sourceCurrentRates: this.sourceSeries.map(({ currentRate }) => array(currentRate)),
      sourceVoltageRates: this.sourceSeries.map(({ voltageRate }) => array(voltageRate)),
      limitEvents: this.limitEvents,
      energyDefects: array(this.energyDefects),
      final,
      isStopped: this.isStopped,
      trajectory: { network: this.network, phases, equations, points: this.points },
    };
  }

  private systemFor(sources: readonly ElectricSource[]): PhaseSystem {
    const key = sources.map(({ kind, plus, minus }) => `${kind} ${plus} ${minus}`).join("|");
    const known = this.systems.get(key);
    if (known !== undefined) return known;
    const layout = createLayout(this.network, { sizes: this.sizes, sources, storesHeat: true });
    const equations = createEquations(this.network, layout);
    const made = { equations, branches: createBranchStates(this.network, layout), stepper: this.stepperOf(equations) };
    this.systems.set(key, made);
    return made;
  }

  private stepperOf(equations: FrameEquations): TimeStepper {
    return createTimeStepper(equations, { stages: this.options.stages ?? "iterated", tolerance: this.tolerance });
  }

  /** State `after` [s] the present time; energies go on at the present power. */
  private viewOf(
    { equations, branches }: PhaseSystem,
    state: { x: Float64Array; sources: readonly ElectricSource[]; after: number },
  ): TransientView {
    const { x, sources, after } = state;
    const { layout, network } = equations;
    const { potentialEntry, sourceEntry, junctionEntry, nTemperatures } = layout;
    readBranches(branches, x, layout);
    const sourcePowers = Float64Array.from(sources, (source, index) => sourcePower(equations, x, { source, index }));
    return {
      time: this.time + after,
      fields: branches.map(fieldOfBranch),
      junctionTemperatures: junctionTemperaturesOf(x, network, layout),
      ladderTemperatures: x.slice(junctionEntry + network.junctions.length, nTemperatures),
      sourceCurrents: x.slice(sourceEntry, sourceEntry + sources.length),
      sourceVoltages: Float64Array.from(sources, ({ plus, minus }) => x[potentialEntry + plus]! - x[potentialEntry + minus]!),
      sourcePowers,
      sourceEnergies: sourcePowers.map((power, s) => this.sourceEnergies[s]! + after * power),
    };
  }

  /** Values and rates of the observers along the motion of the state. */
  private observe(system: PhaseSystem, state: RunState, view: TransientView): readonly { value: number; rate: number }[] {
    const { observers } = this.options;
    const { x, rates, sources } = state;
    let fastest = 0;
    for (let k = 0; k < system.equations.layout.nTemperatures; k++) fastest = Math.max(fastest, Math.abs(rates[k]!));
    // A thousandth of a kelvin: far above rounding, far below any curvature of the laws.
    const shift = fastest > 0 ? 1e-3 / fastest : 0;
    const views = new Map<number, TransientView>();
    const viewAfter = (after: number): TransientView => {
      const known = views.get(after);
      if (known !== undefined) return known;
      const shifted = new Float64Array(x.length);
      for (let k = 0; k < x.length; k++) shifted[k] = x[k]! + after * rates[k]!;
      const made = this.viewOf(system, { x: shifted, sources, after });
      views.set(after, made);
      return made;
    };
    return observers.map((observer) => {
      const value = readObserver(observer, view);
      if (shift === 0) return { value, rate: 0 };
      if (typeof observer !== "function") return { value, rate: observer.change(view, viewAfter(shift)) / shift };
      return { value, rate: (observer(viewAfter(shift)) - observer(viewAfter(-shift))) / (2 * shift) };
    });
  }

  private record(system: PhaseSystem, state: RunState): void {
    const { x, sources, rates, phase, modes } = state;
    const view = this.viewOf(system, { x, sources, after: 0 });
    this.times.push(this.time);
    this.points.push({ time: this.time, phase, x, rates, modes: Int8Array.from(modes) });
    this.observe(system, state, view).forEach(({ value, rate }, o) => {
      this.observed[o]!.push(value);
      this.rates[o]!.push(rate);
    });
    this.powers.push(view.sourcePowers.reduce((sum, power) => sum + power, 0));
    const { potentialEntry, sourceEntry } = system.equations.layout;
    this.sourceSeries.forEach(({ current, voltage, energy, currentRate, voltageRate }, s) => {
      const source = sources[s];
      currentRate.push(source === undefined ? 0 : rates[sourceEntry + s]!);
      voltageRate.push(source === undefined ? 0 : rates[potentialEntry + source.plus]! - rates[potentialEntry + source.minus]!);
      current.push(view.sourceCurrents[s] ?? 0);
      voltage.push(view.sourceVoltages[s] ?? 0);
      energy.push(this.sourceEnergies[s]!);
    });
    const defect = Math.abs(this.energyIn - this.energyOut - this.stored);
    this.energyDefects.push(this.turnover > 0 ? defect / this.turnover : 0);
    this.isOver ||= this.hasReached();
  }

  /** True where the observed number to stop at lies on the other side of its level than before. */
  private hasReached(): boolean {
    const { until } = this.options;
    if (until === undefined) return false;
    const values = this.observed[until.observer]!;
    const n = values.length;
    return n > 1 && (values[n - 2]! - until.level) * (values[n - 1]! - until.level) <= 0;
  }

  /** Currents and potentials that go with the temperatures of `x`, and which sources stand at their limit. */
  private settle(x: Float64Array, system: PhaseSystem, options: { sources: readonly ElectricSource[]; modes: LimitModes }): void {
    const { equations } = system;
    const { layout } = equations;
    const { sources, modes } = options;
    const base = x.slice(0, layout.nTemperatures);
    for (let attempt = 0; attempt <= 2 * sources.length; attempt++) {
      const acting = actingSources(sources, modes);
      // So short a time that no temperature moves.
      const rate = 1e15;
      const found = iterateNewton(x, equations, {
        drive: { sources: acting, fraction: 1, storage: { rate, base } },
        tolerance: 1e-3,
      });
      x.set(base);
      if (!found.isConverged) this.giveUp(Number.NaN);
      const over = sources.findIndex(
        (source, index) => overstep(source, x, { layout, index, mode: modes[index]! }) > limitTolerance,
      );
      if (over < 0) break;
      modes[over] = modes[over] === 0 ? Math.sign(x[layout.sourceEntry + over]!) : 0;
    }
  }

  /** Rates of the temperatures at `x` [K/s]. */
  private ratesAt(x: Float64Array, { equations }: PhaseSystem, sources: readonly ElectricSource[]): Float64Array {
    const [flows, capacities, rates] = [new Float64Array(x.length), new Float64Array(x.length), new Float64Array(x.length)];
    evaluateFlowsInto(flows, equations, { x, sources, capacities });
    ratesFromFlowsInto(rates, equations, { flows, capacities });
    return rates;
  }

  /** Error allowed in a step that ends at `x`, [K]. */
  private allowedAt(x: Float64Array, { equations }: PhaseSystem): number {
    const part = this.options.riseTolerance ?? 0;
    if (part === 0) return this.tolerance;
    this.beginning ??= x.slice(0, equations.layout.nTemperatures);
    for (let k = 0; k < this.beginning.length; k++) this.rise = Math.max(this.rise, Math.abs(x[k]! - this.beginning[k]!));
    return Math.max(this.tolerance, part * this.rise);
  }

  private giveUp(error: number): never {
    throw new SolveError("Cannot follow the temperatures in time: they run away or change faster than any step", {
      method: `${this.options.stages ?? "iterated"} Runge-Kutta stages of order 4`,
      iterations: this.times.length,
      residual: error,
      target: this.tolerance,
      hint: `Lost at ${this.time} s. A current drive above the run-away current heats without limit: lower it or end the phase earlier.`,
    });
  }

  /** Runs one phase from the state `x`; returns the state at its end. */
  private follow(phase: TransientPhase, at: { system: PhaseSystem; x: Float64Array; index: number }): Float64Array {
    const { system, index } = at;
    const { sources, duration } = phase;
    const { stepper } = system;
    const { tolerance } = this;
    const modes: LimitModes = new Int8Array(sources.length);
    const beginTime = this.time;
    const wasLimited = Int8Array.from(modes);
    let x = at.x;
    this.settle(x, system, { sources, modes });
    this.allowedAt(x, system);
    this.noteModes(wasLimited, modes);
    stepper.forget();
    let rates = this.ratesAt(x, system, actingSources(sources, modes));
    const fastest = rates.reduce((max, rate) => Math.max(max, Math.abs(rate)), 0);
    let dt = Math.min(0.1 * duration, Math.max((firstStepChange * tolerance) / fastest, 1e-9 * duration));
    let isFirst = true;
    let elapsed = 0;
    while (elapsed < duration && !this.isOver) {
      const left = duration - elapsed;
      const used = dt >= left * (1 - 1e-12) ? left : Math.min(dt, 0.5 * left);
      const step = this.tryStep(system, { x, dt: used, rates, sources, modes });
      const size = step === undefined ? Number.NaN : this.relativeError(system, { x, step });
      if (step === undefined || !(size <= 1)) {
        dt = used * (step === undefined ? 0.25 : Math.max(0.2, 0.8 * size ** -0.25));
        if (!(dt > leastStepPart * duration)) this.giveUp(step?.error ?? Number.NaN);
        continue;
      }
      const located = this.locateLimit(system, { x, dt: used, rates, sources, modes, step });
      const allowed = this.partBeforeEnd(system, { begin: x, end: located.step.end, sources });
      if (allowed === 0) {
        if (isFirst) this.record(system, { x, sources, rates, modes, phase: index });
        this.isOver = true;
        this.isStopped = true;
        break;
      }
      if (allowed < 1) {
        dt = allowed * located.dt;
        continue;
      }
      if (isFirst) {
        for (let k = system.equations.layout.nTemperatures; k < rates.length; k++)
          rates[k] = (located.step.end[k]! - x[k]!) / located.dt;
        this.record(system, { x, sources, rates, modes, phase: index });
        isFirst = false;
      }
      this.stored += storedHeat(system.equations, x, located.step.end);
      x = located.step.end;
      elapsed = located.dt === left ? duration : elapsed + located.dt;
      this.time = beginTime + elapsed;
      this.count(located.step);
      if (located.dt < used) {
        const before = Int8Array.from(modes);
        this.switchModes(x, system, { sources, modes });
        this.noteModes(before, modes);
        stepper.forget();
      }
      rates = located.step.rates;
      this.record(system, { x, sources, rates, modes, phase: index });
      if (located.dt < used) {
        // what a neighbour differs by has a kink here, though the path itself has none
        dt = 0.2 * used;
        continue;
      }
      const growth = Math.min(5, Math.max(0.3, 0.8 * Math.max(size, 1e-12) ** -0.25));
      // A step that is kept keeps its factors too.
      if (growth < 0.95 || growth > 1.25) dt = used * growth;
      else dt = used;
    }
    return x;
  }

  /** Error of a step in units of what is allowed: of the temperatures, and of the heat where a step is long enough to tell. */
  private relativeError(system: PhaseSystem, options: { x: Float64Array; step: StepResult }): number {
    const { x, step } = options;
    const size = step.error / this.allowedAt(step.end, system);
    if (!(size > leastTellingError)) return size;
    const delivered = deliveredEnergy(step);
    const defect = Math.abs(delivered - step.energyOut - storedHeat(system.equations, x, step.end));
    const turnover = this.turnover + Math.abs(delivered) + Math.abs(step.energyOut);
    return turnover > 0 ? Math.max(size, defect / (this.energyTolerance * turnover)) : size;
  }

  /** Part of a step after which the state still is within what is known: 1 for all of it, 0 where it stands at the end already. */
  private partBeforeEnd(
    system: PhaseSystem,
    step: { begin: Float64Array; end: Float64Array; sources: readonly ElectricSource[] },
  ): number {
    const { beyond } = this.options;
    if (beyond === undefined) return 1;
    const { begin, end, sources } = step;
    const beyondAt = (x: Float64Array): number => beyond(this.viewOf(system, { x, sources, after: 0 }));
    const atEnd = beyondAt(end);
    if (!(atEnd > 0)) return 1;
    const atBegin = beyondAt(begin);
    if (atBegin > -endTolerance) return 0;
    // a little short of where a straight line ends: the state is to come to it from below
    return Math.max(0.1, (0.95 * -atBegin) / (atEnd - atBegin));
  }

  private tryStep({ stepper }: PhaseSystem, options: StepRequest): StepResult | undefined {
    const { x, dt, rates, sources, modes } = options;
    return stepper.step(x, { dt, rates, sources: actingSources(sources, modes) });
  }

  private worstOverstep(
    x: Float64Array,
    system: PhaseSystem,
    options: { sources: readonly ElectricSource[]; modes: LimitModes },
  ) {
    const { layout } = system.equations;
    return options.sources.reduce(
      (worst, source, index) => Math.max(worst, overstep(source, x, { layout, index, mode: options.modes[index]! })),
      Number.NEGATIVE_INFINITY,
    );
  }

  /** Shortens a step that oversteps a limit to the moment it is met, by regula falsi with the Illinois halving on its length. */
  private locateLimit(
    system: PhaseSystem,
    options: StepRequest & { readonly step: StepResult },
  ): { readonly step: StepResult; readonly dt: number } {
    const { x, dt } = options;
    let high = dt;
    let atHigh = this.worstOverstep(options.step.end, system, options);
    if (!(atHigh > limitTolerance)) return { step: options.step, dt };
    let low = 0;
    let atLow = Math.min(0, this.worstOverstep(x, system, options)) - limitTolerance;
    let best = { step: options.step, dt };
    for (let k = 0; k < 40; k++) {
      const middle = (low * atHigh - high * atLow) / (atHigh - atLow);
      const step = this.tryStep(system, { ...options, dt: middle });
      if (step === undefined) break;
      const value = this.worstOverstep(step.end, system, options);
      best = { step, dt: middle };
      if (Math.abs(value) <= limitTolerance || high - low < 1e-12 * dt) break;
      if (value > 0) {
        high = middle;
        atHigh = value;
        atLow /= 2;
      } else {
        low = middle;
        atLow = value;
        atHigh /= 2;
      }
    }
    return best;
  }

  /** Changes the mode of every source that stands at the end of what its mode allows. */
  private switchModes(
    x: Float64Array,
    system: PhaseSystem,
    options: { sources: readonly ElectricSource[]; modes: LimitModes },
  ): void {
    const { layout } = system.equations;
    const { sources, modes } = options;
    sources.forEach((source, index) => {
      if (overstep(source, x, { layout, index, mode: modes[index]! }) < -10 * limitTolerance) return;
      modes[index] = modes[index] === 0 ? Math.sign(x[layout.sourceEntry + index]!) : 0;
    });
  }

  private noteModes(before: LimitModes, after: LimitModes): void {
    after.forEach((mode, source) => {
      if (mode !== before[source]) this.limitEvents.push({ time: this.time, source, isLimited: mode !== 0 });
    });
  }

  private count(step: StepResult): void {
    const delivered = deliveredEnergy(step);
    step.sourceEnergies.forEach((energy, s) => {
      this.sourceEnergies[s] = this.sourceEnergies[s]! + energy;
    });
    this.energyIn += delivered;
    this.energyOut += step.energyOut;
    this.turnover += Math.abs(delivered) + Math.abs(step.energyOut);
  }
}

/** Follows the frame through all phases. Throws a SolveError when it runs away or a stage cannot be solved. */
export function simulateTransient(network: ElectroThermalNetwork, options: TransientOptions): TransientHistory {
  checkNetwork(network);
  return new TransientRun(network, options).run();
}
