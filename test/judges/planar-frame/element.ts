/**
 * A two-node planar beam element, corotational: rigid motion of the chord is taken out exactly, the rest is a shallow arch.
 *
 * Local strains: axial  e = u/L + (2 t1^2 - t1 t2 + 2 t2^2)/30 - eps,  bending by t1, t2 (rotations against the chord).
 * Energy = EA L e^2 / 2 + EI / (2 L (1 + p)) [(4 + p) t1^2 + 2 (2 - p) t1 t2 + (4 + p) t2^2],  p = 12 EI / (G A_s L^2).
 * The quadratic term keeps the shortening by bowing inside an element, so that few elements suffice. Tangent: exact.
 * Crisfield, Non-linear Finite Element Analysis of Solids and Structures, vol. 1 (1991), chapter 7 (from memory).
 */

export interface ElementStiffness {
  /** Length without strain, [m]. */
  readonly length: number;
  /** Angle of the chord without load, [rad]. */
  readonly angle: number;
  /** Young's modulus times cross-section, [N]. */
  readonly axial: number;
  /** Young's modulus times second moment, [N m^2]. */
  readonly bending: number;
  /** 12 EI / (G A_s L^2); 0 where shear is ignored. */
  readonly shear: number;
}

/** Forces inside an element. */
export interface ElementForces {
  /** [N], positive in tension. */
  axial: number;
  /** Moments on the start and the end, [N m]. */
  startMoment: number;
  endMoment: number;
}

/** Buffers for one element, reused. */
export interface ElementBuffers {
  /** [6] end forces. */
  readonly force: Float64Array;
  /** [6 × 6] tangent, row-major. */
  readonly tangent: Float64Array;
  readonly inner: ElementForces;
}

export function createElementBuffers(): ElementBuffers {
  return { force: new Float64Array(6), tangent: new Float64Array(36), inner: { axial: 0, startMoment: 0, endMoment: 0 } };
}

const r = new Float64Array(6);
const z = new Float64Array(6);

/**
 * End forces and tangent at end positions (x, y) and rotations [start: x0 y0 a0, end: x1 y1 a1] with free strain `eps`.
 */
export function evaluateElementInto(
  out: ElementBuffers,
  element: ElementStiffness,
  state: { x0: number; y0: number; a0: number; x1: number; y1: number; a1: number; eps: number },
): void {
  const { length: L, axial: EA, bending: EI, shear } = element;
  const dx = state.x1 - state.x0;
  const dy = state.y1 - state.y0;
  const l = Math.hypot(dx, dy);
  const c = dx / l;
  const s = dy / l;
  let turn = Math.atan2(dy, dx) - element.angle;
  turn -= 2 * Math.PI * Math.round((turn - (state.a0 + state.a1) / 2) / (2 * Math.PI));
  const t1 = state.a0 - turn;
  const t2 = state.a1 - turn;
  // l - L without cancellation: (l^2 - L^2)/(l + L)
  const u = (l * l - L * L) / (l + L);
  const e = u / L + (2 * t1 * t1 - t1 * t2 + 2 * t2 * t2) / 30 - state.eps;
  const N = EA * e;
  const near = (EI * (4 + shear)) / (L * (1 + shear));
  const far = (EI * (2 - shear)) / (L * (1 + shear));
  const b1 = (4 * t1 - t2) / 30;
  const b2 = (4 * t2 - t1) / 30;
  const m1 = N * L * b1 + near * t1 + far * t2;
  const m2 = N * L * b2 + far * t1 + near * t2;
  const { inner, force, tangent } = out;
  inner.axial = N;
  inner.startMoment = m1;
  inner.endMoment = m2;
  r[0] = -c;
  r[1] = -s;
  r[3] = c;
  r[4] = s;
  z[0] = s;
  z[1] = -c;
  z[3] = -s;
  z[4] = c;
  const sum = (m1 + m2) / l;
  for (let i = 0; i < 6; i++) force[i] = N * r[i]! - sum * z[i]!;
  force[2] = force[2]! + m1;
  force[5] = force[5]! + m2;
  const kuu = EA / L;
  const ku1 = EA * b1;
  const ku2 = EA * b2;
  const k11 = EA * L * b1 * b1 + (N * L * 4) / 30 + near;
  const k22 = EA * L * b2 * b2 + (N * L * 4) / 30 + near;
  const k12 = EA * L * b1 * b2 - (N * L) / 30 + far;
  const geometric = N / l;
  const coupling = (m1 + m2) / (l * l);
  for (let i = 0; i < 6; i++) {
    const ri = r[i]!;
    const zi = z[i]! / l;
    const p1 = (i === 2 ? 1 : 0) - zi;
    const p2 = (i === 5 ? 1 : 0) - zi;
    const gu = kuu * ri + ku1 * p1 + ku2 * p2;
    const g1 = ku1 * ri + k11 * p1 + k12 * p2;
    const g2 = ku2 * ri + k12 * p1 + k22 * p2;
    for (let j = 0; j <= i; j++) {
      const rj = r[j]!;
      const zj = z[j]!;
      const q1 = (j === 2 ? 1 : 0) - zj / l;
      const q2 = (j === 5 ? 1 : 0) - zj / l;
      const value = gu * rj + g1 * q1 + g2 * q2 + geometric * z[i]! * zj + coupling * (ri * zj + z[i]! * rj);
      tangent[6 * i + j] = value;
      tangent[6 * j + i] = value;
    }
  }
}
