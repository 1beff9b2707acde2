/**
 * Saint-Venant torsion of a bar with a rectangular section: torque T = G J theta', greatest shear stress T / (c1 a b^2).
 *
 *   beta = J/(a b^3) = 1/3 - (64/pi^5)(b/a) sum over odd n of tanh(n pi a/(2b))/n^5,   a >= b,
 *   c1 = beta/(1 - (8/pi^2) sum over odd n of 1/(n^2 cosh(n pi a/(2b)))), the stress at the middle of the long side.
 * Validity: ends free to warp; a held end stiffens a length of about the wider side. Error: rounding.
 * Source: Timoshenko & Goodier, Theory of Elasticity, article 109 (key timoshenko1970, from memory). Main test:
 * torsion-rectangle.test.ts.
 */

/** sum over odd n of 1/n^5 = (31/32) zeta(5). */
const sumOfFifthPowers = (31 / 32) * 1.03692775514337;
/** With a >= b the terms that are left out fall below exp(-25 pi). */
const lastTerm = 25;

export interface RectangleTorsion {
  /** J [m^4]. */
  readonly torsionConstant: number;
  /** T over the greatest shear stress, c1 a b^2 [m^3]. */
  readonly torsionModulus: number;
}

/** Torsion of the rectangle with the sides given, in any order, [m]. */
export function rectangleTorsion(width: number, thickness: number): RectangleTorsion {
  const a = Math.max(width, thickness);
  const b = Math.min(width, thickness);
  if (!(b > 0) || !Number.isFinite(a)) {
    throw new RangeError(
      `Cannot find the torsion of a rectangle: wanted two positive sides, found ${width} m and ${thickness} m`,
    );
  }
  let missing = 0;
  let dip = 0;
  for (let n = 1; n <= lastTerm; n += 2) {
    const half = Math.exp((-n * Math.PI * a) / (2 * b));
    // 1 - tanh(x) and 1/cosh(x) from exp(-x), which does not overflow
    missing += (2 * half * half) / (1 + half * half) / n ** 5;
    dip += (2 * half) / (1 + half * half) / n ** 2;
  }
  const beta = 1 / 3 - ((64 / Math.PI ** 5) * b * (sumOfFifthPowers - missing)) / a;
  const c1 = beta / (1 - (8 / Math.PI ** 2) * dip);
  return { torsionConstant: beta * a * b ** 3, torsionModulus: c1 * a * b * b };
}
