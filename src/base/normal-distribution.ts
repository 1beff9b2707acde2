/**
 * The standard normal distribution: cumulative chance and its inverse.
 *
 * Abramowitz & Stegun, Handbook of Mathematical Functions (1964): series 7.1.6 near the middle, continued fraction 7.1.14 in the
 * tail, start value 26.2.23 (from memory). Error below 1e-13 of the chance.
 */

/** Complementary error function for x >= 0. */
function erfcPositive(x: number): number {
  if (x < 2.5) {
    // A&S 7.1.6: erf x = 2/sqrt(pi) exp(-x^2) sum 2^n x^(2n+1) / (1 3 5 ... (2n+1))
    let term = x;
    let sum = x;
    for (let n = 1; n < 200 && term > 1e-17 * sum; n++) {
      term *= (2 * x * x) / (2 * n + 1);
      sum += term;
    }
    return 1 - (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
  }
  // A&S 7.1.14, evaluated from far down
  let fraction = 0;
  for (let n = 60; n >= 1; n--) fraction = n / 2 / (x + fraction);
  return Math.exp(-x * x) / Math.sqrt(Math.PI) / (x + fraction);
}

/** Chance that a standard normal variable stays below z. */
export function normalChanceBelow(z: number): number {
  const tail = 0.5 * erfcPositive(Math.abs(z) / Math.SQRT2);
  return z > 0 ? 1 - tail : tail;
}

/** The z below which a standard normal variable stays with the given chance (0 < chance < 1). */
export function normalQuantile(chance: number): number {
  if (!(chance > 0 && chance < 1)) throw new RangeError(`Cannot invert a chance of ${chance}: it must lie between 0 and 1`);
  // start from the Hastings form, A&S 26.2.23 (|error| < 4.5e-4), then Newton on the chance itself
  const tail = Math.min(chance, 1 - chance);
  const t = Math.sqrt(-2 * Math.log(tail));
  let z = t - (2.515517 + 0.802853 * t + 0.010328 * t * t) / (1 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t ** 3);
  for (let i = 0; i < 4; i++) {
    const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
    z += (normalChanceBelow(-z) - tail) / density;
  }
  return chance < 0.5 ? -z : z;
}
