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

/** A path through a gas: per length of a branch, or as a whole for a lumped surface. */
export interface GasPath {
  /** Conductance over conductivity where molecules collide often: a pure number per length, or a length [m]. */
  readonly shapeFactor: number;
  readonly gasConductivity: Law;
  /** What collisions with the surfaces resist besides; left out, nothing. */
  readonly surfaces?: GasSurfaces;
}

export interface GasSurfaces {
  /** Resistance of the steps of temperature at the surfaces, to first order [m K/W] or [K/W], for a gas at `reference` [K]; grows as sqrt(T). */
  readonly step: number;
  readonly reference: number;
  /** Resistance of the same path where molecules do not collide with each other at all. */
  readonly freeMolecular: number;
}

/**
 * Conductance of a path and its slope with the temperature of the gas. Resistances of both limits add up, the interpolation of
 * [sherman1963] (FROM MEMORY): R = Rc + Rs near the continuum, with the jump of [kennard1938] on every surface, and Rf for Rs where
 * surfaces resist more than the gas. R > Rf always, and R grows with each of them. Between parallel walls Rs = Rf.
 */
function throughGas(
  { shapeFactor, surfaces }: GasPath,
  law: Pick<Law, "at" | "slopeAt">,
  T: number,
): { G: number; slope: number } {
  const k = law.at(T);
  const collided = shapeFactor * k;
  const collidedSlope = shapeFactor * law.slopeAt(T);
  if (surfaces === undefined || collided === 0) return { G: collided, slope: collidedSlope };
  const { reference, freeMolecular: Rf } = surfaces;
  if (Rf === Number.POSITIVE_INFINITY) return { G: 0, slope: 0 };
  const Rc = 1 / collided;
  const Rs = surfaces.step * Math.sqrt(T / reference);
  const G = 1 / (Rc + (Rs * Rc + Rf * Rf) / (Rc + Rf));
  const byRc = 1 + (Rf * (Rs - Rf)) / (Rc + Rf) ** 2;
  const slope = -G * G * (-byRc * Rc * Rc * collidedSlope + (Rc / (Rc + Rf)) * (Rs / (2 * T)));
  return { G, slope };
}

/** Conduction through a gas between two bodies: conductance at the mean temperature x difference, as `gasExchange`. */
export function gasPairExchange(path: GasPath): PairExchange {
  const law = sampledLaw(path.gasConductivity);
  const at = (Ta: number, Tb: number): { G: number; bend: number } => {
    const { G, slope } = throughGas(path, law, 0.5 * (Ta + Tb));
    return { G, bend: 0.5 * slope * (Ta - Tb) };
  };
  return {
    flowAt: (Ta, Tb) => at(Ta, Tb).G * (Ta - Tb),
    slopeAtA: (Ta, Tb) => {
      const { G, bend } = at(Ta, Tb);
      return G + bend;
    },
    slopeAtB: (Ta, Tb) => {
      const { G, bend } = at(Ta, Tb);
      return bend - G;
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
 * Conduction through a gas: conductance of the path x (T - sink), with the gas at the mean of wall and sink: usual practice, exact
 * for k linear in T.
 */
export function gasExchange(path: GasPath & { readonly sinkTemperature: number }): HeatExchange {
  const { sinkTemperature } = path;
  const law = sampledLaw(path.gasConductivity);
  return {
    lossAt: (T) => throughGas(path, law, 0.5 * (T + sinkTemperature)).G * (T - sinkTemperature),
    lossSlopeAt: (T) => {
      const { G, slope } = throughGas(path, law, 0.5 * (T + sinkTemperature));
      return G + 0.5 * slope * (T - sinkTemperature);
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
