/**
 * Heat through the gas between facing branches on the spectral elements of both.
 *
 * The facing stretch is cut where an element of either side begins and each cut carries Gauss points. At a point the flow per length
 * depends on both interpolated temperatures; it is taken from the nodes of one side and given to those of the other by the same
 * interpolation, so that the two sums are equal to rounding whatever the laws.
 * Validity: facing surfaces close to each other against the length over which temperatures change. Main test: gas-coupling.test.ts.
 */
import { gaussLegendreRule, lagrangeValuesInto } from "#numerics";
import type { CouplingSide, ElectroThermalNetwork } from "./network.ts";
import { barycentric, lobattoNodes, nNodes } from "./reference-element.ts";

/** A point where heat passes: the local element of each side (-1: a junction) and the interpolation there. */
export interface CouplingPoint {
  /** Facing length that this point stands for [m]. */
  readonly length: number;
  /** [nNodes] or [1] */
  readonly weightsA: Float64Array;
  readonly weightsB: Float64Array;
}

/** The points of one coupling between one pair of elements. */
export interface CouplingPair {
  readonly coupling: number;
  readonly elementA: number;
  /** Element of b within its branch, or -1 for a junction. */
  readonly elementB: number;
  readonly points: readonly CouplingPoint[];
}

/** As many as hold a product of two element polynomials and a mild law. */
const gauss = gaussLegendreRule(nNodes + 2);
const wholeJunction = Float64Array.of(1);

/** Parameters t in [0, 1] along the facing stretch at which a side passes from one element to the next. */
function cutsOf(side: CouplingSide, sizes: ArrayLike<number>): number[] {
  if ("junction" in side) return [];
  const [s0, s1] = side.span;
  const n = sizes[side.branch]!;
  const cuts: number[] = [];
  for (let e = 1; e < n; e++) {
    const t = (e / n - s0) / (s1 - s0);
    if (t > 0 && t < 1) cuts.push(t);
  }
  return cuts;
}

function elementAt(side: CouplingSide, t: number, sizes: ArrayLike<number>): number {
  if ("junction" in side) return -1;
  const n = sizes[side.branch]!;
  return Math.min(n - 1, Math.max(0, Math.floor((side.span[0] + (side.span[1] - side.span[0]) * t) * n)));
}

function weightsAt(side: CouplingSide, at: { t: number; element: number }, sizes: ArrayLike<number>): Float64Array {
  if ("junction" in side) return wholeJunction;
  const s = side.span[0] + (side.span[1] - side.span[0]) * at.t;
  const row = new Float64Array(nNodes);
  lagrangeValuesInto(row, 2 * (s * sizes[side.branch]! - at.element) - 1, { nodes: lobattoNodes, barycentric });
  return row;
}

/** All couplings of a network on meshes of `sizes` elements per branch. */
export function couplingPairs(network: ElectroThermalNetwork, sizes: ArrayLike<number>): CouplingPair[] {
  return (network.couplings ?? []).flatMap(({ a, b }, coupling) => {
    const facing = Math.abs(a.span[1] - a.span[0]) * network.branches[a.branch]!.length;
    const cuts = [0, ...[...cutsOf(a, sizes), ...cutsOf(b, sizes)].sort((x, y) => x - y), 1];
    const pairs: CouplingPair[] = [];
    for (let c = 1; c < cuts.length; c++) {
      const width = cuts[c]! - cuts[c - 1]!;
      // two cuts at one place up to rounding
      if (width < 1e-12) continue;
      const middle = cuts[c - 1]! + 0.5 * width;
      const elementA = elementAt(a, middle, sizes);
      const elementB = elementAt(b, middle, sizes);
      const points = Array.from(gauss.nodes, (x, g): CouplingPoint => {
        const t = middle + 0.5 * width * x;
        return {
          length: 0.5 * width * gauss.weights[g]! * facing,
          weightsA: weightsAt(a, { t, element: elementA }, sizes),
          weightsB: weightsAt(b, { t, element: elementB }, sizes),
        };
      });
      pairs.push({ coupling, elementA, elementB, points });
    }
    return pairs;
  });
}
