/**
 * Viscosity of a gas in a gap of few mean free paths.
 *
 * [veijola1995] (formula READ second hand): mu/(1 + 9.638 Kn^1.159) for flow along a film, fitted to kinetic theory within 5 % for Knudsen
 * numbers up to 880. First-order slip, 1/(1 + 6 Kn), is the same for Kn below 0.1 within 2.6 % of the bulk. Walls reflect diffusely.
 * Main test: rarefied-gas.test.ts.
 */

import { type Gas, type GasState, meanFreePath } from "#materials";
import { requirePositive } from "./gas-film.ts";

/** The fit ends here. */
const largestKnudsenNumber = 880;
/** First-order slip is trusted to here; 2.6 % of the bulk off the fit. */
const largestSlipNumber = 0.1;

/** Mean free paths per gap. */
export function knudsenNumber(gap: number, path: number): number {
  requirePositive({ gap, "mean free path": path }, "the Knudsen number");
  return path / gap;
}

/** Viscosity of a squeezed film over that of the bulk. */
export function filmViscosityFactor(knudsen: number): number {
  requireKnudsen(knudsen, largestKnudsenNumber);
  return 1 / (1 + 9.638 * knudsen ** 1.159);
}

/** The same for first-order slip, flow driven by pressure. */
export function slipViscosityFactor(knudsen: number): number {
  requireKnudsen(knudsen, largestSlipNumber);
  return 1 / (1 + 6 * knudsen);
}

/** Shear stress between parallel sliding walls over that without slip, first order: 1/(1 + 2 Kn). */
export function slidingSlipFactor(knudsen: number): number {
  requireKnudsen(knudsen, largestSlipNumber);
  return 1 / (1 + 2 * knudsen);
}

function requireKnudsen(knudsen: number, largest: number): void {
  if (!(knudsen >= 0 && knudsen <= largest))
    throw new RangeError(`Cannot correct the viscosity: wanted a Knudsen number of 0 to ${largest}, found ${knudsen}`);
}

/** Viscosity [Pa s] to put into the laws of a squeezed film of this gas. */
export function effectiveFilmViscosity(gas: Gas, state: GasState & { readonly gap: number }): number {
  return gas.viscosity.at(state.T) * filmViscosityFactor(knudsenNumber(state.gap, meanFreePath(gas, state)));
}
