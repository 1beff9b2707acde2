/**
 * Numbering of the unknowns of small motion about a bent frame, for motion in the plane or out of it.
 *
 * Inner nodes of a beam stand just before the first of its two junctions, so that the skyline is narrow inside beams and long only
 * in the three rows of a junction. End nodes have no unknowns of their own, but for the turn of a hinged end in the plane: they
 * follow their junction through the offset between the two.
 */
import { createSkyline, type SkylineMatrix } from "#numerics";
import { orderJunctions } from "./junction-order.ts";
import type { FrameNetwork, FrameShape, Motion, OutOfPlaneMotion } from "./network.ts";
import { createTopology, type FrameTopology } from "./topology.ts";

/** Small motion in the plane (x, y, turn) and out of it (z, turn x, turn y) do not mix about a shape that lies in the plane. */
export type MotionFamily = "in plane" | "out of plane";

export const motionsOfFamily: Readonly<Record<MotionFamily, readonly (Motion | OutOfPlaneMotion)[]>> = {
  "in plane": ["x", "y", "turn"],
  "out of plane": ["z", "turn x", "turn y"],
};

/** A motion of one junction. */
export interface JunctionMotion {
  readonly junction: number;
  readonly motion: Motion | OutOfPlaneMotion;
}

/** How the three motions of an element's end follow from the unknowns. */
export interface EndMap {
  /** [4] unknowns of the junction or node and, where hinged, of the end's own turn; -1 where held or absent. */
  readonly unknowns: Int32Array;
  /** [3 x 4] row-major: motions of the end per unknown; undefined where the end is an inner node with its own three unknowns. */
  readonly columns: Float64Array | undefined;
}

export interface Unknowns {
  readonly family: MotionFamily;
  readonly nUnknowns: number;
  readonly topology: FrameTopology;
  /** [3 nJunctions] unknown of each junction motion, -1 where held. */
  readonly ofJunction: Int32Array;
  /** Per beam: maps of the nodes 0..nElements. */
  readonly maps: readonly (readonly EndMap[])[];
  /** [nUnknowns] first column of each row of stiffness and mass. */
  readonly firstColumn: Int32Array;
}

export function numberUnknowns(
  network: FrameNetwork,
  shape: FrameShape,
  options: { readonly family: MotionFamily; readonly alsoHeld: readonly JunctionMotion[] },
): Unknowns {
  const { family, alsoHeld } = options;
  const topology = createTopology(network);
  const ofJunction = markHeld(network, { family, alsoHeld });
  const hasRows = (j: number): boolean => ofJunction[3 * j]! + ofJunction[3 * j + 1]! + ofJunction[3 * j + 2]! > -3;
  const beamsOf: number[][] = network.junctions.map(() => []);
  network.beams.forEach((beam, b) => {
    beamsOf[beam.from]!.push(b);
    beamsOf[beam.to]!.push(b);
  });
  const innerAt = new Int32Array(network.beams.length).fill(-1);
  const hinges = new Int32Array(2 * network.beams.length).fill(-1);
  let nUnknowns = 0;
  const numberBeam = (b: number): void => {
    if (innerAt[b]! >= 0) return;
    const beam = network.beams[b]!;
    if (family === "in plane" && beam.hingedFrom === true) hinges[2 * b] = nUnknowns++;
    innerAt[b] = nUnknowns;
    nUnknowns += 3 * (beam.widths.length - 1);
    if (family === "in plane" && beam.hingedTo === true) hinges[2 * b + 1] = nUnknowns++;
  };
  for (const j of orderJunctions(topology, hasRows)) {
    if (!hasRows(j)) continue;
    for (const b of beamsOf[j]!) numberBeam(b);
    for (let k = 0; k < 3; k++) if (ofJunction[3 * j + k] === 0) ofJunction[3 * j + k] = nUnknowns++;
  }
  for (let b = 0; b < network.beams.length; b++) numberBeam(b);
  const maps = network.beams.map((beam, b) => {
    const n = beam.widths.length;
    return Array.from({ length: n + 1 }, (_, i) => {
      if (i > 0 && i < n) {
        const first = innerAt[b]! + 3 * (i - 1);
        return { unknowns: Int32Array.of(first, first + 1, first + 2, -1), columns: undefined };
      }
      const junction = i === 0 ? beam.from : beam.to;
      const hinge = hinges[2 * b + (i === 0 ? 0 : 1)]!;
      const [ox, oy] = offsetOfEnd(network, shape, { beam: b, node: i, junction });
      const unknowns = Int32Array.of(
        ofJunction[3 * junction]!,
        ofJunction[3 * junction + 1]!,
        ofJunction[3 * junction + 2]!,
        hinge,
      );
      return { unknowns, columns: family === "in plane" ? planarColumns(ox, oy, hinge >= 0) : liftedColumns(ox, oy) };
    });
  });
  return { family, nUnknowns, topology, ofJunction, maps, firstColumn: profileOf(nUnknowns, maps, ofJunction) };
}

/** An empty matrix with the profile of stiffness and mass. */
export function createMatrix(unknowns: Unknowns): SkylineMatrix {
  return createSkyline(unknowns.firstColumn);
}

/** [3 nJunctions] -1 where held, 0 elsewhere. */
function markHeld(
  network: FrameNetwork,
  options: { readonly family: MotionFamily; readonly alsoHeld: readonly JunctionMotion[] },
): Int32Array {
  const names = motionsOfFamily[options.family];
  const marks = new Int32Array(3 * network.junctions.length);
  const hold = (j: number, motion: Motion | OutOfPlaneMotion): void => {
    const k = names.indexOf(motion);
    if (k >= 0) marks[3 * j + k] = -1;
  };
  network.junctions.forEach((junction, j) => {
    for (const motion of junction.held) hold(j, motion);
  });
  for (const { junction, motion } of options.alsoHeld) {
    if (network.junctions[junction] === undefined) {
      throw new RangeError(
        `Cannot hold a motion: wanted a junction from 0 to ${network.junctions.length - 1}, found ${junction}`,
      );
    }
    hold(junction, motion);
  }
  return marks;
}

/** Place of a beam's end node relative to its junction in the bent shape, [m]. */
export function offsetOfEnd(
  network: FrameNetwork,
  shape: FrameShape,
  at: { readonly beam: number; readonly node: number; readonly junction: number },
): readonly [x: number, y: number] {
  const { nodes } = network.beams[at.beam]!;
  const motions = shape.beamMotions[at.beam]!;
  const junction = network.junctions[at.junction]!;
  return [
    nodes[2 * at.node]! - junction.x + motions[3 * at.node]! - shape.motions[3 * at.junction]!,
    nodes[2 * at.node + 1]! - junction.y + motions[3 * at.node + 1]! - shape.motions[3 * at.junction + 1]!,
  ];
}

/** Place in the bent shape of a point of a body, relative to its junction, from that in the unstrained one, [m]. */
export function offsetInShape(
  shape: FrameShape,
  point: { readonly junction: number; readonly offset: readonly [x: number, y: number] },
): readonly [x: number, y: number] {
  const turn = shape.motions[3 * point.junction + 2]!;
  const stretch = 1 + shape.bodyStrains[point.junction]!;
  const c = stretch * Math.cos(turn);
  const s = stretch * Math.sin(turn);
  return [c * point.offset[0] - s * point.offset[1], s * point.offset[0] + c * point.offset[1]];
}

/** x, y, turn of a point at an offset from those of its junction; a hinged end turns on its own. */
export function planarColumns(ox: number, oy: number, isHinged: boolean): Float64Array {
  return Float64Array.of(1, 0, -oy, 0, 0, 1, ox, 0, 0, 0, isHinged ? 0 : 1, isHinged ? 1 : 0);
}

/** z, turn x, turn y of a point at an offset from those of its junction. */
export function liftedColumns(ox: number, oy: number): Float64Array {
  return Float64Array.of(1, oy, -ox, 0, 0, 1, 0, 0, 0, 0, 1, 0);
}

function profileOf(nUnknowns: number, maps: readonly (readonly EndMap[])[], ofJunction: Int32Array): Int32Array {
  const firstColumn = Int32Array.from({ length: nUnknowns }, (_, i) => i);
  const join = (groups: readonly Int32Array[]): void => {
    let lowest = nUnknowns;
    for (const group of groups) for (const u of group) if (u >= 0 && u < lowest) lowest = u;
    for (const group of groups) for (const u of group) if (u >= 0 && firstColumn[u]! > lowest) firstColumn[u] = lowest;
  };
  for (const beam of maps) for (let e = 0; e + 1 < beam.length; e++) join([beam[e]!.unknowns, beam[e + 1]!.unknowns]);
  for (let j = 0; j < ofJunction.length; j += 3) join([ofJunction.subarray(j, j + 3)]);
  return firstColumn;
}
