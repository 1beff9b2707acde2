/**
 * Temperature along one branch as a result: nodal values of a piecewise polynomial, with exact interpolation and means.
 */
import type { ExpansionLaw } from "#base";
import { lagrangeValuesInto } from "#numerics";
import type { BranchState } from "./branch-state.ts";
import { barycentric, degree, derivative, lobattoNodes, lobattoWeights, nNodes } from "./reference-element.ts";

export interface BranchField {
  /** [m] */
  readonly length: number;
  readonly nElements: number;
  /** Distance from the start of every node [m]. */
  readonly positions: Float64Array;
  /** [K] */
  readonly temperatures: Float64Array;
  /** [A], positive from start to end. */
  readonly current: number;
}

/** A copy of what a branch state holds now. */
export function fieldOfBranch(state: BranchState): BranchField {
  return {
    length: state.branch.length,
    nElements: state.nElements,
    positions: state.positions,
    temperatures: state.temperatures.slice(),
    current: state.current,
  };
}

const row = new Float64Array(nNodes);

/** Temperature [K] at distance x [m] from the start of the branch. */
export function temperatureAlong(field: BranchField, x: number): number {
  const h = field.length / field.nElements;
  const e = Math.min(field.nElements - 1, Math.max(0, Math.floor(x / h)));
  lagrangeValuesInto(row, (2 * (x - e * h)) / h - 1, { nodes: lobattoNodes, barycentric });
  let sum = 0;
  for (let i = 0; i < nNodes; i++) sum += row[i]! * field.temperatures[e * degree + i]!;
  return sum;
}

/** Mean along the branch of a function of temperature and of the part of the way from its start. */
export function meanAlong(field: BranchField, quantity: (T: number, share: number) => number): number {
  let sum = 0;
  for (let e = 0; e < field.nElements; e++) {
    for (let i = 0; i < nNodes; i++) {
      const node = e * degree + i;
      sum += lobattoWeights[i]! * quantity(field.temperatures[node]!, field.positions[node]! / field.length);
    }
  }
  return sum / (2 * field.nElements);
}

export function meanTemperature(field: BranchField): number {
  return meanAlong(field, (T) => T);
}

/** Mean free strain of the branch on going from the uniform stress-free temperature [K] to the field. */
export function meanFreeStrain(
  field: BranchField,
  law: ExpansionLaw,
  options: { readonly stressFreeTemperature: number },
): number {
  return meanAlong(field, (T) => law.strainBetween(options.stressFreeTemperature, T));
}

const gauss3 = { nodes: [-Math.sqrt(0.6), 0, Math.sqrt(0.6)], weights: [5 / 18, 8 / 18, 5 / 18] } as const;

/** Interpolation from the nodes of one element to 3 Gauss points in each of nParts equal parts of it, by nParts. */
const partTables = new Map<number, Float64Array>();

function partTable(nParts: number): Float64Array {
  const known = partTables.get(nParts);
  if (known !== undefined) return known;
  const table = new Float64Array(nParts * 3 * nNodes);
  for (let k = 0; k < nParts; k++) {
    for (let g = 0; g < 3; g++) {
      lagrangeValuesInto(row, -1 + (2 * k + 1 + gauss3.nodes[g]!) / nParts, { nodes: lobattoNodes, barycentric });
      table.set(row, (3 * k + g) * nNodes);
    }
  }
  partTables.set(nParts, table);
  return table;
}

/**
 * Means of a function of temperature over nParts equal parts of the branch, for the beam elements of a frame.
 * Three Gauss points a part: the error of each mean is of the sixth order in the part's length.
 */
export function partMeansInto(
  means: Float64Array,
  field: BranchField,
  options: { readonly quantity: (T: number) => number },
): void {
  const nParts = means.length;
  if (field.nElements === 1) {
    const table = partTable(nParts);
    for (let k = 0; k < nParts; k++) {
      let mean = 0;
      for (let g = 0; g < 3; g++) {
        const at = (3 * k + g) * nNodes;
        let T = 0;
        for (let i = 0; i < nNodes; i++) T += table[at + i]! * field.temperatures[i]!;
        mean += gauss3.weights[g]! * options.quantity(T);
      }
      means[k] = mean;
    }
    return;
  }
  const part = field.length / nParts;
  for (let k = 0; k < nParts; k++) {
    let mean = 0;
    for (let g = 0; g < 3; g++) {
      mean += gauss3.weights[g]! * options.quantity(temperatureAlong(field, part * (k + 0.5 + 0.5 * gauss3.nodes[g]!)));
    }
    means[k] = mean;
  }
}

export interface Extreme {
  /** [K] */
  readonly temperature: number;
  /** Distance from the start of the branch [m]. */
  readonly position: number;
}

const gradient = new Float64Array(nNodes);
const curvature = new Float64Array(nNodes);

/** Hottest (sense 1) or coldest (sense -1) point of the branch, between the nodes too. */
export function extremeTemperature(field: BranchField, sense: 1 | -1): Extreme {
  let best = 0;
  for (let i = 1; i < field.temperatures.length; i++) {
    if (sense * field.temperatures[i]! > sense * field.temperatures[best]!) best = i;
  }
  let found: Extreme = { temperature: field.temperatures[best]!, position: field.positions[best]! };
  const e = Math.min(field.nElements - 1, Math.floor(best / degree));
  const local = best - e * degree;
  if (best === 0 || best === field.temperatures.length - 1 || local === 0) return found;
  const first = e * degree;
  for (const [to, from, offset] of [
    [gradient, field.temperatures, first],
    [curvature, gradient, 0],
  ] as const) {
    for (let q = 0; q < nNodes; q++) {
      let sum = 0;
      for (let j = 0; j < nNodes; j++) sum += derivative[q * nNodes + j]! * from[offset + j]!;
      to[q] = sum;
    }
  }
  let x = lobattoNodes[local]!;
  for (let step = 0; step < 6; step++) {
    lagrangeValuesInto(row, x, { nodes: lobattoNodes, barycentric });
    let slope = 0;
    let bend = 0;
    for (let i = 0; i < nNodes; i++) {
      slope += row[i]! * gradient[i]!;
      bend += row[i]! * curvature[i]!;
    }
    if (!(sense * bend < 0)) break;
    const next = Math.min(lobattoNodes[local + 1]!, Math.max(lobattoNodes[local - 1]!, x - slope / bend));
    const isDone = Math.abs(next - x) < 1e-12;
    x = next;
    if (isDone) break;
  }
  const position = ((e + 0.5 * (1 + x)) / field.nElements) * field.length;
  const temperature = temperatureAlong(field, position);
  if (sense * temperature > sense * found.temperature) found = { temperature, position };
  return found;
}
