/**
 * A frame about one of its steady states: first-order answers to changed parameters, decay rates, small-signal bandwidth.
 *
 * The tangent is factored once. A neighbouring network of the same topology costs one residual and one back-substitution: the change
 * is exact to the first order, its error of the second in the step. Decay rates: C dT/dt + J T = 0 by Arnoldi on the inverse J^-1 C,
 * which finds the slowest first (Golub & Van Loan, section 10.5, key golub2013, from memory).
 * Validity: constant sources; limited sources stay at their limit. Main test: linearised-frame.test.ts.
 */
import { createRandomSource } from "#base";
import {
  createEquations,
  type Drive,
  evaluateResidualInto,
  type FrameEquations,
  linearise,
  neighbourEquations,
  solveFrameInto,
} from "./frame-equations.ts";
import { createLayout, elementWidth } from "./frame-layout.ts";
import { type FrameSolution, readSolution, writeSolutionInto } from "./frame-solution.ts";
import { createBranchStates, readBranches } from "./frame-state.ts";
import { hessenbergEigenvalues } from "./hessenberg.ts";
import { checkNetwork, type ElectricSource, type ElectroThermalNetwork } from "./network.ts";
import { lobattoWeights, nNodes } from "./reference-element.ts";

/** A mode of the linearised frame that goes as exp(-rate t) cos(frequency t). */
export interface DecayMode {
  /** [1/s]; negative where the state is unstable. */
  readonly rate: number;
  /** [rad/s] */
  readonly frequency: number;
}

export interface LinearisedFrame {
  /** Sign of the determinant of the tangent. */
  readonly sign: number;
  /**
   * The state that a neighbouring network (same topology, other numbers) has under neighbouring sources, to the first order.
   */
  respondTo(network: ElectroThermalNetwork, sources: readonly ElectricSource[]): FrameSolution;
  /** The slowest `count` modes, slowest first; fewer where the frame has fewer. */
  decayModes(count: number): readonly DecayMode[];
  /** Time constants [s] of the slowest `count` modes. */
  timeConstants(count: number): Float64Array;
  /**
   * Frequency [Hz] at which the mean temperature of some branches follows small changes of one source with 1/sqrt(2) of its steady answer.
   */
  bandwidth(options: { readonly source: number; readonly branches: readonly number[] }): number;
}

/** The sources as they act in a state: one at its limit holds its current. */
function actingAt(sources: readonly ElectricSource[], state: FrameSolution): readonly ElectricSource[] {
  return sources.map((source, s) => {
    if (source.kind !== "voltage" || state.isLimited[s] !== true) return source;
    const current = Math.sign(state.sourceCurrents[s]!) * source.currentLimit!;
    return { kind: "current", current, plus: source.plus, minus: source.minus };
  });
}

interface Krylov {
  /** Rows are basis vectors, orthonormal in the heat capacities; [m][nTemperatures]. */
  readonly basis: readonly Float64Array[];
  /** [m x m] row-major, upper Hessenberg. */
  readonly matrix: Float64Array;
  readonly m: number;
  /** Length of the start vector. */
  readonly length: number;
}

/** Arnoldi's method for J^-1 C on the temperatures, with full orthogonalisation done twice. */
function buildKrylov(equations: FrameEquations, start: Float64Array, most: number): Krylov {
  const { nTemperatures } = equations.layout;
  const { capacities } = equations;
  const dot = (a: Float64Array, b: Float64Array): number => {
    let sum = 0;
    for (let k = 0; k < nTemperatures; k++) sum += a[k]! * b[k]! * capacities[k]!;
    return sum;
  };
  const length = Math.sqrt(dot(start, start));
  const basis = [start.slice(0, nTemperatures).map((value) => value / length)];
  const rows: number[][] = [];
  const work = new Float64Array(equations.layout.nEntries);
  for (let m = 1; m <= most; m++) {
    work.fill(0);
    for (let k = 0; k < nTemperatures; k++) work[k] = capacities[k]! * basis[m - 1]![k]!;
    solveFrameInto(work, equations);
    const next = work.slice(0, nTemperatures);
    const before = Math.sqrt(dot(next, next));
    const column = new Array<number>(m).fill(0);
    for (let pass = 0; pass < 2; pass++) {
      basis.forEach((vector, i) => {
        const part = dot(next, vector);
        column[i] = column[i]! + part;
        for (let k = 0; k < nTemperatures; k++) next[k] = next[k]! - part * vector[k]!;
      });
    }
    const left = Math.sqrt(dot(next, next));
    rows.push([...column, left]);
    // nothing new: the space is complete
    if (!(left > 1e-12 * before) || m === most) break;
    basis.push(next.map((value) => value / left));
  }
  const m = basis.length;
  const matrix = new Float64Array(m * m);
  rows.forEach((column, j) => {
    for (let i = 0; i < Math.min(m, column.length); i++) matrix[i * m + j] = column[i]!;
  });
  return { basis, matrix, m, length };
}

/** Size of c' (I + i w H)^-1 e1 by complex elimination of the Hessenberg matrix. */
function responseSize(krylov: Krylov, weights: Float64Array, omega: number): number {
  const { matrix, m } = krylov;
  const re = new Float64Array(m * m);
  const im = Float64Array.from(matrix, (value) => omega * value);
  for (let i = 0; i < m; i++) re[i * m + i] = 1;
  const xr = new Float64Array(m);
  const xi = new Float64Array(m);
  xr[0] = 1;
  // One subdiagonal: a plain forward sweep. The real part of the spectrum keeps the pivots away from zero.
  for (let k = 0; k + 1 < m; k++) {
    const [pr, pi] = [re[k * m + k]!, im[k * m + k]!];
    const size = pr * pr + pi * pi;
    const [ar, ai] = [re[(k + 1) * m + k]!, im[(k + 1) * m + k]!];
    const fr = (ar * pr + ai * pi) / size;
    const fi = (ai * pr - ar * pi) / size;
    for (let j = k; j < m; j++) {
      const [br, bi] = [re[k * m + j]!, im[k * m + j]!];
      re[(k + 1) * m + j] = re[(k + 1) * m + j]! - fr * br + fi * bi;
      im[(k + 1) * m + j] = im[(k + 1) * m + j]! - fr * bi - fi * br;
    }
    xr[k + 1] = xr[k + 1]! - fr * xr[k]! + fi * xi[k]!;
    xi[k + 1] = xi[k + 1]! - fr * xi[k]! - fi * xr[k]!;
  }
  for (let k = m - 1; k >= 0; k--) {
    let sr = xr[k]!;
    let si = xi[k]!;
    for (let j = k + 1; j < m; j++) {
      sr -= re[k * m + j]! * xr[j]! - im[k * m + j]! * xi[j]!;
      si -= re[k * m + j]! * xi[j]! + im[k * m + j]! * xr[j]!;
    }
    const [pr, pi] = [re[k * m + k]!, im[k * m + k]!];
    const size = pr * pr + pi * pi;
    xr[k] = (sr * pr + si * pi) / size;
    xi[k] = (si * pr - sr * pi) / size;
  }
  let sumR = 0;
  let sumI = 0;
  for (let k = 0; k < m; k++) {
    sumR += weights[k]! * xr[k]!;
    sumI += weights[k]! * xi[k]!;
  }
  return Math.hypot(sumR, sumI);
}

/** Vectors beyond those asked for, so that the last mode asked for has converged. */
const spareVectors = 25;
const bandwidthVectors = 40;

class Linearised implements LinearisedFrame {
  readonly sign: number;
  private readonly steady: FrameEquations;
  private readonly x: Float64Array;
  private readonly ownResidual: Float64Array;
  private dynamicMade: FrameEquations | undefined;

  constructor(
    private readonly network: ElectroThermalNetwork,
    private readonly sources: readonly ElectricSource[],
    private readonly state: FrameSolution,
  ) {
    checkNetwork(network);
    this.steady = this.equationsFor(false);
    this.x = new Float64Array(this.steady.layout.nEntries);
    writeSolutionInto(this.x, this.steady, state);
    this.ownResidual = new Float64Array(this.x.length);
    const drive = { sources: actingAt(sources, state), fraction: 1 };
    this.sign = linearise(this.ownResidual, this.steady, { x: this.x, drive }).sign;
    // read as neighbours are read, so that only what differs between the two is answered
    evaluateResidualInto(this.ownResidual, neighbourEquations(this.steady, network), { x: this.x, drive });
  }

  private equationsFor(storesHeat: boolean): FrameEquations {
    const { network, sources, state } = this;
    const sizes = state.fields.map(({ nElements }) => nElements);
    return createEquations(network, createLayout(network, { sizes, sources, storesHeat }));
  }

  respondTo(network: ElectroThermalNetwork, sources: readonly ElectricSource[]): FrameSolution {
    const { steady, state } = this;
    const { layout } = steady;
    if (network.branches.length !== this.network.branches.length || sources.length !== this.sources.length) {
      throw new RangeError(
        `Cannot respond to a neighbour: wanted ${this.network.branches.length} branches and ${this.sources.length} sources, found ${network.branches.length} and ${sources.length}`,
      );
    }
    const equations = neighbourEquations(steady, network);
    const x = Float64Array.from(this.x);
    network.junctions.forEach(({ temperature }, j) => {
      if (temperature !== undefined) x[layout.junctionEntry + j] = temperature;
    });
    const step = new Float64Array(x.length);
    const drive: Drive = { sources: actingAt(sources, state), fraction: 1 };
    evaluateResidualInto(step, equations, { x, drive });
    for (let k = 0; k < step.length; k++) step[k] = step[k]! - this.ownResidual[k]!;
    solveFrameInto(step, steady);
    for (let k = 0; k < x.length; k++) x[k] = x[k]! - step[k]!;
    const branches = createBranchStates(network, layout);
    readBranches(branches, x, layout);
    return { ...readSolution({ equations, branches, x }, sources), isLimited: state.isLimited };
  }

  /** Equations with heat capacities and ladders, factored at the state. */
  private get dynamic(): FrameEquations {
    if (this.dynamicMade === undefined) {
      const equations = this.equationsFor(true);
      const x = new Float64Array(equations.layout.nEntries);
      writeSolutionInto(x, equations, this.state);
      const drive = {
        sources: actingAt(this.sources, this.state),
        fraction: 1,
        storage: { rate: 0, base: x.slice(0, equations.layout.nTemperatures) },
      };
      linearise(new Float64Array(x.length), equations, { x, drive });
      this.dynamicMade = equations;
    }
    return this.dynamicMade;
  }

  decayModes(count: number): readonly DecayMode[] {
    const equations = this.dynamic;
    const { layout } = equations;
    // a start without any symmetry meets every mode
    const random = createRandomSource(1);
    const start = Float64Array.from({ length: layout.nTemperatures }, (_, k) =>
      layout.rowOfEntry[k] === -1 ? 0 : random.uniform(),
    );
    const { matrix, m } = buildKrylov(equations, start, 2 * count + spareVectors);
    const { real, imaginary } = hessenbergEigenvalues(matrix, m);
    const largest = real.reduce((max, value, k) => Math.max(max, Math.hypot(value, imaginary[k]!)), 0);
    return Array.from(real, (value, k) => ({ value, other: imaginary[k]!, size: Math.hypot(value, imaginary[k]!) }))
      .filter(({ size }) => size > 1e-12 * largest)
      .sort((a, b) => b.size - a.size)
      .slice(0, count)
      .map(({ value, other, size }) => ({ rate: value / size ** 2, frequency: Math.abs(other) / size ** 2 }));
  }

  timeConstants(count: number): Float64Array {
    return Float64Array.from(this.decayModes(count), ({ rate }) => 1 / rate);
  }

  bandwidth(options: { readonly source: number; readonly branches: readonly number[] }): number {
    const equations = this.dynamic;
    const { layout } = equations;
    const { source, branches } = options;
    const start = new Float64Array(layout.nEntries);
    start[layout.sourceEntry + source] = 1;
    solveFrameInto(start, equations);
    const mean = new Float64Array(layout.nTemperatures);
    for (const branch of branches) {
      for (let e = layout.firstElement[branch]!; e < layout.firstElement[branch + 1]!; e++) {
        for (let i = 0; i < nNodes; i++) {
          const entry = layout.elementEntries[e * elementWidth + i]!;
          mean[entry] = mean[entry]! + lobattoWeights[i]! / (2 * layout.sizes[branch]! * branches.length);
        }
      }
    }
    const krylov = buildKrylov(equations, start, bandwidthVectors);
    const weights = Float64Array.from(krylov.basis, (vector) => vector.reduce((sum, value, k) => sum + value * mean[k]!, 0));
    const wanted = responseSize(krylov, weights, 0) * Math.SQRT1_2;
    let low = 0;
    let high = 1 / Math.abs(this.timeConstants(1)[0]!);
    while (responseSize(krylov, weights, high) > wanted) {
      low = high;
      high *= 2;
    }
    while (high - low > 1e-10 * high) {
      const middle = 0.5 * (low + high);
      if (responseSize(krylov, weights, middle) > wanted) low = middle;
      else high = middle;
    }
    return (low + high) / (4 * Math.PI);
  }
}

/** The frame about a steady state that it has under these sources. */
export function lineariseFrame(
  network: ElectroThermalNetwork,
  options: { readonly state: FrameSolution; readonly sources: readonly ElectricSource[] },
): LinearisedFrame {
  return new Linearised(network, options.sources, options.state);
}
