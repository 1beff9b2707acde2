/**
 * Makers of laws: the forms in which material data are published, each with its analytic slope.
 *
 * Laws are closures over plain numbers and typed arrays: `at` and `slopeAt` allocate nothing, because they are called for
 * every element in every iteration of a thermal solution. Outside its range a law goes on with its own formula; the caller
 * reports that with `checkLawRange`. Main test: the contract over every law of the library, library.test.ts.
 */

import type { Law, Source } from "#base";

/** What every law must say of itself besides its values. */
export interface LawLabel {
  readonly unit: string;
  /** [K] */
  readonly range: { readonly from: number; readonly to: number };
  /** One sigma, relative. */
  readonly relativeSpread: number;
  readonly source: Source;
}

/** Gas constant, J/(mol K), exact since 2019. */
export const gasConstant = 8.31446261815324;

function labelled(label: LawLabel, at: (T: number) => number, slopeAt: (T: number) => number): Law {
  const { unit, range, relativeSpread, source } = label;
  return { at, slopeAt, unit, range, relativeSpread, source };
}

/** The same value at every temperature. */
export function constantLaw(value: number, label: LawLabel): Law {
  return labelled(
    label,
    () => value,
    () => 0,
  );
}

/** A law from a formula and its derivative. */
export function formulaLaw(form: { at(T: number): number; slopeAt(T: number): number }, label: LawLabel): Law {
  return labelled(label, form.at, form.slopeAt);
}

/** value = reference [1 + first d + second d²], d = T - at [K]. */
export function quadraticLaw(form: { reference: number; at: number; first: number; second: number }, label: LawLabel): Law {
  const { reference, at: origin, first, second } = form;
  return labelled(
    label,
    (T) => reference * (1 + (T - origin) * (first + second * (T - origin))),
    (T) => reference * (first + 2 * second * (T - origin)),
  );
}

/** value = reference (T / at)^exponent. */
export function powerLaw(form: { reference: number; at: number; exponent: number }, label: LawLabel): Law {
  const { reference, at: origin, exponent } = form;
  return labelled(
    label,
    (T) => reference * (T / origin) ** exponent,
    (T) => (reference * exponent * (T / origin) ** (exponent - 1)) / origin,
  );
}

/** How a table reads between its rows: straight in value over T, or straight in ln value over ln T. */
export type TableInterpolation = "linear" | "logarithmic";

function requireTable(temperatures: ArrayLike<number>, values: ArrayLike<number>, interpolation: TableInterpolation): void {
  const n = temperatures.length;
  if (n < 2 || values.length !== n) {
    throw new RangeError(
      `Cannot make a table law: wanted two or more temperatures with as many values, found ${n} and ${values.length}`,
    );
  }
  for (let i = 0; i < n; i++) {
    const [T, value] = [temperatures[i]!, values[i]!];
    if (i > 0 && !(T > temperatures[i - 1]!)) {
      throw new RangeError(`Cannot make a table law: wanted rising temperatures, found ${temperatures[i - 1]} K then ${T} K`);
    }
    if (!Number.isFinite(T) || !Number.isFinite(value)) throw new RangeError(`Cannot make a table law: found ${value} at ${T} K`);
    if (interpolation === "logarithmic" && !(T > 0 && value > 0)) {
      throw new RangeError(
        `Cannot make a logarithmic table law: wanted temperatures and values above zero, found ${value} at ${T} K`,
      );
    }
  }
}

/** Index of the segment that holds T; the outer segments reach on to infinity. */
function segmentOf(T: number, knots: Float64Array): number {
  const last = knots.length - 2;
  let i = 0;
  while (i < last && T >= knots[i + 1]!) i++;
  return i;
}

/**
 * A law through a table of values over temperatures [K]; its range is that of the table.
 * At a row the slope is that of the segment above. Logarithmic: a power of T in each segment.
 */
export function tableLaw(
  temperatures: ArrayLike<number>,
  values: ArrayLike<number>,
  options: Omit<LawLabel, "range"> & { readonly interpolation: TableInterpolation },
): Law {
  const { interpolation, unit, relativeSpread, source } = options;
  requireTable(temperatures, values, interpolation);
  const knots = Float64Array.from(temperatures);
  const heights = Float64Array.from(values);
  const label = { unit, relativeSpread, source, range: { from: knots[0]!, to: knots[knots.length - 1]! } };
  const nSegments = knots.length - 1;
  if (interpolation === "linear") {
    const slopes = Float64Array.from(
      { length: nSegments },
      (_, i) => (heights[i + 1]! - heights[i]!) / (knots[i + 1]! - knots[i]!),
    );
    return labelled(
      label,
      (T) => {
        const i = segmentOf(T, knots);
        return heights[i]! + slopes[i]! * (T - knots[i]!);
      },
      (T) => slopes[segmentOf(T, knots)]!,
    );
  }
  const exponents = Float64Array.from(
    { length: nSegments },
    (_, i) => Math.log(heights[i + 1]! / heights[i]!) / Math.log(knots[i + 1]! / knots[i]!),
  );
  const at = (T: number): number => {
    const i = segmentOf(T, knots);
    return heights[i]! * (T / knots[i]!) ** exponents[i]!;
  };
  return labelled(label, at, (T) => (exponents[segmentOf(T, knots)]! * at(T)) / T);
}

/**
 * Specific heat in the Shomate form, t = T/1000 K:
 * cp = (A + B t + C t² + D t³ + E/t²) / molar mass, [J/(kg K)] with A..E in J/(mol K) and the molar mass in kg/mol.
 */
export function shomateLaw(
  form: { coefficients: readonly [number, number, number, number, number]; molarMass: number },
  label: LawLabel,
): Law {
  const [a, b, c, d, e] = form.coefficients;
  const inverse = 1 / form.molarMass;
  return labelled(
    label,
    (T) => {
      const t = T / 1000;
      return inverse * (a + t * (b + t * (c + t * d)) + e / (t * t));
    },
    (T) => {
      const t = T / 1000;
      return (inverse * (b + t * (2 * c + 3 * t * d) - (2 * e) / (t * t * t))) / 1000;
    },
  );
}

/** Transport property of a gas in the four-constant vapour form: C1 T^C2 / (1 + C3/T + C4/T²). */
export function vapourLaw(coefficients: readonly [number, number, number, number], label: LawLabel): Law {
  const [c1, c2, c3, c4] = coefficients;
  return labelled(
    label,
    (T) => (c1 * T ** c2) / (1 + (c3 + c4 / T) / T),
    (T) => {
      const below = 1 + (c3 + c4 / T) / T;
      const value = (c1 * T ** c2) / below;
      return (value / T) * (c2 + (c3 + (2 * c4) / T) / (T * below));
    },
  );
}

/**
 * A costly formula put on a grid once, then read by cubic Hermite interpolation (value and slope exact at the nodes).
 * Between nodes the error is step⁴/384 times the fourth derivative. Outside the grid the formula itself is evaluated.
 */
export function tabulatedLaw(
  form: { at(T: number): number; slopeAt(T: number): number; from: number; step: number; nSteps: number },
  label: LawLabel,
): Law {
  const { at, slopeAt, from, step, nSteps } = form;
  const values = new Float64Array(nSteps + 1);
  const rises = new Float64Array(nSteps + 1);
  for (let i = 0; i <= nSteps; i++) {
    values[i] = at(from + i * step);
    rises[i] = slopeAt(from + i * step) * step;
  }
  return labelled(
    label,
    (T) => {
      const x = (T - from) / step;
      if (!(x >= 0 && x < nSteps)) return at(T);
      const i = Math.floor(x);
      const u = x - i;
      const jump = values[i + 1]! - values[i]!;
      const first = rises[i]!;
      const second = rises[i + 1]!;
      return values[i]! + u * (first + u * (3 * jump - 2 * first - second + u * (first + second - 2 * jump)));
    },
    (T) => {
      const x = (T - from) / step;
      if (!(x >= 0 && x < nSteps)) return slopeAt(T);
      const i = Math.floor(x);
      const u = x - i;
      const jump = values[i + 1]! - values[i]!;
      const first = rises[i]!;
      const second = rises[i + 1]!;
      return (first + u * (2 * (3 * jump - 2 * first - second) + 3 * u * (first + second - 2 * jump))) / step;
    },
  );
}

/** The law times a constant factor, with its own label. */
export function scaledLaw(law: Law, form: { factor: number; relativeSpread: number; source: Source }): Law {
  const { factor, relativeSpread, source } = form;
  return labelled(
    { unit: law.unit, range: law.range, relativeSpread, source },
    (T) => factor * law.at(T),
    (T) => factor * law.slopeAt(T),
  );
}
