/**
 * A beam cut into elements, condensed to its two ends: block tridiagonal elimination, 3 x 3 blocks, cost linear in the elements.
 *
 * Factoring, forward elimination of a right-hand side and back substitution are separate passes, so that one factorisation serves
 * any number of right-hand sides. Negative pivots are counted: with those of the junction system they give the inertia of the whole
 * tangent (Sylvester; Golub & Van Loan, Matrix Computations, key golub2013, from memory).
 * Exact in exact arithmetic; the pivots of one node are taken in the order x, y, turn without exchange. Main test: frame-theory.test.ts.
 */
import { elementSize, tangentAt } from "./beam-element.ts";

/** Kept for every eliminated node: inverse of its block (6: 00 01 02 11 12 22), its influence from the start (9) and from the next node (9). */
export const eliminatedSize = 24;
const startAt = 6;
const nextAt = 15;

/** One beam's part of the flat arrays. */
export interface ChainPlace {
  readonly firstElement: number;
  readonly nElements: number;
  /** Where its eliminated nodes are kept. */
  readonly eliminatedAt: number;
}

/**
 * Condenses the evaluated elements of one beam; writes its 6 x 6 tangent (row-major) at `blockAt`.
 * Returns the number of negative pivots of the inner nodes, or -1 where one vanishes.
 */
export function condenseChainInto(
  blocks: Float64Array,
  blockAt: number,
  options: { readonly elements: Float64Array; readonly eliminated: Float64Array; readonly place: ChainPlace },
): number {
  const { elements, eliminated, place } = options;
  let k = place.firstElement * elementSize + tangentAt;
  let xx = elements[k]!;
  let xy = elements[k + 1]!;
  let yy = elements[k + 2]!;
  let x1 = elements[k + 3]!;
  let y1 = elements[k + 4]!;
  let x2 = elements[k + 5]!;
  let y2 = elements[k + 6]!;
  let r11 = elements[k + 7]!;
  let r12 = elements[k + 8]!;
  let r22 = elements[k + 9]!;
  // start block s, coupling c (rows: start, columns: present end), present end block e
  let s00 = xx;
  let s01 = xy;
  let s02 = -x1;
  let s11 = yy;
  let s12 = -y1;
  let s22 = r11;
  let c00 = -xx;
  let c01 = -xy;
  let c02 = -x2;
  let c10 = -xy;
  let c11 = -yy;
  let c12 = -y2;
  let c20 = x1;
  let c21 = y1;
  let c22 = r12;
  let e00 = xx;
  let e01 = xy;
  let e02 = x2;
  let e11 = yy;
  let e12 = y2;
  let e22 = r22;
  let nNegative = 0;
  for (let e = 1; e < place.nElements; e++) {
    k += elementSize;
    xx = elements[k]!;
    xy = elements[k + 1]!;
    yy = elements[k + 2]!;
    x1 = elements[k + 3]!;
    y1 = elements[k + 4]!;
    x2 = elements[k + 5]!;
    y2 = elements[k + 6]!;
    r11 = elements[k + 7]!;
    r12 = elements[k + 8]!;
    r22 = elements[k + 9]!;
    const d0 = e00 + xx;
    const b01 = e01 + xy;
    const b02 = e02 - x1;
    const b11 = e11 + yy;
    const b12 = e12 - y1;
    const b22 = e22 + r11;
    const l10 = b01 / d0;
    const l20 = b02 / d0;
    const d1 = b11 - l10 * b01;
    const m12 = b12 - l20 * b01;
    const l21 = m12 / d1;
    const d2 = b22 - l20 * b02 - l21 * m12;
    if (!(Math.abs(d0) > 0 && Math.abs(d1) > 0 && Math.abs(d2) > 0)) return -1;
    if (d0 < 0) nNegative++;
    if (d1 < 0) nNegative++;
    if (d2 < 0) nNegative++;
    const i0 = 1 / d0;
    const i1 = 1 / d1;
    const i2 = 1 / d2;
    const n20 = l10 * l21 - l20;
    const v02 = n20 * i2;
    const v12 = -l21 * i2;
    const v00 = i0 + l10 * l10 * i1 + n20 * v02;
    const v01 = -l10 * i1 - l21 * v02;
    const v11 = i1 - l21 * v12;
    const v22 = i2;
    // influence of the start: inverse times transposed coupling; of the next node: inverse times the new element's coupling
    const p00 = v00 * c00 + v01 * c01 + v02 * c02;
    const p10 = v01 * c00 + v11 * c01 + v12 * c02;
    const p20 = v02 * c00 + v12 * c01 + v22 * c02;
    const p01 = v00 * c10 + v01 * c11 + v02 * c12;
    const p11 = v01 * c10 + v11 * c11 + v12 * c12;
    const p21 = v02 * c10 + v12 * c11 + v22 * c12;
    const p02 = v00 * c20 + v01 * c21 + v02 * c22;
    const p12 = v01 * c20 + v11 * c21 + v12 * c22;
    const p22 = v02 * c20 + v12 * c21 + v22 * c22;
    const q00 = -v00 * xx - v01 * xy + v02 * x1;
    const q10 = -v01 * xx - v11 * xy + v12 * x1;
    const q20 = -v02 * xx - v12 * xy + v22 * x1;
    const q01 = -v00 * xy - v01 * yy + v02 * y1;
    const q11 = -v01 * xy - v11 * yy + v12 * y1;
    const q21 = -v02 * xy - v12 * yy + v22 * y1;
    const q02 = -v00 * x2 - v01 * y2 + v02 * r12;
    const q12 = -v01 * x2 - v11 * y2 + v12 * r12;
    const q22 = -v02 * x2 - v12 * y2 + v22 * r12;
    const at = place.eliminatedAt + (e - 1) * eliminatedSize;
    eliminated[at] = v00;
    eliminated[at + 1] = v01;
    eliminated[at + 2] = v02;
    eliminated[at + 3] = v11;
    eliminated[at + 4] = v12;
    eliminated[at + 5] = v22;
    eliminated[at + 6] = p00;
    eliminated[at + 7] = p01;
    eliminated[at + 8] = p02;
    eliminated[at + 9] = p10;
    eliminated[at + 10] = p11;
    eliminated[at + 11] = p12;
    eliminated[at + 12] = p20;
    eliminated[at + 13] = p21;
    eliminated[at + 14] = p22;
    eliminated[at + 15] = q00;
    eliminated[at + 16] = q01;
    eliminated[at + 17] = q02;
    eliminated[at + 18] = q10;
    eliminated[at + 19] = q11;
    eliminated[at + 20] = q12;
    eliminated[at + 21] = q20;
    eliminated[at + 22] = q21;
    eliminated[at + 23] = q22;
    s00 -= c00 * p00 + c01 * p10 + c02 * p20;
    s01 -= c00 * p01 + c01 * p11 + c02 * p21;
    s02 -= c00 * p02 + c01 * p12 + c02 * p22;
    s11 -= c10 * p01 + c11 * p11 + c12 * p21;
    s12 -= c10 * p02 + c11 * p12 + c12 * p22;
    s22 -= c20 * p02 + c21 * p12 + c22 * p22;
    const t00 = -(c00 * q00 + c01 * q10 + c02 * q20);
    const t01 = -(c00 * q01 + c01 * q11 + c02 * q21);
    const t02 = -(c00 * q02 + c01 * q12 + c02 * q22);
    const t10 = -(c10 * q00 + c11 * q10 + c12 * q20);
    const t11 = -(c10 * q01 + c11 * q11 + c12 * q21);
    const t12 = -(c10 * q02 + c11 * q12 + c12 * q22);
    const t20 = -(c20 * q00 + c21 * q10 + c22 * q20);
    const t21 = -(c20 * q01 + c21 * q11 + c22 * q21);
    c22 = -(c20 * q02 + c21 * q12 + c22 * q22);
    c00 = t00;
    c01 = t01;
    c02 = t02;
    c10 = t10;
    c11 = t11;
    c12 = t12;
    c20 = t20;
    c21 = t21;
    e00 = xx + xx * q00 + xy * q10 - x1 * q20;
    e01 = xy + xx * q01 + xy * q11 - x1 * q21;
    e02 = x2 + xx * q02 + xy * q12 - x1 * q22;
    e11 = yy + xy * q01 + yy * q11 - y1 * q21;
    e12 = y2 + xy * q02 + yy * q12 - y1 * q22;
    e22 = r22 + x2 * q02 + y2 * q12 - r12 * q22;
  }
  const f = blocks;
  const a = blockAt;
  f[a] = s00;
  f[a + 1] = f[a + 6] = s01;
  f[a + 2] = f[a + 12] = s02;
  f[a + 7] = s11;
  f[a + 8] = f[a + 13] = s12;
  f[a + 14] = s22;
  f[a + 3] = f[a + 18] = c00;
  f[a + 4] = f[a + 24] = c01;
  f[a + 5] = f[a + 30] = c02;
  f[a + 9] = f[a + 19] = c10;
  f[a + 10] = f[a + 25] = c11;
  f[a + 11] = f[a + 31] = c12;
  f[a + 15] = f[a + 20] = c20;
  f[a + 16] = f[a + 26] = c21;
  f[a + 17] = f[a + 32] = c22;
  f[a + 21] = e00;
  f[a + 22] = f[a + 27] = e01;
  f[a + 23] = f[a + 33] = e02;
  f[a + 28] = e11;
  f[a + 29] = f[a + 34] = e12;
  f[a + 35] = e22;
  return nNegative;
}

/** Forward pass of a right-hand side whose nodes stand from `x[at]` on, 3 each: the ends collect what the inner nodes pass on. */
export function eliminateChainInto(x: Float64Array, at: number, options: { eliminated: Float64Array; place: ChainPlace }): void {
  const { eliminated: d, place } = options;
  let r0 = x[at]!;
  let r1 = x[at + 1]!;
  let r2 = x[at + 2]!;
  for (let n = 1; n < place.nElements; n++) {
    const k = place.eliminatedAt + (n - 1) * eliminatedSize;
    const p = k + startAt;
    const q = k + nextAt;
    const i = at + 3 * n;
    const a = x[i]!;
    const b = x[i + 1]!;
    const c = x[i + 2]!;
    r0 -= d[p]! * a + d[p + 3]! * b + d[p + 6]! * c;
    r1 -= d[p + 1]! * a + d[p + 4]! * b + d[p + 7]! * c;
    r2 -= d[p + 2]! * a + d[p + 5]! * b + d[p + 8]! * c;
    x[i + 3] = x[i + 3]! - (d[q]! * a + d[q + 3]! * b + d[q + 6]! * c);
    x[i + 4] = x[i + 4]! - (d[q + 1]! * a + d[q + 4]! * b + d[q + 7]! * c);
    x[i + 5] = x[i + 5]! - (d[q + 2]! * a + d[q + 5]! * b + d[q + 8]! * c);
    x[i] = d[k]! * a + d[k + 1]! * b + d[k + 2]! * c;
    x[i + 1] = d[k + 1]! * a + d[k + 3]! * b + d[k + 4]! * c;
    x[i + 2] = d[k + 2]! * a + d[k + 4]! * b + d[k + 5]! * c;
  }
  x[at] = r0;
  x[at + 1] = r1;
  x[at + 2] = r2;
}

/** Back substitution: the ends hold their solution already. */
export function recoverChainInto(x: Float64Array, at: number, options: { eliminated: Float64Array; place: ChainPlace }): void {
  const { eliminated: d, place } = options;
  const s0 = x[at]!;
  const s1 = x[at + 1]!;
  const s2 = x[at + 2]!;
  for (let n = place.nElements - 1; n >= 1; n--) {
    const k = place.eliminatedAt + (n - 1) * eliminatedSize;
    const i = at + 3 * n;
    const n0 = x[i + 3]!;
    const n1 = x[i + 4]!;
    const n2 = x[i + 5]!;
    for (let row = 0; row < 3; row++) {
      const p = k + startAt + 3 * row;
      const q = k + nextAt + 3 * row;
      x[i + row] = x[i + row]! - (d[p]! * s0 + d[p + 1]! * s1 + d[p + 2]! * s2 + d[q]! * n0 + d[q + 1]! * n1 + d[q + 2]! * n2);
    }
  }
}
