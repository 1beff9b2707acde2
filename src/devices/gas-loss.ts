/**
 * Heat that beams and plates lose through the gas to the glass below and to cold silicon beside.
 *
 * Per length: shape factor x k_gas(film temperature) x (T - ambient), film temperature = mean of wall and ambient. The shape factor
 * comes from the cross-section of all beams side by side; the gap is lengthened by the temperature jump at both walls, which grows
 * with the film temperature, so the factor is found at two film temperatures and taken linear in between.
 * Accommodation coefficient 0.9 (from memory: 0.87 to 0.97 for air on engineering surfaces).
 */

import { type Gas, temperatureJumpDistance } from "#materials";
import { crossSectionShapeFactors, type HeatExchange } from "#physics";
import { AssemblyError } from "./assembly-error.ts";
import type { Conditions, ShapeFactorStore } from "./conditions.ts";
import type { Frame, PlateShare } from "./frame-builder.ts";

const accommodation = 0.9;
/** Film temperatures above ambient at which shape factors are worked out, [K]: most devices stand between them. */
const filmRises = [0, 150] as const;
/** Width of the cold silicon beside the outermost beams that still matters, in gaps and thicknesses. */
const wallWidthInHeights = 1.5;

interface GasState {
  readonly gas: Gas;
  readonly pressure: number;
  readonly gap: number;
}

function gasStateOf(conditions: Conditions): GasState | undefined {
  if (conditions.gas === undefined) return undefined;
  if (conditions.gap === undefined)
    throw new AssemblyError('the loss to the gas needs "gap under silicon" in the section process');
  return { ...conditions.gas, gap: conditions.gap };
}

/** Gap lengthened by the temperature jump at both walls, [m]. */
function effectiveGap(state: GasState, filmTemperature: number): number {
  return state.gap + 2 * temperatureJumpDistance(state.gas, { T: filmTemperature, pressure: state.pressure, accommodation });
}

/** Hot bodies side by side, with cold silicon at a clear distance beside the outermost ones. */
interface Section {
  readonly rows: readonly { readonly position: number; readonly width: number }[];
  readonly wallDistance: number | undefined;
}

function factorsOf(section: Section, at: { gap: number; thickness: number; store: ShapeFactorStore }): Float64Array {
  const { gap, thickness, store } = at;
  const hot = section.rows.map((row) => ({
    x: row.position,
    width: row.width,
    height: thickness,
    gap,
    potential: "hot" as const,
  }));
  const rectangles: Parameters<typeof crossSectionShapeFactors>[0]["rectangles"][number][] = [...hot];
  if (section.wallDistance !== undefined) {
    const wallWidth = wallWidthInHeights * (thickness + gap);
    const first = section.rows[0]!;
    const last = section.rows[section.rows.length - 1]!;
    const wall = (x: number) => ({ x, width: wallWidth, height: thickness, gap, potential: "cold" as const });
    rectangles.push(wall(first.position - first.width / 2 - section.wallDistance - wallWidth / 2));
    rectangles.push(wall(last.position + last.width / 2 + section.wallDistance + wallWidth / 2));
  }
  const key = rectangles
    .map(
      (r) => `${r.x.toPrecision(9)} ${r.width.toPrecision(9)} ${r.height.toPrecision(9)} ${r.gap.toPrecision(9)} ${r.potential}`,
    )
    .join("|");
  const known = store.get(key);
  if (known !== undefined) return known;
  const factors = crossSectionShapeFactors({ rectangles });
  store.set(key, factors);
  return factors;
}

/** An exchange whose shape factor is linear in the film temperature between two known values. */
function exchangeOf(gas: Gas, factor: { low: number; high: number }, at: { ambient: number; scale: number }): HeatExchange {
  const { ambient, scale } = at;
  const lowFilm = ambient + filmRises[0];
  const slope = (factor.high - factor.low) / (filmRises[1] - filmRises[0]);
  return {
    lossAt: (T) => {
      const film = 0.5 * (T + ambient);
      return scale * (factor.low + slope * (film - lowFilm)) * gas.conductivity.at(film) * (T - ambient);
    },
    lossSlopeAt: (T) => {
      const film = 0.5 * (T + ambient);
      const shape = factor.low + slope * (film - lowFilm);
      const k = gas.conductivity.at(film);
      return scale * (shape * k + 0.5 * (slope * k + shape * gas.conductivity.slopeAt(film)) * (T - ambient));
    },
    sinkTemperature: ambient,
  };
}

/** Gas loss per length of every beam that stands in a cross-section; undefined for the others and in vacuum. */
export function beamExchanges(frame: Frame, conditions: Conditions): (HeatExchange | undefined)[] {
  const exchanges: (HeatExchange | undefined)[] = frame.beams.map(() => undefined);
  const state = gasStateOf(conditions);
  if (state === undefined) return exchanges;
  const { ambient, thickness, shapeFactors: store, gasFactor: scale } = conditions;
  for (const section of frame.crossSections) {
    const [low, high] = filmRises.map((rise) =>
      factorsOf(section, { gap: effectiveGap(state, ambient + rise), thickness, store }),
    ) as [Float64Array, Float64Array];
    section.rows.forEach((row, index) => {
      const exchange = exchangeOf(state.gas, { low: low[index]!, high: high[index]! }, { ambient, scale });
      for (const beam of row.beams) exchanges[beam] = exchange;
    });
  }
  return exchanges;
}

/** Gas loss of a plate's share lumped at a node, [W]. */
export function plateExchange(plate: PlateShare, conditions: Conditions): HeatExchange | undefined {
  const state = gasStateOf(conditions);
  if (state === undefined) return undefined;
  const { ambient, thickness, gasFactor: scale, shapeFactors: store } = conditions;
  const section = { rows: [{ position: 0, width: plate.height }], wallDistance: plate.wallDistance };
  const [low, high] = filmRises.map(
    (rise) => plate.share * plate.width * factorsOf(section, { gap: effectiveGap(state, ambient + rise), thickness, store })[0]!,
  ) as [number, number];
  return exchangeOf(state.gas, { low, high }, { ambient, scale });
}
