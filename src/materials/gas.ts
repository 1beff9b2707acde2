/**
 * Heat through thin layers of gas: bulk conductivity, mean free path, temperature jump at walls, and the limit without collisions.
 *
 * The jump form holds from the continuum to a Knudsen number of about 0.1 and runs smoothly into the collisionless limit within the
 * accuracy of the accommodation coefficient. Expect 2 % on bulk conductivity, 5-10 % on thin gaps of air.
 * The accommodation coefficient has no default: air on engineering surfaces 0.87-0.97, helium on clean silicon may be 0.3-0.4 (FROM MEMORY).
 * Main test: gas.test.ts.
 */

import { type GasRow, gasRows } from "./gases.table.ts";
import { gasConstant, vapourLaw } from "./law-makers.ts";
import type { Gas } from "./material.ts";

function gasFromRow(row: GasRow): Gas {
  const source = { key: "perry2008", consulted: "read second hand" } as const;
  return {
    name: row.name,
    kind: "gas",
    conductivity: vapourLaw(row.conductivity, { unit: "W/(m K)", range: row.range, relativeSpread: 0.02, source }),
    viscosity: vapourLaw(row.viscosity, { unit: "Pa s", range: row.range, relativeSpread: 0.03, source }),
    molarMass: row.molarMass,
    heatRatio: row.heatRatio,
    prandtlNumber: row.prandtlNumber,
  };
}

/** Gases by name. */
export const gases: readonly Gas[] = gasRows.map(gasFromRow);

/** State of a gas: temperature [K] and pressure [Pa]. */
export interface GasState {
  readonly T: number;
  readonly pressure: number;
}

/** Mean free path [m]: (mu/p) sqrt(pi R T / 2 M), [kennard1938] FROM MEMORY. */
export function meanFreePath(gas: Gas, state: GasState): number {
  if (!(state.pressure > 0))
    throw new RangeError(`Cannot tell the mean free path: wanted a pressure above zero, found ${state.pressure} Pa`);
  return (gas.viscosity.at(state.T) / state.pressure) * Math.sqrt((Math.PI * gasConstant * state.T) / (2 * gas.molarMass));
}

/** Density of the ideal gas [kg/m^3]. */
export function gasDensity(gas: Gas, state: GasState): number {
  return (state.pressure * gas.molarMass) / (gasConstant * state.T);
}

function requireAccommodation(accommodation: number): void {
  if (!(accommodation > 0 && accommodation <= 1)) {
    throw new RangeError(`Cannot use the accommodation coefficient: wanted more than 0 and at most 1, found ${accommodation}`);
  }
}

/** Temperature-jump distance of one wall over the mean free path: zeta = [(2 - s)/s] [2 gamma/(gamma + 1)]/Pr, [kennard1938] FROM MEMORY. */
export function temperatureJumpCoefficient(gas: Gas, accommodation: number): number {
  requireAccommodation(accommodation);
  const { heatRatio, prandtlNumber } = gas;
  return (((2 - accommodation) / accommodation) * ((2 * heatRatio) / (heatRatio + 1))) / prandtlNumber;
}

/** Distance [m] by which each wall seems to stand back: zeta × mean free path. A gap between two walls counts it twice. */
export function temperatureJumpDistance(gas: Gas, state: GasState & { readonly accommodation: number }): number {
  return temperatureJumpCoefficient(gas, state.accommodation) * meanFreePath(gas, state);
}

/** Conductivity [W/(m K)] of the gas in a gap between parallel walls: k / (1 + 2 zeta lambda / gap), all at the mean temperature. */
export function gapConductivity(gas: Gas, state: GasState & { readonly accommodation: number; readonly gap: number }): number {
  if (!(state.gap > 0))
    throw new RangeError(`Cannot tell the conductivity in a gap: wanted a gap above zero, found ${state.gap} m`);
  return gas.conductivity.at(state.T) / (1 + (2 * temperatureJumpDistance(gas, state)) / state.gap);
}

/**
 * Heat per area, pressure and temperature difference between parallel walls without collisions, [W/(m^2 K Pa)]:
 * [s1 s2/(s1 + s2 - s1 s2)] (gamma + 1)/(gamma - 1) sqrt(R/(8 pi M T)), [kennard1938] FROM MEMORY.
 */
export function freeMolecularConductance(
  gas: Gas,
  state: { readonly T: number; readonly accommodation: number; readonly otherAccommodation: number },
): number {
  const { accommodation: s1, otherAccommodation: s2 } = state;
  requireAccommodation(s1);
  requireAccommodation(s2);
  const exchange = (s1 * s2) / (s1 + s2 - s1 * s2);
  return (
    ((exchange * (gas.heatRatio + 1)) / (gas.heatRatio - 1)) * Math.sqrt(gasConstant / (8 * Math.PI * gas.molarMass * state.T))
  );
}
