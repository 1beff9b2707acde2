/**
 * Outlines of parts for the plates, at target size. Beams reach a little into the bodies that they join, so that the union has no
 * seam; fillets stand in the corners of their roots.
 */
import type { BeamPart, BodyPart, Drawing, Part, Place, PlatePart, Slab } from "./part.ts";
import { exitDistance, liesOn, outlineOfSlab, placeFromOwn, samePlace } from "./slab.ts";

/** Which plate a shape is drawn on. */
export type PlateName = "silicon" | "metal" | "recess";

/** One outline, [n × 2] m, counter-clockwise. */
export interface PartOutline {
  readonly part: string;
  readonly plate: PlateName;
  readonly polygon: Float64Array;
  /** True where the silicon is free to move, so that a recess must lie under it. */
  readonly free: boolean;
  /** True for an opening in the silicon of its part: a slit or a hole. */
  readonly opening: boolean;
}

/** How far a beam reaches into a body that it joins, [m]. */
const overlap = 2e-6;
/** Largest distance of a fillet's chords from its arc, [m]. */
const sagitta = 5e-9;
/** Sine of the angle below which two beams run in line: over the width of a beam it is far below the mask grid. */
const inLine = 1e-6;

function add(place: Place, along: Place, distance: number): Place {
  return { x: place.x + distance * along.x, y: place.y + distance * along.y };
}

const leftOf = (along: Place): Place => ({ x: -along.y, y: along.x });

function placesOf(line: Float64Array): Place[] {
  return Array.from({ length: line.length / 2 }, (_, i) => ({ x: line[2 * i]!, y: line[2 * i + 1]! }));
}

function unit(from: Place, to: Place): Place {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
}

/** An end of a beam, seen from outside: where it is, which way it runs on, how wide it is there. */
interface BeamEnd {
  readonly at: Place;
  /** Unit vector out of the beam. */
  readonly outward: Place;
  readonly half: number;
}

function endOf(beam: BeamPart, end: 0 | 1): BeamEnd {
  const places = placesOf(beam.line);
  const last = places.length - 1;
  return end === 0
    ? { at: places[0]!, outward: unit(places[1]!, places[0]!), half: beam.widths[0] / 2 }
    : { at: places[last]!, outward: unit(places[last - 1]!, places[last]!), half: beam.widths[1] / 2 };
}

/** How far the edge line at `aside` of the axis is drawn beyond the beam's end. */
function reachOf(end: BeamEnd, aside: number, at: EndJoin): number {
  if (at.body === undefined) return at.joined;
  const start = add(end.at, leftOf(end.outward), aside);
  const inward = { x: -end.outward.x, y: -end.outward.y };
  const meets = exitDistance(at.body.slab, start, inward);
  if (meets === undefined) return 0;
  // the edge meets the body `meets` before the end; the far side of the body bounds how far the beam may reach
  const through = exitDistance(at.body.slab, start, end.outward)!;
  return Math.min(-meets + overlap, (through - meets) / 2);
}

/** Centre line moved aside by half of the width, both sides, [n][2]. */
function sidesOf(beam: BeamPart): { left: Place[]; right: Place[] } {
  const places = placesOf(beam.line);
  const last = places.length - 1;
  const lengths = places.slice(1).map((place, i) => Math.hypot(place.x - places[i]!.x, place.y - places[i]!.y));
  const total = lengths.reduce((sum, length) => sum + length, 0);
  let along = 0;
  const left: Place[] = [];
  const right: Place[] = [];
  places.forEach((place, i) => {
    if (i > 0) along += lengths[i - 1]!;
    const half = (beam.widths[0] + ((beam.widths[1] - beam.widths[0]) * along) / total) / 2;
    const before = unit(places[Math.max(0, i - 1)]!, places[Math.max(1, i)]!);
    const after = unit(places[Math.min(last - 1, i)]!, places[Math.min(last, i + 1)]!);
    // mitre: the offset lines of both segments meet on the bisector
    const bisector = unit({ x: 0, y: 0 }, { x: before.x + after.x, y: before.y + after.y });
    const stretch = 1 / (bisector.x * before.x + bisector.y * before.y);
    left.push(add(place, leftOf(bisector), half * stretch));
    right.push(add(place, leftOf(bisector), -half * stretch));
  });
  return { left, right };
}

/** Outline of a beam, given what its two ends join. */
function beamPolygon(beam: BeamPart, joins: readonly [EndJoin, EndJoin]): Float64Array {
  const { left, right } = sidesOf(beam);
  const last = left.length - 1;
  ([0, 1] as const).forEach((index) => {
    const end = endOf(beam, index);
    const i = index === 0 ? 0 : last;
    // seen out of the start, the beam's left side lies on the right
    const sign = index === 0 ? -1 : 1;
    left[i] = add(left[i]!, end.outward, reachOf(end, sign * end.half, joins[index]));
    right[i] = add(right[i]!, end.outward, reachOf(end, -sign * end.half, joins[index]));
  });
  return Float64Array.from([...right, ...left.reverse()].flatMap(({ x, y }) => [x, y]));
}

interface EndJoin {
  readonly body: BodyPart | undefined;
  /** How far it is drawn beyond a joint with other beams, [m]. */
  readonly joined: number;
}

/**
 * How far a beam is drawn beyond its joint with another, so that its outer corner lies on the outer edge of the other and the corner
 * between them is filled: the mitre where both are equally wide. In line with the other it reaches into a wider one, not into a
 * narrower one, whose length it would take. Where two beams fold back on each other the tip is cut square.
 */
function reachBeyondJoint(end: BeamEnd, other: BeamEnd): number {
  const cosine = -(end.outward.x * other.outward.x + end.outward.y * other.outward.y);
  const sine = Math.abs(end.outward.x * other.outward.y - end.outward.y * other.outward.x);
  const needed = other.half - end.half * cosine;
  if (sine < inLine) return cosine > 0 && needed >= 0 ? other.half : 0;
  return Math.max(0, Math.min(needed / sine, Math.max(end.half, other.half)));
}

function joinOf(drawing: Drawing, beam: BeamPart, end: 0 | 1): EndJoin {
  const here = endOf(beam, end);
  const { at } = here;
  const body = drawing.parts.find((part): part is BodyPart => isBody(part) && liesOn(part.slab, at));
  const others = drawing.parts.flatMap((part) =>
    part.kind !== "beam" || part === beam
      ? []
      : ([0, 1] as const).map((index) => endOf(part, index)).filter((other) => distance(other.at, at) < samePlace),
  );
  return { body, joined: Math.max(0, ...others.map((other) => reachBeyondJoint(here, other))) };
}

function distance(a: Place, b: Place): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

export function isBody(part: Part): part is BodyPart {
  return part.kind === "anchor" || part.kind === "plate";
}

/**
 * The corner between an edge of a beam and the straight edge of its body, filled up to an arc that touches both. The web starts `reach`
 * behind the corner, so that rounding to the mask grid leaves no hairline along the edges.
 */
function filletPolygon(
  corner: Place,
  edges: { beam: Place; body: Place },
  size: { radius: number; reach: number },
): Float64Array {
  const { radius, reach } = size;
  const cosine = edges.beam.x * edges.body.x + edges.beam.y * edges.body.y;
  const angle = Math.acos(Math.max(-1, Math.min(1, cosine)));
  const tangent = radius / Math.tan(angle / 2);
  const bisector = unit({ x: 0, y: 0 }, { x: edges.beam.x + edges.body.x, y: edges.beam.y + edges.body.y });
  const centre = add(corner, bisector, radius / Math.sin(angle / 2));
  const from = add(corner, edges.beam, tangent);
  const to = add(corner, edges.body, tangent);
  const start = Math.atan2(from.y - centre.y, from.x - centre.x);
  let sweep = Math.atan2(to.y - centre.y, to.x - centre.x) - start;
  sweep -= 2 * Math.PI * Math.round(sweep / (2 * Math.PI));
  const nChords = Math.max(2, Math.ceil(Math.abs(sweep) / (2 * Math.acos(1 - sagitta / Math.max(radius, sagitta)))));
  const arc = Array.from({ length: nChords + 1 }, (_, i) => {
    const at = start + (sweep * i) / nChords;
    return { x: centre.x + radius * Math.cos(at), y: centre.y + radius * Math.sin(at) };
  });
  const points = [add(corner, bisector, -reach), ...arc];
  const turnsLeft = edges.beam.x * edges.body.y - edges.beam.y * edges.body.x > 0;
  return Float64Array.from((turnsLeft ? points : points.reverse()).flatMap(({ x, y }) => [x, y]));
}

/** Fillets on both sides of both roots. */
function fillets(beam: BeamPart, joins: readonly [EndJoin, EndJoin]): Float64Array[] {
  if (beam.fillet === 0) return [];
  return ([0, 1] as const).flatMap((index) => {
    const { body } = joins[index];
    if (body === undefined) return [];
    const end = endOf(beam, index);
    const inward = { x: -end.outward.x, y: -end.outward.y };
    return [1, -1].flatMap((side) => {
      const start = add(end.at, leftOf(end.outward), side * end.half);
      const meets = exitDistance(body.slab, start, inward);
      if (meets === undefined) return [];
      const corner = add(start, inward, meets);
      const edge = edgeDirection(body.slab, corner, end.outward);
      const outside = { x: leftOf(end.outward).x * side, y: leftOf(end.outward).y * side };
      const sign = edge.x * outside.x + edge.y * outside.y > 0 ? 1 : -1;
      const reach = Math.min(overlap / 4, end.half / 2);
      return [
        filletPolygon(corner, { beam: inward, body: { x: sign * edge.x, y: sign * edge.y } }, { radius: beam.fillet, reach }),
      ];
    });
  });
}

/** Direction of the slab's edge that a place lies on; of two at a corner, the one more across the beam. */
function edgeDirection(slab: Slab, place: Place, outward: Place): Place {
  const [c, s] = [Math.cos(slab.turn), Math.sin(slab.turn)];
  const own = {
    x: c * (place.x - slab.centre.x) + s * (place.y - slab.centre.y),
    y: -s * (place.x - slab.centre.x) + c * (place.y - slab.centre.y),
  };
  const onSide = slab.width / 2 - Math.abs(own.x) < 10 * samePlace;
  const onTop = slab.height / 2 - Math.abs(own.y) < 10 * samePlace;
  const runsAlongX = Math.abs(c * outward.x + s * outward.y) > Math.SQRT1_2;
  return (onSide && onTop ? runsAlongX : onSide) ? { x: -s, y: c } : { x: c, y: s };
}

function rectangleIn(slab: Slab, box: { x: number; y: number; width: number; height: number }): Float64Array {
  const centre = placeFromOwn(slab, { x: box.x, y: box.y });
  return outlineOfSlab({ centre, width: box.width, height: box.height, turn: slab.turn });
}

/** Slits and holes of a plate, [n] outlines. */
export function openingsOf(plate: PlatePart): Float64Array[] {
  const { slab, slits, holes } = plate;
  const along = (count: number, pitch: number): number[] =>
    Array.from({ length: count }, (_, i) => (i - (count - 1) / 2) * pitch);
  const fromSlits =
    slits === undefined
      ? []
      : along(slits.count, slits.pitch).flatMap((y) =>
          along(slits.lengths, slits.length + slits.rib).map((x) =>
            rectangleIn(slab, { x, y, width: slits.length, height: slits.width }),
          ),
        );
  const fromHoles =
    holes === undefined
      ? []
      : along(holes.rows, holes.pitch).flatMap((y) =>
          along(holes.columns, holes.pitch).map((x) => rectangleIn(slab, { x, y, width: holes.side, height: holes.side })),
        );
  return [...fromSlits, ...fromHoles];
}

/** Every outline of a drawing. */
export function outlinesOf(drawing: Drawing): readonly PartOutline[] {
  return drawing.parts.flatMap((part): PartOutline[] => {
    const base = { part: part.name, free: false, opening: false } as const;
    switch (part.kind) {
      case "anchor":
        return [{ ...base, plate: "silicon", polygon: outlineOfSlab(part.slab) }];
      case "plate":
        return [
          { ...base, plate: "silicon", polygon: outlineOfSlab(part.slab), free: true },
          ...openingsOf(part).map((polygon) => ({ ...base, plate: "silicon" as const, polygon, free: true, opening: true })),
        ];
      case "beam": {
        const joins = [joinOf(drawing, part, 0), joinOf(drawing, part, 1)] as const;
        return [beamPolygon(part, joins), ...fillets(part, joins)].map((polygon) => ({
          ...base,
          plate: "silicon" as const,
          polygon,
          free: true,
        }));
      }
      case "metal":
        return [{ ...base, plate: "metal", polygon: part.outline }];
      default:
        return [];
    }
  });
}
