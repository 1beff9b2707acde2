/**
 * Heat stored in a frame between two states: the heat capacities integrated over temperature, node by node.
 */
import type { FrameEquations } from "./frame-equations.ts";
import { nNodes } from "./reference-element.ts";

/** Three-point Gauss rule on [0, 1]: exact for heat capacities up to the fifth power of temperature. */
const nodes = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
const weights = [5 / 18, 8 / 18, 5 / 18] as const;

/** Heat [J] stored on going from the state `from` to the state `to`, both by entries. */
export function storedHeat(equations: FrameEquations, from: Float64Array, to: Float64Array): number {
  const { layout, elements } = equations;
  const { lumpedCapacities, junctionEntry } = layout;
  let heat = 0;
  for (const { heatCapacity, volumes, entries } of elements) {
    if (heatCapacity === undefined) continue;
    for (let i = 0; i < nNodes; i++) {
      const T0 = from[entries[i]!]!;
      const rise = to[entries[i]!]! - T0;
      if (rise === 0) continue;
      let mean = 0;
      for (let g = 0; g < 3; g++) mean += weights[g]! * heatCapacity.at(T0 + nodes[g]! * rise);
      heat += volumes[i]! * mean * rise;
    }
  }
  for (let k = 0; k < lumpedCapacities.length; k++)
    heat += lumpedCapacities[k]! * (to[junctionEntry + k]! - from[junctionEntry + k]!);
  return heat;
}
