/**
 * Energy balance of a steady state by a route that shares nothing with the assembly but the fields themselves:
 * electric power at the terminals against end heat flows -A d(integral of k dT)/dx of the interpolants, sink conductances, and side loss
 * integrated with Gauss-Legendre points. The Galerkin equations balance their own sums exactly; this balance does not,
 * so it measures the discretisation error. Main test: electro-thermal-theory.test.ts.
 */
import { type BranchState, lossAlong } from "./branch-state.ts";
import type { FrameEquations } from "./frame-equations.ts";
import { type ElectricSource, steadyConductance } from "./network.ts";
import { degree, derivative, gaussCheck, gaussInterpolation, nNodes } from "./reference-element.ts";
import { sampledLaw } from "./sampled-law.ts";

export interface EnergyBalance {
  /** Power that the sources deliver at the terminals [W]. */
  readonly terminalPower: number;
  /** Part of it set free in the wiring between terminals and junctions [W]. */
  readonly leadPower: number;
  /** Heat into junctions of held temperature [W]. */
  readonly heldHeat: number;
  /** Heat through the sink conductances of junctions [W]. */
  readonly sinkHeat: number;
  /** Heat lost by the sides of branches [W]. */
  readonly sideHeat: number;
  /** Heat lost by the lumped surfaces of junctions [W]. */
  readonly lumpedHeat: number;
  /** Largest of these flows, or the rounding floor of the frame where nothing flows [W]. */
  readonly scale: number;
  /** |in - out| over `scale`. */
  readonly relativeDefect: number;
}

interface BranchBalance {
  /** Heat leaving through the start and the end [W], from the derivative of the field. */
  readonly outAtStart: number;
  readonly outAtEnd: number;
  readonly sideHeat: number;
  readonly jouleHeat: number;
}

/** Three-point Gauss rule on [0, 1]. */
const stretch = { nodes: [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)], weights: [5 / 18, 8 / 18, 5 / 18] } as const;
const integrals = new Float64Array(nNodes);

/** Conductivity integrated over temperature at the nodes of one element [W/m], from its first node on. */
function integrateConductivity(state: BranchState, element: number): void {
  const { branch, temperatures } = state;
  const conductivity = sampledLaw(branch.thermalConductivity);
  const first = element * degree;
  integrals[0] = 0;
  for (let i = 1; i < nNodes; i++) {
    const T = temperatures[first + i - 1]!;
    const rise = temperatures[first + i]! - T;
    let mean = 0;
    for (let g = 0; g < 3; g++) mean += stretch.weights[g]! * conductivity.at(T + stretch.nodes[g]! * rise);
    integrals[i] = integrals[i - 1]! + mean * rise;
  }
}

/** Heat that flows against x at the start and at the end of an element [W]: A times the slope of the integral, smooth across kinks of k. */
function elementFlows(state: BranchState, element: number): { readonly start: number; readonly end: number } {
  const { branch, areas, nElements } = state;
  integrateConductivity(state, element);
  let start = 0;
  let end = 0;
  for (let j = 0; j < nNodes; j++) {
    start += derivative[j]! * integrals[j]!;
    end += derivative[degree * nNodes + j]! * integrals[j]!;
  }
  const scale = (2 * nElements) / branch.length;
  return { start: scale * areas[element * degree]! * start, end: scale * areas[(element + 1) * degree]! * end };
}

/** Heat balance of one branch from its field alone. */
function branchBalance(state: BranchState): BranchBalance {
  const { branch, temperatures, areas, nElements, current } = state;
  const h = branch.length / nElements;
  const n = temperatures.length;
  const atStart = elementFlows(state, 0);
  const outAtStart = atStart.start;
  const outAtEnd = -(nElements === 1 ? atStart : elementFlows(state, nElements - 1)).end;
  let sideHeat = 0;
  let jouleHeat = 0;
  if (branch.exchange !== undefined || (branch.resistivity !== undefined && current !== 0)) {
    for (let e = 0; e < nElements; e++) {
      for (let g = 0; g < gaussCheck.nodes.length; g++) {
        const x = gaussCheck.nodes[g]!;
        let T = 0;
        for (let i = 0; i < nNodes; i++) T += gaussInterpolation[g * nNodes + i]! * temperatures[e * degree + i]!;
        const s = (e + 0.5 * (1 + x)) / nElements;
        const part = 0.5 * h * gaussCheck.weights[g]!;
        if (branch.exchange !== undefined) sideHeat += part * lossAlong(branch, s, T);
        if (branch.resistivity !== undefined) {
          const area = areas[0]! + (areas[n - 1]! - areas[0]!) * s;
          jouleHeat += (part * current * current * branch.resistivity.at(T)) / area;
        }
      }
    }
  }
  return { outAtStart, outAtEnd, sideHeat, jouleHeat };
}

/** Largest difference of the flows that neighbouring elements see at their common node [W]; none where they are well resolved. */
function fluxJump(state: BranchState): number {
  const { nElements } = state;
  if (nElements === 1) return 0;
  let worst = 0;
  let before = elementFlows(state, 0).end;
  for (let e = 1; e < nElements; e++) {
    const flows = elementFlows(state, e);
    worst = Math.max(worst, Math.abs(flows.start - before));
    before = flows.end;
  }
  return worst;
}

/** A heat flow [W] so small that rounding of the nodal temperatures makes up a part of about 1e-6 of it. */
function roundingFloor(state: BranchState): number {
  const T = state.temperatures[0]!;
  return (1e-8 * T * state.branch.thermalConductivity.at(T) * state.areas[0]!) / state.branch.length;
}

function weighted(x: Float64Array, entries: Int32Array, weights: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < entries.length; i++) sum += weights[i]! * x[entries[i]!]!;
  return sum;
}

/** Heat that leaves each branch through the gas towards others [W], between interpolated fields. */
function couplingHeat(equations: FrameEquations, x: Float64Array): Float64Array {
  const { network, layout } = equations;
  const heat = new Float64Array(network.branches.length);
  for (const { coupling, points, entriesA, entriesB } of layout.couplings) {
    const { a, b, exchange } = network.couplings![coupling]!;
    for (const { length, weightsA, weightsB } of points) {
      const Ta = weighted(x, entriesA, weightsA);
      const Tb = weighted(x, entriesB, weightsB);
      const flow = length * exchange.flowAt(Ta, Tb);
      heat[a.branch] = heat[a.branch]! + flow;
      if ("branch" in b) heat[b.branch] = heat[b.branch]! - flow;
    }
  }
  return heat;
}

/** The balance of the whole frame and the defect of every branch [W], by which meshes are refined. */
export function balanceEnergy(
  equations: FrameEquations,
  options: {
    readonly x: Float64Array;
    /** Filled from `x`. */
    readonly branches: readonly BranchState[];
    readonly sources: readonly ElectricSource[];
  },
): { readonly balance: EnergyBalance; readonly branchDefects: Float64Array } {
  const { network, layout } = equations;
  const { x, branches, sources } = options;
  const branchDefects = new Float64Array(branches.length);
  const coupled = couplingHeat(equations, x);
  let heldHeat = 0;
  let sideHeat = 0;
  let scale = 0;
  let floor = 0;
  branches.forEach((branchState, b) => {
    floor = Math.max(floor, roundingFloor(branchState));
    const part = branchBalance(branchState);
    const { from, to } = branchState.branch;
    if (network.junctions[from]!.temperature !== undefined) heldHeat += part.outAtStart;
    if (network.junctions[to]!.temperature !== undefined) heldHeat += part.outAtEnd;
    sideHeat += part.sideHeat;
    scale = Math.max(scale, Math.abs(part.outAtStart), Math.abs(part.outAtEnd));
    branchDefects[b] =
      Math.abs(part.jouleHeat - part.sideHeat - coupled[b]! - part.outAtStart - part.outAtEnd) + fluxJump(branchState);
  });
  let sinkHeat = 0;
  let lumpedHeat = 0;
  network.junctions.forEach((junction, j) => {
    if (junction.temperature !== undefined) return;
    const T = x[layout.junctionEntry + j]!;
    for (const sink of junction.sinks ?? []) sinkHeat += steadyConductance(sink) * (T - sink.temperature);
    if (junction.exchange !== undefined) lumpedHeat += junction.exchange.lossAt(T);
  });
  const leadPower = layout.leads.reduce((sum, { from, to, conductance }) => sum + conductance * (x[from]! - x[to]!) ** 2, 0);
  const terminalPower = sources.reduce((sum, { plus, minus }, s) => {
    const { potentialEntry, sourceEntry } = layout;
    return sum + (x[potentialEntry + plus]! - x[potentialEntry + minus]!) * x[sourceEntry + s]!;
  }, 0);
  // What the gas brings to a held junction is no end flow of any branch.
  heldHeat += heldCouplingHeat(equations, x);
  scale = Math.max(scale, floor, Math.abs(terminalPower), Math.abs(sinkHeat), Math.abs(sideHeat), Math.abs(lumpedHeat));
  const defect = Math.abs(terminalPower - leadPower - heldHeat - sinkHeat - sideHeat - lumpedHeat);
  return {
    balance: {
      terminalPower,
      leadPower,
      heldHeat,
      sinkHeat,
      sideHeat,
      lumpedHeat,
      scale,
      relativeDefect: defect / scale,
    },
    branchDefects,
  };
}

/** Heat that couplings bring to held junctions [W]. */
function heldCouplingHeat(equations: FrameEquations, x: Float64Array): number {
  const { network, layout } = equations;
  let heat = 0;
  for (const { coupling, points, entriesA, entriesB } of layout.couplings) {
    const { b, exchange } = network.couplings![coupling]!;
    if (!("junction" in b) || network.junctions[b.junction]!.temperature === undefined) continue;
    for (const { length, weightsA } of points) {
      const Ta = weighted(x, entriesA, weightsA);
      heat += length * exchange.flowAt(Ta, x[entriesB[0]!]!);
    }
  }
  return heat;
}
