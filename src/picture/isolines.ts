/**
 * Labelled lines of equal value over the field of a device picture: across each beam where it takes a value, and across a plate. They
 * carry the field where its colours have but one hue, or none. Main test: isolines.test.ts.
 */
import type { Shape } from "./scene.ts";
import { textWidth } from "./svg-text.ts";
import { niceTicks, tickTexts } from "./ticks.ts";
import type { Tokens } from "./tokens.ts";

export interface IsolineField {
  /** Value in the middle of each piece of a centre line [n × 2] m: [n - 1]. */
  readonly beams: readonly {
    readonly points: Float64Array;
    readonly widths: readonly [start: number, end: number];
    readonly values: Float64Array;
  }[];
  /** Outer outline [n × 2] m, and a field along a straight axis, the same across it. */
  readonly plates: readonly {
    readonly outline: Float64Array;
    readonly from: readonly [x: number, y: number];
    readonly to: readonly [x: number, y: number];
    readonly shares: Float64Array;
    readonly values: Float64Array;
  }[];
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

/** A piece of a line of equal value, [m]. */
export interface Isoline {
  readonly level: number;
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
}

/** Room for a picture of them. */
export interface IsolinePlace {
  readonly place: (x: number, y: number) => readonly [x: number, y: number];
  /** [px] */
  readonly width: number;
  readonly height: number;
  readonly tokens: Tokens;
}

/** How far a line stands over the edges of a beam, and the least way between two labels of one value, [px]. */
const [beyond, apart] = [3, 160];
/** Ways from a line to its label that are tried, [px]. */
const reaches = [2, 10, 18, 26, 36, 48, 62, 78];
const labelSize = 13;

type Pair = readonly [x: number, y: number];
const mix = (a: Pair, b: Pair, share: number): Pair => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];

/** Where a row of values takes a level: the place between two of them, from 0 to the last. */
function crossings(values: Float64Array, level: number): readonly number[] {
  const found: number[] = [];
  for (let i = 0; i + 1 < values.length; i++) {
    const [a, b] = [values[i]! - level, values[i + 1]! - level];
    if (a < 0 !== b < 0) found.push(i + a / (a - b));
  }
  return found;
}

function acrossBeam(beam: IsolineField["beams"][number], level: number): readonly Isoline[] {
  const { points, widths, values } = beam;
  const placeAt = (i: number): Pair => [points[2 * i]!, points[2 * i + 1]!];
  const middle = (piece: number): Pair => mix(placeAt(piece), placeAt(piece + 1), 0.5);
  return crossings(values, level).map((at): Isoline => {
    const piece = Math.min(Math.floor(at), values.length - 2);
    const [a, b] = [middle(piece), middle(piece + 1)];
    const [x, y] = mix(a, b, at - piece);
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const half = (widths[0] + ((widths[1] - widths[0]) * (at + 0.5)) / values.length) / 2;
    const [dx, dy] = [(-(b[1] - a[1]) / length) * half, ((b[0] - a[0]) / length) * half];
    return { level, from: [x - dx, y - dy], to: [x + dx, y + dy] };
  });
}

/** Chords of an outline through a place, square to a direction. */
function chords(outline: Float64Array, at: Pair, along: Pair): readonly (readonly [Pair, Pair])[] {
  const n = outline.length / 2;
  const side = (i: number): number => (outline[2 * i]! - at[0]) * along[0] + (outline[2 * i + 1]! - at[1]) * along[1];
  const hits: Pair[] = [];
  for (let i = 0, j = n - 1; i < n; j = i++) {
    const [a, b] = [side(j), side(i)];
    if (a < 0 !== b < 0)
      hits.push(mix([outline[2 * j]!, outline[2 * j + 1]!], [outline[2 * i]!, outline[2 * i + 1]!], a / (a - b)));
  }
  const across = ([x, y]: Pair): number => -x * along[1] + y * along[0];
  hits.sort((a, b) => across(a) - across(b));
  return Array.from({ length: Math.floor(hits.length / 2) }, (_, i) => [hits[2 * i]!, hits[2 * i + 1]!] as const);
}

function acrossPlate(plate: IsolineField["plates"][number], level: number): readonly Isoline[] {
  const { outline, from, to, shares, values } = plate;
  return crossings(values, level).flatMap((at) => {
    const i = Math.min(Math.floor(at), values.length - 2);
    const share = shares[i]! + (at - i) * (shares[i + 1]! - shares[i]!);
    const through = mix(from, to, share);
    return chords(outline, through, [to[0] - from[0], to[1] - from[1]]).map(([a, b]): Isoline => ({ level, from: a, to: b }));
  });
}

/** Round values within the field. */
const levelsOf = ({ low, high }: IsolineField): readonly number[] =>
  niceTicks(low, high).filter((level) => level > low && level < high);

export function isolinesOf(field: IsolineField, levels: readonly number[]): readonly Isoline[] {
  return levels.flatMap((level) => [
    ...field.beams.flatMap((beam) => acrossBeam(beam, level)),
    ...field.plates.flatMap((plate) => acrossPlate(plate, level)),
  ]);
}

/** Lines and labels as shapes, each on a ground of its own so that they read on every step of the map. */
export function isolineShapes(field: IsolineField, { place, width, height, tokens }: IsolinePlace): readonly Shape[] {
  const levels = levelsOf(field);
  const texts = tickTexts(levels);
  const lines = isolinesOf(field, levels).map(({ level, from, to }) => {
    const [a, b] = [place(...from), place(...to)];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const [ux, uy] = [((b[0] - a[0]) / length) * beyond, ((b[1] - a[1]) / length) * beyond];
    return { level, points: Float64Array.of(a[0] - ux, a[1] - uy, b[0] + ux, b[1] + uy) };
  });
  const words = (level: number): string => `${texts[levels.indexOf(level)]!} ${field.unit}`;
  const labels = labelsOf(lines, { words, frame: { width, height } });
  const strokes = (colour: string, thick: number) =>
    lines.map(({ points }): Shape => ({ kind: "line", points, stroke: { colour, width: thick } }));
  return [
    ...strokes(tokens.sheet, 3.5),
    ...strokes(tokens.ink, 1.25),
    ...labels.flatMap(({ line, box, end, reach }): Shape[] => {
      const middle = [box.left + box.width / 2, box.top + box.height / 2] as const;
      const leader = {
        kind: "line",
        points: Float64Array.of(...end, ...middle),
        stroke: { colour: tokens.ink2, width: 0.75 },
      } as const;
      return [
        ...(reach > reaches[0]! ? [leader] : []),
        {
          kind: "words",
          at: [middle[0], box.top + box.height - 4.5],
          words: words(line.level),
          fill: tokens.ink,
          halo: tokens.sheet,
          anchor: "middle",
        },
      ];
    }),
  ];
}

interface DrawnLine {
  readonly level: number;
  /** Both ends, [px]. */
  readonly points: Float64Array;
}

interface Label {
  readonly line: DrawnLine;
  readonly box: { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
  /** Of the line, nearest to the label. */
  readonly end: Pair;
  /** From there to the label, [px]. */
  readonly reach: number;
}

const overlaps = (a: Label["box"], b: Label["box"]): boolean =>
  a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height;

/** Labels in line with their lines, off every line and every other label, each value again only where it is far from its last one. */
function labelsOf(
  lines: readonly DrawnLine[],
  at: { readonly words: (level: number) => string; readonly frame: { readonly width: number; readonly height: number } },
): readonly Label[] {
  const labels: Label[] = [];
  const ends = lines.flatMap(({ points }) => [
    { left: points[0]! - 2, top: points[1]! - 2, width: 4, height: 4 },
    { left: points[2]! - 2, top: points[3]! - 2, width: 4, height: 4 },
  ]);
  const isFree = (box: Label["box"]): boolean =>
    box.left >= 0 &&
    box.top >= 0 &&
    box.left + box.width <= at.frame.width &&
    box.top + box.height <= at.frame.height &&
    !ends.some((end) => overlaps(box, end)) &&
    !labels.some((label) => overlaps(box, label.box));
  for (const line of lines) {
    const [x0, y0, x1, y1] = line.points as unknown as readonly [number, number, number, number];
    if (labels.some((label) => label.line.level === line.level && Math.hypot(label.end[0] - x0, label.end[1] - y0) < apart))
      continue;
    const length = Math.hypot(x1 - x0, y1 - y0) || 1;
    const [ux, uy] = [(x1 - x0) / length, (y1 - y0) / length];
    const [width, height] = [textWidth(at.words(line.level), { size: labelSize }) + 6, labelSize + 4];
    const half = (Math.abs(ux) * width + Math.abs(uy) * height) / 2;
    const candidates = reaches.flatMap((reach) =>
      (
        [
          [x1, y1, 1],
          [x0, y0, -1],
        ] as const
      ).map(([x, y, way]): Label => {
        const [mx, my] = [x + way * ux * (reach + half), y + way * uy * (reach + half)];
        return { line, end: [x, y], reach, box: { left: mx - width / 2, top: my - height / 2, width, height } };
      }),
    );
    const found = candidates.find(({ box }) => isFree(box));
    if (found !== undefined) labels.push(found);
  }
  return labels;
}
