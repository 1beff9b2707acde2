/**
 * A drawing as built: edges moved in once, here and nowhere else in the models, and what touches what.
 *
 * Lines come out narrower by the edge loss on both sides; bodies shrink; a beam runs up to the edge of the built body, so it becomes
 * longer where that edge recedes. Joints between beams stay where they were drawn, but for a shoulder: where a narrower beam runs on in
 * line with a wider one, the edge across the wider one recedes like any other, and the joint with it.
 * Main test: mask-and-model.test.ts (areas against the moved edges of the mask).
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
  /** As drawn: where it is asked for. */
  readonly place: Place;
  /** Where it lies as built. */
  readonly built: Place;
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

/** Widths at target size of the silicon between openings and the edges of their plate, along both axes, [m]. */
function rimsOf({ slab, slits, holes }: PlatePart): number[] {
  const around = (along: number, across: number): number[] => [(slab.width - along) / 2, (slab.height - across) / 2];
  return [
    ...(slits === undefined
      ? []
      : around(slits.lengths * slits.length + (slits.lengths - 1) * slits.rib, (slits.count - 1) * slits.pitch + slits.width)),
    ...(holes === undefined
      ? []
      : around((holes.columns - 1) * holes.pitch + holes.side, (holes.rows - 1) * holes.pitch + holes.side)),
  ];
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
  if (slits !== undefined && slits.lengths > 1 && slits.rib - 2 * inward <= 0)
    throw tooNarrow(`a rib of ${part.name}`, slits.rib, inward);
  for (const rim of rimsOf(part)) if (rim - 2 * inward <= 0) throw tooNarrow(`the rim of ${part.name}`, rim, inward);
  return {
    ...base,
    slits: slits && {
      ...slits,
      width: slits.width + 2 * inward,
      length: slits.length + 2 * inward,
      rib: slits.lengths > 1 ? slits.rib - 2 * inward : slits.rib,
    },
    holes: holes && { ...holes, side: holes.side + 2 * inward },
  };
}

function lengthOf(line: Float64Array): number {
  let length = 0;
  for (let i = 2; i < line.length; i += 2) length += Math.hypot(line[i]! - line[i - 2]!, line[i + 1]! - line[i - 1]!);
  return length;
}

/** Where a line that starts on a body leaves it as built: the chord on which it does, and the place, along that chord's direction. */
function leaveBody(line: Float64Array, slab: Slab): { readonly chord: number; readonly place: Place } {
  for (let chord = 0; ; chord++) {
    const at = 2 * chord;
    const [x, y] = [line[at]!, line[at + 1]!];
    const [dx, dy] = [line[at + 2]! - x, line[at + 3]! - y];
    const length = Math.hypot(dx, dy);
    const along = { x: dx / length, y: dy / length };
    const exit = exitDistance(slab, { x, y }, along) ?? 0;
    // a curve may run through several chords before it leaves
    if (exit > length && at + 4 < line.length) continue;
    return { chord, place: { x: x + exit * along.x, y: y + exit * along.y } };
  }
}

const turnedRound = (line: Float64Array): Float64Array =>
  Float64Array.from(line, (_, i) => line[line.length - 2 - (i - (i % 2)) + (i % 2)]!);

/** Points evenly along a line, ends included, [n × 2] m. */
function spreadAlong(line: Float64Array, n: number): Float64Array {
  const whole = lengthOf(line);
  const spread = new Float64Array(2 * n);
  let [chord, walked] = [0, 0];
  for (let k = 0; k < n; k++) {
    const wanted = (k * whole) / (n - 1);
    let length = Math.hypot(line[chord + 2]! - line[chord]!, line[chord + 3]! - line[chord + 1]!);
    while (walked + length < wanted && chord + 4 < line.length) {
      walked += length;
      chord += 2;
      length = Math.hypot(line[chord + 2]! - line[chord]!, line[chord + 3]! - line[chord + 1]!);
    }
    const share = Math.min(1, (wanted - walked) / length);
    for (const axis of [0, 1]) {
      const from = line[chord + axis]!;
      spread[2 * k + axis] = from + share * (line[chord + 2 + axis]! - from);
    }
  }
  return spread;
}

/**
 * A line from where it leaves the bodies that it ends on. What is left of a curve is spread over as many points as before, so that
 * neighbouring sizes have the same ones.
 */
function meetBodies(drawn: Float64Array, slabs: readonly [Slab | undefined, Slab | undefined]): Float64Array {
  let line: Float64Array = Float64Array.from(drawn);
  for (const slab of [slabs[1], slabs[0]]) {
    line = turnedRound(line);
    if (slab === undefined) continue;
    const { chord, place } = leaveBody(line, slab);
    line = line.slice(2 * chord);
    line.set([place.x, place.y]);
  }
  return line.length === drawn.length ? line : spreadAlong(line, drawn.length / 2);
}

interface RawBeam {
  readonly part: BeamPart;
  readonly line: Float64Array;
  readonly ends: readonly [Joined, Joined];
}

/** An end of a beam at a joint, seen from outside. */
interface EndAtJoint {
  readonly beam: RawBeam;
  /** Offset in the line. */
  readonly at: number;
  readonly width: number;
  /** Unit vector out of the beam. */
  readonly outward: Place;
  /** Length of its last chord, [m]. */
  readonly chord: number;
}

function endsAtJoint(beams: readonly RawBeam[], joint: number): EndAtJoint[] {
  return beams.flatMap((beam) =>
    beam.ends.flatMap((end, which): EndAtJoint[] => {
      if (end.kind !== "joint" || end.index !== joint) return [];
      const { line, part } = beam;
      const [at, next] = which === 0 ? [0, 2] : [line.length - 2, line.length - 4];
      const [dx, dy] = [line[at]! - line[next]!, line[at + 1]! - line[next + 1]!];
      const chord = Math.hypot(dx, dy);
      return [{ beam, at, width: part.widths[which]!, outward: { x: dx / chord, y: dy / chord }, chord }];
    }),
  );
}

/** Sine of the angle below which two beams run in line, as on the mask. */
const inLine = 1e-6;

/** Moves a joint between two beams in line to where the shoulder of the wider one stands as built. */
function meetShoulder(beams: readonly RawBeam[], joint: BuiltJoint, at: { index: number; inward: number }): BuiltJoint {
  const ends = endsAtJoint(beams, at.index);
  const [a, b] = ends;
  if (at.inward === 0 || a === undefined || b === undefined || ends.length > 2 || a.width === b.width) return joint;
  const isInLine =
    a.outward.x * b.outward.x + a.outward.y * b.outward.y < 0 &&
    Math.abs(a.outward.x * b.outward.y - a.outward.y * b.outward.x) < inLine;
  const wide = a.width > b.width ? a : b;
  // a shoulder that recedes by more than the last piece of a curve would have to follow it round
  if (!isInLine || Math.min(a.chord, b.chord) <= 2 * Math.abs(at.inward)) return joint;
  const built = {
    x: joint.place.x - at.inward * wide.outward.x,
    y: joint.place.y - at.inward * wide.outward.y,
  };
  for (const end of ends) {
    end.beam.line[end.at] = built.x;
    end.beam.line[end.at + 1] = built.y;
  }
  return { ...joint, built };
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
    return { kind: "joint", index: known >= 0 ? known : joints.push({ name, place, built: place }) - 1 };
  };
  const nameOf = (place: Place): string | undefined =>
    [...drawing.points].find(([, point]) => Math.hypot(point.x - place.x, point.y - place.y) < samePlace)?.[0];
  const raw = drawing.parts.flatMap((part): RawBeam[] => {
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
    const slabs = ends.map((end) => (end.kind === "body" ? bodies[end.index]!.slab : undefined));
    const line = meetBodies(part.line, [slabs[0], slabs[1]]);
    return [{ part, line, ends }];
  });
  joints.forEach((joint, index) => {
    joints[index] = meetShoulder(raw, joint, { index, inward });
  });
  const beams = raw.map(({ part, line, ends }): BuiltBeam => {
    const n = line.length;
    const length = lengthOf(line);
    const chord = { x: line[n - 2]! - line[0]!, y: line[n - 1]! - line[1]! };
    // a beam that lies inside the bodies it joins would come out turned round
    const drawn = { x: part.line[n - 2]! - part.line[0]!, y: part.line[n - 1]! - part.line[1]! };
    if (!(length > samePlace) || chord.x * drawn.x + chord.y * drawn.y <= 0)
      throw new AssemblyError(`${part.name} has no free length between what it joins`);
    return {
      part,
      line,
      widths: [part.widths[0] - 2 * inward, part.widths[1] - 2 * inward],
      length,
      angle: Math.atan2(chord.y, chord.x),
      ends,
    };
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
