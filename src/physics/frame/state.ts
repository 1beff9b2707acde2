/** A state of balance of a frame, and how a solve may end. Plain data: may be kept, copied and given back as a start. */
import type { ResolvedLoad } from "./load-path.ts";

export interface FrameState {
  /** Flat motions, see topology.ts: 3 per junction, 3 per beam node, then the stop forces. */
  readonly allMotions: Float64Array;
  /** [nJunctions × 3] x, y, turn: m, m, rad: the head of allMotions. */
  readonly motions: Float64Array;
  /** [nStops] 1 where a stop is closed. */
  readonly isClosed: Uint8Array;
  readonly load: ResolvedLoad;
  /** [nJunctions × 3] force of the surroundings on each held motion, N or N m; 0 on free ones. Springs and stops not counted. */
  readonly reactions: Float64Array;
  /** Negative eigenvalues of the tangent; 0 = stable. */
  readonly nNegative: number;
}

/** State of one stop. */
export interface StopState {
  readonly name: string;
  readonly isClosed: boolean;
  /** Force of the stop on the frame, against its direction, [N]; 0 while open. */
  readonly force: number;
  /** Way left, [m]. */
  readonly gap: number;
}

export interface FrameEquilibrium extends FrameState {
  readonly outcome: "equilibrium";
  readonly stops: readonly StopState[];
  /** Load factor at which the path first became unstable, if it did. */
  readonly firstUnstableFactor: number | undefined;
  /** Factorisations spent. */
  readonly passes: number;
  /** Whether the path came from the start state given, or from the unstrained frame: a start may have no neighbour under the new load. */
  readonly cameFrom: "start" | "unstrained frame";
  readonly extent: StateExtent;
}

/** How far a state goes, against what the element is made for. */
export interface StateExtent {
  /** Largest turn of an element's end against its chord, [rad]: above about 0.3 the beams need more elements. */
  readonly bend: number;
  /** Largest elastic strain in a fibre: above about 0.02 the law of small strains is in doubt. */
  readonly strain: number;
}

/** The path ended before the full load. */
export interface NoEquilibrium {
  readonly outcome: "no equilibrium";
  /** Part of the load that has a stable state on the path from the unstrained frame. */
  readonly reachedFactor: number;
  readonly reason: string;
}
