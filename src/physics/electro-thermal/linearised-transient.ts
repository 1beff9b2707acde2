/**
 * A run in time linearised along its own path: what a neighbouring network does under neighbouring sources, to the first order.
 *
 * The difference d of the two paths obeys C d' + (J + C' T') d = g, g being what the neighbour's equations lack on the path. It is followed
 * on the steps of the run by the trapezoidal rule to the part 2 - sqrt 2 of a step and the two-step formula to its end, which share one rate
 * (TR-BDF2, order 2, L-stable: Bank et al., IEEE Trans. Electron Devices 32 (1985) 1992, from memory). Both tangents of a step are factored
 * once for all neighbours: each then costs one residual and two back-substitutions a step.
 * Validity: same topology, same durations, sources at the same limits. Error to expect: below a hundredth of the difference.
 * Main test: linearised-transient.test.ts.
 */

import { actingSources } from "./current-limit.ts";
import { type BranchField, fieldOfBranch } from "./field.ts";
import {
  evaluateFlowsInto,
  evaluateResidualInto,
  type FrameEquations,
  linearise,
  neighbourEquations,
  solveFrameInto,
  withOwnFactors,
} from "./frame-equations.ts";
import { createBranchStates, junctionTemperaturesOf, readBranches } from "./frame-state.ts";
import { checkNetwork, type ElectricSource, type ElectroThermalNetwork } from "./network.ts";
import { ratesFromFlowsInto } from "./rosenbrock-step.ts";
import { startTransientInto } from "./start-transient.ts";
import type { Trajectory, TrajectoryPoint, TransientHistory, TransientOptions } from "./transient-history.ts";

/** What a neighbour is run with: the same phases but for the numbers of their sources. */
export interface TransientNeighbour {
  readonly network: ElectroThermalNetwork;
  /** Sources of each phase. */
  readonly sources: readonly (readonly ElectricSource[])[];
  readonly start: TransientOptions["start"];
}

export interface MomentaryFields {
  readonly fields: readonly BranchField[];
  /** [K] */
  readonly junctionTemperatures: Float64Array;
}

/** A neighbour's run, at the times of the run that it was estimated from: numbers as in `TransientHistory`. */
export interface NeighbourTransient
  extends Pick<TransientHistory, "sourceCurrents" | "sourceVoltages" | "sourceCurrentRates" | "sourceVoltageRates"> {
  /** At any time of the run [s]. */
  fieldsAt(time: number): MomentaryFields;
}

export interface LinearisedTransient {
  respondTo(neighbour: TransientNeighbour): NeighbourTransient;
}

const gamma = 2 - Math.SQRT2;
const partOfMiddle = 1 / (gamma * (2 - gamma));
const partOfBegin = ((1 - gamma) * (1 - gamma)) / (gamma * (2 - gamma));
/** So short a time that no temperature moves [1/s]. */
const atOnce = 1e15;

/** The tangents of one step, factored. */
interface StepTangents {
  /** [1/s] */
  readonly rate: number;
  readonly middle: FrameEquations;
  readonly end: FrameEquations;
}

/** A place of the path within or at the ends of the step that begins at point i, by entries. */
interface PathPlace {
  readonly i: number;
  readonly x: Float64Array;
  readonly rates: Float64Array;
}

/** A neighbour with its equations of each phase. */
interface NeighbourAt {
  readonly neighbour: TransientNeighbour;
  readonly equations: readonly FrameEquations[];
}

/** A difference of two paths with its rates, by entries. */
interface Difference {
  readonly value: Float64Array;
  readonly rates: Float64Array;
}

/** By points: at the beginning of the step that follows and at the end of the one before; they differ where a source meets its limit. */
interface Differences {
  readonly leaving: readonly Difference[];
  readonly arriving: readonly Difference[];
}

/** Points k, k + 1 around a time; the later one where it stands twice. */
export function stepAround(points: readonly TrajectoryPoint[], time: number): number {
  let low = 0;
  let high = points.length - 1;
  while (high - low > 1) {
    const half = (low + high) >>> 1;
    if (points[half]!.time <= time) low = half;
    else high = half;
  }
  return low;
}

/** Temperatures at the part s of a step from values and rates at its ends: Hermite's cubic. */
function temperaturesWithinInto(
  result: Float64Array,
  ends: { from: Difference; to: Difference },
  at: { readonly s: number; readonly h: number; readonly n: number },
): void {
  const { s, h, n } = at;
  const w = s * s * (3 - 2 * s);
  const a = h * s * (1 - s) ** 2;
  const b = -h * s * s * (1 - s);
  const { from, to } = ends;
  for (let k = 0; k < n; k++) result[k] = (1 - w) * from.value[k]! + w * to.value[k]! + a * from.rates[k]! + b * to.rates[k]!;
}

function isZero(vector: Float64Array): boolean {
  for (let k = 0; k < vector.length; k++) if (vector[k] !== 0) return false;
  return true;
}

const pathOf = ({ x, rates }: TrajectoryPoint): Difference => ({ value: x, rates });

/** Temperatures along the path of a run at any of its times. */
export function fieldsOnTrajectory(trajectory: Trajectory, time: number): MomentaryFields {
  return fieldsBetween(trajectory, { time, network: trajectory.network, differences: undefined });
}

function fieldsBetween(
  { points, equations }: Trajectory,
  at: {
    readonly time: number;
    readonly network: ElectroThermalNetwork;
    readonly differences: Differences | undefined;
  },
): MomentaryFields {
  const { time, network, differences } = at;
  const i = stepAround(points, time);
  const [from, to] = [points[i]!, points[Math.min(i + 1, points.length - 1)]!];
  const { layout } = equations[from.phase]!;
  const h = to.phase === from.phase ? to.time - from.time : 0;
  const within = { s: h > 0 ? Math.min(1, Math.max(0, (time - from.time) / h)) : 0, h, n: layout.nTemperatures };
  const last = h > 0 ? to : from;
  const x = from.x.slice();
  temperaturesWithinInto(x, { from: pathOf(from), to: pathOf(last) }, within);
  if (differences !== undefined) {
    const d = new Float64Array(layout.nTemperatures);
    temperaturesWithinInto(
      d,
      { from: differences.leaving[i]!, to: h > 0 ? differences.arriving[i + 1]! : differences.leaving[i]! },
      within,
    );
    for (let k = 0; k < d.length; k++) x[k] = x[k]! + d[k]!;
  }
  const states = createBranchStates(network, layout);
  readBranches(states, x, layout);
  return { fields: states.map(fieldOfBranch), junctionTemperatures: junctionTemperaturesOf(x, network, layout) };
}

class Linearised implements LinearisedTransient {
  private readonly steps: (StepTangents | undefined)[] = [];
  private readonly starts = new Map<number, FrameEquations>();
  /** What the run's own equations, read as those of neighbours, lack at each point. */
  private readonly lacks: (Float64Array | undefined)[] = [];
  private readonly direct: readonly FrameEquations[];

  constructor(private readonly trajectory: Trajectory) {
    const { equations, network } = trajectory;
    this.direct = equations.map((own) => neighbourEquations(own, network, { isReadOften: true }));
  }

  respondTo(neighbour: TransientNeighbour): NeighbourTransient {
    checkNetwork(neighbour.network);
    const { points, phases } = this.trajectory;
    const equations = this.trajectory.equations.map((own) => neighbourEquations(own, neighbour.network, { isReadOften: true }));
    const at = { neighbour, equations };
    const arriving: Difference[] = [];
    const leaving: Difference[] = [];
    let pulls: Float64Array[] = [];
    points.forEach((point, i) => {
      const before = points[i - 1];
      const pull = this.pullAtPoint(i, at);
      const goesOn = before !== undefined && before.phase === point.phase;
      let arrival: Difference | undefined = leaving[i - 1];
      if (goesOn) {
        pulls.push(pull);
        arrival = this.advance(i - 1, { ...at, pulls, begin: leaving[i - 1]! });
      }
      const isSwitched = goesOn && point.modes.some((mode, s) => mode !== before.modes[s]);
      if (goesOn && !isSwitched) {
        arriving.push(arrival!);
        leaving.push(arrival!);
        return;
      }
      // a new phase, or a source at its limit or off it: temperatures go on, their rates do not
      pulls = [pull];
      const begin = this.begin(i, { neighbour, equations: equations[point.phase]!, pull, previous: arrival });
      arriving.push(goesOn ? arrival! : begin);
      leaving.push(begin);
    });
    const nSources = Math.max(0, ...phases.map(({ sources }) => sources.length));
    const series = (read: (i: number, source: { index: number; plus: number; minus: number }) => number): Float64Array[] =>
      Array.from({ length: nSources }, (_, index) =>
        Float64Array.from(points, ({ phase }, i) => {
          const source = phases[phase]!.sources[index];
          if (source === undefined) return 0;
          const { potentialEntry, sourceEntry } = this.trajectory.equations[phase]!.layout;
          return read(i, {
            index: sourceEntry + index,
            plus: potentialEntry + source.plus,
            minus: potentialEntry + source.minus,
          });
        }),
      );
    const value = (i: number, entry: number): number => points[i]!.x[entry]! + leaving[i]!.value[entry]!;
    const rate = (i: number, entry: number): number => points[i]!.rates[entry]! + leaving[i]!.rates[entry]!;
    return {
      sourceCurrents: series((i, { index }) => value(i, index)),
      sourceVoltages: series((i, { plus, minus }) => value(i, plus) - value(i, minus)),
      sourceCurrentRates: series((i, { index }) => rate(i, index)),
      sourceVoltageRates: series((i, { plus, minus }) => rate(i, plus) - rate(i, minus)),
      fieldsAt: (time) =>
        fieldsBetween(this.trajectory, { time, network: neighbour.network, differences: { leaving, arriving } }),
    };
  }

  private actingAt(i: number, sources: readonly ElectricSource[]): readonly ElectricSource[] {
    return actingSources(sources, this.trajectory.points[i]!.modes);
  }

  private ownSources(i: number): readonly ElectricSource[] {
    return this.trajectory.phases[this.trajectory.points[i]!.phase]!.sources;
  }

  /** What equations lack at a place of the path, moved at held junctions to where the network holds them. */
  private lackAt(place: PathPlace, equations: FrameEquations, sources: readonly ElectricSource[]): Float64Array {
    const { i, x, rates } = place;
    const { layout, network } = equations;
    const lack = new Float64Array(layout.nEntries);
    const moved = x.slice();
    network.junctions.forEach(({ temperature }, j) => {
      if (temperature !== undefined) moved[layout.junctionEntry + j] = temperature;
    });
    const base = moved.slice(0, layout.nTemperatures);
    for (let k = 0; k < base.length; k++) base[k] = base[k]! - rates[k]!;
    const drive = { sources: this.actingAt(i, sources), fraction: 1, storage: { rate: 1, base } };
    evaluateResidualInto(lack, equations, { x: moved, drive });
    return lack;
  }

  /** What draws the neighbour off the path at a place; `own` is what the run's own equations lack there. */
  private pullAt(place: PathPlace, own: Float64Array, at: NeighbourAt): Float64Array {
    const { phase } = this.trajectory.points[place.i]!;
    const pull = this.lackAt(place, at.equations[phase]!, at.neighbour.sources[phase]!);
    for (let k = 0; k < pull.length; k++) pull[k] = own[k]! - pull[k]!;
    return pull;
  }

  private pullAtPoint(i: number, at: NeighbourAt): Float64Array {
    const { x, rates, phase } = this.trajectory.points[i]!;
    const place = { i, x, rates };
    this.lacks[i] ??= this.lackAt(place, this.direct[phase]!, this.ownSources(i));
    return this.pullAt(place, this.lacks[i]!, at);
  }

  /**
   * Pull within a step: the parabola through the points at its ends and before it. At the beginning of a phase, where there is none before
   * and everything changes fastest, the pull itself.
   */
  private pullAtMiddle(i: number, pulls: readonly Float64Array[], at: NeighbourAt): Float64Array {
    const { points } = this.trajectory;
    const n = pulls.length;
    if (n < 3) {
      const place = { i, ...this.middleOf(i) };
      const own = this.lackAt(place, this.direct[points[i]!.phase]!, this.ownSources(i));
      return this.pullAt(place, own, at);
    }
    const [p0, p1, p2] = [pulls[n - 3]!, pulls[n - 2]!, pulls[n - 1]!];
    const pull = new Float64Array(p1.length);
    const h = points[i + 1]!.time - points[i]!.time;
    const q = (points[i]!.time - points[i - 1]!.time) / h;
    const w0 = (gamma * (gamma - 1)) / (q * (q + 1));
    const w1 = ((gamma + q) * (1 - gamma)) / q;
    const w2 = (gamma * (gamma + q)) / (1 + q);
    for (let k = 0; k < pull.length; k++) pull[k] = w0 * p0[k]! + w1 * p1[k]! + w2 * p2[k]!;
    return pull;
  }

  /** The rows of the sources, which depend on who stands at a limit within the step that begins at point i. */
  private setSourceRows(
    pull: Float64Array,
    i: number,
    at: { readonly neighbour: TransientNeighbour; readonly x: Float64Array },
  ): void {
    const { phase } = this.trajectory.points[i]!;
    const { sourceEntry } = this.trajectory.equations[phase]!.layout;
    const own = this.actingAt(i, this.ownSources(i));
    this.actingAt(i, at.neighbour.sources[phase]!).forEach((source, s) => {
      const mine = own[s]!;
      const current = at.x[sourceEntry + s]!;
      if (source.kind === "voltage" && mine.kind === "voltage")
        pull[sourceEntry + s] = source.voltage - mine.voltage - (source.seriesResistance - mine.seriesResistance) * current;
      else if (source.kind === "current" && mine.kind === "current") pull[sourceEntry + s] = source.current - mine.current;
      else throw new RangeError("Cannot compare two runs: wanted the same kinds of sources in both");
    });
  }

  /** At the beginning of a phase: temperatures as they were, what follows at once by the new sources, and the rates of both. */
  private begin(
    i: number,
    at: {
      readonly neighbour: TransientNeighbour;
      readonly equations: FrameEquations;
      readonly pull: Float64Array;
      readonly previous: Difference | undefined;
    },
  ): Difference {
    const { neighbour, equations, pull, previous } = at;
    const { x, rates, phase } = this.trajectory.points[i]!;
    const { layout } = equations;
    const { nTemperatures } = layout;
    let start = this.starts.get(i);
    if (start === undefined) {
      start = this.tangentAt(i, { x, rates, rate: atOnce });
      this.starts.set(i, start);
    }
    const known = new Float64Array(layout.nEntries);
    if (previous !== undefined) known.set(previous.value.subarray(0, nTemperatures));
    else {
      startTransientInto(known, equations, neighbour.start);
      for (let k = 0; k < nTemperatures; k++) known[k] = known[k]! - x[k]!;
    }
    const value = pull.slice();
    this.setSourceRows(value, i, { neighbour, x });
    for (let k = 0; k < nTemperatures; k++) value[k] = value[k]! + atOnce * start.capacities[k]! * known[k]!;
    this.solveInto(value, start, equations);
    for (let k = 0; k < nTemperatures; k++) if (start.capacities[k]! > 0) value[k] = known[k]!;

    const change = new Float64Array(layout.nEntries);
    const own = new Float64Array(layout.nEntries);
    const flows = new Float64Array(layout.nEntries);
    const capacities = new Float64Array(layout.nEntries);
    const read = (into: Float64Array, of: FrameEquations, at: { x: Float64Array; sources: readonly ElectricSource[] }): void => {
      evaluateFlowsInto(flows, of, { x: at.x, sources: this.actingAt(i, at.sources), capacities });
      ratesFromFlowsInto(into, of, { flows, capacities });
    };
    read(own, this.direct[phase]!, { x, sources: this.ownSources(i) });
    const moved = x.slice();
    for (let k = 0; k < moved.length; k++) moved[k] = moved[k]! + value[k]!;
    read(change, equations, { x: moved, sources: neighbour.sources[phase]! });
    for (let k = 0; k < nTemperatures; k++) change[k] = change[k]! - own[k]!;
    return { value, rates: change };
  }

  /** From point i to the next. */
  private advance(
    i: number,
    at: NeighbourAt & { readonly pulls: readonly Float64Array[]; readonly begin: Difference },
  ): Difference {
    const { neighbour, pulls, begin } = at;
    const { points } = this.trajectory;
    const to = points[i + 1]!;
    this.steps[i] ??= this.tangentsOf(i);
    const { rate, middle, end } = this.steps[i]!;
    // what does not differ in heat or current goes on so
    if (isZero(begin.value) && isZero(pulls[pulls.length - 1]!) && isZero(pulls[pulls.length - 2]!)) return begin;
    const { layout } = middle;
    const { nTemperatures } = layout;
    const held = { network: neighbour.network, layout };

    const atMiddle = this.pullAtMiddle(i, pulls, at);
    this.setSourceRows(atMiddle, i, { neighbour, x: this.middleOf(i).x });
    for (let k = 0; k < nTemperatures; k++) {
      const known = begin.value[k]! + begin.rates[k]! / rate;
      atMiddle[k] = atMiddle[k]! + rate * middle.capacities[k]! * known;
    }
    this.solveInto(atMiddle, middle, held);

    const value = pulls[pulls.length - 1]!.slice();
    this.setSourceRows(value, i, { neighbour, x: to.x });
    const base = new Float64Array(layout.nEntries);
    for (let k = 0; k < base.length; k++) base[k] = partOfMiddle * atMiddle[k]! - partOfBegin * begin.value[k]!;
    for (let k = 0; k < nTemperatures; k++) value[k] = value[k]! + rate * end.capacities[k]! * base[k]!;
    this.solveInto(value, end, held);
    const rates = new Float64Array(layout.nEntries);
    for (let k = 0; k < rates.length; k++) rates[k] = rate * (value[k]! - base[k]!);
    return { value, rates };
  }

  /** Solves for a difference; held junctions take the difference of what they are held at. */
  private solveInto(x: Float64Array, factored: FrameEquations, neighbour: Pick<FrameEquations, "network" | "layout">): void {
    solveFrameInto(x, factored);
    const own = this.trajectory.network.junctions;
    neighbour.network.junctions.forEach(({ temperature }, j) => {
      if (temperature !== undefined) x[neighbour.layout.junctionEntry + j] = temperature - own[j]!.temperature!;
    });
  }

  /** State and rates at the middle of the step that begins at point i. */
  private middleOf(i: number): { readonly x: Float64Array; readonly rates: Float64Array } {
    const [from, to] = [this.trajectory.points[i]!, this.trajectory.points[i + 1]!];
    const { nTemperatures } = this.trajectory.equations[from.phase]!.layout;
    const h = to.time - from.time;
    const x = new Float64Array(from.x.length);
    const rates = new Float64Array(from.x.length);
    const s = gamma;
    temperaturesWithinInto(x, { from: pathOf(from), to: pathOf(to) }, { s, h, n: nTemperatures });
    for (let k = 0; k < nTemperatures; k++)
      rates[k] =
        (6 * s * (1 - s) * (to.x[k]! - from.x[k]!)) / h + (1 - s) * (1 - 3 * s) * from.rates[k]! + s * (3 * s - 2) * to.rates[k]!;
    // what follows at once has no rates of its own at the beginning of a phase: a parabola by those at the end
    for (let k = nTemperatures; k < x.length; k++) {
      const rise = to.x[k]! - from.x[k]!;
      x[k] = from.x[k]! + s * rise + s * (s - 1) * (h * to.rates[k]! - rise);
    }
    return { x, rates };
  }

  private tangentAt(
    i: number,
    at: { readonly x: Float64Array; readonly rates: Float64Array; readonly rate: number },
  ): FrameEquations {
    const { x, rates, rate } = at;
    const equations = withOwnFactors(this.trajectory.equations[this.trajectory.points[i]!.phase]!);
    const base = x.slice(0, equations.layout.nTemperatures);
    for (let k = 0; k < base.length; k++) base[k] = base[k]! - rates[k]! / rate;
    const drive = { sources: this.actingAt(i, this.ownSources(i)), fraction: 1, storage: { rate, base } };
    linearise(new Float64Array(x.length), equations, { x, drive });
    return equations;
  }

  private tangentsOf(i: number): StepTangents {
    const [from, to] = [this.trajectory.points[i]!, this.trajectory.points[i + 1]!];
    const rate = 2 / (gamma * (to.time - from.time));
    return {
      rate,
      middle: this.tangentAt(i, { ...this.middleOf(i), rate }),
      end: this.tangentAt(i, { x: to.x, rates: to.rates, rate }),
    };
  }
}

/** The run about its own path. Room: two factored tangents for each of its steps, once a neighbour is asked for. */
export function lineariseTransient(history: TransientHistory): LinearisedTransient {
  return new Linearised(history.trajectory);
}
