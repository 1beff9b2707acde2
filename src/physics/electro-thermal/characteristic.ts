/**
 * The whole curve of steady states of a frame as its sources are scaled together, through turning points, and all states at one drive.
 *
 * Pseudo-arc-length continuation: the factor on the drive is an unknown, and each new point lies at a given distance along the tangent
 * (Keller 1977, from memory, key keller1977). Where the factor turns back the state gains or loses an unstable mode: run-away, burn-out
 * and switching are such points. A change of the determinant's sign without a turn is a branch point, where states that break a symmetry of
 * the frame leave the curve; it is told, and those states are not followed.
 * Validity: finds the states that hang together with the cold one; the mesh is fixed. Main test: characteristic.test.ts.
 */
import { SolveError } from "#base";
import { actingSources, type LimitModes, overstep } from "./current-limit.ts";
import { balanceEnergy } from "./energy-balance.ts";
import {
  coldSign,
  createEquations,
  type Drive,
  driveSlopeInto,
  type FrameEquations,
  linearise,
  solveFrameInto,
} from "./frame-equations.ts";
import { createLayout } from "./frame-layout.ts";
import { readSolution } from "./frame-solution.ts";
import { createBranchStates, readBranches, spreadTemperaturesInto } from "./frame-state.ts";
import { lineariseFrame } from "./linearised-frame.ts";
import { checkNetwork, type ElectricSource, type ElectroThermalNetwork } from "./network.ts";
import { iterateNewton } from "./newton.ts";
import { coldestSurroundings, firstMeshSize, type SteadyState } from "./steady.ts";
import { requireHeatPath } from "./topology.ts";

export interface CharacteristicOptions {
  readonly sources: readonly ElectricSource[];
  /** The curve ends where any point becomes hotter [K]; the laws should reach so far. */
  readonly hottest: number;
  /** The curve ends at this factor on all sources. */
  readonly largestFraction: number;
  /** Fewest elements of a branch; 2 where left out. */
  readonly fewestElements?: number;
  /** Most points; 500 where left out. */
  readonly mostPoints?: number;
}

export interface CharacteristicPoint {
  /** Factor on all sources. */
  readonly fraction: number;
  readonly hottestTemperature: number;
  /** Out of the plus pole of each source [A], and between its poles [V]. */
  readonly sourceCurrents: Float64Array;
  readonly sourceVoltages: Float64Array;
  /** True where the determinant has the sign that it has without current: no unstable mode, or an even number of them. */
  readonly hasColdSign: boolean;
  /** True for a point where the factor on the drive turns back. */
  readonly isTurn: boolean;
}

export interface Characteristic {
  /** From the cold frame on. */
  readonly points: readonly CharacteristicPoint[];
  /** Factors at which states that break a symmetry leave the curve: between the two given. */
  readonly branchPoints: readonly { readonly from: number; readonly to: number }[];
  readonly endedBy: "hottest" | "largest fraction" | "back to zero" | "most points";
}

/** A steady state with its stability. */
export interface StateAtDrive {
  readonly state: SteadyState;
  readonly isStable: boolean;
  /** Rate at which the slowest disturbance dies out [1/s]; negative where one grows; NaN where the frame stores no heat. */
  readonly slowestRate: number;
}

export interface SteadyStates {
  /** From the coldest to the hottest. */
  readonly states: readonly StateAtDrive[];
  /** Largest factor on the drive that any state on the curve of the free sources has. */
  readonly largestFraction: number;
  readonly endedBy: Characteristic["endedBy"];
  readonly branchPoints: Characteristic["branchPoints"];
}

/** Temperature that counts as much as the whole drive in the length of the curve [K]. */
const temperatureScale = 200;
const firstStep = 0.02;
const largestStep = 0.25;
const leastStep = 1e-9;
/** Last Newton step of a point, in units of the length. */
const pointTolerance = 1e-8;
const maxIterations = 10;
const easyIterations = 4;

interface PathPoint {
  readonly x: Float64Array;
  readonly fraction: number;
  /** Unit tangent: by entries, and of the fraction. */
  readonly tangent: Float64Array;
  readonly tangentFraction: number;
  readonly sign: number;
}

class Path {
  readonly equations: FrameEquations;
  readonly coldSign: number;
  private readonly slope: Float64Array;

  constructor(
    private readonly network: ElectroThermalNetwork,
    private readonly options: CharacteristicOptions,
  ) {
    checkNetwork(network);
    requireHeatPath(network);
    const { sources } = options;
    const ambient = coldestSurroundings(network);
    const fewest = options.fewestElements ?? 2;
    const sizes = network.branches.map((branch) => Math.max(fewest, firstMeshSize(branch, ambient)));
    this.equations = createEquations(network, createLayout(network, { sizes, sources, storesHeat: false }));
    this.coldSign = coldSign(this.equations, sources);
    this.slope = new Float64Array(this.equations.layout.nEntries);
    driveSlopeInto(this.slope, this.equations.layout, sources);
  }

  drive(fraction: number): Drive {
    return { sources: this.options.sources, fraction };
  }

  /** Product of two directions: mean square of temperatures, and the fraction. */
  private dot(a: Float64Array, b: Float64Array): number {
    const n = this.equations.layout.nTemperatures;
    let sum = 0;
    for (let k = 0; k < n; k++) sum += a[k]! * b[k]!;
    return sum / (n * temperatureScale ** 2);
  }

  /** The point with its tangent in the sense of `before`; the factors must be of `x`. */
  private finish(x: Float64Array, fraction: number, options: { sign: number; before: PathPoint | undefined }): PathPoint {
    const { sign, before } = options;
    const tangent = Float64Array.from(this.slope);
    solveFrameInto(tangent, this.equations);
    const length = Math.sqrt(this.dot(tangent, tangent) + 1);
    let sense = 1 / length;
    if (before !== undefined && before.tangentFraction - this.dot(tangent, before.tangent) < 0) sense = -sense;
    // dF/dx t + dF/dfraction = 0
    return { x, fraction, tangent: tangent.map((value) => -sense * value), tangentFraction: sense, sign };
  }

  begin(): PathPoint {
    const { network, equations } = this;
    const x = new Float64Array(equations.layout.nEntries);
    const ambient = coldestSurroundings(network);
    spreadTemperaturesInto(x, network, {
      layout: equations.layout,
      junctionTemperatures: network.junctions.map(({ temperature }) => temperature ?? ambient),
    });
    const found = iterateNewton(x, equations, { drive: this.drive(0), tolerance: 1e-6 });
    if (!found.isConverged) throw stuck(0);
    const { sign } = linearise(new Float64Array(x.length), equations, { x, drive: this.drive(0) });
    return this.finish(x, 0, { sign, before: undefined });
  }

  /** The point at distance `ds` along the tangent of `from`; undefined where it is not found. */
  step(from: PathPoint, ds: number): { point: PathPoint; iterations: number } | undefined {
    const { equations } = this;
    const x = from.x.map((value, k) => value + ds * from.tangent[k]!);
    let fraction = from.fraction + ds * from.tangentFraction;
    const residual = new Float64Array(x.length);
    const onDrive = new Float64Array(x.length);
    const gone = new Float64Array(x.length);
    for (let iteration = 1; iteration <= maxIterations; iteration++) {
      const { sign } = linearise(residual, equations, { x, drive: this.drive(fraction) });
      if (sign === 0 || Number.isNaN(sign)) return undefined;
      solveFrameInto(residual, equations);
      onDrive.set(this.slope);
      solveFrameInto(onDrive, equations);
      for (let k = 0; k < x.length; k++) gone[k] = x[k]! - from.x[k]!;
      const distance = this.dot(from.tangent, gone) + from.tangentFraction * (fraction - from.fraction) - ds;
      const change = (this.dot(from.tangent, residual) - distance) / (from.tangentFraction - this.dot(from.tangent, onDrive));
      for (let k = 0; k < x.length; k++) {
        gone[k] = -residual[k]! - change * onDrive[k]!;
        x[k] = x[k]! + gone[k]!;
      }
      fraction += change;
      const size = Math.sqrt(this.dot(gone, gone) + change * change);
      if (!Number.isFinite(size) || size > 10 * Math.max(largestStep, ds)) return undefined;
      if (size <= pointTolerance) {
        const fresh = linearise(residual, equations, { x, drive: this.drive(fraction) }).sign;
        return { point: this.finish(x, fraction, { sign: fresh, before: from }), iterations: iteration };
      }
    }
    return undefined;
  }

  /** The point between two others at which the fraction turns, by regula falsi on the distance from the first. */
  turn(from: PathPoint, ds: number, to: PathPoint): PathPoint {
    let [low, atLow, high, atHigh] = [0, from.tangentFraction, ds, to.tangentFraction];
    let best = to;
    for (let k = 0; k < 20 && Math.abs(best.tangentFraction) > 1e-7; k++) {
      const middle = (low * atHigh - high * atLow) / (atHigh - atLow);
      const found = this.step(from, middle);
      if (found === undefined) break;
      best = found.point;
      if (best.tangentFraction * atHigh > 0) [high, atHigh, atLow] = [middle, best.tangentFraction, atLow / 2];
      else [low, atLow, atHigh] = [middle, best.tangentFraction, atHigh / 2];
    }
    return best;
  }

  describe(point: PathPoint, isTurn: boolean): CharacteristicPoint {
    const { layout } = this.equations;
    const { potentialEntry, sourceEntry, nTemperatures } = layout;
    const { x } = point;
    const { sources } = this.options;
    return {
      fraction: point.fraction,
      hottestTemperature: x.subarray(0, nTemperatures).reduce((max, T) => Math.max(max, T), 0),
      sourceCurrents: x.slice(sourceEntry, sourceEntry + sources.length),
      sourceVoltages: Float64Array.from(sources, ({ plus, minus }) => x[potentialEntry + plus]! - x[potentialEntry + minus]!),
      hasColdSign: point.sign === this.coldSign,
      isTurn,
    };
  }

  /** All points from the cold frame on, turning points among them. */
  follow(): {
    path: { point: PathPoint; isTurn: boolean }[];
    branchPoints: { from: number; to: number }[];
    endedBy: Characteristic["endedBy"];
  } {
    const { hottest, largestFraction, mostPoints = 500 } = this.options;
    const { nTemperatures } = this.equations.layout;
    let point = this.begin();
    const path = [{ point, isTurn: false }];
    const branchPoints: { from: number; to: number }[] = [];
    let ds = firstStep;
    while (path.length < mostPoints) {
      const found = this.step(point, ds);
      if (found === undefined) {
        ds /= 2;
        if (ds < leastStep) throw stuck(point.fraction);
        continue;
      }
      const next = found.point;
      const isTurned = next.tangentFraction * point.tangentFraction < 0;
      if (isTurned) path.push({ point: this.turn(point, ds, next), isTurn: true });
      if ((next.sign !== point.sign) !== isTurned) branchPoints.push({ from: point.fraction, to: next.fraction });
      path.push({ point: next, isTurn: false });
      point = next;
      if (point.x.subarray(0, nTemperatures).some((T) => T > hottest)) return { path, branchPoints, endedBy: "hottest" };
      if (point.fraction > largestFraction) return { path, branchPoints, endedBy: "largest fraction" };
      if (point.fraction < 0) return { path, branchPoints, endedBy: "back to zero" };
      const factor = found.iterations <= easyIterations ? 1.5 : found.iterations <= easyIterations + 2 ? 1 : 0.5;
      // far up, where the laws have long become even, steps grow with the rise itself
      const rise = Math.sqrt(
        path[path.length - 1]!.point.x.subarray(0, nTemperatures).reduce((sum, T) => sum + T * T, 0) / nTemperatures,
      );
      ds = Math.min(largestStep * Math.max(1, rise / (5 * temperatureScale)), ds * factor);
    }
    return { path, branchPoints, endedBy: "most points" };
  }
}

function stuck(fraction: number): SolveError {
  return new SolveError("Cannot follow the steady states any further: no next point is found however near", {
    method: "pseudo-arc-length continuation",
    iterations: maxIterations,
    residual: Number.NaN,
    target: pointTolerance,
    hint: `Lost at ${(100 * fraction).toFixed(3)} % of the drive. A law may have a kink there, or end.`,
  });
}

/** Follows the steady states from the cold frame as all sources are scaled together; current limits play no part. */
export function traceCharacteristic(network: ElectroThermalNetwork, options: CharacteristicOptions): Characteristic {
  const path = new Path(network, options);
  const { path: points, branchPoints, endedBy } = path.follow();
  return { points: points.map(({ point, isTurn }) => path.describe(point, isTurn)), branchPoints, endedBy };
}

/** States of one path at the full drive: Newton from every pair of points between which the fraction passes 1. */
function statesOnPath(path: Path, points: readonly { point: PathPoint }[]): Float64Array[] {
  const found: Float64Array[] = [];
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1]!.point;
    const b = points[i]!.point;
    if ((a.fraction - 1) * (b.fraction - 1) > 0 || b.fraction === 1) continue;
    const part = (1 - a.fraction) / (b.fraction - a.fraction);
    const x = a.x.map((value, k) => value + part * (b.x[k]! - value));
    if (iterateNewton(x, path.equations, { drive: path.drive(1), tolerance: 1e-6 }).isConverged) found.push(x);
  }
  return found;
}

/** Which sources may stand at their limit: every combination. */
function limitModes(sources: readonly ElectricSource[]): LimitModes[] {
  return sources
    .reduce<number[][]>(
      (all, source) =>
        source.kind === "voltage" && source.currentLimit !== undefined
          ? all.flatMap((modes) => [
              [...modes, 0],
              [...modes, Math.sign(source.voltage)],
            ])
          : all.map((modes) => [...modes, 0]),
      [[]],
    )
    .map((modes) => Int8Array.from(modes));
}

/** All steady states at the given drive that hang together with the cold one, stable or not; current limits are kept. */
export function findSteadyStates(network: ElectroThermalNetwork, options: CharacteristicOptions): SteadyStates {
  const { sources } = options;
  const states: StateAtDrive[] = [];
  let whole: Omit<SteadyStates, "states"> | undefined;
  for (const modes of limitModes(sources)) {
    const acting = actingSources(sources, modes);
    const path = new Path(network, { ...options, sources: acting });
    const { path: points, branchPoints, endedBy } = path.follow();
    whole ??= {
      largestFraction: points.reduce((max, { point }) => Math.max(max, point.fraction), 0),
      endedBy,
      branchPoints,
    };
    const { layout } = path.equations;
    for (const x of statesOnPath(path, points)) {
      if (sources.some((source, index) => overstep(source, x, { layout, index, mode: modes[index]! }) > 1e-6)) continue;
      states.push(describeState(path, x, { acting, sources, modes }));
    }
  }
  const heat = ({ state }: StateAtDrive): number =>
    state.fields.reduce((max, { temperatures }) => Math.max(max, ...temperatures), 0);
  return { ...whole!, states: states.sort((a, b) => heat(a) - heat(b)) };
}

function describeState(
  path: Path,
  x: Float64Array,
  options: { acting: readonly ElectricSource[]; sources: readonly ElectricSource[]; modes: LimitModes },
): StateAtDrive {
  const { equations } = path;
  const { network } = equations;
  const { acting, sources, modes } = options;
  const branches = createBranchStates(network, equations.layout);
  readBranches(branches, x, equations.layout);
  const { balance } = balanceEnergy(equations, { x, branches, sources: acting });
  const solution = {
    ...readSolution({ equations, branches, x }, acting),
    isLimited: Array.from(modes, (mode) => mode !== 0),
  };
  const frame = lineariseFrame(network, { state: solution, sources });
  const hasCapacity =
    network.branches.some(({ heatCapacity }) => heatCapacity !== undefined) ||
    network.junctions.some(({ heatCapacity }) => heatCapacity !== undefined);
  const rates = hasCapacity ? frame.decayModes(8).map(({ rate }) => rate) : [];
  const slowestRate = rates.length === 0 ? Number.NaN : Math.min(...rates);
  return {
    state: { outcome: "steady", ...solution, energy: balance, iterations: 0 },
    isStable: frame.sign === path.coldSign && !(slowestRate < 0),
    slowestRate,
  };
}
