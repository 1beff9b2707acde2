/**
 * Heat that a surface loses to its surroundings as a function of its own temperature.
 *
 * Used per length of a branch ([W/m]) or for a lumped junction ([W]). The exchange carries its own sink temperature, so that
 * gas, radiation and other paths may be added.
 * Main test: slopes against differences, heat-exchange.test.ts.
 */
import type { Law } from "#base";
import { sampledLaw } from "./sampled-law.ts";

export interface HeatExchange {
  /** Loss at wall temperature T [K], in [W/m] or [W]; negative when the wall is colder than its surroundings. */
  lossAt(T: number): number;
  /** Derivative of the loss with respect to T. */
  lossSlopeAt(T: number): number;
  /** Temperature of the surroundings [K]: no loss there. */
  readonly sinkTemperature: number;
}

/** Heat that passes between two facing bodies of their own temperatures, per facing length [W/m]. */
export interface PairExchange {
  /** From a to b, at temperatures Ta and Tb [K]. */
  flowAt(Ta: number, Tb: number): number;
  /** Derivative with respect to Ta, [W/(m K)]. */
  slopeAtA(Ta: number, Tb: number): number;
  /** Derivative with respect to Tb, [W/(m K)]. */
  slopeAtB(Ta: number, Tb: number): number;
}

/** Flow between two bodies proportional to their difference. `conductance` in [W/(m K)]. */
export function linearPairExchange(conductance: number): PairExchange {
  return {
    flowAt: (Ta, Tb) => conductance * (Ta - Tb),
    slopeAtA: () => conductance,
    slopeAtB: () => -conductance,
  };
}

/** Conduction through a gas between two bodies: shape factor x k_gas(mean temperature) x difference, as `gasExchange`. */
export function gasPairExchange(options: { readonly shapeFactor: number; readonly gasConductivity: Law }): PairExchange {
  const { shapeFactor } = options;
  const gasConductivity = sampledLaw(options.gasConductivity);
  return {
    flowAt: (Ta, Tb) => shapeFactor * gasConductivity.at(0.5 * (Ta + Tb)) * (Ta - Tb),
    slopeAtA: (Ta, Tb) => {
      const mean = 0.5 * (Ta + Tb);
      return shapeFactor * (gasConductivity.at(mean) + 0.5 * gasConductivity.slopeAt(mean) * (Ta - Tb));
    },
    slopeAtB: (Ta, Tb) => {
      const mean = 0.5 * (Ta + Tb);
      return shapeFactor * (0.5 * gasConductivity.slopeAt(mean) * (Ta - Tb) - gasConductivity.at(mean));
    },
  };
}

/** Loss proportional to the temperature difference. `conductance` in [W/(m K)] or [W/K]. */
export function linearExchange(conductance: number, sinkTemperature: number): HeatExchange {
  return {
    lossAt: (T) => conductance * (T - sinkTemperature),
    lossSlopeAt: () => conductance,
    sinkTemperature,
  };
}

/**
 * Conduction through a gas: shape factor x k_gas(mean temperature) x (T - sink).
 * The shape factor is a pure number per length (capacitance analogy), or a length for a lumped surface.
 * The gas conductivity is taken at the mean of wall and sink: usual practice, exact for k linear in T.
 */
export function gasExchange(options: {
  readonly shapeFactor: number;
  readonly gasConductivity: Law;
  readonly sinkTemperature: number;
}): HeatExchange {
  const { shapeFactor, sinkTemperature } = options;
  const gasConductivity = sampledLaw(options.gasConductivity);
  return {
    lossAt: (T) => shapeFactor * gasConductivity.at(0.5 * (T + sinkTemperature)) * (T - sinkTemperature),
    lossSlopeAt: (T) => {
      const mean = 0.5 * (T + sinkTemperature);
      return shapeFactor * (gasConductivity.at(mean) + 0.5 * gasConductivity.slopeAt(mean) * (T - sinkTemperature));
    },
    sinkTemperature,
  };
}

/** Stefan-Boltzmann constant [W/(m^2 K^4)], exact from the 2019 SI (CODATA 2018, key codata2018, from memory). */
const stefanBoltzmann = 5.670374419e-8;

/** Grey radiation into a large enclosure. `effectivePerimeter` = emissivity x radiating perimeter [m] (or area [m^2] if lumped). */
export function radiationExchange(effectivePerimeter: number, sinkTemperature: number): HeatExchange {
  const factor = stefanBoltzmann * effectivePerimeter;
  return {
    lossAt: (T) => factor * (T ** 4 - sinkTemperature ** 4),
    lossSlopeAt: (T) => 4 * factor * T ** 3,
    sinkTemperature,
  };
}

/** Several paths side by side. The sink temperature told is that of the first. */
export function sumExchange(paths: readonly HeatExchange[]): HeatExchange {
  const [first] = paths;
  if (first === undefined) throw new RangeError("Cannot add heat exchanges: wanted at least one, found none");
  if (paths.length === 1) return first;
  return {
    lossAt: (T) => paths.reduce((sum, path) => sum + path.lossAt(T), 0),
    lossSlopeAt: (T) => paths.reduce((sum, path) => sum + path.lossSlopeAt(T), 0),
    sinkTemperature: first.sinkTemperature,
  };
}
