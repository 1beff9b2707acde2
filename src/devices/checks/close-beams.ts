/**
 * Beams that run closer than their widths to each other or to a body: their edges overlap on the wafer, where no middle line meets.
 *
 * Beams that end in one joint overlap there by design, as do all beams close to what they end in: within the sum of their widths from
 * their ends nothing is compared. Main test: src/chip/broken-texts.test.ts (broken-compositions.table.ts).
 */
import { distanceToLine } from "#geometry";
import { outlineOfSlab, samePlace } from "../drawing/slab.ts";
import type { BuiltBeam, BuiltDevice } from "../model/built-device.ts";
import type { Fault } from "./fault.ts";

/** What is wrong with that, and what to do. */
const piece = "which joins them on the wafer, not in the model: move them apart, or draw them as one part";

/** A middle line without its ends, [n × 2] m; undefined where nothing is left. */
function trimLine({ line, length }: BuiltBeam, by: number): Float64Array | undefined {
  if (length <= 2 * by) return undefined;
  const kept: number[] = [];
  let walked = 0;
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [x, y] = [line[i]!, line[i + 1]!];
    const [dx, dy] = [line[i + 2]! - x, line[i + 3]! - y];
    const chord = Math.hypot(dx, dy);
    const [start, end] = [Math.max(0, by - walked), Math.min(chord, length - by - walked)];
    if (end > start) {
      if (kept.length === 0) kept.push(x + (start / chord) * dx, y + (start / chord) * dy);
      kept.push(x + (end / chord) * dx, y + (end / chord) * dy);
    }
    walked += chord;
  }
  return Float64Array.from(kept);
}

/** Smallest distance between two lines that do not cross, [m]: it starts or ends at a corner of one of them. */
function distanceBetween(a: Float64Array, b: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [corners, line] of [
    [a, b],
    [b, a],
  ] as const) {
    for (let k = 0; k < corners.length; k += 2) {
      least = Math.min(least, distanceToLine(line, { x: corners[k]!, y: corners[k + 1]! }));
    }
  }
  return least;
}

/** True where the boxes around two lines are further apart than `reach`. */
function areFarApart(a: Float64Array, b: Float64Array, reach: number): boolean {
  return [0, 1].some((axis) => {
    const [one, other] = [a, b].map((line) => line.filter((_, i) => i % 2 === axis)) as [Float64Array, Float64Array];
    return Math.min(...one) - Math.max(...other) > reach || Math.min(...other) - Math.max(...one) > reach;
  });
}

const closed = (outline: Float64Array): Float64Array => Float64Array.of(...outline, outline[0]!, outline[1]!);

/** Beams with an edge over a body that they do not end on. */
export function findBeamsOverBodies({ beams, bodies }: BuiltDevice): readonly Fault[] {
  const outlines = bodies.map(({ slab }) => closed(outlineOfSlab(slab)));
  return beams.flatMap((beam) => {
    const width = Math.max(...beam.widths);
    const line = trimLine(beam, width);
    if (line === undefined) return [];
    return bodies.flatMap(({ part }, index): Fault[] => {
      const isJoined = beam.ends.some((end) => end.kind === "body" && end.index === index);
      if (isJoined || areFarApart(line, outlines[index]!, width / 2)) return [];
      return distanceBetween(line, outlines[index]!) >= width / 2 - samePlace
        ? []
        : [{ part: beam.part.name, message: `"${beam.part.name}" runs closer to "${part.name}" than half its width, ${piece}` }];
    });
  });
}

/** Pairs of beams whose edges overlap, away from their ends. */
export function findCloseBeams({ beams }: BuiltDevice): readonly Fault[] {
  const widest = beams.map(({ widths }) => Math.max(...widths));
  return beams.flatMap((a, i) =>
    beams.slice(0, i).flatMap((b, j): Fault[] => {
      const reach = (widest[i]! + widest[j]!) / 2;
      if (areFarApart(a.line, b.line, reach) || haveJointInCommon(a, b)) return [];
      const [first, second] = [trimLine(a, 2 * reach), trimLine(b, 2 * reach)];
      if (first === undefined || second === undefined || distanceBetween(first, second) >= reach - samePlace) return [];
      return [{ part: a.part.name, message: `"${b.part.name}" and "${a.part.name}" run closer than their widths, ${piece}` }];
    }),
  );
}

function haveJointInCommon(a: BuiltBeam, b: BuiltBeam): boolean {
  return a.ends.some(
    (end) => end.kind === "joint" && b.ends.some((other) => other.kind === "joint" && other.index === end.index),
  );
}
