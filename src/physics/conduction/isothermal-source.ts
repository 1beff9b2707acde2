/**
 * Spreading conductances of sources that each have one temperature over their whole face.
 *
 * The true flux gathers at the edges. Of all fluxes with given sums the isothermal one makes the least sum of flux × temperature (the
 * principle of Thomson, FROM MEMORY): so a flux made of rectangles within each source, with the best strengths, errs on the side of resistance and only in second order, and what sources do to one another is reciprocal whatever the strengths.
 * Error of one alone, always on the high side: 0.45 % on a half space, 0.9 % at most where the plate is a tenth as thick as the source
 * is long. Main test: spreading.test.ts, against the capacitance of a square plate and finite volumes of two sources.
 */

import { factorInPlace, solveInto } from "#numerics";
import { lengthExchange, lengthFactor, type Stretch } from "./plate-diffusion.ts";
import { type SpreadingPlate, type SpreadingSource, spreadPanels } from "./spreading-integral.ts";

/**
 * Stretches of a source, from its middle over its size: nested, as they follow the flux towards the edge, where it grows as
 * distance^(-1/2), and two that leave one edge out, as the flux is less at an edge that faces another source or the side of the plate.
 */
const stretches: readonly (readonly [from: number, to: number])[] = [
  [-0.5, 0.5],
  [-0.49, 0.49],
  [-0.4, 0.4],
  [-0.5, 0.49],
  [-0.5, 0.4],
];
const nStretches = stretches.length;
const nFluxes = nStretches * nStretches;

function stretchOf(whole: Stretch, [from, to]: readonly [number, number]): Stretch {
  return { middle: whole.middle + ((from + to) / 2) * whole.length, length: (to - from) * whole.length };
}

/** Factors of the stretches of one source with those of another at each Gauss point: [nStretches × nStretches][nPoints]. */
function pairFactors(
  length: number,
  at: { readonly from: Stretch; readonly to: Stretch; readonly spreads: Float64Array },
): Float64Array[] {
  return stretches.flatMap((one) =>
    stretches.map((other) => {
      const exchange = lengthExchange(length, { from: stretchOf(at.from, one), to: stretchOf(at.to, other) });
      return at.spreads.map((spread) => lengthFactor(exchange, spread));
    }),
  );
}

/**
 * Heat of each source per temperature of each, the others cold: [nSources × nSources, row-major, W/K]. Symmetric; below zero off the
 * diagonal, where a cold source takes what a warm one gives.
 */
export function isothermalConductances(plate: SpreadingPlate, sources: readonly SpreadingSource[]): Float64Array {
  const nSources = sources.length;
  const { spreads, weights } = spreadPanels(plate, Math.min(...sources.flatMap(({ length, width }) => [length, width])));
  const n = nSources * nFluxes;
  const matrix = new Float64Array(n * n);
  sources.forEach((from, a) => {
    sources.slice(0, a + 1).forEach((to, b) => {
      const along = pairFactors(plate.length, {
        from: { middle: from.x, length: from.length },
        to: { middle: to.x, length: to.length },
        spreads,
      });
      const across = pairFactors(plate.width, {
        from: { middle: from.y, length: from.width },
        to: { middle: to.y, length: to.width },
        spreads,
      });
      for (let i = 0; i < nFluxes; i++) {
        for (let j = 0; j < nFluxes; j++) {
          const x = along[Math.floor(i / nStretches) * nStretches + Math.floor(j / nStretches)]!;
          const y = across[(i % nStretches) * nStretches + (j % nStretches)]!;
          let sum = 0;
          for (let q = 0; q < weights.length; q++) sum += weights[q]! * x[q]! * y[q]!;
          matrix[(a * nFluxes + i) * n + b * nFluxes + j] = sum;
          matrix[(b * nFluxes + j) * n + a * nFluxes + i] = sum;
        }
      }
    });
  });
  const pivots = new Int32Array(n);
  factorInPlace(matrix, n, pivots);
  const conductances = new Float64Array(nSources * nSources);
  for (let b = 0; b < nSources; b++) {
    const strengths = new Float64Array(n).fill(0);
    strengths.fill(1, b * nFluxes, (b + 1) * nFluxes);
    solveInto(strengths, matrix, n, pivots);
    for (let a = 0; a < nSources; a++) {
      for (let i = 0; i < nFluxes; i++)
        conductances[a * nSources + b] = conductances[a * nSources + b]! + strengths[a * nFluxes + i]!;
    }
  }
  // the same to rounding: exactly so, for what is made of it
  for (let a = 0; a < nSources; a++) {
    for (let b = 0; b < a; b++) {
      const mean = (conductances[a * nSources + b]! + conductances[b * nSources + a]!) / 2;
      conductances[a * nSources + b] = mean;
      conductances[b * nSources + a] = mean;
    }
  }
  return conductances;
}
