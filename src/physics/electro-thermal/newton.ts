/**
 * Newton's method for a whole electro-thermal frame: branches condensed to four-ports, junctions and sources solved densely.
 *
 * Exact tangents, so that convergence is quadratic; steps are bounded because laws hold only over a finite range of temperature.
 * A solution is accepted only if it is thermally stable: the determinant must keep the sign it has without current (a real
 * eigenvalue that crossed zero would have flipped it), and no point may be colder than the coldest surroundings.
 * Beyond a run-away current Newton's equations often still have a solution; it fails this test.
 */
import { SolveError } from "#base";
import { factorInPlace, solveInto } from "#numerics";
import { type BranchState, condenseBranch, recoverBranch, type StageStorage } from "./branch-operator.ts";
import type { ElectricSource, ElectroThermalNetwork } from "./network.ts";
import type { Topology } from "./topology.ts";

/** Everything that the iteration changes. */
export interface FrameState {
  readonly branches: BranchState[];
  /** [K] */
  readonly junctionTemperatures: Float64Array;
  /** Potential of every electric node [V]; terminals first. */
  readonly potentials: Float64Array;
  /** Current out of the plus pole of every source [A]. */
  readonly sourceCurrents: Float64Array;
}

export interface NewtonSystem {
  readonly network: ElectroThermalNetwork;
  readonly topology: Topology;
  readonly matrix: Float64Array;
  readonly rhs: Float64Array;
  readonly pivots: Int32Array;
}

export interface DrivenSystem {
  readonly system: NewtonSystem;
  readonly sources: readonly ElectricSource[];
  /** Factor on every source. */
  readonly fraction: number;
  readonly storage?: StageStorage;
  /** Temperatures at which lumped junction heat is counted as zero; with `storage`. */
  readonly junctionBase?: Float64Array;
}

export function createNewtonSystem(network: ElectroThermalNetwork, topology: Topology): NewtonSystem {
  const n = topology.nUnknowns;
  return { network, topology, matrix: new Float64Array(n * n), rhs: new Float64Array(n), pivots: new Int32Array(n) };
}

/** Fills the junction equations from the condensed branches; returns the sign of what the branches eliminated. */
function assemble(state: FrameState, driven: DrivenSystem): number {
  const { system, sources, fraction, storage, junctionBase } = driven;
  const { network, topology, matrix, rhs } = system;
  const { temperatureRow, nodeOfJunction, potentialRow, sourceRow, nUnknowns: n } = topology;
  matrix.fill(0);
  rhs.fill(0);
  const add = (row: number, column: number, value: number): void => {
    if (row >= 0 && column >= 0) matrix[row * n + column] = matrix[row * n + column]! + value;
  };
  const push = (row: number, value: number): void => {
    if (row >= 0) rhs[row] = rhs[row]! + value;
  };
  let sign = 1;
  state.branches.forEach((branchState, b) => {
    condenseBranch(branchState, storage === undefined ? undefined : { rate: storage.rate, base: storage.base[b]! });
    const { branch, port } = branchState;
    sign *= port.sign;
    const t0 = temperatureRow[branch.from]!;
    const t1 = temperatureRow[branch.to]!;
    add(t0, t0, port.heat[0]!);
    add(t0, t1, port.heat[1]!);
    add(t1, t0, port.heat[2]!);
    add(t1, t1, port.heat[3]!);
    push(t0, port.heatRhs[0]!);
    push(t1, port.heatRhs[1]!);
    if (branch.resistivity === undefined) return;
    const v0 = potentialRow[nodeOfJunction[branch.from]!]!;
    const v1 = potentialRow[nodeOfJunction[branch.to]!]!;
    add(t0, v0, port.heatPerVoltage[0]!);
    add(t0, v1, -port.heatPerVoltage[0]!);
    add(t1, v0, port.heatPerVoltage[1]!);
    add(t1, v1, -port.heatPerVoltage[1]!);
    for (const [row, out] of [
      [v0, 1],
      [v1, -1],
    ] as const) {
      add(row, t0, out * port.currentPerT[0]!);
      add(row, t1, out * port.currentPerT[1]!);
      add(row, v0, out * port.conductance);
      add(row, v1, -out * port.conductance);
      push(row, -out * port.current0);
    }
  });
  network.junctions.forEach((junction, j) => {
    const t = temperatureRow[j]!;
    const T = state.junctionTemperatures[j]!;
    for (const sink of junction.sinks ?? []) {
      add(t, t, sink.conductance);
      push(t, -sink.conductance * (T - sink.temperature));
    }
    if (junction.exchange !== undefined) {
      add(t, t, junction.exchange.lossSlopeAt(T));
      push(t, -junction.exchange.lossAt(T));
    }
    if (storage !== undefined && junctionBase !== undefined && junction.heatCapacity !== undefined) {
      add(t, t, junction.heatCapacity * storage.rate);
      push(t, -junction.heatCapacity * storage.rate * (T - junctionBase[j]!));
    }
    if (junction.terminal !== undefined && nodeOfJunction[j] !== junction.terminal) {
      const conductance = 1 / junction.leadResistance!;
      const a = potentialRow[nodeOfJunction[j]!]!;
      const b = potentialRow[junction.terminal]!;
      add(a, a, conductance);
      add(a, b, -conductance);
      add(b, b, conductance);
      add(b, a, -conductance);
    }
  });
  sources.forEach((source, s) => {
    const plus = potentialRow[source.plus]!;
    const minus = potentialRow[source.minus]!;
    if (source.kind === "current") {
      push(plus, fraction * source.current);
      push(minus, -fraction * source.current);
      return;
    }
    const row = sourceRow[s]!;
    add(plus, row, -1);
    add(minus, row, 1);
    add(row, plus, 1);
    add(row, minus, -1);
    add(row, row, source.seriesResistance);
    push(row, fraction * source.voltage);
  });
  return sign;
}

/** Scales every row to a largest entry of 1, so that watts and amperes meet as equals in the choice of pivots. */
function equilibrateRows(system: NewtonSystem): void {
  const { matrix, rhs } = system;
  const n = rhs.length;
  for (let i = 0; i < n; i++) {
    let largest = 0;
    for (let j = 0; j < n; j++) largest = Math.max(largest, Math.abs(matrix[i * n + j]!));
    if (!(largest > 0)) continue;
    const scale = 1 / largest;
    for (let j = 0; j < n; j++) matrix[i * n + j] = matrix[i * n + j]! * scale;
    rhs[i] = rhs[i]! * scale;
  }
}

/** Factors the junction system; returns the sign of its determinant, 0 when it is singular or not finite. */
function factor(system: NewtonSystem): number {
  const { matrix, pivots } = system;
  const n = pivots.length;
  equilibrateRows(system);
  try {
    factorInPlace(matrix, n, pivots);
  } catch (error) {
    if (error instanceof SolveError) return 0;
    throw error;
  }
  let sign = 1;
  for (let k = 0; k < n; k++) {
    if (pivots[k] !== k) sign = -sign;
    if (matrix[k * n + k]! < 0) sign = -sign;
  }
  return sign;
}

/** Sign of the determinant of the whole system at the present state. */
export function determinantSign(state: FrameState, driven: DrivenSystem): number {
  return assemble(state, driven) * factor(driven.system);
}

/** Largest temperature change that one step may make [K]. */
const largestStep = 400;
const maxIterations = 25;

/** Relative change of the currents below which their heat is known as well as the temperatures are. */
const currentTolerance = 1e-6;
/** Current whose heat matters in no frame [A]; after switching off only rounding is left to settle. */
const currentFloor = 1e-12;

function haveCurrentsSettled(state: FrameState): boolean {
  let largestCurrent = 0;
  let largestChange = 0;
  for (const branch of state.branches) {
    largestCurrent = Math.max(largestCurrent, Math.abs(branch.current));
    largestChange = Math.max(largestChange, Math.abs(branch.currentChange));
  }
  return largestChange <= currentTolerance * largestCurrent + currentFloor;
}

export interface NewtonOutcome {
  readonly isConverged: boolean;
  readonly iterations: number;
  /** Sign of the determinant at the last linearisation. */
  readonly sign: number;
  /** Last temperature change [K]. */
  readonly lastChange: number;
}

/**
 * Iterates the state in place until the last full step is below `tolerance` [K]. Because convergence is quadratic, what is left
 * after that step is far smaller than the step itself.
 */
export function iterateNewton(state: FrameState, driven: DrivenSystem, tolerance: number): NewtonOutcome {
  const { system, sources, fraction } = driven;
  const { topology, rhs, matrix, pivots } = system;
  const { temperatureRow, nodeOfJunction, potentialRow, sourceRow, nUnknowns: n } = topology;
  const potentialOf = (node: number): number => (potentialRow[node]! < 0 ? 0 : rhs[potentialRow[node]!]!);
  const changeOf = (junction: number): number => (temperatureRow[junction]! < 0 ? 0 : rhs[temperatureRow[junction]!]!);
  let sign = 0;
  let largest = Number.POSITIVE_INFINITY;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const branchSign = assemble(state, driven);
    sign = branchSign * factor(system);
    if (sign === 0 || Number.isNaN(sign)) return { isConverged: false, iterations: iteration, sign: 0, lastChange: largest };
    solveInto(rhs, matrix, n, pivots);
    largest = 0;
    const ends = (branchState: BranchState, scale: number | undefined) => ({
      dT0: changeOf(branchState.branch.from),
      dT1: changeOf(branchState.branch.to),
      voltage: potentialOf(nodeOfJunction[branchState.branch.from]!) - potentialOf(nodeOfJunction[branchState.branch.to]!),
      scale,
    });
    for (const branchState of state.branches)
      largest = Math.max(largest, recoverBranch(branchState, ends(branchState, undefined)));
    if (Number.isNaN(largest)) return { isConverged: false, iterations: iteration, sign, lastChange: largest };
    const scale = Math.min(1, largestStep / largest);
    for (const branchState of state.branches) recoverBranch(branchState, ends(branchState, scale));
    for (let j = 0; j < state.junctionTemperatures.length; j++) {
      state.junctionTemperatures[j] = state.junctionTemperatures[j]! + scale * changeOf(j);
    }
    for (let node = 0; node < topology.nNodes; node++) state.potentials[node] = potentialOf(node);
    sources.forEach((source, s) => {
      state.sourceCurrents[s] = source.kind === "current" ? fraction * source.current : rhs[sourceRow[s]!]!;
    });
    // From zero current the first step finds the current but none of its heat: the current must have settled as well.
    if (scale === 1 && largest <= tolerance && haveCurrentsSettled(state))
      return { isConverged: true, iterations: iteration, sign, lastChange: largest };
  }
  return { isConverged: false, iterations: maxIterations, sign, lastChange: largest };
}
