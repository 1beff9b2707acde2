/**
 * How an anchor lets its heat into the glass and on to the heat sink.
 *
 * Computed: the steady resistance of an isothermal silicon anchor on the glass plate, with the crowding of heat in the silicon where the
 * beams enter at one edge; the glass warms slowly, as a ladder that keeps the shape of its step response (uniform flux) and this steady
 * value. Anchors are taken one by one: what one does to another through the glass is left out (a few per cent two sizes away).
 */
import {
  type FosterElement,
  type HeatSink,
  type SpreadingPlate,
  type SpreadingSource,
  sheetEntryResistance,
  spreadingLadder,
  spreadingResistance,
} from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Conditions, GlassPlate } from "../conditions.ts";
import { ownPlace } from "../drawing/slab.ts";
import type { BuiltDevice } from "./built-device.ts";

/** First time that the ladder is good for, [s]: the legs take longer to warm. */
const from = 1e-4;
const nTerms = 8;

/** Paths from an anchor to the surroundings. Throws AssemblyError where the glass is to be computed but is not given. */
export function anchorSinks(device: BuiltDevice, index: number, conditions: Conditions): readonly HeatSink[] {
  const { part } = device.bodies[index]!;
  const { ambient } = conditions;
  if (part.kind !== "anchor" || part.heat === "ideal") return [];
  if (typeof part.heat === "number") return [{ conductance: 1 / part.heat, temperature: ambient }];
  if (conditions.glass === undefined)
    throw new AssemblyError(
      `${part.name} has no thermal resistance, and the section process has no glass to compute it for: give one of the two`,
    );
  return [{ chain: glassChain(device, index, { conditions, glass: conditions.glass }), temperature: ambient }];
}

function plateOf(glass: GlassPlate): SpreadingPlate {
  return {
    length: glass.width,
    width: glass.height,
    thickness: glass.thickness,
    conductivity: glass.conductivity,
    volumetricHeatCapacity: glass.heatCapacity,
    baseFilm: glass.baseFilm ?? Number.POSITIVE_INFINITY,
  };
}

/** The anchor on the glass of the die, whose middle is the device's origin; moved onto the glass where it would hang over. */
function sourceOf(device: BuiltDevice, index: number, glass: GlassPlate): SpreadingSource {
  const { slab } = device.bodies[index]!;
  // turned by a quarter or not: anything else is taken as its nearest
  const upright = Math.abs(Math.sin(slab.turn)) < Math.SQRT1_2;
  const length = Math.min(upright ? slab.width : slab.height, glass.width);
  const width = Math.min(upright ? slab.height : slab.width, glass.height);
  const inside = (place: number, half: number, whole: number): number => Math.min(Math.max(place, half), whole - half);
  return {
    x: inside(slab.centre.x + glass.width / 2, length / 2, glass.width),
    y: inside(slab.centre.y + glass.height / 2, width / 2, glass.height),
    length,
    width,
  };
}

function glassChain(
  device: BuiltDevice,
  index: number,
  at: { readonly conditions: Conditions; readonly glass: GlassPlate },
): readonly FosterElement[] {
  const { conditions, glass } = at;
  const plate = plateOf(glass);
  const source = sourceOf(device, index, glass);
  const key = `glass ${[plate.length, plate.width, plate.thickness, plate.conductivity, plate.volumetricHeatCapacity, plate.baseFilm, source.x, source.y, source.length, source.width].map((value) => value.toPrecision(9)).join(" ")}`;
  let known = conditions.shapeFactors.get(key);
  if (known === undefined) {
    const steady = spreadingResistance(plate, source).isothermal;
    const { terms, steady: uniform } = spreadingLadder(plate, { source, nTerms, from });
    known = Float64Array.from([
      steady,
      ...terms.flatMap(({ resistance, timeConstant }) => [(resistance * steady) / uniform, timeConstant]),
    ]);
    conditions.shapeFactors.set(key, known);
  }
  const below = known[0]!;
  const chain: FosterElement[] = [];
  for (let i = 1; i + 1 < known.length; i += 2) chain.push({ resistance: known[i]!, capacitance: known[i + 1]! / known[i]! });
  const crowding = entryResistance(device, index, { conditions, below }) - below;
  return crowding > 0 ? [...chain, { resistance: crowding, capacitance: 0 }] : chain;
}

/** Mean temperature per watt where the beams enter, the glass included, [K/W]. */
function entryResistance(
  device: BuiltDevice,
  index: number,
  at: { readonly conditions: Conditions; readonly below: number },
): number {
  const { slab } = device.bodies[index]!;
  const { conditions, below } = at;
  const ends = device.beams.flatMap((beam) =>
    beam.ends.flatMap((end, which) => {
      if (end.kind !== "body" || end.index !== index) return [];
      const place = which === 0 ? 0 : beam.line.length - 2;
      return [{ ...ownPlace(slab, { x: beam.line[place]!, y: beam.line[place + 1]! }), width: beam.widths[which]! }];
    }),
  );
  const [first] = ends;
  if (first === undefined) return below;
  // the edge that the first beam ends on; beams on other edges spread the heat further and crowd it less
  const onSide = slab.width / 2 - Math.abs(first.x) < slab.height / 2 - Math.abs(first.y);
  const [depth, width] = onSide ? [slab.width, slab.height] : [slab.height, slab.width];
  const along = ends.map((end) => (onSide ? end.y : end.x));
  const reach = first.width / 2;
  const low = Math.max(-width / 2, Math.min(...along) - reach);
  const high = Math.min(width / 2, Math.max(...along) + reach);
  const material = conditions.materialAlong(0);
  return sheetEntryResistance({
    depth,
    width,
    sheetConductance: material.conductivity.at(conditions.ambient) * conditions.thickness,
    baseResistance: below,
    entry: { middle: (low + high) / 2 + width / 2, length: high - low },
  });
}
