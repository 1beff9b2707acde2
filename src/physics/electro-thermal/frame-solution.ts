/**
 * A solved frame as a result: fields along branches, temperatures, potentials and currents read from its vector of unknowns, and back.
 */
import type { BranchState } from "./branch-state.ts";
import { type BranchField, fieldOfBranch } from "./field.ts";
import type { FrameEquations } from "./frame-equations.ts";
import { carryFieldsInto, junctionTemperaturesOf } from "./frame-state.ts";
import type { ElectricSource } from "./network.ts";

/** Everything that stands in the unknowns of a frame. */
export interface FrameSolution {
  /** One field per branch, in the order of the network. */
  readonly fields: readonly BranchField[];
  /** [K] */
  readonly junctionTemperatures: Float64Array;
  /** [V], against the grounded terminal (the minus pole of the first source). */
  readonly junctionPotentials: Float64Array;
  readonly terminalPotentials: Float64Array;
  /** Current out of the plus pole of each source [A]. */
  readonly sourceCurrents: Float64Array;
  /** Voltage between the poles of each source [V]. */
  readonly sourceVoltages: Float64Array;
  /** True where a voltage source stands at its current limit. */
  readonly isLimited: readonly boolean[];
}

/** What the vector `x` says. The branch states must have been read from it. */
export function readSolution(
  system: { readonly equations: FrameEquations; readonly branches: readonly BranchState[]; readonly x: Float64Array },
  sources: readonly ElectricSource[],
): FrameSolution {
  const { equations, branches, x } = system;
  const { network, layout } = equations;
  const { potentialEntry, sourceEntry, nodeOfJunction } = layout;
  return {
    fields: branches.map(fieldOfBranch),
    junctionTemperatures: junctionTemperaturesOf(x, network, layout),
    junctionPotentials: Float64Array.from(nodeOfJunction, (node) => x[potentialEntry + node]!),
    terminalPotentials: x.slice(potentialEntry, potentialEntry + network.nTerminals),
    sourceCurrents: x.slice(sourceEntry, sourceEntry + sources.length),
    sourceVoltages: Float64Array.from(sources, ({ plus, minus }) => x[potentialEntry + plus]! - x[potentialEntry + minus]!),
    isLimited: sources.map(() => false),
  };
}

/** The vector of a solution, on the layout of the same network with the same sources. */
export function writeSolutionInto(x: Float64Array, equations: FrameEquations, solution: FrameSolution): void {
  const { network, layout } = equations;
  const { potentialEntry, sourceEntry, nodeOfJunction } = layout;
  carryFieldsInto(x, network, { layout, ...solution });
  nodeOfJunction.forEach((node, j) => {
    x[potentialEntry + node] = solution.junctionPotentials[j]!;
  });
  x.set(solution.terminalPotentials, potentialEntry);
  x.set(solution.sourceCurrents, sourceEntry);
}
