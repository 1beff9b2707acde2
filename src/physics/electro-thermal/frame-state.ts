/**
 * The vector of a frame's unknowns, read and written as temperatures along branches, junctions, potentials and currents.
 */
import { type BranchState, createBranchState } from "./branch-state.ts";
import { type BranchField, temperatureAlong } from "./field.ts";
import { elementWidth, type FrameLayout } from "./frame-layout.ts";
import type { ElectroThermalNetwork } from "./network.ts";
import { degree, nNodes } from "./reference-element.ts";

/** Temperatures of a branch from the vector `x`. */
function gatherBranchInto(temperatures: Float64Array, x: Float64Array, options: { layout: FrameLayout; branch: number }): void {
  const { layout, branch } = options;
  const { elementEntries, firstElement } = layout;
  for (let e = firstElement[branch]!; e < firstElement[branch + 1]!; e++) {
    const first = (e - firstElement[branch]!) * degree;
    for (let i = 0; i < nNodes; i++) temperatures[first + i] = x[elementEntries[e * elementWidth + i]!]!;
  }
}

function scatterBranchInto(x: Float64Array, temperatures: Float64Array, options: { layout: FrameLayout; branch: number }): void {
  const { layout, branch } = options;
  const { elementEntries, firstElement } = layout;
  const last = temperatures.length - 1;
  for (let e = firstElement[branch]!; e < firstElement[branch + 1]!; e++) {
    const first = (e - firstElement[branch]!) * degree;
    // The ends belong to the junctions.
    for (let i = 0; i < nNodes; i++) {
      const node = first + i;
      if (node > 0 && node < last) x[elementEntries[e * elementWidth + i]!] = temperatures[node]!;
    }
  }
}

export function createBranchStates(network: ElectroThermalNetwork, layout: FrameLayout): BranchState[] {
  return network.branches.map((branch, b) => createBranchState(branch, layout.sizes[b]!));
}

/** Fills the branch states from the vector. */
export function readBranches(states: readonly BranchState[], x: Float64Array, layout: FrameLayout): void {
  states.forEach((state, branch) => {
    gatherBranchInto(state.temperatures, x, { layout, branch });
    const entry = layout.currentEntries[branch]!;
    state.current = entry < 0 ? 0 : x[entry]!;
  });
}

/** All junctions and ladder nodes from their temperatures, branches straight in between; no current. */
export function spreadTemperaturesInto(
  x: Float64Array,
  network: ElectroThermalNetwork,
  options: { readonly layout: FrameLayout; readonly junctionTemperatures: ArrayLike<number> },
): void {
  const { layout, junctionTemperatures } = options;
  x.fill(0);
  for (let j = 0; j < network.junctions.length; j++) x[layout.junctionEntry + j] = junctionTemperatures[j]!;
  setLaddersSteady(x, layout);
  network.branches.forEach(({ from, to }, branch) => {
    const n = layout.sizes[branch]! * degree + 1;
    const state = Float64Array.from({ length: n }, (_, i) => i / (n - 1));
    const start = junctionTemperatures[from]!;
    const rise = junctionTemperatures[to]! - start;
    scatterBranchInto(
      x,
      state.map((s) => start + rise * s),
      { layout, branch },
    );
  });
}

/** Ladder nodes as steady heat leaves them. */
export function setLaddersSteady(x: Float64Array, layout: FrameLayout): void {
  for (const { junction, temperature, nodes } of layout.ladders) {
    const start = x[layout.junctionEntry + junction]!;
    for (const { entry, part } of nodes) x[entry] = start + part * (temperature - start);
  }
}

/** Temperatures and currents of fields on any mesh of the same network; potentials are left alone. */
export function carryFieldsInto(
  x: Float64Array,
  network: ElectroThermalNetwork,
  options: {
    readonly layout: FrameLayout;
    readonly fields: readonly BranchField[];
    readonly junctionTemperatures: ArrayLike<number>;
  },
): void {
  const { layout, fields, junctionTemperatures } = options;
  network.junctions.forEach((junction, j) => {
    x[layout.junctionEntry + j] = junction.temperature ?? junctionTemperatures[j]!;
  });
  setLaddersSteady(x, layout);
  network.branches.forEach((branch, b) => {
    const field = fields[b]!;
    const entry = layout.currentEntries[b]!;
    if (entry >= 0) x[entry] = field.current;
    if (layout.sizes[b] === field.nElements) {
      scatterBranchInto(x, field.temperatures, { layout, branch: b });
      return;
    }
    const { positions } = createBranchState(branch, layout.sizes[b]!);
    scatterBranchInto(
      x,
      positions.map((position) => temperatureAlong(field, (position * field.length) / branch.length)),
      { layout, branch: b },
    );
  });
}

export function junctionTemperaturesOf(x: Float64Array, network: ElectroThermalNetwork, layout: FrameLayout): Float64Array {
  return x.slice(layout.junctionEntry, layout.junctionEntry + network.junctions.length);
}
