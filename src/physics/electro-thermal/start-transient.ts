/** Temperatures that a run in time begins with, written into the vector of unknowns. */
import type { FrameEquations } from "./frame-equations.ts";
import { carryFieldsInto, spreadTemperaturesInto } from "./frame-state.ts";
import type { TransientOptions } from "./transient-history.ts";

export function startTransientInto(x: Float64Array, equations: FrameEquations, start: TransientOptions["start"]): void {
  const { layout, network } = equations;
  const firstLadder = layout.junctionEntry + network.junctions.length;
  if (typeof start === "number") {
    const junctionTemperatures = network.junctions.map(({ temperature }) => temperature ?? start);
    spreadTemperaturesInto(x, network, { layout, junctionTemperatures });
    x.fill(start, 0, layout.junctionEntry);
    x.fill(start, firstLadder, layout.nTemperatures);
    return;
  }
  carryFieldsInto(x, network, { layout, ...start });
  if ("ladderTemperatures" in start) x.set(start.ladderTemperatures, firstLadder);
}
