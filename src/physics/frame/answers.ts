/**
 * What is asked of a state: stiffness of a motion at a junction or body point, flexibility, forces and stresses along the beams, and the
 * shape that the out-of-plane and vibration models work about. Main test: answers.test.ts.
 */
import { elementSize, resultantAt } from "./beam-element.ts";
import { endWidths } from "./element-shape.ts";
import type { FrameModel } from "./model.ts";
import type { FrameBeam, FrameShape, Motion } from "./network.ts";
import type { FrameState } from "./state.ts";
import type { EndWidths } from "./tapered-section.ts";
import { motionIndex } from "./topology.ts";

/** A point of a junction's rigid body, and one of its motions. */
export interface PointMotion {
  readonly junction: number;
  readonly motion: Motion;
  /** Relative to the junction without load, [m]; left out = the junction itself. */
  readonly offset?: readonly [x: number, y: number];
}

/**
 * Tangent flexibility of a body point at a state: [3 × 3] row-major, motions x, y, turn by unit forces and a unit moment there.
 * Rows and columns of held motions are 0; closed stops stay closed, or do not count.
 */
export function flexibilityAt(
  model: FrameModel,
  state: FrameState,
  options: { readonly junction: number; readonly offset?: readonly [x: number, y: number]; readonly withoutStops?: boolean },
): Float64Array {
  const system = model.standAt(state, { factored: true });
  const { junction, offset, withoutStops = false } = options;
  const [ox, oy] = offset === undefined ? [0, 0] : system.turn(junction, offset[0], offset[1]);
  const { rowOfMotion } = system.rows;
  const j = 3 * junction;
  const out = new Float64Array(9);
  const x = new Float64Array(model.topology.nMotions);
  for (let column = 0; column < 3; column++) {
    x.fill(0);
    const unit = [column === 0 ? 1 : 0, column === 1 ? 1 : 0, column === 0 ? -oy : column === 1 ? ox : 1];
    for (let k = 0; k < 3; k++) if (rowOfMotion[j + k]! >= 0) x[j + k] = unit[k]!;
    if (withoutStops) system.solveFree(x);
    else system.solveInto(x);
    out[column] = x[j]! - oy * x[j + 2]!;
    out[3 + column] = x[j + 1]! + ox * x[j + 2]!;
    out[6 + column] = x[j + 2]!;
  }
  return out;
}

/**
 * Force per motion of a small push along one motion of a body point, everything else free, [N/m] or [N m/rad]. Negative where the state
 * would run away; infinite where the motion is held.
 */
export function stiffnessAt(model: FrameModel, state: FrameState, point: PointMotion): number {
  const { junction, motion, offset } = point;
  const k = motionIndex[motion];
  const flexibility = flexibilityAt(model, state, offset === undefined ? { junction } : { junction, offset })[4 * k]!;
  return flexibility === 0 ? Number.POSITIVE_INFINITY : 1 / flexibility;
}

/** Motion of a body point at a state, [m] or [rad]. */
export function motionAt(model: FrameModel, state: FrameState, point: PointMotion): number {
  const { junction, motion, offset } = point;
  const j = 3 * junction;
  const moved = state.allMotions[j + motionIndex[motion]]!;
  if (offset === undefined || motion === "turn") return moved;
  const k = motion === "x" ? 0 : 1;
  const turned = model.standAt(state, { factored: false }).turn(junction, offset[0], offset[1]);
  return moved + turned[k]! - offset[k]!;
}

/** Forces inside one beam. */
export interface BeamForces {
  /** Axial force of each element, tension positive, [nElements] N. */
  readonly axialForces: Float64Array;
  /** Bending moment at both ends of each element, [nElements × 2] N m; positive curves the beam counter-clockwise along its way. */
  readonly moments: Float64Array;
  /** Shear force of each element, growth of the moment along it, [nElements] N. */
  readonly shears: Float64Array;
  /** Stress of largest size in the outer fibres, |N|/A + |M| w/(2 I), with the width right there, [Pa]. */
  readonly peakStress: number;
  /** Where: element, place in it from 0 to 1, part of the beam's length, and the side it stands on looking along the beam. */
  readonly peakAt: { readonly element: number; readonly place: number; readonly part: number; readonly side: "left" | "right" };
  /** The same where its free part starts and ends: at its roots, [Pa]. */
  readonly endStresses: readonly [start: number, end: number];
}

/** Forces of every beam at a state. */
export function findBeamForces(model: FrameModel, state: FrameState): BeamForces[] {
  const { elements } = model.standAt(state, { factored: false });
  const { topology, numbers } = model;
  return model.network.beams.map((beam, b) => {
    const first = topology.firstElement[b]!;
    const n = topology.firstElement[b + 1]! - first;
    const axialForces = new Float64Array(n);
    const moments = new Float64Array(2 * n);
    const shears = new Float64Array(n);
    for (let e = 0; e < n; e++) {
      const at = (first + e) * elementSize + resultantAt;
      axialForces[e] = elements[at]!;
      // the start moment acts on the element, so the bending moment inside is its opposite; neighbours agree in balance
      moments[2 * e] = -elements[at + 1]!;
      moments[2 * e + 1] = elements[at + 2]!;
      shears[e] = (elements[at + 1]! + elements[at + 2]!) / elements[at + 3]!;
    }
    const lengths = numbers.inputs.slice(first, first + n).map(({ shape }) => shape.length);
    return { axialForces, moments, shears, ...peakOf(beam, { axialForces, moments, lengths }) };
  });
}

/** The free part of each element of a beam, from 0 to 1 along it: what stands for the give of a root has no stress of its own. */
function freePartOf(
  { reaches: [start, end] = [0, 0] }: FrameBeam,
  element: { readonly before: number; readonly length: number; readonly whole: number },
): readonly [number, number] {
  const { before, length, whole } = element;
  return [Math.max(0, (start - before) / length), Math.min(1, (whole - end - before) / length)];
}

/** Where the stress of bending alone may be largest within an element: between its ends only where it tapers. */
function placesOfPeak(moments: readonly [number, number], widths: EndWidths, free: readonly [number, number]): readonly number[] {
  const [m, w] = [moments[1] - moments[0], widths[1] - widths[0]];
  // M/w^2 is stationary where M' w = 2 M w'
  const inside = w === 0 || m === 0 ? Number.NaN : (m * widths[0] - 2 * moments[0] * w) / (m * w);
  return inside > free[0] && inside < free[1] ? [...free, inside] : free;
}

function peakOf(
  beam: FrameBeam,
  forces: Pick<BeamForces, "axialForces" | "moments"> & { readonly lengths: readonly number[] },
): Pick<BeamForces, "peakStress" | "peakAt" | "endStresses"> {
  const { thickness } = beam;
  const { lengths } = forces;
  const whole = lengths.reduce((sum, length) => sum + length, 0);
  let peakStress = 0;
  let peakAt: BeamForces["peakAt"] = { element: 0, place: 0, part: 0, side: "left" };
  let endStresses: readonly [start: number, end: number] | undefined;
  let before = 0;
  lengths.forEach((length, element) => {
    const widths = endWidths(beam, element);
    const N = forces.axialForces[element]!;
    const moments = [forces.moments[2 * element]!, forces.moments[2 * element + 1]!] as const;
    const free = freePartOf(beam, { before, length, whole });
    for (const place of free[0] < free[1] ? placesOfPeak(moments, widths, free) : []) {
      const width = widths[0] + place * (widths[1] - widths[0]);
      const moment = moments[0] + place * (moments[1] - moments[0]);
      const stress = Math.abs(N) / (width * thickness) + (6 * Math.abs(moment)) / (thickness * width * width);
      if (place === free[0] || place === free[1]) endStresses = [endStresses?.[0] ?? stress, stress];
      if (stress <= peakStress) continue;
      peakStress = stress;
      // a positive moment pulls on the right side
      const side = moment * (N < 0 ? -1 : 1) > 0 ? "right" : "left";
      peakAt = { element, place, part: (before + place * length) / whole, side };
    }
    before += length;
  });
  return { peakStress, peakAt, endStresses: endStresses ?? [0, 0] };
}

/** The shape of a state, for models of small motion about it. */
export function shapeOf(model: FrameModel, state: FrameState): FrameShape {
  const { topology } = model;
  const perBeam = <T>(make: (b: number, first: number, end: number) => T): T[] =>
    model.network.beams.map((_, b) => make(b, topology.firstElement[b]!, topology.firstElement[b + 1]!));
  return {
    motions: state.motions.slice(),
    beamMotions: perBeam((b) => state.allMotions.slice(topology.nodesAt[b]!, topology.nodesAt[b + 1]!)),
    strains: perBeam((_, first, end) => state.load.strains.slice(first, end)),
    moduli: perBeam((_, first, end) => state.load.moduli.slice(first, end)),
    axialForces: findBeamForces(model, state).map((forces) => forces.axialForces),
    bodyStrains: state.load.bodyStrains.slice(),
  };
}
