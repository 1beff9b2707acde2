/**
 * How the anchors let their heat into the glass, to one another and on to the heat sink.
 *
 * Computed: the steady conductances of isothermal silicon anchors on the glass plate, all of them together, with the crowding of heat in
 * the silicon where the beams enter at one edge. The glass warms slowly: below each anchor as a ladder that keeps the shape of its
 * own step response (uniform flux) and the steady value. What passes from anchor to anchor is taken as if it passed at once: late
 * it is right, early too much by what the glass between them has not yet taken up.
 */

import { factorInPlace, solveInto } from "#numerics";
import {
  type FosterElement,
  type HeatSink,
  type SpreadingPlate,
  type SpreadingSource,
  sheetEntryResistance,
  spreadingConductances,
  spreadingLadder,
} from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Conditions, GlassPlate } from "../conditions.ts";
import type { Slab } from "../drawing/part.ts";
import { ownPlace } from "../drawing/slab.ts";
import type { BuiltDevice } from "./built-device.ts";

/** First time that the ladder is good for, [s]: the legs take longer to warm. */
const from = 1e-4;
const nTerms = 8;
/** Least part of an anchor's own conductance that leads to the heat sink: it can be shielded, but not wholly. */
const leastToSink = 1e-6;

/** Paths from the anchors to the surroundings, and from anchor to anchor. */
export interface AnchorHeat {
  /** By body; none for other bodies and for held anchors. */
  readonly sinks: readonly (readonly HeatSink[])[];
  readonly links: readonly { readonly bodies: readonly [number, number]; readonly conductance: number }[];
}

/** Throws AssemblyError where the glass is to be computed but is not given. */
export function anchorHeat(device: BuiltDevice, conditions: Conditions): AnchorHeat {
  const { ambient, glass } = conditions;
  const sinks: HeatSink[][] = device.bodies.map(() => []);
  const onGlass: number[] = [];
  device.bodies.forEach(({ part }, index) => {
    if (part.kind !== "anchor" || part.heat === "ideal") return;
    if (typeof part.heat === "number") sinks[index]!.push({ conductance: 1 / part.heat, temperature: ambient });
    else if (glass === undefined)
      throw new AssemblyError(
        `${part.name} has no thermal resistance, and the section process has no glass to compute it for: give one of the two`,
      );
    else onGlass.push(index);
  });
  if (glass === undefined || onGlass.length === 0) return { sinks, links: [] };
  const n = onGlass.length;
  const sources = onGlass.map((index) => sourceOf(device.bodies[index]!.slab, glass));
  const plate = plateOf(glass);
  const below = inverseOf(glassConductances(plate, { sources, conditions }), n);
  const crowding = onGlass.map((index, i) =>
    Math.max(0, entryResistance(device, index, { conditions, below: below[i * n + i]! }) - below[i * n + i]!),
  );
  const whole = below.slice();
  crowding.forEach((resistance, i) => {
    whole[i * n + i] = whole[i * n + i]! + resistance;
  });
  const conductances = inverseOf(whole, n);
  const links: AnchorHeat["links"][number][] = [];
  onGlass.forEach((index, i) => {
    let toSink = 0;
    for (let j = 0; j < n; j++) toSink += conductances[i * n + j]!;
    const resistance = 1 / Math.max(toSink, leastToSink * conductances[i * n + i]!);
    const chain = warmingChain(plate, sources, { index: i, conditions, resistance: resistance - crowding[i]! });
    if (crowding[i]! > 0) chain.push({ resistance: crowding[i]!, capacitance: 0 });
    sinks[index]!.push({ chain, temperature: ambient });
    for (let j = 0; j < i; j++) {
      const between = -conductances[i * n + j]!;
      if (between > 0) links.push({ bodies: [onGlass[j]!, index], conductance: between });
    }
  });
  return { sinks, links };
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

/**
 * The anchor on the glass of the die; moved onto the glass where it would hang over. One that is turned is taken as the upright
 * rectangle of the same area that spreads as far along x and along y.
 */
function sourceOf(slab: Slab, glass: GlassPlate): SpreadingSource {
  const [cosine, sine] = [Math.cos(slab.turn), Math.sin(slab.turn)];
  const alongX = Math.hypot(slab.width * cosine, slab.height * sine);
  const alongY = Math.hypot(slab.width * sine, slab.height * cosine);
  const sameArea = Math.sqrt((slab.width * slab.height) / (alongX * alongY));
  const length = Math.min(sameArea * alongX, glass.width);
  const width = Math.min(sameArea * alongY, glass.height);
  const inside = (place: number, half: number, whole: number): number => Math.min(Math.max(place, half), whole - half);
  return {
    x: inside(slab.centre.x + glass.place.x + glass.width / 2, length / 2, glass.width),
    y: inside(slab.centre.y + glass.place.y + glass.height / 2, width / 2, glass.height),
    length,
    width,
  };
}

function inverseOf(matrix: Float64Array, n: number): Float64Array {
  const factors = matrix.slice();
  const pivots = new Int32Array(n);
  factorInPlace(factors, n, pivots);
  const inverse = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const column = new Float64Array(n);
    column[j] = 1;
    solveInto(column, factors, n, pivots);
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i]!;
  }
  return inverse;
}

const digits = (values: readonly number[]): string => values.map((value) => value.toPrecision(9)).join(" ");

function keyOf(plate: SpreadingPlate, sources: readonly SpreadingSource[]): string {
  const { length, width, thickness, conductivity, volumetricHeatCapacity, baseFilm } = plate;
  const numbers = [length, width, thickness, conductivity, volumetricHeatCapacity, baseFilm];
  return digits([...numbers, ...sources.flatMap((source) => [source.x, source.y, source.length, source.width])]);
}

function kept(conditions: Conditions, key: string, work: () => Float64Array): Float64Array {
  let known = conditions.shapeFactors.get(key);
  if (known === undefined) {
    known = work();
    conditions.shapeFactors.set(key, known);
  }
  return known;
}

function glassConductances(
  plate: SpreadingPlate,
  { sources, conditions }: { readonly sources: readonly SpreadingSource[]; readonly conditions: Conditions },
): Float64Array {
  return kept(conditions, `anchors ${keyOf(plate, sources)}`, () => spreadingConductances(plate, sources));
}

/** Clear distance between two upright rectangles [m], 0 where they touch or overlap. */
function clearance(a: SpreadingSource, b: SpreadingSource): number {
  return Math.hypot(
    Math.max(0, Math.abs(a.x - b.x) - (a.length + b.length) / 2),
    Math.max(0, Math.abs(a.y - b.y) - (a.width + b.width) / 2),
  );
}

/**
 * The glass below one anchor with a steady resistance to the heat sink. What the others add to it comes late, after heat has come to
 * the next of them: it is given to the slow terms of the anchor's own step response.
 */
function warmingChain(
  plate: SpreadingPlate,
  sources: readonly SpreadingSource[],
  at: { readonly index: number; readonly conditions: Conditions; readonly resistance: number },
): FosterElement[] {
  const { index, conditions, resistance } = at;
  const source = sources[index]!;
  const ladder = kept(conditions, `glass ${keyOf(plate, [source])}`, () => {
    const alone = 1 / spreadingConductances(plate, [source])[0]!;
    const { terms, steady } = spreadingLadder(plate, { source, nTerms, from });
    return Float64Array.from(terms.flatMap((term) => [(term.resistance * alone) / steady, term.timeConstant]));
  });
  const nearest = Math.min(...sources.filter((_, i) => i !== index).map((other) => clearance(source, other)));
  const late = (nearest * nearest * plate.volumetricHeatCapacity) / plate.conductivity;
  const isSlow = (i: number): boolean => ladder[i + 1]! >= late || i + 2 === ladder.length;
  let [fast, slow] = [0, 0];
  for (let i = 0; i < ladder.length; i += 2) {
    if (isSlow(i)) slow += ladder[i]!;
    else fast += ladder[i]!;
  }
  // where the fast terms alone resist more, all share what is left
  const [ofFast, ofSlow] =
    resistance > fast * (1 + 1e-6) ? [1, (resistance - fast) / slow] : [resistance / (fast + slow), resistance / (fast + slow)];
  const chain: FosterElement[] = [];
  for (let i = 0; i < ladder.length; i += 2) {
    const own = ladder[i]! * (isSlow(i) ? ofSlow : ofFast);
    chain.push({ resistance: own, capacitance: ladder[i + 1]! / own });
  }
  return chain;
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
