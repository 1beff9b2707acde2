/**
 * The gas under and beside a device, and heat exchanges made of what surfaces pass to it with frequent collisions and with none.
 *
 * Between the two limits the resistances of both add up [sherman1963]: a loss never exceeds what the molecules that reach the
 * surface can carry, and near the continuum every surface has its step of temperature. Main test: test/verification/gas-pressure.test.ts.
 */
import { freeMolecularConductance, type Gas } from "#materials";
import { gasExchange, gasPairExchange, type HeatExchange, type PairExchange } from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Conditions } from "../conditions.ts";

/** Accommodation coefficient (from memory: 0.87 to 0.97 for air on engineering surfaces). */
const accommodation = 0.9;

export interface GasState {
  readonly gas: Gas;
  readonly gap: number;
  readonly ambient: number;
  /** Factor on everything lost to the gas. */
  readonly scale: number;
  /** Carried by molecules without collisions per area, to the open and across to a wall as large, [W/(m^2 K)]. */
  readonly freeMolecular: { readonly open: number; readonly facing: number };
}

/** Surfaces by what molecules that leave them meet: per length [m], or of a lumped surface [m^2]. */
export interface Exposure {
  /** So many walls, or so far, that they return at the temperature of the surroundings. */
  readonly open: number;
  /** One cold wall in front. */
  readonly facing: number;
}

/** A path of heat into the gas, and the surface that it starts from. */
export interface GasPath extends Exposure {
  /** Conductance over the conductivity of the gas. */
  readonly shape: number;
  /** What a step of temperature at every surface, as of this thickness of gas, takes off it, [1/m]; of a lumped path a pure number. */
  readonly stepLoss: number;
}

/** Undefined in vacuum. Throws AssemblyError where the text gives no gap. */
export function gasStateOf(conditions: Conditions): GasState | undefined {
  const { gas, gap, ambient, gasFactor: scale } = conditions;
  if (gas === undefined) return undefined;
  if (gap === undefined) throw new AssemblyError('the loss to the gas needs "gap under silicon" in the section process');
  // molecules arrive from cold walls: their number and energy are those of the gas at ambient temperature
  const perArea = (otherAccommodation: number): number =>
    gas.pressure * freeMolecularConductance(gas.gas, { T: ambient, accommodation, otherAccommodation });
  return { gas: gas.gas, gap, ambient, scale, freeMolecular: { open: perArea(1), facing: perArea(accommodation) } };
}

function pathThrough({ scale, gas, freeMolecular, ambient }: GasState, { shape, stepLoss, open, facing }: GasPath) {
  return {
    shapeFactor: scale * shape,
    gasConductivity: gas.conductivity,
    surfaces: {
      // across two facing walls: two steps, each as of k / (2 facing) of gas
      step: shape === 0 ? 0 : stepLoss / (scale * shape * shape * 2 * freeMolecular.facing),
      reference: ambient,
      freeMolecular: 1 / (scale * (open * freeMolecular.open + facing * freeMolecular.facing)),
    },
  };
}

/** Loss along a path to the surroundings. */
export function exchangeOf(state: GasState, path: GasPath): HeatExchange {
  return gasExchange({ ...pathThrough(state, path), sinkTemperature: state.ambient });
}

/** Heat along a path between two bodies. */
export function pairExchangeOf(state: GasState, path: GasPath): PairExchange {
  return gasPairExchange(pathThrough(state, path));
}
