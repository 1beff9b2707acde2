/**
 * Laws of temperature read from samples a kelvin apart, for the innermost loops.
 *
 * Cubic Hermite interpolation of values and slopes, sampled where they are first asked for. The slope is that of the interpolant, so
 * that Newton's method sees one consistent function. Error: (1 K)^4/384 of the fourth derivative, below 3e-8 of the value for
 * a law as steep as exp(4000 K/T) at 300 K and below 1e-9 for all smooth laws of the library; a kink is rounded over its own kelvin.
 * Outside the samples the law itself answers. Main test: sampled-law.test.ts.
 */

/** The two functions of a law or of a heat exchange. */
export interface Curve {
  at(T: number): number;
  slopeAt(T: number): number;
}

/** First temperature that is not sampled [K]. */
const sampledTo = 2000;

export class SampledCurve implements Curve {
  /** Value and slope at every whole kelvin; NaN where not sampled yet. */
  private readonly samples = new Float64Array(2 * (sampledTo + 1)).fill(Number.NaN);

  constructor(private readonly curve: Curve) {}

  private sample(T: number): void {
    this.samples[2 * T] = this.curve.at(T);
    this.samples[2 * T + 1] = this.curve.slopeAt(T);
  }

  at(T: number): number {
    if (!(T >= 1 && T < sampledTo)) return this.curve.at(T);
    const { samples } = this;
    const whole = Math.floor(T);
    const k = 2 * whole;
    if (Number.isNaN(samples[k]!)) this.sample(whole);
    if (Number.isNaN(samples[k + 2]!)) this.sample(whole + 1);
    const t = T - whole;
    const v0 = samples[k]!;
    const s0 = samples[k + 1]!;
    const rise = samples[k + 2]! - v0;
    return v0 + t * (s0 + t * (3 * rise - 2 * s0 - samples[k + 3]! + t * (s0 + samples[k + 3]! - 2 * rise)));
  }

  slopeAt(T: number): number {
    if (!(T >= 1 && T < sampledTo)) return this.curve.slopeAt(T);
    const { samples } = this;
    const whole = Math.floor(T);
    const k = 2 * whole;
    if (Number.isNaN(samples[k]!)) this.sample(whole);
    if (Number.isNaN(samples[k + 2]!)) this.sample(whole + 1);
    const t = T - whole;
    const s0 = samples[k + 1]!;
    const rise = samples[k + 2]! - samples[k]!;
    return s0 + t * (2 * (3 * rise - 2 * s0 - samples[k + 3]!) + 3 * t * (s0 + samples[k + 3]! - 2 * rise));
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
