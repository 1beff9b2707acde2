/**
 * Order of the junctions in which the skyline of their system stays short: reverse Cuthill-McKee.
 * Source: George & Liu, Computer Solution of Large Sparse Positive Definite Systems, 1981, chapter 4 (from memory).
 */
import type { FrameTopology } from "./topology.ts";

/** Junctions in their order of elimination. `hasRows` tells which junctions have a free motion: others do not couple. */
export function orderJunctions(topology: FrameTopology, hasRows: (junction: number) => boolean): Int32Array {
  const { nJunctions, from, to } = topology;
  const neighbours: number[][] = Array.from({ length: nJunctions }, () => []);
  for (let b = 0; b < from.length; b++) {
    const i = from[b]!;
    const j = to[b]!;
    if (!hasRows(i) || !hasRows(j)) continue;
    neighbours[i]!.push(j);
    neighbours[j]!.push(i);
  }
  const degree = (j: number): number => neighbours[j]!.length;
  for (const list of neighbours) list.sort((a, b) => degree(a) - degree(b));
  const isPlaced = new Uint8Array(nJunctions);
  const order: number[] = [];
  const seeds = Array.from({ length: nJunctions }, (_, j) => j).sort((a, b) => degree(a) - degree(b));
  for (const seed of seeds) {
    if (isPlaced[seed] === 1) continue;
    const start = farthest(neighbours, seed);
    const begin = order.length;
    order.push(start);
    isPlaced[start] = 1;
    for (let at = begin; at < order.length; at++) {
      for (const next of neighbours[order[at]!]!) {
        if (isPlaced[next] === 1) continue;
        isPlaced[next] = 1;
        order.push(next);
      }
    }
  }
  return Int32Array.from(order.reverse());
}

/** A junction at the far end of the part that holds `seed`: a breadth-first search from there has many thin levels. */
function farthest(neighbours: readonly (readonly number[])[], seed: number): number {
  const isSeen = new Set([seed]);
  const queue = [seed];
  for (let at = 0; at < queue.length; at++) {
    for (const next of neighbours[queue[at]!]!) {
      if (isSeen.has(next)) continue;
      isSeen.add(next);
      queue.push(next);
    }
  }
  return queue[queue.length - 1]!;
}
