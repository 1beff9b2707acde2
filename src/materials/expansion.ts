/**
 * Thermal expansion laws: coefficient and its exact integral, the free strain between two temperatures.
 *
 * A secant (mean) coefficient and the coefficient at a temperature differ by 20 % for silicon at 600 K; only the integral is safe.
 * Main test: the published silicon values in silicon.test.ts, the additivity of strains in expansion.test.ts.
 */

import type { ExpansionLaw, Law } from "#base";
import { constantLaw, formulaLaw, type LawLabel } from "./law-makers.ts";

/** Expansion with one coefficient [1/K] at every temperature. */
export function constantExpansion(coefficient: number, label: Omit<LawLabel, "unit">): ExpansionLaw {
  return {
    ...constantLaw(coefficient, { ...label, unit: "1/K" }),
    strainBetween: (from, to) => coefficient * (to - from),
  };
}

/**
 * alpha = factor {saturation [1 - exp(-rate (T - origin))] + rise T}, the form of [okada1984] (READ).
 * The bracket closes before the term in T: circulating code that puts that term inside gets 3.02e-6 instead of 2.568e-6 at 300 K.
 */
export function saturatingExpansion(
  form: { saturation: number; rate: number; origin: number; rise: number; factor: number },
  label: Omit<LawLabel, "unit">,
): ExpansionLaw {
  const { rate, origin } = form;
  const saturation = form.saturation * form.factor;
  const rise = form.rise * form.factor;
  const law = formulaLaw(
    {
      at: (T) => saturation * (1 - Math.exp(-rate * (T - origin))) + rise * T,
      slopeAt: (T) => saturation * rate * Math.exp(-rate * (T - origin)) + rise,
    },
    { ...label, unit: "1/K" },
  );
  const integral = (T: number): number => saturation * (T + Math.exp(-rate * (T - origin)) / rate) + (rise / 2) * T * T;
  return { ...law, strainBetween: (from, to) => integral(to) - integral(from) };
}

/** Abscissae and weights of the three-point Gauss rule on [-1, 1]. */
const gaussPoint = Math.sqrt(0.6);

/**
 * Makes any law of the coefficient into an expansion law. The integral is taken by a three-point Gauss rule over steps of at most 5 K:
 * exact to rounding for polynomials up to degree five; a kink of a table inside a step costs at most its change of slope times 2 K².
 */
export function expansionFromLaw(law: Law): ExpansionLaw {
  return {
    ...law,
    strainBetween: (from, to) => {
      const nSteps = Math.max(1, Math.ceil(Math.abs(to - from) / 5));
      const half = (to - from) / nSteps / 2;
      let sum = 0;
      for (let i = 0; i < nSteps; i++) {
        const middle = from + (2 * i + 1) * half;
        sum += 8 * law.at(middle) + 5 * (law.at(middle - gaussPoint * half) + law.at(middle + gaussPoint * half));
      }
      return (sum * half) / 9;
    },
  };
}
