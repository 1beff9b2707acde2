/**
 * One branch of an electro-thermal frame: its temperatures on spectral elements, its equations and exact tangents, and their
 * condensation to the two ends.
 *
 * Equations (steady): -(k A T')' + loss(T) - I^2 rho(T)/A = 0 and V_from - V_to = I * integral rho(T)/A dx, in Galerkin form with
 * Lobatto quadrature, so that the nodal heat flows add up exactly. A transient stage adds c(T) A dT/dt on the lumped Lobatto mass.
 * Interior temperatures are eliminated element by element, the element boundaries after them, the current last: what remains is
 * a four-port in (T_from, T_to, V_from, V_to). Source: static condensation, common practice, no source.
 * Main test: electro-thermal-theory.test.ts.
 */
import type { HeatExchange } from "./heat-exchange.ts";
import { type ElectroThermalBranch, numberAlong } from "./network.ts";
import { degree, derivative, lobattoNodes, lobattoWeights, nInterior, nNodes, stiffnessProducts } from "./reference-element.ts";

/** Rows: interior, left, right, voltage equation. Columns: interior, left, right, current, right-hand side. */
const nRows = nInterior + 3;
const nColumns = nInterior + 4;
const left = nInterior;
const right = nInterior + 1;
const currentColumn = nInterior + 2;
const rhsColumn = nInterior + 3;
const elementSize = nRows * nColumns;
/** Numbers kept for each eliminated element boundary: coefficients on T_from, next boundary, current, right-hand side; pivot. */
const boundarySize = 5;

const rowOfNode = Int32Array.from({ length: nNodes }, (_, i) => (i === 0 ? left : i === degree ? right : i - 1));

/** State and workspace of one branch. Arrays over nodes have nElements * degree + 1 entries. */
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
  /** Change of the current that the last recovery found [A], unscaled. */
  currentChange: number;
  readonly elements: Float64Array;
  readonly boundaries: Float64Array;
  /** Condensed operator: see `FourPort`. */
  readonly port: FourPort;
}

/**
 * Linearised branch: heat flowing in at the start and at the end, and the current, as functions of the changes of the end values.
 * heat[i] = heatRhs moved to the left: dH_i = heat[i,0] dT0 + heat[i,1] dT1 + heatPerVoltage[i] (V0 - V1) - heatRhs[i];
 * I = current0 + currentPerT[0] dT0 + currentPerT[1] dT1 + conductance (V0 - V1).
 */
export interface FourPort {
  readonly heat: Float64Array;
  readonly heatPerVoltage: Float64Array;
  readonly heatRhs: Float64Array;
  readonly currentPerT: Float64Array;
  current0: number;
  conductance: number;
  /** Sign of the determinant of everything eliminated; 0 = an exactly singular pivot. */
  sign: number;
}

/** Backward-Euler-like stage of an implicit method: adds c A rate (T - base) to every node. */
export interface StageStorage {
  /** 1/(gamma dt) [1/s] */
  readonly rate: number;
  /** Temperatures of every branch at which the stored heat is counted as zero, [branch][node] K. */
  readonly base: readonly Float64Array[];
}

export function createBranchState(branch: ElectroThermalBranch, nElements: number, temperature: number): BranchState {
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
  return {
    branch,
    nElements,
    positions,
    areas,
    temperatures: new Float64Array(n).fill(temperature),
    current: 0,
    currentChange: 0,
    elements: new Float64Array(nElements * elementSize),
    boundaries: new Float64Array(Math.max(0, nElements - 1) * boundarySize),
    port: {
      heat: new Float64Array(4),
      heatPerVoltage: new Float64Array(2),
      heatRhs: new Float64Array(2),
      currentPerT: new Float64Array(2),
      current0: 0,
      conductance: 0,
      sign: 1,
    },
  };
}

function exchangeEnds(branch: ElectroThermalBranch): { from: HeatExchange; to: HeatExchange } | undefined {
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

function lossSlopeAlong(branch: ElectroThermalBranch, s: number, T: number): number {
  const ends = exchangeEnds(branch);
  if (ends === undefined) return 0;
  const atStart = ends.from.lossSlopeAt(T);
  return ends.from === ends.to ? atStart : (1 - s) * atStart + s * ends.to.lossSlopeAt(T);
}

const gradient = new Float64Array(nNodes);
const conductances = new Float64Array(nNodes);
const slopes = new Float64Array(nNodes);

/** Side loss of the branch as the equations hold it: by the Lobatto points [W]. */
export function assembledSideLoss(state: BranchState): number {
  const { branch, temperatures, nElements } = state;
  const half = branch.length / nElements / 2;
  let loss = 0;
  for (let e = 0; e < nElements; e++) {
    for (let i = 0; i < nNodes; i++) {
      const s = (e + 0.5 * (1 + lobattoNodes[i]!)) / nElements;
      loss += half * lobattoWeights[i]! * lossAlong(branch, s, temperatures[e * degree + i]!);
    }
  }
  return loss;
}

/** Heat flowing into the branch at its start or end as the equations hold it, without storage at the very end [W]. */
export function assembledEndFlow(state: BranchState, side: "from" | "to"): number {
  const { branch, temperatures, areas, current, nElements } = state;
  const h = branch.length / nElements;
  const first = side === "from" ? 0 : (nElements - 1) * degree;
  const end = side === "from" ? 0 : degree;
  let flow = 0;
  for (let q = 0; q < nNodes; q++) {
    let g = 0;
    for (let j = 0; j < nNodes; j++) g += derivative[q * nNodes + j]! * temperatures[first + j]!;
    const conductance = (2 / h) * areas[first + q]! * branch.thermalConductivity.at(temperatures[first + q]!);
    flow += lobattoWeights[q]! * conductance * g * derivative[q * nNodes + end]!;
  }
  const T = temperatures[first + end]!;
  const part = 0.5 * h * lobattoWeights[end]!;
  flow += part * lossAlong(branch, end === 0 ? 0 : 1, T);
  if (branch.resistivity !== undefined) flow -= (part * current * current * branch.resistivity.at(T)) / areas[first + end]!;
  return flow;
}

/** Fills the equations of element e: interior and end heat balances, its part of the voltage equation. */
function assembleElement(state: BranchState, e: number, storage: { rate: number; base: Float64Array } | undefined): void {
  const { branch, elements, temperatures, areas, current } = state;
  const { thermalConductivity, resistivity, heatCapacity } = branch;
  const at = e * elementSize;
  const h = branch.length / state.nElements;
  const first = e * degree;
  elements.fill(0, at, at + elementSize);
  for (let q = 0; q < nNodes; q++) {
    let g = 0;
    for (let j = 0; j < nNodes; j++) g += derivative[q * nNodes + j]! * temperatures[first + j]!;
    gradient[q] = g;
    const T = temperatures[first + q]!;
    const scale = (2 / h) * areas[first + q]!;
    conductances[q] = scale * thermalConductivity.at(T);
    slopes[q] = scale * thermalConductivity.slopeAt(T) * lobattoWeights[q]! * g;
  }
  let table = 0;
  for (let i = 0; i < nNodes; i++) {
    const rowI = at + rowOfNode[i]! * nColumns;
    for (let j = i; j < nNodes; j++) {
      let sum = 0;
      for (let q = 0; q < nNodes; q++) sum += stiffnessProducts[table++]! * conductances[q]!;
      elements[rowI + rowOfNode[j]!] = sum;
      elements[at + rowOfNode[j]! * nColumns + rowOfNode[i]!] = sum;
    }
  }
  const voltageRow = at + (nInterior + 2) * nColumns;
  let resistance = 0;
  for (let i = 0; i < nNodes; i++) {
    const r = rowOfNode[i]!;
    const rowI = at + r * nColumns;
    let residual = 0;
    for (let q = 0; q < nNodes; q++) {
      const d = derivative[q * nNodes + i]!;
      residual += lobattoWeights[q]! * conductances[q]! * gradient[q]! * d;
      // The conductivity at node q depends on T_q alone: the tangent gains a column for it.
      const column = rowOfNode[q]!;
      elements[rowI + column] = elements[rowI + column]! + slopes[q]! * d;
    }
    const T = temperatures[first + i]!;
    const part = 0.5 * h * lobattoWeights[i]!;
    const s = (e + 0.5 * (1 + lobattoNodes[i]!)) / state.nElements;
    let tangent = 0;
    if (branch.exchange !== undefined) {
      residual += part * lossAlong(branch, s, T);
      tangent += part * lossSlopeAlong(branch, s, T);
    }
    if (resistivity !== undefined) {
      const perArea = part / areas[first + i]!;
      const r0 = perArea * resistivity.at(T);
      const r1 = perArea * resistivity.slopeAt(T);
      resistance += r0;
      residual -= current * current * r0;
      tangent -= current * current * r1;
      elements[rowI + currentColumn] = -2 * current * r0;
      elements[voltageRow + r] = -current * r1;
    }
    if (storage !== undefined && heatCapacity !== undefined) {
      const mass = part * areas[first + i]! * storage.rate;
      const rise = T - storage.base[first + i]!;
      const capacity = heatCapacity.at(T);
      residual += mass * capacity * rise;
      tangent += mass * (capacity + heatCapacity.slopeAt(T) * rise);
    }
    elements[rowI + r] = elements[rowI + r]! + tangent;
    elements[rowI + rhsColumn] = -residual;
  }
  elements[voltageRow + currentColumn] = -resistance;
  elements[voltageRow + rhsColumn] = current * resistance;
}

/** Eliminates the interior of element e with row exchanges among the interior rows. Returns the sign of the pivots' product. */
function eliminateInterior(elements: Float64Array, at: number): number {
  let sign = 1;
  for (let k = 0; k < nInterior; k++) {
    let p = k;
    let best = Math.abs(elements[at + k * nColumns + k]!);
    for (let i = k + 1; i < nInterior; i++) {
      const size = Math.abs(elements[at + i * nColumns + k]!);
      if (size > best) {
        best = size;
        p = i;
      }
    }
    if (!(best > 0)) return 0;
    const rowK = at + k * nColumns;
    if (p !== k) {
      sign = -sign;
      const rowP = at + p * nColumns;
      for (let j = k; j < nColumns; j++) {
        const held = elements[rowK + j]!;
        elements[rowK + j] = elements[rowP + j]!;
        elements[rowP + j] = held;
      }
    }
    const pivot = elements[rowK + k]!;
    if (pivot < 0) sign = -sign;
    const inverse = 1 / pivot;
    for (let i = k + 1; i < nRows; i++) {
      const rowI = at + i * nColumns;
      const factor = elements[rowI + k]! * inverse;
      if (factor === 0) continue;
      for (let j = k + 1; j < nColumns; j++) elements[rowI + j] = elements[rowI + j]! - factor * elements[rowK + j]!;
    }
  }
  return sign;
}

/** Chain of condensed elements: rows heat at start, heat at end, voltage; columns T_start, T_end, I, right-hand side. */
const chain = new Float64Array(12);

function startChain(elements: Float64Array): void {
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 4; j++) chain[i * 4 + j] = elements[(left + i) * nColumns + left + j]!;
  }
}

/** Adds element e behind the chain and eliminates the boundary between them. Returns the sign of the pivot. */
function extendChain(elements: Float64Array, at: number, boundaries: Float64Array, slot: number): number {
  const l = at + left * nColumns;
  const r = at + right * nColumns;
  const v = at + (nInterior + 2) * nColumns;
  const pivot = chain[5]! + elements[l + left]!;
  if (!(Math.abs(pivot) > 0)) return 0;
  const onStart = chain[4]!;
  const onNext = elements[l + right]!;
  const onCurrent = chain[6]! + elements[l + currentColumn]!;
  const rhs = chain[7]! + elements[l + rhsColumn]!;
  boundaries[slot] = onStart;
  boundaries[slot + 1] = onNext;
  boundaries[slot + 2] = onCurrent;
  boundaries[slot + 3] = rhs;
  boundaries[slot + 4] = pivot;
  const a = chain[1]! / pivot;
  const b = elements[r + left]! / pivot;
  const fromChain = chain[9]!;
  const c = (fromChain + elements[v + left]!) / pivot;
  chain[0] = chain[0]! - a * onStart;
  chain[1] = -a * onNext;
  chain[2] = chain[2]! - a * onCurrent;
  chain[3] = chain[3]! - a * rhs;
  chain[4] = -b * onStart;
  chain[5] = elements[r + right]! - b * onNext;
  chain[6] = elements[r + currentColumn]! - b * onCurrent;
  chain[7] = elements[r + rhsColumn]! - b * rhs;
  chain[8] = chain[8]! - c * onStart;
  chain[9] = elements[v + right]! - c * onNext;
  chain[10] = chain[10]! + elements[v + currentColumn]! - c * onCurrent;
  chain[11] = chain[11]! + elements[v + rhsColumn]! - c * rhs;
  return Math.sign(pivot);
}

/** Assembles and condenses the branch at its present temperatures and current; the result is in `state.port`. */
export function condenseBranch(state: BranchState, storage?: { readonly rate: number; readonly base: Float64Array }): void {
  const { elements, boundaries, port } = state;
  let sign = 1;
  for (let e = 0; e < state.nElements; e++) {
    assembleElement(state, e, storage);
    sign *= eliminateInterior(elements, e * elementSize);
    if (e === 0) startChain(elements);
    else sign *= extendChain(elements, e * elementSize, boundaries, (e - 1) * boundarySize);
  }
  const { heat, heatPerVoltage, heatRhs, currentPerT } = port;
  heat[0] = chain[0]!;
  heat[1] = chain[1]!;
  heat[2] = chain[4]!;
  heat[3] = chain[5]!;
  heatRhs[0] = chain[3]!;
  heatRhs[1] = chain[7]!;
  if (state.branch.resistivity === undefined) {
    heatPerVoltage.fill(0);
    currentPerT.fill(0);
    port.current0 = 0;
    port.conductance = 0;
    port.sign = sign;
    return;
  }
  // Voltage row: (V0 - V1) + chain[8] dT0 + chain[9] dT1 + chain[10] dI = chain[11].
  const inverse = 1 / chain[10]!;
  const dI = chain[11]! * inverse;
  port.current0 = state.current + dI;
  port.conductance = -inverse;
  currentPerT[0] = -chain[8]! * inverse;
  currentPerT[1] = -chain[9]! * inverse;
  for (let i = 0; i < 2; i++) {
    const onCurrent = chain[4 * i + 2]!;
    heat[2 * i] = heat[2 * i]! + onCurrent * currentPerT[0]!;
    heat[2 * i + 1] = heat[2 * i + 1]! + onCurrent * currentPerT[1]!;
    heatPerVoltage[i] = onCurrent * port.conductance;
    heatRhs[i] = heatRhs[i]! - onCurrent * dI;
  }
  port.sign = sign * Math.sign(-inverse);
}

/** Nodal changes of the last recovery, largest branch seen; grown on demand. */
let change = new Float64Array(1);

/**
 * Recovers the interior changes from the changes at the ends and adds `scale` times them to the state.
 * With `scale` undefined nothing is changed. Returns the largest temperature change found [K], unscaled.
 */
export function recoverBranch(
  state: BranchState,
  ends: { readonly dT0: number; readonly dT1: number; readonly voltage: number; readonly scale: number | undefined },
): number {
  const { dT0, dT1, voltage, scale } = ends;
  const { elements, boundaries, port, temperatures, nElements } = state;
  const n = temperatures.length;
  if (change.length < n) change = new Float64Array(n);
  const newCurrent = port.current0 + port.currentPerT[0]! * dT0 + port.currentPerT[1]! * dT1 + port.conductance * voltage;
  const dI = state.branch.resistivity === undefined ? 0 : newCurrent - state.current;
  state.currentChange = dI;
  change[0] = dT0;
  change[n - 1] = dT1;
  for (let e = nElements - 1; e >= 1; e--) {
    const slot = (e - 1) * boundarySize;
    change[e * degree] =
      (boundaries[slot + 3]! -
        boundaries[slot]! * dT0 -
        boundaries[slot + 1]! * change[(e + 1) * degree]! -
        boundaries[slot + 2]! * dI) /
      boundaries[slot + 4]!;
  }
  let largest = 0;
  for (let e = 0; e < nElements; e++) {
    const at = e * elementSize;
    const first = e * degree;
    const dL = change[first]!;
    const dR = change[first + degree]!;
    for (let k = nInterior - 1; k >= 0; k--) {
      const rowK = at + k * nColumns;
      let sum =
        elements[rowK + rhsColumn]! -
        elements[rowK + left]! * dL -
        elements[rowK + right]! * dR -
        elements[rowK + currentColumn]! * dI;
      for (let j = k + 1; j < nInterior; j++) sum -= elements[rowK + j]! * change[first + 1 + j]!;
      change[first + 1 + k] = sum / elements[rowK + k]!;
    }
  }
  for (let i = 0; i < n; i++) {
    const size = Math.abs(change[i]!);
    // Written so that NaN is kept: a comparison with NaN is false.
    if (!(size <= largest)) largest = size;
  }
  if (scale !== undefined) {
    for (let i = 0; i < n; i++) temperatures[i] = temperatures[i]! + scale * change[i]!;
    state.current += scale * dI;
  }
  return largest;
}
