/**
 * The time integral behind the spreading resistances: product of one factor per direction (plate-diffusion.ts) over the spread
 * s = sqrt(diffusivity × time), in which the integrand 2 s Gx Gy Gz/k is smooth from the first moment on.
 *
 * Gauss points on octaves of the spread. Error against the double series below 1e-6 of the steady value. Main test: spreading.test.ts.
 */

import { gaussLegendreRule } from "#numerics";
import { depthDecay, depthFactor, type LengthExchange, lengthExchange, lengthFactor } from "./plate-diffusion.ts";

/** A plate that carries sources on its top face, with a corner at the origin. */
export interface SpreadingPlate {
  /** Along x [m]. */
  readonly length: number;
  /** Along y [m]. */
  readonly width: number;
  /** [m] */
  readonly thickness: number;
  /** [W/(m K)] */
  readonly conductivity: number;
  /** Density × specific heat [J/(m^3 K)]; needed for step responses only. */
  readonly volumetricHeatCapacity: number;
  /** Heat per area and temperature difference that leaves the base [W/(m^2 K)]; Infinity where the base is held at its temperature. */
  readonly baseFilm: number;
}

/** A rectangular source, by its middle and its sizes along x and y [m]. */
export interface SpreadingSource {
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly width: number;
}

/** Gauss points on each octave: the tails exp(-spread²) then err by less than 1e-8 of the whole. */
const rule = gaussLegendreRule(8);
/** The first panel ends here over the smallest size: below, every factor is a parabola or constant up to exp(-144). */
const firstSpread = 1 / 24;
/** Where the slowest mode has decayed to exp(-36) the integral ends. */
const lastDecay = 6;

/** Panels of integration over the spread, and at their Gauss points the part of the integrand that no source enters. */
export interface SpreadPanels {
  /** [nPanels + 1] edges [m]: 0, then octaves. */
  readonly edges: Float64Array;
  /** [nPanels × nPoints] Gauss points [m]. */
  readonly spreads: Float64Array;
  /** [nPanels × nPoints] weight × 2 s Gz/k [m^2 K/W]. */
  readonly weights: Float64Array;
}

/** Panels that resolve details of the given size [m] and last until the plate is in its steady state. */
export function spreadPanels(plate: SpreadingPlate, detail: number): SpreadPanels {
  const depth = depthDecay(plate.thickness, plate.baseFilm / plate.conductivity);
  const first = firstSpread * Math.min(detail, plate.thickness);
  const nOctaves = Math.max(1, Math.ceil(Math.log2(lastDecay / depth.wavenumbers[0]! / first)));
  const edges = Float64Array.from({ length: nOctaves + 2 }, (_, i) => (i === 0 ? 0 : first * 2 ** (i - 1)));
  const nPoints = rule.nodes.length;
  const spreads = new Float64Array((edges.length - 1) * nPoints);
  const weights = new Float64Array(spreads.length);
  for (let panel = 0; panel + 1 < edges.length; panel++) {
    const half = (edges[panel + 1]! - edges[panel]!) / 2;
    for (let q = 0; q < nPoints; q++) {
      const spread = edges[panel]! + half * (1 + rule.nodes[q]!);
      spreads[panel * nPoints + q] = spread;
      weights[panel * nPoints + q] = (2 * half * rule.weights[q]! * spread * depthFactor(depth, spread)) / plate.conductivity;
    }
  }
  return { edges, spreads, weights };
}

interface SourcePair {
  readonly from: SpreadingSource;
  readonly to: SpreadingSource;
}

function exchanges(plate: SpreadingPlate, { from, to }: SourcePair): { along: LengthExchange; across: LengthExchange } {
  return {
    along: lengthExchange(plate.length, {
      from: { middle: from.x, length: from.length },
      to: { middle: to.x, length: to.length },
    }),
    across: lengthExchange(plate.width, { from: { middle: from.y, length: from.width }, to: { middle: to.y, length: to.width } }),
  };
}

function detailOf({ from, to }: SourcePair): number {
  return Math.min(from.length, from.width, to.length, to.width);
}

/** Mean steady temperature of `to` per watt spread evenly over `from` [K/W]. */
export function steadyResistance(plate: SpreadingPlate, pair: SourcePair): number {
  const { along, across } = exchanges(plate, pair);
  const { spreads, weights } = spreadPanels(plate, detailOf(pair));
  let sum = 0;
  for (let q = 0; q < spreads.length; q++) {
    sum += weights[q]! * lengthFactor(along, spreads[q]!) * lengthFactor(across, spreads[q]!);
  }
  return sum;
}

/** Step response as a function of the spread sqrt(diffusivity × time) [m]: mean temperature of `to` per watt in `from` [K/W]. */
export function createStepResponse(plate: SpreadingPlate, pair: SourcePair): (spread: number) => number {
  const { along, across } = exchanges(plate, pair);
  const { edges, spreads, weights } = spreadPanels(plate, detailOf(pair));
  const nPoints = rule.nodes.length;
  const reached = new Float64Array(edges.length);
  for (let panel = 1; panel < edges.length; panel++) {
    let sum = reached[panel - 1]!;
    for (let q = (panel - 1) * nPoints; q < panel * nPoints; q++) {
      sum += weights[q]! * lengthFactor(along, spreads[q]!) * lengthFactor(across, spreads[q]!);
    }
    reached[panel] = sum;
  }
  const depth = depthDecay(plate.thickness, plate.baseFilm / plate.conductivity);
  return (spread) => {
    let panel = 0;
    while (panel + 1 < edges.length && edges[panel + 1]! <= spread) panel++;
    if (panel + 1 === edges.length) return reached[panel]!;
    const half = (spread - edges[panel]!) / 2;
    let sum = 0;
    for (let q = 0; q < nPoints; q++) {
      const s = edges[panel]! + half * (1 + rule.nodes[q]!);
      // At zero spread the depth factor has no value and the interval no length.
      if (s > 0) sum += rule.weights[q]! * s * lengthFactor(along, s) * lengthFactor(across, s) * depthFactor(depth, s);
    }
    return reached[panel]! + (2 * half * sum) / plate.conductivity;
  };
}
