/** Taking hold of the end of a beam: where its ends stand, which is meant, and what the numbers behind it become. Main test: ends.test.ts. */
import { type Handle, numberFrom } from "#chip";
import type { DeviceView } from "#devices";
import type { BeamEnd } from "#workbench";

interface Place {
  readonly x: number;
  readonly y: number;
}

/** An end where it is drawn now, [m]. */
export interface PlacedEnd {
  readonly end: BeamEnd;
  readonly at: Place;
}

/** A number moved by whole steps of its own. */
export interface ChangedNumber {
  readonly handle: Handle;
  readonly digits: string;
}

/** One number alone is moved as long as it misses the pointer by less than this part of the way. */
const missed = 0.3;

export function placeEnds(view: DeviceView, ends: readonly BeamEnd[]): readonly PlacedEnd[] {
  const lines = new Map(view.beams.map(({ name, line }) => [name, line]));
  return ends.flatMap((end) => {
    const line = lines.get(end.part);
    if (line === undefined) return [];
    const i = end.end === "start" ? 0 : line.length - 2;
    return [{ end, at: { x: line[i]!, y: line[i + 1]! } }];
  });
}

/** The end nearest to a place; undefined where none is within `reach`, [m]. */
export function nearestEnd(
  placed: readonly PlacedEnd[],
  at: { readonly place: Place; readonly reach: number },
): PlacedEnd | undefined {
  let [found, least] = [undefined as PlacedEnd | undefined, at.reach];
  for (const candidate of placed) {
    const distance = Math.hypot(candidate.at.x - at.place.x, candidate.at.y - at.place.y);
    if (distance <= least) [found, least] = [candidate, distance];
  }
  return found;
}

/** Of ends that crowd together one, so that rings keep `apart` [m] between them. */
export function thinned(placed: readonly PlacedEnd[], apart: number): readonly PlacedEnd[] {
  const kept: PlacedEnd[] = [];
  for (const candidate of placed)
    if (kept.every(({ at }) => Math.hypot(at.x - candidate.at.x, at.y - candidate.at.y) >= apart)) kept.push(candidate);
  return kept;
}

const rounded = ({ handle }: BeamEnd["numbers"][number], by: number): ChangedNumber => {
  const value = (numberFrom(handle.digits) + by).toFixed(handle.decimals);
  const digits = Number(value) === 0 ? value.replace("-", "") : value;
  return { handle, digits: Number(value) === numberFrom(handle.digits) ? handle.digits : digits };
};

/**
 * The numbers that bring an end nearest to where it was drawn, least squares to first order; one alone where that nearly does.
 * `way` [m] from where it was taken.
 */
export function changesFor({ numbers }: BeamEnd, way: readonly [x: number, y: number]): readonly ChangedNumber[] {
  const singles = numbers.map((number) => {
    const [mx, my] = number.move;
    const by = (mx * way[0] + my * way[1]) / (mx * mx + my * my);
    return { number, by, missed: Math.hypot(way[0] - by * mx, way[1] - by * my) };
  });
  const best = singles.reduce((least, single) => (single.missed < least.missed ? single : least));
  const [first, second] = numbers;
  if (first === undefined || second === undefined || best.missed < missed * Math.hypot(...way))
    return singles.map(({ number, by }) => rounded(number, number === best.number ? by : 0));
  const [[ax, ay], [bx, by]] = [first.move, second.move];
  const area = ax * by - ay * bx;
  return [rounded(first, (way[0] * by - way[1] * bx) / area), rounded(second, (ax * way[1] - ay * way[0]) / area)];
}

/** Those that are another than they were. */
export const reallyChanged = (changes: readonly ChangedNumber[]): readonly ChangedNumber[] =>
  changes.filter(({ handle, digits }) => digits !== handle.digits);
