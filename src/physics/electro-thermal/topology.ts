/**
 * Which points of an electro-thermal network are one electric node, and which node of every connected group is the ground.
 *
 * Junctions wired to a terminal without resistance share its electric node. The ground of a group is the `minus` terminal of its first
 * source, or else its first node. Only potential differences matter.
 */
import { type ElectricSource, type ElectroThermalNetwork, steadyConductance } from "./network.ts";

export interface Topology {
  /** Electric node of each junction; the first nTerminals nodes are the terminals. */
  readonly nodeOfJunction: Int32Array;
  /** [nNodes] 1 where the potential is held at 0. */
  readonly isGrounded: Uint8Array;
  readonly nNodes: number;
}

function findRoot(parents: Int32Array, i: number): number {
  let at = i;
  while (parents[at] !== at) {
    parents[at] = parents[parents[at]!]!;
    at = parents[at]!;
  }
  return at;
}

export function createTopology(network: ElectroThermalNetwork, sources: readonly ElectricSource[]): Topology {
  const { junctions, branches, nTerminals } = network;
  const nodeOfJunction = new Int32Array(junctions.length);
  let nNodes = nTerminals;
  junctions.forEach((junction, j) => {
    const isAlias = junction.terminal !== undefined && (junction.leadResistance ?? 0) === 0;
    nodeOfJunction[j] = isAlias ? junction.terminal! : nNodes++;
  });
  const parents = Int32Array.from({ length: nNodes }, (_, i) => i);
  const join = (a: number, b: number): void => {
    parents[findRoot(parents, a)] = findRoot(parents, b);
  };
  for (const branch of branches) {
    if (branch.resistivity !== undefined) join(nodeOfJunction[branch.from]!, nodeOfJunction[branch.to]!);
  }
  junctions.forEach((junction, j) => {
    if (junction.terminal !== undefined) join(nodeOfJunction[j]!, junction.terminal);
  });
  for (const source of sources) {
    for (const terminal of [source.plus, source.minus]) {
      if (!(Number.isInteger(terminal) && terminal >= 0 && terminal < nTerminals)) {
        throw new RangeError(`Cannot connect a source: wanted a terminal from 0 to ${nTerminals - 1}, found ${terminal}`);
      }
    }
    if (source.kind === "voltage") join(source.plus, source.minus);
  }
  for (const source of sources) {
    if (findRoot(parents, source.plus) !== findRoot(parents, source.minus)) {
      throw new RangeError(`Cannot drive a current from terminal ${source.plus} to ${source.minus}: no conductor joins them`);
    }
  }
  const grounded = new Set<number>();
  const isGrounded = new Uint8Array(nNodes);
  for (const node of [...sources.map((source) => source.minus), ...Array.from({ length: nNodes }, (_, i) => i)]) {
    const root = findRoot(parents, node);
    if (grounded.has(root)) continue;
    grounded.add(root);
    isGrounded[node] = 1;
  }
  return { nodeOfJunction, isGrounded, nNodes };
}

/** A junction of a connected part that has nowhere to lose its heat; undefined where every part has. */
export function findUncooledJunction(network: ElectroThermalNetwork): number | undefined {
  const { junctions, branches } = network;
  const parents = Int32Array.from({ length: junctions.length }, (_, i) => i);
  for (const branch of branches) parents[findRoot(parents, branch.from)] = findRoot(parents, branch.to);
  for (const { a, b } of network.couplings ?? []) {
    const facing = "junction" in b ? b.junction : branches[b.branch]!.from;
    parents[findRoot(parents, branches[a.branch]!.from)] = findRoot(parents, facing);
  }
  for (const { a, b } of network.links ?? []) parents[findRoot(parents, a)] = findRoot(parents, b);
  const cooled = new Set<number>();
  junctions.forEach((junction, j) => {
    const sunk = (junction.sinks ?? []).some((sink) => steadyConductance(sink) > 0);
    if (junction.temperature !== undefined || sunk || junction.exchange !== undefined) cooled.add(findRoot(parents, j));
  });
  for (const branch of branches) if (branch.exchange !== undefined) cooled.add(findRoot(parents, branch.from));
  const uncooled = junctions.findIndex((_, j) => !cooled.has(findRoot(parents, j)));
  return uncooled < 0 ? undefined : uncooled;
}

/** Throws a RangeError when some connected part of the frame has nowhere to lose its heat, so that no steady state exists. */
export function requireHeatPath(network: ElectroThermalNetwork): void {
  const uncooled = findUncooledJunction(network);
  if (uncooled !== undefined)
    throw new RangeError(`Cannot find a steady temperature: nothing cools the part that holds junction ${uncooled}`);
}
