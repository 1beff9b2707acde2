/**
 * The error function, to rounding: the charge that diffuses from a step.
 *
 * Abramowitz & Stegun, Handbook of Mathematical Functions (1964), 7.1.6 up to 2.5 and the continued fraction 7.1.14 above
 * (FROM MEMORY). Error below 1e-15 absolute. Main test: error-function.test.ts.
 */

/** Where the series hands over to the continued fraction: both then need about 30 terms. */
const handOver = 2.5;
/** Terms of the continued fraction that give full precision from `handOver` on. */
const nFractionTerms = 60;
const inverseRootPi = 1 / Math.sqrt(Math.PI);

/** erf(x), odd in x. */
export function errorFunction(x: number): number {
  const size = Math.abs(x);
  // 1 - erf(6) is 2e-17.
  if (size >= 6) return Math.sign(x);
  const squared = size * size;
  if (size < handOver) {
    let term = size;
    let sum = size;
    for (let n = 1; term > 1e-17 * sum; n++) {
      term *= (2 * squared) / (2 * n + 1);
      sum += term;
    }
    return Math.sign(x) * 2 * inverseRootPi * Math.exp(-squared) * sum;
  }
  let fraction = 0;
  for (let n = nFractionTerms; n >= 1; n--) fraction = n / 2 / (size + fraction);
  return Math.sign(x) * (1 - (Math.exp(-squared) * inverseRootPi) / (size + fraction));
}
