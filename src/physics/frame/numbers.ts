/** The sizes of one frame in flat arrays, as the solver reads them, and their checks. */
import type { ElementShape } from "./beam-element.ts";
import { elementShape, endWidths } from "./element-shape.ts";
import type { FrameBeam, FrameNetwork } from "./network.ts";
import { type FrameTopology, motionNames } from "./topology.ts";

/** What evaluateElementInto reads; modulus and free strain change along a path. */
export interface ElementInput {
  readonly shape: ElementShape;
  /** How far the middle of its mass lies from its own middle towards its end, in its length. */
  readonly massShift: number;
  youngsModulus: number;
  freeStrain: number;
  motions: Float64Array;
  readonly start: number;
}

export interface FrameNumbers {
  readonly network: FrameNetwork;
  readonly inputs: readonly ElementInput[];
  /** [nBeams × 4] place of the beam's start relative to its junction x, y, and of its end, [m]. */
  readonly offsets: Float64Array;
  /** [3 nJunctions] N/m or N m/rad. */
  readonly springs: Float64Array;
  /** [nElements] kg; all 0 and `hasMass` false where every beam and body is massless. */
  readonly elementMasses: Float64Array;
  readonly hasMass: boolean;
  /** Narrowest element in the plane, [m]. */
  readonly thinnest: number;
}

/** Part of a junction's coordinates within which a beam's end counts as lying at the junction. */
const rounding = 1e-13;

export function createNumbers(network: FrameNetwork, topology: FrameTopology): FrameNumbers {
  const { junctions, beams } = network;
  const inputs: ElementInput[] = [];
  const offsets = new Float64Array(4 * beams.length);
  const elementMasses = new Float64Array(topology.nElements);
  const empty = new Float64Array(0);
  let thinnest = Number.POSITIVE_INFINITY;
  beams.forEach((beam, b) => {
    const { nodes, widths, thickness } = beam;
    const n = widths.length;
    for (const [end, node, junction] of [
      [0, 0, junctions[beam.from]!],
      [2, n, junctions[beam.to]!],
    ] as const) {
      const x = nodes[2 * node]! - junction.x;
      const y = nodes[2 * node + 1]! - junction.y;
      // the rounding of a place is no lever
      const isAtJunction = Math.abs(x) + Math.abs(y) <= rounding * (Math.abs(junction.x) + Math.abs(junction.y));
      offsets[4 * b + end] = isAtJunction ? 0 : x;
      offsets[4 * b + end + 1] = isAtJunction ? 0 : y;
    }
    for (let e = 0; e < n; e++) {
      const shape = elementShape(beam, e);
      const [startWidth, endWidth] = endWidths(beam, e);
      thinnest = Math.min(thinnest, startWidth, endWidth);
      elementMasses[topology.firstElement[b]! + e] = (beam.density ?? 0) * widths[e]! * thickness * shape.length;
      inputs.push({
        shape,
        massShift: (beam.tapers?.[e] ?? 0) / (12 * widths[e]!),
        youngsModulus: beam.youngsModulus,
        freeStrain: 0,
        motions: empty,
        start: topology.nodesAt[b]! + 3 * e,
      });
    }
  });
  const springs = new Float64Array(3 * junctions.length);
  junctions.forEach((junction, j) => {
    motionNames.forEach((motion, k) => {
      springs[3 * j + k] = junction.springs?.[motion] ?? 0;
    });
  });
  const hasMass = beams.some((beam) => (beam.density ?? 0) > 0) || junctions.some((junction) => (junction.body?.mass ?? 0) > 0);
  return { network, inputs, offsets, springs, elementMasses, hasMass, thinnest };
}

/** Throws a RangeError with a sentence at the first impossible number. */
export function checkNetwork(network: FrameNetwork): void {
  network.junctions.forEach((junction, j) => {
    for (const [what, value] of [
      ["x", junction.x],
      ["y", junction.y],
    ] as const)
      if (!Number.isFinite(value)) refuse(`the ${what} of junction ${name(junction.name, j)}`, "a finite number", value);
  });
  network.beams.forEach((beam, b) => {
    checkBeam(beam, { label: name(beam.name, b), nJunctions: network.junctions.length });
  });
  network.stops?.forEach((stop, s) => {
    const label = name(stop.name, s);
    const last = network.junctions.length - 1;
    if (!(stop.junction >= 0 && stop.junction <= last)) refuse(`stop ${label}`, `a junction from 0 to ${last}`, stop.junction);
    if (!(stop.gap >= 0 && Number.isFinite(stop.gap))) refuse(`the gap of stop ${label}`, "0 or more", stop.gap);
    const length = Math.hypot(stop.direction[0], stop.direction[1]);
    if (!(Math.abs(length - 1) < 1e-9)) refuse(`the direction of stop ${label}`, "a unit vector", length);
  });
}

function checkBeam(beam: FrameBeam, options: { readonly label: string; readonly nJunctions: number }): void {
  const { label, nJunctions } = options;
  for (const end of [beam.from, beam.to]) {
    if (!(Number.isInteger(end) && end >= 0 && end < nJunctions)) {
      refuse(`beam ${label}`, `a junction from 0 to ${nJunctions - 1}`, end);
    }
  }
  if (beam.from === beam.to) refuse(`beam ${label}`, "two different junctions", beam.from);
  const n = beam.widths.length;
  if (n < 1) refuse(`beam ${label}`, "at least one element", n);
  const nTapers = beam.tapers?.length ?? n;
  if (nTapers !== n) refuse(`the tapers of beam ${label}`, `${n} of them`, nTapers);
  if (beam.nodes.length !== 2 * (n + 1)) refuse(`the nodes of beam ${label}`, `${2 * (n + 1)} coordinates`, beam.nodes.length);
  requirePositive(beam.thickness, `the thickness of beam ${label}`);
  requirePositive(beam.youngsModulus, `the modulus of beam ${label}`);
  if (beam.shearModulus !== undefined) requirePositive(beam.shearModulus, `the shear modulus of beam ${label}`);
  for (let e = 0; e < n; e++) {
    for (const width of endWidths(beam, e)) requirePositive(width, `the width of element ${e} of beam ${label}`);
    const dx = beam.nodes[2 * e + 2]! - beam.nodes[2 * e]!;
    const dy = beam.nodes[2 * e + 3]! - beam.nodes[2 * e + 1]!;
    requirePositive(Math.sqrt(dx * dx + dy * dy), `the length of element ${e} of beam ${label}`);
  }
}

const name = (given: string, index: number): string => (given === "" ? `${index}` : `"${given}"`);

function requirePositive(value: number, what: string): void {
  if (!(value > 0 && Number.isFinite(value))) refuse(what, "a positive number", value);
}

function refuse(what: string, wanted: string, found: number): never {
  throw new RangeError(`Cannot use ${what}: wanted ${wanted}, found ${found}`);
}
