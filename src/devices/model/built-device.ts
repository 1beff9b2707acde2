/**
 * A drawing as built: edges moved in once, here and nowhere else in the models, and what touches what.
 *
 * Lines come out narrower by the edge loss on both sides; bodies shrink; a beam runs up to the edge of the built body, so it becomes
 * longer where that edge recedes. Joints between beams stay where they were drawn.
 */
import { AssemblyError } from "../assembly-error.ts";
import type { BeamPart, BodyPart, Drawing, Place, PlatePart, Slab } from "../drawing/part.ts";
import { exitDistance, liesOn, samePlace, shrinkSlab } from "../drawing/slab.ts";

/** How far silicon edges lie inside their targets as built, and how thick the silicon is. */
export interface BuiltSizes {
  /** [m], positive where lines came out narrower and openings wider than their targets. */
  readonly inward: number;
  /** [m] */
  readonly thickness: number;
}

export interface BuiltBody {
  readonly part: BodyPart;
  readonly slab: Slab;
  /** Slits and holes as built. */
  readonly slits: PlatePart["slits"];
  readonly holes: PlatePart["holes"];
}

/** What an end of a beam is joined to. */
export type Joined = { readonly kind: "body"; readonly index: number } | { readonly kind: "joint"; readonly index: number };

export interface BuiltBeam {
  readonly part: BeamPart;
  /** Centre line as built, [n × 2] m. */
  readonly line: Float64Array;
  readonly widths: readonly [start: number, end: number];
  /** Along the centre line, [m]. */
  readonly length: number;
  /** Direction from start to end, [rad]. */
  readonly angle: number;
  readonly ends: readonly [Joined, Joined];
}

/** A place where beams meet without a body. */
export interface BuiltJoint {
  readonly name: string;
  readonly place: Place;
}

export interface BuiltDevice {
  readonly drawing: Drawing;
  readonly sizes: BuiltSizes;
  readonly bodies: readonly BuiltBody[];
  readonly joints: readonly BuiltJoint[];
  readonly beams: readonly BuiltBeam[];
  /** What a place of the drawing belongs to; undefined where nothing is. */
  siteAt(place: Place): Joined | undefined;
}

function tooNarrow(name: string, target: number, inward: number): AssemblyError {
  return new AssemblyError(
    `${name} cannot be built: a line of ${(target * 1e6).toFixed(2)} um is etched away when each edge loses ${(inward * 1e6).toFixed(2)} um`,
  );
}

function buildBody(part: BodyPart, inward: number): BuiltBody {
  const smallest = Math.min(part.slab.width, part.slab.height);
  if (!(smallest - 2 * inward > 0)) throw tooNarrow(part.name, smallest, inward);
  const base = { part, slab: shrinkSlab(part.slab, inward) };
  if (part.kind === "anchor") return { ...base, slits: undefined, holes: undefined };
  const { slits, holes } = part;
  if (slits !== undefined && slits.count > 1 && slits.pitch - slits.width - 2 * inward <= 0)
    throw tooNarrow(`a bar of ${part.name}`, slits.pitch - slits.width, inward);
  if (holes !== undefined && holes.pitch - holes.side - 2 * inward <= 0)
    throw tooNarrow(`a web of ${part.name}`, holes.pitch - holes.side, inward);
  return {
    ...base,
    slits: slits && {
      ...slits,
      width: slits.width + 2 * inward,
      length: slits.length + 2 * inward,
      rib: Math.max(0, slits.rib - 2 * inward),
    },
    holes: holes && { ...holes, side: holes.side + 2 * inward },
  };
}

function lengthOf(line: Float64Array): number {
  let length = 0;
  for (let i = 2; i < line.length; i += 2) length += Math.hypot(line[i]! - line[i - 2]!, line[i + 1]! - line[i - 1]!);
  return length;
}

/** Moves the end of a line along its own direction to where it leaves the built body. */
function meetBody(line: Float64Array, end: 0 | 1, slab: Slab): void {
  const at = end === 0 ? 0 : line.length - 2;
  const next = end === 0 ? 2 : line.length - 4;
  const [dx, dy] = [line[next]! - line[at]!, line[next + 1]! - line[at + 1]!];
  const length = Math.hypot(dx, dy);
  const along = { x: dx / length, y: dy / length };
  const exit = exitDistance(slab, { x: line[at]!, y: line[at + 1]! }, along) ?? 0;
  line[at] = line[at]! + exit * along.x;
  line[at + 1] = line[at + 1]! + exit * along.y;
}

/** The device as built. Throws AssemblyError where it cannot be. */
export function buildDevice(drawing: Drawing, sizes: BuiltSizes): BuiltDevice {
  const { inward } = sizes;
  const bodies = drawing.parts.flatMap((part) =>
    part.kind === "anchor" || part.kind === "plate" ? [buildBody(part, inward)] : [],
  );
  const joints: BuiltJoint[] = [];
  const bodyAt = (place: Place): Joined | undefined => {
    const index = bodies.findIndex((body) => liesOn(body.part.slab, place));
    return index < 0 ? undefined : { kind: "body", index };
  };
  const jointAt = (place: Place): number =>
    joints.findIndex((joint) => Math.hypot(joint.place.x - place.x, joint.place.y - place.y) < samePlace);
  const join = (place: Place, name: string): Joined => {
    const body = bodyAt(place);
    if (body !== undefined) return body;
    const known = jointAt(place);
    return { kind: "joint", index: known >= 0 ? known : joints.push({ name, place }) - 1 };
  };
  const nameOf = (place: Place): string | undefined =>
    [...drawing.points].find(([, point]) => Math.hypot(point.x - place.x, point.y - place.y) < samePlace)?.[0];
  const beams = drawing.parts.flatMap((part): BuiltBeam[] => {
    if (part.kind !== "beam") return [];
    const narrowest = Math.min(...part.widths);
    if (!(narrowest - 2 * inward > 0)) throw tooNarrow(part.name, narrowest, inward);
    const n = part.line.length;
    const first = { x: part.line[0]!, y: part.line[1]! };
    const last = { x: part.line[n - 2]!, y: part.line[n - 1]! };
    const ends = [
      join(first, nameOf(first) ?? `start of ${part.name}`),
      join(last, nameOf(last) ?? `end of ${part.name}`),
    ] as const;
    const line = Float64Array.from(part.line);
    ends.forEach((end, index) => {
      if (end.kind === "body") meetBody(line, index as 0 | 1, bodies[end.index]!.slab);
    });
    const length = lengthOf(line);
    const chord = { x: line[n - 2]! - line[0]!, y: line[n - 1]! - line[1]! };
    // a beam that lies inside the bodies it joins would come out turned round
    const drawn = { x: last.x - first.x, y: last.y - first.y };
    if (!(length > samePlace) || chord.x * drawn.x + chord.y * drawn.y <= 0)
      throw new AssemblyError(`${part.name} has no free length between what it joins`);
    return [
      {
        part,
        line,
        widths: [part.widths[0] - 2 * inward, part.widths[1] - 2 * inward],
        length,
        angle: Math.atan2(chord.y, chord.x),
        ends,
      },
    ];
  });
  return {
    drawing,
    sizes,
    bodies,
    joints,
    beams,
    siteAt: (place) => {
      const joint = jointAt(place);
      return joint >= 0 ? { kind: "joint", index: joint } : bodyAt(place);
    },
  };
}
