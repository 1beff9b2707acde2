/**
 * A plate along its spine: the places where something is joined to it, the pieces of spine between them, and the links that carry
 * heat and current from the edge to the spine.
 *
 *        leg ---[edge]===link===[spine]===link===[edge]--- leg
 *                                  |
 *        leg ---[edge]===link===[spine]===link===[edge]--- leg
 *
 * The plate is taken as equally warm across its spine, but for what a link itself resists. Of a plate with slits across its spine only
 * the ribs conduct along it; along the slits all bars do.
 */
import type { BodyPart, Place, PlatePart } from "../drawing/part.ts";
import { ownPlace } from "../drawing/slab.ts";
import type { BuiltBody, BuiltDevice } from "./built-device.ts";

/**
 * Nodes of a spine closer than this part of the silicon's thickness are one: a plate knows no detail finer than its thickness. Where the
 * plate bends, pieces as short as that would be so stout against the beams that rounding drowns the beams.
 */
const nearestPart = { rigid: 0.0125, bending: 0.05 } as const;

/** Distance below which two places of a spine are one, [m]. */
export function nearestOn({ sizes, bodies }: BuiltDevice, body: number): number {
  return nearestPart[plateOf(bodies[body]!).bends ? "bending" : "rigid"] * sizes.thickness;
}

export interface Attachment {
  readonly beam: number;
  readonly end: 0 | 1;
  /** Node of the spine. */
  readonly node: number;
  /** Distance from the spine along the link, [m]; 0 where the beam ends on the spine's own end. */
  readonly linkLength: number;
  /** Width of the link along the spine, [m]. */
  readonly linkWidth: number;
  /** -1 and +1 for the two long sides, 0 for the ends. */
  readonly side: -1 | 0 | 1;
}

export interface PlateSpine {
  readonly body: number;
  /** Places of the nodes along the spine from the plate's middle, ascending, [n] m. The first and the last are the plate's ends. */
  readonly positions: Float64Array;
  readonly attachments: readonly Attachment[];
  /** Across the spine and along it, [m]. */
  readonly width: number;
  readonly length: number;
}

/** A place as (along, across) the spine of a plate. */
export function spinePlace(body: BuiltBody, place: Place): { along: number; across: number } {
  const own = ownPlace(body.slab, place);
  return plateOf(body).spine === "x" ? { along: own.x, across: -own.y } : { along: own.y, across: own.x };
}

function plateOf(body: { readonly part: BodyPart }): PlatePart {
  if (body.part.kind !== "plate")
    throw new RangeError(`Cannot follow the spine of ${body.part.name}: wanted a plate, found an anchor`);
  return body.part;
}

/** Shares of a side of length `length` among ascending places along it: each reaches half way to its neighbours. */
function sharesOf(places: readonly number[], length: number): number[] {
  return places.map((place, i) => {
    const low = i === 0 ? -length / 2 : (places[i - 1]! + place) / 2;
    const high = i === places.length - 1 ? length / 2 : (place + places[i + 1]!) / 2;
    return high - low;
  });
}

/** Middles of the groups that places form whose neighbours lie closer than a plate knows details, ascending: alike from either end. */
function groupsOf(places: readonly number[], nearest: number): number[] {
  const sorted = [...places].sort((a, b) => a - b);
  const groups: [first: number, last: number][] = [];
  for (const place of sorted) {
    const group = groups[groups.length - 1];
    if (group !== undefined && place - group[1] <= nearest) group[1] = place;
    else groups.push([place, place]);
  }
  return groups.map(([first, last]) => (first + last) / 2);
}

function indexNear(places: ArrayLike<number>, wanted: number): number {
  let best = 0;
  for (let i = 1; i < places.length; i++) if (Math.abs(places[i]! - wanted) < Math.abs(places[best]! - wanted)) best = i;
  return best;
}

/** Node of a spine nearest to a place along it. */
export function nodeNear({ positions }: PlateSpine, along: number): number {
  return indexNear(positions, along);
}

/** The spine of a plate; `extra` are further places of the drawing that need a node of their own. */
export function spineOf(device: BuiltDevice, index: number, extra: readonly Place[]): PlateSpine {
  const nearest = nearestOn(device, index);
  const body = device.bodies[index]!;
  const plate = plateOf(body);
  const [width, length] = plate.spine === "x" ? [body.slab.height, body.slab.width] : [body.slab.width, body.slab.height];
  const found = device.beams.flatMap((beam, beamIndex) =>
    beam.ends.flatMap((end, which) => {
      if (end.kind !== "body" || end.index !== index) return [];
      const at = which === 0 ? 0 : beam.line.length - 2;
      const place = spinePlace(body, { x: beam.line[at]!, y: beam.line[at + 1]! });
      const onEnd = Math.abs(Math.abs(place.along) - length / 2) < nearest;
      const side: -1 | 0 | 1 = onEnd ? 0 : place.across < 0 ? -1 : 1;
      return [{ beam: beamIndex, end: which as 0 | 1, side, ...place }];
    }),
  );
  const inside = (along: number): boolean => Math.abs(along) < length / 2 - nearest;
  // what is joined close to a place that is asked about goes to its node, so that the place itself stays one
  const asked = groupsOf(extra.map((place) => spinePlace(body, place).along).filter(inside), nearest);
  const joined = found
    .map((entry) => entry.along)
    .filter((along) => inside(along) && asked.every((known) => Math.abs(known - along) > nearest));
  const positions = Float64Array.from([-length / 2, ...asked, ...groupsOf(joined, nearest), length / 2]).sort();
  const widths = new Map<(typeof found)[number], number>();
  for (const side of [-1, 1]) {
    const along = found.filter((entry) => entry.side === side);
    const places = groupsOf(
      along.map((entry) => entry.along),
      nearest,
    );
    const shares = sharesOf(places, length);
    for (const entry of along) widths.set(entry, shares[indexNear(places, entry.along)]!);
  }
  return {
    body: index,
    positions,
    width,
    length,
    attachments: found.map((entry) => ({
      beam: entry.beam,
      end: entry.end,
      node: indexNear(positions, entry.along),
      // on the spine's own end the plate is taken as equally warm across
      linkLength: entry.side === 0 ? 0 : Math.abs(entry.across),
      linkWidth: widths.get(entry) ?? width,
      side: entry.side,
    })),
  };
}

/** Parts of the cross-section that conduct along the spine and across it, and the part of the area that is silicon. */
export function solidShares(body: BuiltBody): { along: number; across: number; area: number } {
  const { slab, slits, holes } = body;
  const spine = plateOf(body).spine;
  let [x, y, area] = [1, 1, 1];
  if (slits !== undefined) {
    const field = slits.lengths * slits.length;
    const height = slits.count * slits.pitch;
    // current along x keeps to the bars, current along y to the ribs, inside the field; outside it the plate is whole
    const bars = 1 - (slits.count * slits.width) / slab.height;
    const ribs = inSeries((slab.width - field) / slab.width, height / slab.height);
    x = Math.min(x, bars);
    y = Math.min(y, ribs);
    area -= (slits.count * slits.width * field) / (slab.width * slab.height);
  }
  if (holes !== undefined) {
    const solid = holes.side / holes.pitch;
    x = Math.min(x, inSeries(1 - (holes.rows * holes.side) / slab.height, solid * ((holes.columns * holes.pitch) / slab.width)));
    y = Math.min(y, inSeries(1 - (holes.columns * holes.side) / slab.width, solid * ((holes.rows * holes.pitch) / slab.height)));
    area -= (holes.columns * holes.rows * holes.side ** 2) / (slab.width * slab.height);
  }
  return { along: spine === "x" ? x : y, across: spine === "x" ? y : x, area };
}

/** Conductance share of a strip whose part `part` conducts only `share` of what the rest does. */
function inSeries(share: number, part: number): number {
  return 1 / (1 - Math.min(1, part) + Math.min(1, part) / share);
}
