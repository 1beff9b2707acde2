/**
 * Where a design may live: over two quantities of the text, the ground on which every limit of the brief holds, the edge of each limit,
 * and the chance that all hold. Plain data throughout, so that it crosses from a worker to a page as it is.
 */
import type { Dimension } from "#base";
import type { Need } from "../brief/need.ts";
import { pathKey } from "../evaluate/addresses.ts";
import type { Side } from "../evaluate/scope.ts";
import { meets } from "../ledger/chance.ts";
import type { Axis } from "./design-space.ts";
import type { RegionEdge } from "./edges.ts";

export interface RegionAxis {
  /** The quantity in words, and its path key in the text. */
  readonly name: string;
  readonly key: string;
  readonly dimension: Dimension;
  /** SI */
  readonly low: number;
  readonly high: number;
  /** Value in the text, SI. */
  readonly present: number;
}

export interface RegionLimit {
  readonly requirement: string;
  /** The metric, its case and its limit in words, for example "supply current at hold, at most 80 mA". */
  readonly label: string;
  readonly dimension: Dimension;
  readonly need: Need;
  /** [points × points] SI, row-major, x along a row; NaN where there is no value; empty while none is worked out. */
  readonly values: Float64Array;
  /** Largest error of these values where an edge may run, SI; NaN while it is not known, and where none runs. */
  readonly error: number;
  readonly edges: readonly RegionEdge[];
}

export interface ChanceContour {
  readonly chance: number;
  /** [n × 2] each, SI. */
  readonly lines: readonly Float64Array[];
}

/** A design that was solved in full. */
export interface RegionDesign {
  /** SI */
  readonly x: number;
  readonly y: number;
  /** [nLimits] SI */
  readonly values: Float64Array;
  /** Chance that all limits hold, with the doubt of this very design, and what the plane of chances said before. */
  readonly chance: number;
  readonly foretold: number;
}

export interface Region {
  readonly x: RegionAxis;
  readonly y: RegionAxis;
  readonly side: Side;
  readonly points: number;
  readonly limits: readonly RegionLimit[];
  /** [points × points] 1 where all limits worked out so far hold, 0 on forbidden ground. */
  readonly free: Uint8Array;
  /** Side of the grid of chances, and chances [chancePoints × chancePoints]; empty until they are worked out. */
  readonly chancePoints: number;
  readonly chances: Float64Array;
  readonly contours: readonly ChanceContour[];
  /** The design of the text, and the one with the best chance; undefined until worked out, and where there is none. */
  readonly present: RegionDesign | undefined;
  readonly best: RegionDesign | undefined;
  /** Why parts of the plane have no value, each kind of reason once. */
  readonly reasons: readonly string[];
  readonly nDesigns: number;
}

/** An axis as plain data. */
export function plainAxis({ name, quantity, dimension, low, high, present }: Axis): RegionAxis {
  return { name, key: pathKey(quantity.path), dimension, low, high, present };
}

/** Between four points of a square grid [n × n] over the unit square; beyond it the border goes on. */
function bilinear(values: Float64Array, n: number, [s, t]: readonly [number, number]): number {
  const inside = (part: number): number => Math.min(1, Math.max(0, part)) * (n - 1);
  const [a, b] = [inside(s), inside(t)];
  const [i, j] = [Math.min(n - 2, Math.floor(a)), Math.min(n - 2, Math.floor(b))];
  const [u, v] = [a - i, b - j];
  const at = (k: number): number => values[k]!;
  const k = j * n + i;
  return (1 - v) * ((1 - u) * at(k) + u * at(k + 1)) + v * ((1 - u) * at(k + n) + u * at(k + n + 1));
}

/** Whether all limits worked out so far hold at a place, in parts of the ranges. */
export function isFreeAt({ limits, points }: Region, s: number, t: number): boolean {
  return limits.every(({ values, need }) => values.length === 0 || meets(bilinear(values, points, [s, t]), need));
}

/** The chance that all limits hold at a place, in parts of the ranges, between the points of its grid; NaN until it is worked out. */
export function chanceAt({ chances, chancePoints: n }: Region, s: number, t: number): number {
  return chances.length === 0 ? Number.NaN : bilinear(chances, n, [s, t]);
}

/** Whether free ground touches an edge somewhere. */
export function boundsFreeGround({ x, y, points, free }: Region, { line }: RegionEdge): boolean {
  for (let k = 0; k < line.length; k += 2) {
    const i = Math.round(((line[k]! - x.low) / (x.high - x.low)) * (points - 1));
    const j = Math.round(((line[k + 1]! - y.low) / (y.high - y.low)) * (points - 1));
    for (let b = Math.max(0, j - 1); b <= Math.min(points - 1, j + 1); b++)
      for (let a = Math.max(0, i - 1); a <= Math.min(points - 1, i + 1); a++) if (free[b * points + a] === 1) return true;
  }
  return false;
}
