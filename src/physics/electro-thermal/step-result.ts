/** What one step in time comes to, whatever the method. */
import type { FrameEquations } from "./frame-equations.ts";
import type { ElectricSource } from "./network.ts";

export interface StepResult {
  /** By entries. */
  readonly end: Float64Array;
  /** Rates at the end, by entries: [K/s], [A/s], [V/s]. */
  readonly rates: Float64Array;
  /** Largest difference of the two answers [K]. */
  readonly error: number;
  /** Energy of each source over the step [J]. */
  readonly sourceEnergies: Float64Array;
  /** Heat set free in the wiring off the frame [J]. */
  readonly leadEnergy: number;
  /** Heat that left the frame [J]. */
  readonly energyOut: number;
}

/** Power of a source at the state `x` [W]. */
export function sourcePower(
  equations: FrameEquations,
  x: Float64Array,
  options: { source: ElectricSource; index: number },
): number {
  const { potentialEntry, sourceEntry } = equations.layout;
  const { source, index } = options;
  return (x[potentialEntry + source.plus]! - x[potentialEntry + source.minus]!) * x[sourceEntry + index]!;
}

/** Heat that flows into held junctions [W], from a residual. */
export function heldHeat(equations: FrameEquations, residual: Float64Array): number {
  const { network, layout } = equations;
  let heat = 0;
  for (let j = 0; j < network.junctions.length; j++) {
    if (network.junctions[j]!.temperature !== undefined) heat -= residual[layout.junctionEntry + j]!;
  }
  return heat;
}
