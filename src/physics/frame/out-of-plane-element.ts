/**
 * Stiffness of a straight beam element against small motion out of the plane: z and the turns about x and y at both ends.
 *
 * Elastic part: bending with E w t^3/12 and shear, Saint-Venant torsion. Part from the state in the plane (axial force N, shear Q,
 * moment M(s)): the second-order part of the strains of a beam whose sections turn by the vector theta = (phi, -w'),
 *   U = 1/2 int N (w'^2 + r^2 phi'^2) + Q phi w' + M (phi w'' - w' phi') ds,   r^2 = (w^2 + t^2)/12,   M' = -Q,
 * with the cubic w of the beam stiff against shear and linear twist phi. It makes a rigid tilt of a stressed frame free of energy.
 * Validity: ends of beams free to warp. Source: the strains of Simo 1985 (key simo1985, from memory) to second order; own derivation.
 * Main tests: out-of-plane-element.test.ts (rigid tilt), out-of-plane.test.ts (buckling loads).
 */
import type { TurnStiffness } from "./tapered-section.ts";

export interface LiftedElement {
  /** Length between the ends in the bent shape, [m], and its direction. */
  readonly length: number;
  readonly cos: number;
  readonly sin: number;
  /** Unstrained length, [m]. */
  readonly restLength: number;
  /** E w t^3/12 [N m^2]. */
  readonly bending: number;
  /** Of a tapered element, bending and shear in one, in place of `bending` and `shear`. */
  readonly turns?: TurnStiffness | undefined;
  /** 12 EI/(k G A L^2), 0 where stiff against shear. */
  readonly shear: number;
  /** G J [N m^2]. */
  readonly torsion: number;
  /** (w^2 + t^2)/12 [m^2]. */
  readonly polarRadiusSquared: number;
  /** Tension positive, [N]. */
  readonly axialForce: number;
  /** Moments in the plane on the start and the end of the element, [N m]. */
  readonly startMoment: number;
  readonly endMoment: number;
}

const half = Math.sqrt(3) / 6;
const local = new Float64Array(36);
const twist = new Float64Array(6);
const slope = new Float64Array(6);
const curvature = new Float64Array(6);
const twistRate = new Float64Array(6);

/** Writes the 6 x 6 row-major stiffness for z, turn x, turn y at the start and at the end, and the stiffness in the element's own motions. */
export function liftedStiffnessInto(
  out: { readonly stiffness: Float64Array; readonly own: Float64Array },
  element: LiftedElement,
): void {
  const { length: l, restLength: L, bending, shear, torsion, polarRadiusSquared, axialForce: N } = element;
  local.fill(0);
  // In the element's own motions: w, twist, slope at the start, then at the end. t1, t2 = slope against the chord.
  const evenNear = ((bending / L) * (4 + shear)) / (1 + shear);
  const evenFar = ((bending / L) * (2 - shear)) / (1 + shear);
  const { start, cross, end } = element.turns ?? { start: evenNear, cross: evenFar, end: evenNear };
  const startTurn = start + (4 * N * L) / 30;
  const endTurn = end + (4 * N * L) / 30;
  const far = cross - (N * L) / 30;
  const startPair = (startTurn + far) / l;
  const endPair = (endTurn + far) / l;
  const lift = (startPair + endPair + N) / l;
  const turn = (torsion + N * polarRadiusSquared) / L;
  set(0, 0, lift);
  set(0, 2, startPair);
  set(0, 3, -lift);
  set(0, 5, endPair);
  set(2, 2, startTurn);
  set(2, 3, -startPair);
  set(2, 5, far);
  set(3, 3, lift);
  set(3, 5, -endPair);
  set(5, 5, endTurn);
  set(1, 1, turn);
  set(1, 4, -turn);
  set(4, 4, turn);
  addMomentPart(element);
  out.own.set([startTurn, far, endTurn, turn, N, element.startMoment, element.endMoment]);
  turnInto(out.stiffness, element.cos, element.sin);
}

function set(i: number, j: number, value: number): void {
  local[6 * i + j] = value;
  local[6 * j + i] = value;
}

/** Q phi w' + M (phi w'' - w' phi'), products of third degree: two Gauss points are exact. */
function addMomentPart(element: LiftedElement): void {
  const { length: l, startMoment, endMoment } = element;
  if (startMoment === 0 && endMoment === 0) return;
  const Q = -(startMoment + endMoment) / l;
  for (const x of [0.5 - half, 0.5 + half]) {
    const M = endMoment * x - startMoment * (1 - x);
    const s1 = 1 - 4 * x + 3 * x * x;
    const s2 = 3 * x * x - 2 * x;
    twist[1] = 1 - x;
    twist[4] = x;
    twistRate[1] = -1 / l;
    twistRate[4] = 1 / l;
    slope[0] = -(1 - s1 - s2) / l;
    slope[2] = s1;
    slope[3] = (1 - s1 - s2) / l;
    slope[5] = s2;
    const c1 = (6 * x - 4) / l;
    const c2 = (6 * x - 2) / l;
    curvature[0] = (c1 + c2) / l;
    curvature[2] = c1;
    curvature[3] = -(c1 + c2) / l;
    curvature[5] = c2;
    for (let i = 0; i < 6; i++) {
      for (let j = 0; j < 6; j++) {
        const shearPart = Q * (twist[i]! * slope[j]! + slope[i]! * twist[j]!);
        const bend = twist[i]! * curvature[j]! + curvature[i]! * twist[j]!;
        const twistPart = slope[i]! * twistRate[j]! + twistRate[i]! * slope[j]!;
        local[6 * i + j] = local[6 * i + j]! + 0.25 * l * (shearPart + M * (bend - twistPart));
      }
    }
  }
}

/** From w, twist, slope to z, turn x, turn y: twist = c rx + s ry, slope = s rx - c ry. */
function turnInto(stiffness: Float64Array, c: number, s: number): void {
  for (let i = 0; i < 6; i++) {
    for (const at of [6 * i, 6 * i + 3]) {
      const p = local[at + 1]!;
      const q = local[at + 2]!;
      stiffness[at] = local[at]!;
      stiffness[at + 1] = c * p + s * q;
      stiffness[at + 2] = s * p - c * q;
    }
  }
  for (let j = 0; j < 6; j++) {
    for (const at of [j, j + 18]) {
      const p = stiffness[at + 6]!;
      const q = stiffness[at + 12]!;
      stiffness[at + 6] = c * p + s * q;
      stiffness[at + 12] = s * p - c * q;
    }
  }
}
