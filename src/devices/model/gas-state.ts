/** The gas under and beside a device, and heat exchanges made from shape factors at two film temperatures. */
import { type Gas, temperatureJumpDistance } from "#materials";
import type { HeatExchange } from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Conditions } from "../conditions.ts";

/** Accommodation coefficient (from memory: 0.87 to 0.97 for air on engineering surfaces). */
const accommodation = 0.9;
/** Film temperatures above ambient at which shape factors are worked out, [K]: most devices stand between them. */
const filmRises = [0, 150] as const;

export interface GasState {
  readonly gas: Gas;
  /** Gap lengthened by the temperature jump at both walls, at the two film temperatures, [m]. */
  readonly gaps: readonly [low: number, high: number];
  readonly ambient: number;
  /** Factor on everything lost to the gas. */
  readonly scale: number;
}

/** Undefined in vacuum. Throws AssemblyError where the text gives no gap. */
export function gasStateOf(conditions: Conditions): GasState | undefined {
  const { gas, gap, ambient, gasFactor: scale } = conditions;
  if (gas === undefined) return undefined;
  if (gap === undefined) throw new AssemblyError('the loss to the gas needs "gap under silicon" in the section process');
  const gapAt = (rise: number): number =>
    gap + 2 * temperatureJumpDistance(gas.gas, { T: ambient + rise, pressure: gas.pressure, accommodation });
  return { gas: gas.gas, gaps: [gapAt(filmRises[0]), gapAt(filmRises[1])], ambient, scale };
}

/** An exchange whose shape factor is linear in the film temperature between two known values. */
export function exchangeOf(state: GasState, factors: readonly [low: number, high: number]): HeatExchange {
  const { ambient, scale, gas } = state;
  const lowFilm = ambient + filmRises[0];
  const slope = (factors[1] - factors[0]) / (filmRises[1] - filmRises[0]);
  return {
    lossAt: (T) => {
      const film = 0.5 * (T + ambient);
      return scale * (factors[0] + slope * (film - lowFilm)) * gas.conductivity.at(film) * (T - ambient);
    },
    lossSlopeAt: (T) => {
      const film = 0.5 * (T + ambient);
      const shape = factors[0] + slope * (film - lowFilm);
      const k = gas.conductivity.at(film);
      return scale * (shape * k + 0.5 * (slope * k + shape * gas.conductivity.slopeAt(film)) * (T - ambient));
    },
    sinkTemperature: ambient,
  };
}
