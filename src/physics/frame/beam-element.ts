/**
 * Planar corotational beam element: forces and exact tangent from an energy.
 *
 * The element's own motion is its stretch u and the end rotations t1, t2 against the chord. Energy
 *   U = EA L e^2/2 + EI/(2 L) (c1 t1^2 + 2 c2 t1 t2 + c1 t2^2),   e = u/L + (2 t1^2 - t1 t2 + 2 t2^2)/30 - free strain,
 * with c1 = (4 + phi)/(1 + phi), c2 = (2 - phi)/(1 + phi), phi = 12 EI/(k G A L^2) (0 without shear). The term in t1, t2 is the mean of
 * w'^2/2 over the cubic deflection: a bowed element is shorter than its arc, so few elements follow a bent or buckled beam.
 * A tapered element has c11, c12 and c22 of its own and the mean of 1/A (tapered-section.ts), exact for moments and forces at its ends;
 * its bowing is taken as that of the even one, which falls with the square of its length like the error of the cubic.
 * Chord rotations may be of any size; t1, t2 must stay small (below about 0.3 rad: more elements otherwise).
 * Source: Crisfield, Non-linear Finite Element Analysis of Solids and Structures 1, 1991, ch. 7 (key crisfield1991, from memory).
 * Main test: beam-element.test.ts (forces against differences of the energy, tangent against differences of the forces).
 */

import { type BendingIntegrals, turnStiffness } from "./tapered-section.ts";

/** Layout of an element's result. */
export const elementSize = 26;
/** Forces on start x, y, rotation, end x, y, rotation. */
export const forceAt = 0;
/** Derivative of these forces with respect to the free strain. */
export const strainForceAt = 6;
/** Tangent: translation block xx, xy, yy; columns of start and end rotation (x, y each); rotations 11, 12, 22. */
export const tangentAt = 12;
/** Axial force, start moment, end moment, chord length. */
export const resultantAt = 22;

export interface ElementShape {
  /** Stress-free vector from start to end [m]. */
  readonly dx: number;
  readonly dy: number;
  readonly length: number;
  /** Of a tapered element 1/area is the mean along it, [m^2]. */
  readonly area: number;
  /** At its mean width, [m^4]. */
  readonly secondMoment: number;
  /** Of a tapered element: integrals over 1/I, [1/m^4]. */
  readonly bending?: BendingIntegrals;
  readonly effectiveShearModulus: number | undefined;
  /** Part of the stiffness along it that is left. */
  readonly axialShare: number;
}

/**
 * Writes forces, strain derivative, tangent and resultants of one element at `at` of `result`.
 * `motions` holds x, y, rotation of the start at `start` and of the end at `end`.
 */
export function evaluateElementInto(
  result: Float64Array,
  at: number,
  element: {
    readonly shape: ElementShape;
    readonly youngsModulus: number;
    readonly freeStrain: number;
    readonly motions: Float64Array;
    readonly start: number;
  },
): void {
  const { shape, youngsModulus, freeStrain, motions, start } = element;
  const { dx, dy, length: L } = shape;
  const du = motions[start + 3]! - motions[start]!;
  const dv = motions[start + 4]! - motions[start + 1]!;
  const x = dx + du;
  const y = dy + dv;
  const l = Math.sqrt(x * x + y * y);
  const c = x / l;
  const s = y / l;
  // From the difference of the squares, so that a small stretch keeps its digits.
  const u = (du * (dx + x) + dv * (dy + y)) / (l + L);
  const theta1 = motions[start + 2]!;
  const theta2 = motions[start + 5]!;
  const chord = Math.atan2(dx * dv - dy * du, dx * x + dy * y);
  const turns = Math.round((0.5 * (theta1 + theta2) - chord) / (2 * Math.PI));
  const alpha = chord + 2 * Math.PI * turns;
  const t1 = theta1 - alpha;
  const t2 = theta2 - alpha;

  const EA = youngsModulus * shape.area * shape.axialShare;
  const EI = youngsModulus * shape.secondMoment;
  const shear = shape.effectiveShearModulus;
  let b1: number;
  let b2: number;
  let b3: number;
  if (shape.bending === undefined) {
    const phi = shear === undefined ? 0 : (12 * EI) / (shear * shape.area * L * L);
    b1 = ((EI / L) * (4 + phi)) / (1 + phi);
    b2 = ((EI / L) * (2 - phi)) / (1 + phi);
    b3 = b1;
  } else {
    const scale = youngsModulus / L;
    const sheared = shear === undefined ? 0 : scale / (shear * shape.area * L);
    const turns = turnStiffness(shape.bending, sheared);
    b1 = scale * turns.start;
    b2 = scale * turns.cross;
    b3 = scale * turns.end;
  }
  const g1 = (4 * t1 - t2) / 30;
  const g2 = (4 * t2 - t1) / 30;
  const N = EA * (u / L + (2 * t1 * t1 - t1 * t2 + 2 * t2 * t2) / 30 - freeStrain);
  const M1 = b1 * t1 + b2 * t2 + N * L * g1;
  const M2 = b2 * t1 + b3 * t2 + N * L * g2;
  const k00 = EA / L;
  const k01 = EA * g1;
  const k02 = EA * g2;
  const k11 = b1 + EA * L * g1 * g1 + (4 * N * L) / 30;
  const k12 = b2 + EA * L * g1 * g2 - (N * L) / 30;
  const k22 = b3 + EA * L * g2 * g2 + (4 * N * L) / 30;

  const V = (M1 + M2) / l;
  result[at] = -N * c - V * s;
  result[at + 1] = -N * s + V * c;
  result[at + 2] = M1;
  result[at + 3] = N * c + V * s;
  result[at + 4] = N * s - V * c;
  result[at + 5] = M2;
  const Ve = (-EA * L * (g1 + g2)) / l;
  result[at + 6] = EA * c - Ve * s;
  result[at + 7] = EA * s + Ve * c;
  result[at + 8] = -EA * L * g1;
  result[at + 9] = -EA * c + Ve * s;
  result[at + 10] = -EA * s - Ve * c;
  result[at + 11] = -EA * L * g2;
  const rz = (-(k01 + k02) + V) / l;
  const zz = ((k11 + 2 * k12 + k22) / l + N) / l;
  result[at + 12] = k00 * c * c - 2 * rz * c * s + zz * s * s;
  result[at + 13] = k00 * c * s + rz * (c * c - s * s) - zz * c * s;
  result[at + 14] = k00 * s * s + 2 * rz * c * s + zz * c * c;
  const z1 = (k11 + k12) / l;
  const z2 = (k12 + k22) / l;
  result[at + 15] = k01 * c + z1 * s;
  result[at + 16] = k01 * s - z1 * c;
  result[at + 17] = k02 * c + z2 * s;
  result[at + 18] = k02 * s - z2 * c;
  result[at + 19] = k11;
  result[at + 20] = k12;
  result[at + 21] = k22;
  result[at + 22] = N;
  result[at + 23] = M1;
  result[at + 24] = M2;
  result[at + 25] = l;
}
