/**
 * Laws of temperature read from samples a kelvin apart, for the innermost loops.
 *
 * Cubic Hermite interpolation of values and slopes, sampled where they are first asked for. The slope is that of the interpolant, so
 * that Newton's method sees one consistent function. Error: (1 K)^4/384 of the fourth derivative, below 3e-8 of the value for
 * a law as steep as exp(4000 K/T) at 300 K and below 1e-9 for all smooth laws of the library; a kink on a whole
 * kelvin is kept, one between is rounded over its own kelvin.
 * Outside the samples the law itself answers. Main test: sampled-law.test.ts.
 */

/** The two functions of a law or of a heat exchange. */
export interface Curve {
  at(T: number): number;
  slopeAt(T: number): number;
}

/** First temperature that is not sampled [K]. */
const sampledTo = 2000;
/** How far inside a kelvin its end slopes are read [K]. */
const inside = 1e-6;

/** Steady models never read a heat capacity: no room for its samples. */
const unread = new Float64Array(0);

export class SampledCurve implements Curve {
  /** Coefficients of the cubic over every kelvin, constant first; NaN where not sampled yet. Empty until the law is first read. */
  private cubics = unread;

  constructor(private readonly curve: Curve) {}

  private sample(whole: number): void {
    const { curve, cubics } = this;
    const value = curve.at(whole);
    // Slopes from inside: tables have their kinks on whole kelvins, and keep them so.
    const slope = curve.slopeAt(whole + inside);
    const rise = curve.at(whole + 1) - value;
    const nextSlope = curve.slopeAt(whole + 1 - inside);
    cubics[4 * whole] = value;
    cubics[4 * whole + 1] = slope;
    cubics[4 * whole + 2] = 3 * rise - 2 * slope - nextSlope;
    cubics[4 * whole + 3] = slope + nextSlope - 2 * rise;
  }

  private sampledAt(whole: number): Float64Array {
    if (this.cubics === unread) this.cubics = new Float64Array(4 * sampledTo).fill(Number.NaN);
    if (Number.isNaN(this.cubics[4 * whole]!)) this.sample(whole);
    return this.cubics;
  }

  at(T: number): number {
    if (!(T >= 1 && T < sampledTo)) return this.curve.at(T);
    const whole = Math.floor(T);
    const k = 4 * whole;
    const cubics = this.sampledAt(whole);
    const t = T - whole;
    return cubics[k]! + t * (cubics[k + 1]! + t * (cubics[k + 2]! + t * cubics[k + 3]!));
  }

  slopeAt(T: number): number {
    if (!(T >= 1 && T < sampledTo)) return this.curve.slopeAt(T);
    const whole = Math.floor(T);
    const k = 4 * whole;
    const cubics = this.sampledAt(whole);
    const t = T - whole;
    return cubics[k + 1]! + t * (2 * cubics[k + 2]! + 3 * t * cubics[k + 3]!);
  }
}

const known = new WeakMap<Curve, SampledCurve>();

/** The sampled form of a law; the same one for the same law, so that models share their samples. */
export function sampledLaw(law: Curve): SampledCurve {
  let sampled = known.get(law);
  if (sampled === undefined) {
    sampled = new SampledCurve(law);
    known.set(law, sampled);
  }
  return sampled;
}
