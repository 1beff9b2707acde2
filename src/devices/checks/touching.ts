/**
 * Silicon that touches without being joined: bodies on bodies, beams through bodies, beams across beams. On the wafer it is one piece,
 * in the models it would be several.
 *
 * Beams are compared by their middle lines here, by their edges in close-beams.ts.
 * Main test: src/chip/broken-texts.test.ts (broken-compositions.table.ts).
 */
import type { Place, Slab } from "../drawing/part.ts";
import { exitDistance, outlineOfSlab, samePlace } from "../drawing/slab.ts";
import type { BuiltBeam, BuiltDevice } from "../model/built-device.ts";
import { findBeamsOverBodies, findCloseBeams } from "./close-beams.ts";
import type { Fault } from "./fault.ts";

/** Largest gap between two slabs over the directions across their edges [m]: below zero where they overlap (separating axes). */
function gapBetween(a: Slab, b: Slab): number {
  const [first, second] = [outlineOfSlab(a), outlineOfSlab(b)];
  let gap = Number.NEGATIVE_INFINITY;
  for (const turn of [a.turn, b.turn]) {
    for (const angle of [turn, turn + Math.PI / 2]) {
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const reach = (outline: Float64Array): readonly [number, number] => {
        const along = [0, 2, 4, 6].map((i) => c * outline[i]! + s * outline[i + 1]!);
        return [Math.min(...along), Math.max(...along)];
      };
      const [from, to] = reach(first);
      const [low, high] = reach(second);
      gap = Math.max(gap, low - to, from - high);
    }
  }
  return gap;
}

function touchingBodies({ bodies }: BuiltDevice): Fault[] {
  const radius = ({ width, height }: Slab): number => Math.hypot(width, height) / 2;
  return bodies.flatMap(({ part: a }, i) =>
    bodies.slice(0, i).flatMap(({ part: b }): Fault[] => {
      const apart = Math.hypot(a.slab.centre.x - b.slab.centre.x, a.slab.centre.y - b.slab.centre.y);
      if (apart > radius(a.slab) + radius(b.slab) + samePlace) return [];
      const gap = gapBetween(a.slab, b.slab);
      if (gap > samePlace) return [];
      const what = gap < -samePlace ? "overlap" : "touch";
      return [
        {
          part: a.name,
          message: `"${b.name}" and "${a.name}" ${what}, which joins them on the wafer, not in the model: move them apart, or draw them as one part`,
        },
      ];
    }),
  );
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

function boxOf(line: Float64Array): Box {
  const [x, y] = [line.filter((_, i) => i % 2 === 0), line.filter((_, i) => i % 2 === 1)];
  return { left: Math.min(...x), right: Math.max(...x), bottom: Math.min(...y), top: Math.max(...y) };
}

function areApart(a: Box, b: Box): boolean {
  return (
    a.left > b.right + samePlace || b.left > a.right + samePlace || a.bottom > b.top + samePlace || b.bottom > a.top + samePlace
  );
}

/** Bodies that a beam runs through without ending there. */
function crossedBodies({ beams, bodies }: BuiltDevice): Fault[] {
  const boxes = bodies.map(({ slab }) => boxOf(outlineOfSlab(slab)));
  return beams.flatMap((beam) => {
    const box = boxOf(beam.line);
    return bodies.flatMap(({ part, slab }, index): Fault[] => {
      const joined = beam.ends.some((end) => end.kind === "body" && end.index === index);
      if (joined || areApart(box, boxes[index]!) || !runsThrough(beam.line, slab)) return [];
      return [
        {
          part: beam.part.name,
          message: `"${beam.part.name}" runs through "${part.name}" without ending there: end it there, and start another beam on the far side`,
        },
      ];
    });
  });
}

function runsThrough(line: Float64Array, slab: Slab): boolean {
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [x, y] = [line[i]!, line[i + 1]!];
    const [dx, dy] = [line[i + 2]! - x, line[i + 3]! - y];
    const length = Math.hypot(dx, dy);
    const along = { x: dx / length, y: dy / length };
    const leave = exitDistance(slab, { x, y }, along);
    const enter = exitDistance(slab, { x, y }, { x: -along.x, y: -along.y });
    if (leave === undefined || enter === undefined) continue;
    if (Math.min(leave, length) - Math.max(-enter, 0) > samePlace) return true;
  }
  return false;
}

/** Where two segments meet, as shares of their lengths; undefined where they do not. "along": they lie on each other. */
function meetingOf(a: readonly [Place, Place], b: readonly [Place, Place]): Place | "along" | undefined {
  const [ax, ay] = [a[1].x - a[0].x, a[1].y - a[0].y];
  const [bx, by] = [b[1].x - b[0].x, b[1].y - b[0].y];
  const [la, lb] = [Math.hypot(ax, ay), Math.hypot(bx, by)];
  const [ox, oy] = [b[0].x - a[0].x, b[0].y - a[0].y];
  const cross = ax * by - ay * bx;
  // the far end of the shorter strays less than the grid from the other's line
  if (Math.abs(cross) <= samePlace * Math.max(la, lb)) {
    if (Math.abs(ax * oy - ay * ox) > samePlace * la) return undefined;
    const start = (ax * ox + ay * oy) / la;
    const end = start + (ax * bx + ay * by) / la;
    return Math.min(la, Math.max(start, end)) - Math.max(0, Math.min(start, end)) > samePlace ? "along" : undefined;
  }
  const s = (ox * by - oy * bx) / cross;
  const t = (ox * ay - oy * ax) / cross;
  const isOn = (share: number, length: number): boolean => share * length >= -samePlace && (share - 1) * length <= samePlace;
  return isOn(s, la) && isOn(t, lb) ? { x: a[0].x + s * ax, y: a[0].y + s * ay } : undefined;
}

const endPlaces = ({ line }: BuiltBeam): readonly [Place, Place] => [
  { x: line[0]!, y: line[1]! },
  { x: line[line.length - 2]!, y: line[line.length - 1]! },
];

const areSame = (a: Place, b: Place): boolean => Math.hypot(a.x - b.x, a.y - b.y) <= 2 * samePlace;

function segmentsOf(line: Float64Array): (readonly [Place, Place])[] {
  return Array.from({ length: line.length / 2 - 1 }, (_, i) => [
    { x: line[2 * i]!, y: line[2 * i + 1]! },
    { x: line[2 * i + 2]!, y: line[2 * i + 3]! },
  ]);
}

/** Ends of a beam that lie at a place, with what they are joined to as one word. */
function joinsAt(beam: BuiltBeam, place: Place): string[] {
  return endPlaces(beam).flatMap((end, which) => {
    const { kind, index } = beam.ends[which]!;
    return areSame(end, place) ? [`${kind} ${index}`] : [];
  });
}

function crossingOf(a: BuiltBeam, b: BuiltBeam): Fault | undefined {
  const [first, second] = [a.part.name, b.part.name];
  for (const here of segmentsOf(a.line)) {
    for (const there of segmentsOf(b.line)) {
      const place = meetingOf(here, there);
      if (place === undefined) continue;
      if (place === "along")
        return { part: second, message: `"${first}" and "${second}" lie on each other: move or drop one of them` };
      const [ofFirst, ofSecond] = [joinsAt(a, place), joinsAt(b, place)];
      if (ofFirst.some((joined) => ofSecond.includes(joined))) continue;
      const [ending, other] = ofFirst.length > 0 ? [first, second] : [second, first];
      return ofFirst.length > 0 || ofSecond.length > 0
        ? {
            part: ending,
            message: `"${ending}" ends on the middle of "${other}": cut "${other}" in two there, so that they are joined`,
          }
        : { part: second, message: `"${first}" and "${second}" cross: cut both in two at one point, so that they are joined` };
    }
  }
  return undefined;
}

function crossingBeams({ beams }: BuiltDevice): Fault[] {
  const boxes = beams.map(({ line }) => boxOf(line));
  return beams.flatMap((a, i) =>
    beams.slice(0, i).flatMap((b, j) => {
      const fault = areApart(boxes[i]!, boxes[j]!) ? undefined : crossingOf(b, a);
      return fault === undefined ? [] : [fault];
    }),
  );
}

/** Every pair of parts that touch without being joined. */
export function findTouchingParts(device: BuiltDevice): readonly Fault[] {
  const bodies = touchingBodies(device);
  // beams that end in overlapping bodies would only repeat it
  if (bodies.length > 0) return bodies;
  const crossing = [...crossedBodies(device), ...crossingBeams(device)];
  return crossing.length > 0 ? crossing : [...findBeamsOverBodies(device), ...findCloseBeams(device)];
}
