/**
 * Shape factors as a smooth curve over one measure of the section: a gap, a width, a thickness, a distance. For dragging a parameter and
 * for derivatives, where a solve for each value would cost more and jump a little as panels are halved.
 *
 * Chebyshev polynomial in the logarithm of the measure, through values at its points of the first kind [trefethen2013] FROM MEMORY. The
 * factors are analytic in their measures, so the error falls by a constant factor with each point: 5e-6 of
 * the value and 1e-4 of the logarithmic slope with 7 points over a factor of two, what is left being the jumps. Outside the range it is refused. Main test: shape-factor-curve.test.ts.
 */

import type { CrossSection } from "./cross-section.ts";
import { crossSectionShapeFactors } from "./shape-factors.ts";

export interface ShapeFactorCurveOptions {
  /** Range of the measure [m], both above zero. */
  readonly from: number;
  readonly to: number;
  /** Number of sections solved. */
  readonly nPoints: number;
  /** The section at a value of the measure; always with the same hot bodies in the same order. */
  readonly sectionAt: (measure: number) => readonly CrossSection[];
  readonly panelsPerSide?: number;
}

export interface ShapeFactorCurve {
  /** Shape factors of the hot bodies, as `crossSectionShapeFactors` gives them. */
  valuesAt(measure: number): Float64Array;
  /** Their derivatives by the measure [1/m]. */
  slopesAt(measure: number): Float64Array;
}

export function createShapeFactorCurve(options: ShapeFactorCurveOptions): ShapeFactorCurve {
  const { from, to, nPoints, sectionAt, panelsPerSide } = options;
  if (!(from > 0 && to > from && Number.isInteger(nPoints) && nPoints >= 2)) {
    throw new RangeError(
      `Cannot lay a curve: wanted 0 < from < to and two or more points, found ${from} m to ${to} m and ${nPoints} points`,
    );
  }
  const middle = Math.log(from * to) / 2;
  const half = Math.log(to / from) / 2;
  const samples = Array.from({ length: nPoints }, (_, k) =>
    crossSectionShapeFactors({
      rectangles: sectionAt(Math.exp(middle + half * Math.cos((Math.PI * (k + 0.5)) / nPoints))),
      ...(panelsPerSide === undefined ? {} : { panelsPerSide }),
    }),
  );
  if (samples.some((values) => values.length !== samples[0]!.length))
    throw new RangeError("Cannot lay a curve: wanted the same number of hot bodies at every value, found it changing");
  const coefficients = chebyshevCoefficients(samples);
  const place = (measure: number): number => {
    // A measure at either end may miss it by rounding.
    const u = (Math.log(measure) - middle) / half;
    if (!(Math.abs(u) <= 1 + 1e-9))
      throw new RangeError(`Cannot follow the curve: wanted a measure from ${from} to ${to} m, found ${measure} m`);
    return u;
  };
  return {
    valuesAt: (measure) => {
      const u = place(measure);
      return Float64Array.from(coefficients, (series) => sumSeries(series, u).value);
    },
    slopesAt: (measure) => {
      const u = place(measure);
      return Float64Array.from(coefficients, (series) => sumSeries(series, u).slope / (half * measure));
    },
  };
}

/** [nHot] series from samples at the points cos(pi (k + 1/2)/n). */
function chebyshevCoefficients(samples: readonly Float64Array[]): Float64Array[] {
  const n = samples.length;
  return Array.from(samples[0]!, (_, body) =>
    Float64Array.from({ length: n }, (_, m) => {
      const sum = samples.reduce((total, values, k) => total + values[body]! * Math.cos((Math.PI * m * (k + 0.5)) / n), 0);
      return ((m === 0 ? 1 : 2) * sum) / n;
    }),
  );
}

/** Sum of c_m T_m(u) and its derivative by u, by the recurrences of T and T'. */
function sumSeries(coefficients: Float64Array, u: number): { readonly value: number; readonly slope: number } {
  let [before, current] = [1, u];
  let [slopeBefore, slopeCurrent] = [0, 1];
  let value = coefficients[0]!;
  let slope = 0;
  for (let m = 1; m < coefficients.length; m++) {
    value += coefficients[m]! * current;
    slope += coefficients[m]! * slopeCurrent;
    [slopeBefore, slopeCurrent] = [slopeCurrent, 2 * current + 2 * u * slopeCurrent - slopeBefore];
    [before, current] = [current, 2 * u * current - before];
  }
  return { value, slope };
}
