/**
 * Equations and exact tangents of one spectral element of a branch, and the condensation of its interior.
 *
 * Steady: -(k A T')' + loss(T) - I^2 rho(T)/A = 0 and V_from - V_to = I * integral rho(T)/A dx, in Galerkin form with Lobatto
 * quadrature, so that the nodal heat flows add up exactly. A stage in time adds c(T) A rate (T - base) on the lumped Lobatto mass.
 * The tangent is 12 x 12: the nodes in their order, then the current. Nodes 1 to 9 are eliminated with exchanges of rows among them.
 * Source: static condensation, common practice, no source. Main test: electro-thermal-theory.test.ts.
 */
import { degree, derivative, lobattoWeights, nInterior, nNodes, stiffnessProducts } from "./reference-element.ts";
import type { Curve } from "./sampled-law.ts";

const width = nNodes + 1;
export const tangentSize = width * width;

/** An implicit stage in time: adds c A rate (T - base) to every node. */
export interface StageStorage {
  /** 1/(gamma dt) [1/s] */
  readonly rate: number;
  /** Temperatures at which the stored heat is counted as zero [K], by entries. */
  readonly base: Float64Array;
}

export interface ElementInput {
  /** [W/(m K)] */
  readonly conductivity: Curve;
  /** [ohm m] */
  readonly resistivity: Curve | undefined;
  /** [J/(m^3 K)] */
  readonly heatCapacity: Curve | undefined;
  /** Side loss per length at the start and at the end of the branch [W/m]. */
  readonly loss: { readonly from: Curve; readonly to: Curve } | undefined;
  /** By nodes: cross-section over half the element's length [m]. */
  readonly conductionScales: Float64Array;
  /** By nodes: length [m], volume [m^3] and length over cross-section [1/m] that a node stands for; relative position on the branch. */
  readonly lengths: Float64Array;
  readonly volumes: Float64Array;
  readonly resistanceScales: Float64Array;
  readonly places: Float64Array;
  /** [nNodes + 1] entries of the nodes and of the current. */
  readonly entries: Int32Array;
}

/** Where the results of an element go. */
export interface ElementOutput {
  /** By entries: heat that flows into the nodes of the element, and its part -I R of the voltage equation. */
  readonly residual: Float64Array;
  /** [tangentSize] row-major, or undefined where only the residual is wanted. */
  readonly tangent: Float64Array | undefined;
  /** By entries: heat capacity of the nodes [J/K], or undefined where it is not wanted. */
  readonly capacities: Float64Array | undefined;
  /** Heat lost by the sides [W]; added to. */
  sideLoss: number;
}

const temperatures = new Float64Array(nNodes);
const fluxes = new Float64Array(nNodes);
const conductances = new Float64Array(nNodes);
const slopes = new Float64Array(nNodes);

/** Conduction at the nodes: conductances, weighted fluxes, and where a tangent is wanted what the slope of k adds to it. */
function conduct(input: ElementInput, withSlopes: boolean): void {
  const { conductivity, conductionScales } = input;
  for (let q = 0; q < nNodes; q++) {
    let gradient = 0;
    for (let j = 0; j < nNodes; j++) gradient += derivative[q * nNodes + j]! * temperatures[j]!;
    const T = temperatures[q]!;
    const scale = conductionScales[q]!;
    const conductance = scale * conductivity.at(T);
    conductances[q] = conductance;
    fluxes[q] = lobattoWeights[q]! * conductance * gradient;
    if (withSlopes) slopes[q] = scale * conductivity.slopeAt(T) * lobattoWeights[q]! * gradient;
  }
}

function fillConduction(tangent: Float64Array): void {
  tangent.fill(0);
  let table = 0;
  for (let i = 0; i < nNodes; i++) {
    for (let j = i; j < nNodes; j++) {
      let sum = 0;
      for (let q = 0; q < nNodes; q++) sum += stiffnessProducts[table++]! * conductances[q]!;
      tangent[i * width + j] = sum;
      tangent[j * width + i] = sum;
    }
  }
  // The conductivity at node q depends on T_q alone: the tangent gains a column for it.
  for (let i = 0; i < nNodes; i++) {
    for (let q = 0; q < nNodes; q++) {
      const at = i * width + q;
      tangent[at] = tangent[at]! + slopes[q]! * derivative[q * nNodes + i]!;
    }
  }
}

/** Evaluates the element at the state `x` (by entries). */
export function evaluateElement(
  output: ElementOutput,
  input: ElementInput,
  options: { readonly x: Float64Array; readonly storage: StageStorage | undefined },
): void {
  const { resistivity, heatCapacity, loss, lengths, volumes, resistanceScales, places, entries } = input;
  const { residual, tangent, capacities } = output;
  const { x, storage } = options;
  for (let i = 0; i < nNodes; i++) temperatures[i] = x[entries[i]!]!;
  const current = resistivity === undefined ? 0 : x[entries[nNodes]!]!;
  conduct(input, tangent !== undefined);
  if (tangent !== undefined) fillConduction(tangent);
  let resistance = 0;
  for (let i = 0; i < nNodes; i++) {
    const entry = entries[i]!;
    const T = temperatures[i]!;
    let heat = 0;
    for (let q = 0; q < nNodes; q++) heat += derivative[q * nNodes + i]! * fluxes[q]!;
    let slope = 0;
    if (loss !== undefined) {
      const s = places[i]!;
      const part = lengths[i]!;
      const isEven = loss.from === loss.to;
      const lost = part * (isEven ? loss.from.at(T) : (1 - s) * loss.from.at(T) + s * loss.to.at(T));
      heat += lost;
      output.sideLoss += lost;
      if (tangent !== undefined)
        slope += part * (isEven ? loss.from.slopeAt(T) : (1 - s) * loss.from.slopeAt(T) + s * loss.to.slopeAt(T));
    }
    if (resistivity !== undefined) {
      const perArea = resistanceScales[i]!;
      const r0 = perArea * resistivity.at(T);
      resistance += r0;
      heat -= current * current * r0;
      if (tangent !== undefined) {
        const r1 = perArea * resistivity.slopeAt(T);
        slope -= current * current * r1;
        tangent[i * width + nNodes] = -2 * current * r0;
        tangent[nNodes * width + i] = -current * r1;
      }
    }
    if (storage !== undefined && heatCapacity !== undefined) {
      const rise = T - storage.base[entry]!;
      const volume = volumes[i]!;
      const capacity = volume * heatCapacity.at(T);
      heat += storage.rate * capacity * rise;
      if (capacities !== undefined) capacities[entry] = capacities[entry]! + capacity;
      if (tangent !== undefined) {
        slope += storage.rate * (capacity + volume * heatCapacity.slopeAt(T) * rise);
      }
    }
    residual[entry] = residual[entry]! + heat;
    if (tangent !== undefined) tangent[i * width + i] = tangent[i * width + i]! + slope;
  }
  if (resistivity === undefined) return;
  const currentEntry = entries[nNodes]!;
  residual[currentEntry] = residual[currentEntry]! - current * resistance;
  if (tangent !== undefined) tangent[tangentSize - 1] = -resistance;
}

function exchangeRows(tangent: Float64Array, a: number, b: number): void {
  for (let j = 0; j < width; j++) {
    const held = tangent[a * width + j]!;
    tangent[a * width + j] = tangent[b * width + j]!;
    tangent[b * width + j] = held;
  }
}

/** Subtracts factor times row k, in the columns after k and in column 0. */
function subtractRow(tangent: Float64Array, options: { row: number; k: number; inverse: number }): void {
  const { row, k, inverse } = options;
  const at = row * width;
  const from = k * width;
  const below = tangent[at + k]!;
  if (below === 0) return;
  const factor = below * inverse;
  tangent[at + k] = factor;
  tangent[at] = tangent[at]! - factor * tangent[from]!;
  for (let j = k + 1; j < width; j++) tangent[at + j] = tangent[at + j]! - factor * tangent[from + j]!;
}

/** Eliminates nodes 1 to 9 in place; what is left in rows and columns 0, 10, 11 is the element seen from outside. Returns the sign. */
export function condenseElement(tangent: Float64Array, pivots: Int32Array): number {
  let sign = 1;
  for (let k = 1; k <= nInterior; k++) {
    let p = k;
    let best = Math.abs(tangent[k * width + k]!);
    for (let i = k + 1; i <= nInterior; i++) {
      const magnitude = Math.abs(tangent[i * width + k]!);
      if (magnitude > best) {
        best = magnitude;
        p = i;
      }
    }
    if (!(best > 0)) return 0;
    pivots[k - 1] = p;
    if (p !== k) {
      sign = -sign;
      exchangeRows(tangent, k, p);
    }
    const pivot = tangent[k * width + k]!;
    if (pivot < 0) sign = -sign;
    const inverse = 1 / pivot;
    subtractRow(tangent, { row: 0, k, inverse });
    for (let row = k + 1; row < width; row++) subtractRow(tangent, { row, k, inverse });
  }
  return sign;
}

/** Carries the interior right-hand side of a condensed element (`x` by entries) to its ends and current. */
export function condenseRightSide(
  x: Float64Array,
  entries: Int32Array,
  factors: { tangent: Float64Array; pivots: Int32Array },
): void {
  const { tangent, pivots } = factors;
  const first = entries[1]! - 1;
  for (let k = 1; k <= nInterior; k++) {
    const p = pivots[k - 1]!;
    if (p === k) continue;
    const held = x[first + k]!;
    x[first + k] = x[first + p]!;
    x[first + p] = held;
  }
  for (let row = 2; row <= nInterior; row++) {
    let sum = x[first + row]!;
    for (let k = 1; k < row; k++) sum -= tangent[row * width + k]! * x[first + k]!;
    x[first + row] = sum;
  }
  carryToOutside(x, tangent, { row: 0, entry: entries[0]!, first });
  carryToOutside(x, tangent, { row: degree, entry: entries[degree]!, first });
  carryToOutside(x, tangent, { row: nNodes, entry: entries[nNodes]!, first });
}

function carryToOutside(x: Float64Array, tangent: Float64Array, at: { row: number; entry: number; first: number }): void {
  const { row, entry, first } = at;
  if (entry < 0) return;
  let sum = x[entry]!;
  for (let k = 1; k <= nInterior; k++) sum -= tangent[row * width + k]! * x[first + k]!;
  x[entry] = sum;
}

/** Finds the interior solution of a condensed element once its ends and current are solved. */
export function recoverInterior(x: Float64Array, entries: Int32Array, tangent: Float64Array): void {
  const first = entries[1]! - 1;
  const start = x[entries[0]!]!;
  const end = x[entries[degree]!]!;
  const current = entries[nNodes]! < 0 ? 0 : x[entries[nNodes]!]!;
  for (let row = nInterior; row >= 1; row--) {
    const at = row * width;
    let sum = x[first + row]! - tangent[at]! * start - tangent[at + degree]! * end - tangent[at + nNodes]! * current;
    for (let k = row + 1; k <= nInterior; k++) sum -= tangent[at + k]! * x[first + k]!;
    x[first + row] = sum / tangent[at + row]!;
  }
}
