/**
 * One branch as the frame model holds it while it solves: places, cross-sections and temperatures of its nodes, its current.
 */
import type { HeatExchange } from "./heat-exchange.ts";
import { type ElectroThermalBranch, numberAlong } from "./network.ts";
import { degree, lobattoNodes, nNodes } from "./reference-element.ts";

/** Arrays over nodes have nElements * degree + 1 entries. */
export interface BranchState {
  readonly branch: ElectroThermalBranch;
  readonly nElements: number;
  /** Distance from the start [m]. */
  readonly positions: Float64Array;
  /** [m^2] */
  readonly areas: Float64Array;
  /** [K] */
  readonly temperatures: Float64Array;
  /** [A], positive from start to end. */
  current: number;
}

export function createBranchState(branch: ElectroThermalBranch, nElements: number): BranchState {
  const n = nElements * degree + 1;
  const positions = new Float64Array(n);
  const areas = new Float64Array(n);
  for (let e = 0; e < nElements; e++) {
    for (let i = 0; i < nNodes; i++) {
      const s = (e + 0.5 * (1 + lobattoNodes[i]!)) / nElements;
      positions[e * degree + i] = s * branch.length;
      areas[e * degree + i] = numberAlong(branch.area, s);
    }
  }
  return { branch, nElements, positions, areas, temperatures: new Float64Array(n), current: 0 };
}

/** Exchange at the start and at the end of a branch. */
export function exchangeEnds(branch: ElectroThermalBranch): { from: HeatExchange; to: HeatExchange } | undefined {
  const { exchange } = branch;
  if (exchange === undefined) return undefined;
  return "from" in exchange ? exchange : { from: exchange, to: exchange };
}

/** Side loss per length [W/m] at relative position s and temperature T. */
export function lossAlong(branch: ElectroThermalBranch, s: number, T: number): number {
  const ends = exchangeEnds(branch);
  if (ends === undefined) return 0;
  const atStart = ends.from.lossAt(T);
  return ends.from === ends.to ? atStart : (1 - s) * atStart + s * ends.to.lossAt(T);
}
