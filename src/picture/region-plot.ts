/**
 * A region plot as SVG text in the house look: where a design may live over two quantities. Free ground is bare, forbidden ground is
 * stippled, each edge carries its limit along the curve, chance contours say "90 in 100", the design is a bead and the best one a cross.
 * Main test: region-plot.test.ts.
 */
import { round, svgDocument, svgLine, svgText, textWidth } from "./svg-text.ts";
import { niceTicks, tickTexts } from "./ticks.ts";
import { paper, type Tokens } from "./tokens.ts";

export interface RegionAxis {
  readonly name: string;
  readonly unit: string;
  /** In display units, like all that follows. */
  readonly low: number;
  readonly high: number;
}

export interface RegionPlotOptions {
  readonly title: string;
  /** Under the title, for example what the ground stands for. */
  readonly note: string;
  readonly x: RegionAxis;
  readonly y: RegionAxis;
  /** [n × n] row-major from the lower left: 1 on free ground. */
  readonly free: Uint8Array;
  /** Edges as [n × 2]; `bounds` is true where free ground touches it. */
  readonly edges: readonly { readonly label: string; readonly line: Float64Array; readonly bounds: boolean }[];
  readonly contours: readonly { readonly label: string; readonly lines: readonly Float64Array[] }[];
  readonly design?: { readonly label: string; readonly x: number; readonly y: number };
  readonly best?: { readonly label: string; readonly x: number; readonly y: number };
  readonly tokens?: Tokens;
}

const size = { width: 860, height: 620, left: 72, right: 24, top: 96, bottom: 60 } as const;
const frame = { right: size.width - size.right, base: size.height - size.bottom } as const;

type Point = readonly [number, number];

interface View {
  readonly tokens: Tokens;
  readonly place: (x: number, y: number) => Point;
}

function viewOf({ x, y, tokens }: RegionPlotOptions): View {
  return {
    tokens: tokens ?? paper,
    place: (a, b) => [
      size.left + ((a - x.low) / (x.high - x.low)) * (frame.right - size.left),
      frame.base - ((b - y.low) / (y.high - y.low)) * (frame.base - size.top),
    ],
  };
}

function placed(line: Float64Array, { place }: View): readonly Point[] {
  return Array.from({ length: line.length / 2 }, (_, k) => place(line[2 * k]!, line[2 * k + 1]!));
}

function pathOf(points: readonly Point[]): string {
  return points.map(([x, y], k) => `${k === 0 ? "M" : "L"}${round(x)} ${round(y)}`).join("");
}

/** Dots on forbidden ground, on the house's pattern, each where its nearest point of the grid is not free. */
function forbiddenGround(free: Uint8Array, tokens: Tokens): string {
  const n = Math.sqrt(free.length);
  const step = 6;
  let path = "";
  let odd = false;
  for (let y = size.top + step / 2; y < frame.base; y += step, odd = !odd) {
    for (let x = size.left + (odd ? step : step / 2); x < frame.right; x += step) {
      const i = Math.round(((x - size.left) / (frame.right - size.left)) * (n - 1));
      const j = Math.round(((frame.base - y) / (frame.base - size.top)) * (n - 1));
      if (free[j * n + i] !== 1) path += `M${round(x)} ${round(y)}h1v1h-1z`;
    }
  }
  return path === "" ? "" : `<path d="${path}" fill="${tokens.ink3}"/>`;
}

interface Slot {
  readonly at: Point;
  /** Degrees, so that the words read from left to right. */
  readonly turn: number;
}

/** A stretch of a curve that is long and straight enough for words, clear of the places taken; the middle of the curve first. */
function slotFor(points: readonly Point[], width: number, taken: Point[][]): Slot | undefined {
  const lengths = [0];
  for (let k = 1; k < points.length; k++)
    lengths.push(lengths[k - 1]! + Math.hypot(points[k]![0] - points[k - 1]![0], points[k]![1] - points[k - 1]![1]));
  const whole = lengths.at(-1)!;
  const at = (length: number): Point => {
    const k = Math.max(
      1,
      lengths.findIndex((value) => value >= length),
    );
    const part = (length - lengths[k - 1]!) / Math.max(1e-9, lengths[k]! - lengths[k - 1]!);
    const [a, b] = [points[k - 1]!, points[k]!];
    return [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])];
  };
  for (const part of [0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88]) {
    const start = part * whole - width / 2;
    if (start < 0 || start + width > whole) continue;
    const [a, b] = [at(start), at(start + width)];
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < 0.9 * width) continue;
    const reach = Array.from({ length: 9 }, (_, k): Point => at(start + (width * k) / 8));
    if (taken.some((others) => others.some(([x, y]) => reach.some(([p, q]) => Math.abs(p - x) < 22 && Math.abs(q - y) < 16))))
      continue;
    taken.push(reach);
    const turn = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
    return { at: at(start + width / 2), turn: turn >= 90 ? turn - 180 : turn < -90 ? turn + 180 : turn };
  }
  return undefined;
}

function wordsAlong(words: string, { at: [x, y], turn }: Slot, fill: string): string {
  const placedText = svgText(words, { at: [0, -6], kind: "caption", fill, anchor: "middle" });
  return `<g transform="translate(${round(x)} ${round(y)}) rotate(${round(turn)})">${placedText}</g>`;
}

function axes(options: RegionPlotOptions, { tokens, place }: View): readonly string[] {
  const { x, y } = options;
  const [xTicks, yTicks] = [niceTicks(x.low, x.high), niceTicks(y.low, y.high)];
  const [xTexts, yTexts] = [tickTexts(xTicks), tickTexts(yTicks)];
  const named = ({ name, unit }: RegionAxis): string => (unit === "" ? name : `${name}, ${unit}`);
  return [
    svgLine(`M${size.left} ${size.top}V${frame.base}H${frame.right}`, { stroke: tokens.ink, width: 1.25 }),
    ...xTicks.flatMap((tick, i) => {
      const [at] = place(tick, y.low);
      return [
        svgLine(`M${round(at)} ${frame.base}v6`, { stroke: tokens.ink3, width: 1.25 }),
        svgText(xTexts[i]!, { at: [at, frame.base + 21], kind: "tick", fill: tokens.ink2, anchor: "middle" }),
      ];
    }),
    ...yTicks.flatMap((tick, i) => {
      const [, at] = place(x.low, tick);
      return [
        svgLine(`M${size.left} ${round(at)}h-6`, { stroke: tokens.ink3, width: 1.25 }),
        svgText(yTexts[i]!, { at: [size.left - 10, at + 4], kind: "tick", fill: tokens.ink2, anchor: "end" }),
      ];
    }),
    svgText(named(x), { at: [frame.right, frame.base + 44], kind: "caption", fill: tokens.ink2, anchor: "end" }),
    svgText(named(y), { at: [size.left - 10, size.top - 12], kind: "caption", fill: tokens.ink2 }),
  ];
}

function marks(options: RegionPlotOptions, { tokens, place }: View): readonly string[] {
  const { best, design } = options;
  const label = (words: string, [x, y]: Point): string => {
    const flips = x + 12 + textWidth(words, { size: 14 }) > frame.right;
    return svgText(words, {
      at: [flips ? x - 12 : x + 12, y - 8],
      kind: "label",
      fill: tokens.handle,
      ...(flips && { anchor: "end" as const }),
    });
  };
  const parts: string[] = [];
  if (best !== undefined) {
    const [x, y] = place(best.x, best.y);
    parts.push(
      svgLine(`M${round(x - 6)} ${round(y)}h12M${round(x)} ${round(y - 6)}v12`, { stroke: tokens.handle, width: 2.25 }),
      label(best.label, [x, y]),
    );
  }
  if (design !== undefined) {
    const [x, y] = place(design.x, design.y);
    parts.push(
      svgLine(`M${size.left} ${round(y)}H${round(x)}V${frame.base}`, { stroke: tokens.ink3, width: 0.75, dashes: "2 3" }),
      `<circle cx="${round(x)}" cy="${round(y)}" r="7" fill="${tokens.handle}" stroke="${tokens.stock}" stroke-width="2"/>`,
      label(design.label, [x, y + 26]),
    );
  }
  return parts;
}

/** SVG text of the plot. */
export function regionPlot(options: RegionPlotOptions): string {
  const side = Math.sqrt(options.free.length);
  if (!Number.isInteger(side))
    throw new RangeError(`Cannot plot the region: wanted a square grid, found ${options.free.length} points`);
  const view = viewOf(options);
  const { tokens } = view;
  const taken: Point[][] = [];
  const lines: string[] = [];
  const words: string[] = [];
  // the edges that bound free ground choose the places of their words first
  for (const edge of [...options.edges].sort((a, b) => Number(b.bounds) - Number(a.bounds))) {
    const points = placed(edge.line, view);
    lines.push(svgLine(pathOf(points), { stroke: tokens.ink, width: edge.bounds ? 2.25 : 1.25 }));
    const slot = slotFor(points, textWidth(edge.label, { size: 13 }), taken);
    if (slot !== undefined) words.push(wordsAlong(edge.label, slot, edge.bounds ? tokens.ink : tokens.ink2));
  }
  for (const { label, lines: contours } of options.contours) {
    const all = contours.map((line) => placed(line, view)).sort((a, b) => b.length - a.length);
    for (const points of all) lines.push(svgLine(pathOf(points), { stroke: tokens.handle, width: 1.25, dashes: "6 4" }));
    const slot = all[0] === undefined ? undefined : slotFor(all[0], textWidth(label, { size: 13 }), taken);
    if (slot !== undefined) words.push(wordsAlong(label, slot, tokens.handle));
  }
  const clip = `<clipPath id="plane"><rect x="${size.left}" y="${size.top}" width="${frame.right - size.left}" height="${frame.base - size.top}"/></clipPath>`;
  const held = options.edges.filter(({ bounds }) => bounds).map(({ label }) => label);
  const description = `${options.y.name} against ${options.x.name}. ${held.length === 0 ? "No edge bounds free ground here." : `Free ground ends at: ${[...new Set(held)].join("; ")}.`}${options.design === undefined ? "" : ` The design: ${options.design.label}.`}`;
  return svgDocument({ ...size, title: options.title, description, tokens }, [
    clip,
    `<rect x="${size.left}" y="${size.top}" width="${frame.right - size.left}" height="${frame.base - size.top}" fill="${tokens.sheet}"/>`,
    svgText(options.title, { at: [size.left - 10, 36], kind: "title", fill: tokens.ink }),
    svgText(options.note, { at: [size.left - 10, 58], kind: "caption", fill: tokens.ink2 }),
    forbiddenGround(options.free, tokens),
    `<g clip-path="url(#plane)">${lines.join("")}</g>`,
    `<g paint-order="stroke" stroke="${tokens.sheet}" stroke-width="4" stroke-linejoin="round">${words.join("")}</g>`,
    ...axes(options, view),
    ...marks(options, view),
  ]);
}
