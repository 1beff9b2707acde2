/**
 * How the beams of a frame hang together, apart from all sizes: flat numbering of elements, nodes and unknowns.
 *
 * All motions of a frame stand in one flat array: 3 per junction (x, y, turn), then 3 per beam node, beam after beam, both ends
 * included, then the force of every stop. Two frames of one topology differ in numbers only and share one numbering and workspace.
 */
import type { FrameNetwork, Motion } from "./network.ts";

export const motionIndex: Readonly<Record<Motion, 0 | 1 | 2>> = { x: 0, y: 1, turn: 2 };
export const motionNames: readonly Motion[] = ["x", "y", "turn"];

export interface FrameTopology {
  readonly nJunctions: number;
  readonly nBeams: number;
  readonly nElements: number;
  readonly nNodes: number;
  readonly nStops: number;
  /** Length of the flat array of all motions. */
  readonly nMotions: number;
  /** Where the stop forces begin in it. */
  readonly stopsAt: number;
  /** [nBeams] junction at the start and at the end. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** [nBeams + 1] first element of each beam. */
  readonly firstElement: Int32Array;
  /** [nBeams + 1] place of each beam's first node in the flat array. */
  readonly nodesAt: Int32Array;
  /** [nBeams × 2] 1 where the start, the end is hinged. */
  readonly hinged: Uint8Array;
  /** [nStops] junction. */
  readonly stopJunction: Int32Array;
  /** [3 nJunctions] 1 where a motion is held for ever. */
  readonly isHeld: Uint8Array;
}

export function createTopology(network: FrameNetwork): FrameTopology {
  const { junctions, beams, stops = [] } = network;
  const nBeams = beams.length;
  const firstElement = new Int32Array(nBeams + 1);
  const nodesAt = new Int32Array(nBeams + 1);
  nodesAt[0] = 3 * junctions.length;
  const hinged = new Uint8Array(2 * nBeams);
  beams.forEach((beam, b) => {
    const n = beam.widths.length;
    firstElement[b + 1] = firstElement[b]! + n;
    nodesAt[b + 1] = nodesAt[b]! + 3 * (n + 1);
    hinged[2 * b] = beam.hingedFrom === true ? 1 : 0;
    hinged[2 * b + 1] = beam.hingedTo === true ? 1 : 0;
  });
  const isHeld = new Uint8Array(3 * junctions.length);
  junctions.forEach((junction, j) => {
    for (const motion of junction.held) if (isPlanar(motion)) isHeld[3 * j + motionIndex[motion]] = 1;
  });
  return {
    nJunctions: junctions.length,
    nBeams,
    nElements: firstElement[nBeams]!,
    nNodes: (nodesAt[nBeams]! - 3 * junctions.length) / 3,
    nStops: stops.length,
    nMotions: nodesAt[nBeams]! + stops.length,
    stopsAt: nodesAt[nBeams]!,
    from: Int32Array.from(beams, (beam) => beam.from),
    to: Int32Array.from(beams, (beam) => beam.to),
    firstElement,
    nodesAt,
    hinged,
    stopJunction: Int32Array.from(stops, (stop) => stop.junction),
    isHeld,
  };
}

function isPlanar(motion: string): motion is Motion {
  return motion === "x" || motion === "y" || motion === "turn";
}

export function isSameTopology(a: FrameTopology, b: FrameTopology): boolean {
  return (
    a.nJunctions === b.nJunctions &&
    isEqual(a.from, b.from) &&
    isEqual(a.to, b.to) &&
    isEqual(a.firstElement, b.firstElement) &&
    isEqual(a.hinged, b.hinged) &&
    isEqual(a.stopJunction, b.stopJunction) &&
    isEqual(a.isHeld, b.isHeld)
  );
}

function isEqual(a: Int32Array | Uint8Array, b: Int32Array | Uint8Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
