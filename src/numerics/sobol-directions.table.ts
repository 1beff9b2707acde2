/**
 * Direction numbers of the Sobol sequence for dimensions 2 to 21: degree s, coefficients a of the primitive polynomial, first numbers m.
 *
 * Joe & Kuo, SIAM J. Sci. Comput. 30 (2008) 2635, table "new-joe-kuo-6". The first 1024 points in all 21 dimensions were compared with an
 * independent open-source implementation and are the same; sobol.test.ts checks points and that every polynomial is primitive.
 */
export interface DirectionRow {
  readonly s: number;
  readonly a: number;
  readonly m: readonly number[];
}

export const directionRows: readonly DirectionRow[] = [
  { s: 1, a: 0, m: [1] },
  { s: 2, a: 1, m: [1, 3] },
  { s: 3, a: 1, m: [1, 3, 1] },
  { s: 3, a: 2, m: [1, 1, 1] },
  { s: 4, a: 1, m: [1, 1, 3, 3] },
  { s: 4, a: 4, m: [1, 3, 5, 13] },
  { s: 5, a: 2, m: [1, 1, 5, 5, 17] },
  { s: 5, a: 4, m: [1, 1, 5, 5, 5] },
  { s: 5, a: 7, m: [1, 1, 7, 11, 19] },
  { s: 5, a: 11, m: [1, 1, 5, 1, 1] },
  { s: 5, a: 13, m: [1, 1, 1, 3, 11] },
  { s: 5, a: 14, m: [1, 3, 5, 5, 31] },
  { s: 6, a: 1, m: [1, 3, 3, 9, 7, 49] },
  { s: 6, a: 13, m: [1, 1, 1, 15, 21, 21] },
  { s: 6, a: 16, m: [1, 3, 1, 13, 27, 49] },
  { s: 6, a: 19, m: [1, 1, 1, 15, 7, 5] },
  { s: 6, a: 22, m: [1, 3, 1, 15, 13, 25] },
  { s: 6, a: 25, m: [1, 1, 5, 5, 19, 61] },
  { s: 7, a: 1, m: [1, 3, 7, 11, 23, 15, 103] },
  { s: 7, a: 4, m: [1, 3, 7, 13, 13, 15, 69] },
];
