/**
 * Spread of heat in time along one direction of a plate: between two stretches of an insulated length, and on the top face over a base
 * that loses heat.
 *
 * The temperature after a unit heat pulse in a rectangular plate is the product of one such factor per direction (product solution of
 * the heat equation, [carslaw1959] FROM MEMORY). Early factors come from mirror images, late ones from the cosine series of the plate;
 * both are exact to 1e-14 at the change-over. Main test: plate-diffusion.test.ts.
 */

import { errorFunction } from "./error-function.ts";

/** A stretch of a line: its middle and length [m]. */
export interface Stretch {
  readonly middle: number;
  readonly length: number;
}

/** Images lead up to this spread over the length, the series from there on: what the images leave out is then exp(-64). */
const spreadOfChange = 1 / 8;
/** Series terms at the change-over: exp(-(pi n/8)^2) is 1e-16 from n = 16 on. */
const nLengthTerms = 16;

/** Second integral of the heat kernel of spread sqrt(diffusivity × time): F'' = exp(-u²/4s²)/(2 s sqrt(pi)). */
function twiceIntegrated(u: number, spread: number): number {
  const ratio = u / (2 * spread);
  return (u / 2) * errorFunction(ratio) + (ratio * ratio > 40 ? 0 : (spread / Math.sqrt(Math.PI)) * Math.exp(-ratio * ratio));
}

/** What two stretches of an insulated length [m] exchange, prepared once and asked at many spreads. */
export interface LengthExchange {
  readonly length: number;
  readonly from: Stretch;
  readonly to: Stretch;
  /** [nLengthTerms] weight of cos(n pi x/length): mean over one stretch × mean over the other × 2. */
  readonly weights: Float64Array;
}

function meanCosine(n: number, length: number, stretch: Stretch): number {
  const half = (n * Math.PI * stretch.length) / (2 * length);
  return Math.cos((n * Math.PI * stretch.middle) / length) * (half === 0 ? 1 : Math.sin(half) / half);
}

export function lengthExchange(length: number, pair: { readonly from: Stretch; readonly to: Stretch }): LengthExchange {
  const weights = new Float64Array(nLengthTerms);
  for (let n = 0; n < nLengthTerms; n++) {
    weights[n] = (n === 0 ? 1 : 2) * meanCosine(n, length, pair.from) * meanCosine(n, length, pair.to);
  }
  return { length, ...pair, weights };
}

/** Mean over stretch `to` of what a unit pulse spread over `from` has become [1/m], at spread sqrt(diffusivity × time) [m]. */
export function lengthFactor(exchange: LengthExchange, spread: number): number {
  const { length, from, to, weights } = exchange;
  if (spread > spreadOfChange * length) {
    const rate = ((Math.PI * spread) / length) ** 2;
    let sum = weights[0]!;
    for (let n = 1; n < nLengthTerms; n++) {
      const power = n * n * rate;
      if (power > 40) break;
      sum += weights[n]! * Math.exp(-power);
    }
    return sum / length;
  }
  const outer = (from.length + to.length) / 2;
  const inner = Math.abs(from.length - to.length) / 2;
  let sum = 0;
  for (let turn = -1; turn <= 1; turn++) {
    for (const side of [1, -1]) {
      const apart = Math.abs(to.middle - side * from.middle - 2 * turn * length);
      // Beyond 12 spreads the kernel is below 1e-15 of its middle.
      if (apart - outer > 12 * spread) continue;
      sum +=
        twiceIntegrated(apart + outer, spread) +
        twiceIntegrated(apart - outer, spread) -
        twiceIntegrated(apart + inner, spread) -
        twiceIntegrated(apart - inner, spread);
    }
  }
  return sum / (from.length * to.length);
}

/** The top face of a layer whose base loses heat through a film, prepared once. */
export interface DepthDecay {
  /** [m] */
  readonly thickness: number;
  /** [nDepthTerms] beta [1/m]: the mode decays with exp(-(beta spread)²). */
  readonly wavenumbers: Float64Array;
  /** [nDepthTerms] share of the mode in the temperature of the top face [1/m]. */
  readonly weights: Float64Array;
}

/** Below this spread over the thickness the base is not felt: what it changes is below 2 exp(-36). */
const spreadThatFeelsTheBase = 1 / 6;
const nDepthTerms = 13;

/**
 * Modes cos(beta z) with z down from the insulated top: beta tan(beta H) = film/conductivity, here `filmRatio` [1/m];
 * infinite where the base is held at its temperature.
 */
export function depthDecay(thickness: number, filmRatio: number): DepthDecay {
  const wavenumbers = new Float64Array(nDepthTerms);
  const weights = new Float64Array(nDepthTerms);
  const biot = filmRatio * thickness;
  for (let n = 0; n < nDepthTerms; n++) {
    const root = filmRatio === Number.POSITIVE_INFINITY ? (n + 0.5) * Math.PI : filmRoot(n, biot);
    wavenumbers[n] = root / thickness;
    const squares = root * root + biot * biot;
    weights[n] = (filmRatio === Number.POSITIVE_INFINITY ? 2 : (2 * squares) / (squares + biot)) / thickness;
  }
  return { thickness, wavenumbers, weights };
}

/** The root of y tan y = biot in [n pi, n pi + pi/2), by Newton on y sin y - biot cos y kept inside by halving. */
function filmRoot(n: number, biot: number): number {
  let low = n * Math.PI;
  let high = low + Math.PI / 2;
  const sign = n % 2 === 0 ? 1 : -1;
  let y = n === 0 ? Math.min(Math.sqrt(biot), Math.PI / 4) : low + Math.min(biot / low, Math.PI / 4);
  for (let step = 0; step < 100; step++) {
    const value = sign * (y * Math.sin(y) - biot * Math.cos(y));
    if (value > 0) high = y;
    else low = y;
    const slope = sign * ((1 + biot) * Math.sin(y) + y * Math.cos(y));
    const next = y - value / slope;
    const kept = next > low && next < high ? next : (low + high) / 2;
    if (Math.abs(kept - y) <= 1e-15 * y) return kept;
    y = kept;
  }
  return y;
}

/** Temperature of the top face after a unit pulse on it [1/m], at spread sqrt(diffusivity × time) [m]. */
export function depthFactor(decay: DepthDecay, spread: number): number {
  const { thickness, wavenumbers, weights } = decay;
  if (spread < spreadThatFeelsTheBase * thickness) return 1 / (Math.sqrt(Math.PI) * spread);
  let sum = 0;
  for (let n = 0; n < nDepthTerms; n++) {
    const power = (wavenumbers[n]! * spread) ** 2;
    if (power > 40) break;
    sum += weights[n]! * Math.exp(-power);
  }
  return sum;
}
