/**
 * A plot of lines as SVG text in the house look: an L-shaped frame, at most five ticks an axis, the unit at the end of the axis, the
 * label at the line's end, bands for doubt, diamonds for readings, and limits as fences with pickets and stippled ground behind.
 *
 * Kinds of series are told apart by their stroke, never by hue alone: as drawn by long dashes, as built solid, fitted solid and
 * heavy, measured by diamonds. At most one of each kind: a fifth series means two plots. A value that is not a number breaks a line.
 * Main test: line-plot.test.ts.
 */
import { diamond, round, stipple, svgDocument, svgLine, svgText } from "./svg-text.ts";
import { niceTicks, tickTexts } from "./ticks.ts";
import { paper, type Tokens } from "./tokens.ts";

export interface PlotSeries {
  readonly label: string;
  readonly kind: "as drawn" | "as built" | "fitted" | "measured";
  /** In display units. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Lower and upper edge of the doubt, as long as y; drawn as a band, or as bars for measured points. */
  readonly band?: { readonly low: Float64Array; readonly high: Float64Array };
}

/** A limit on y; the forbidden side is stippled. */
export interface PlotLimit {
  readonly label: string;
  readonly value: number;
  readonly kind: "at least" | "at most";
}

export interface PlotAxis {
  readonly name: string;
  readonly unit: string;
}

export interface LinePlotOptions {
  readonly title: string;
  readonly x: PlotAxis;
  readonly y: PlotAxis;
  readonly series: readonly PlotSeries[];
  readonly limits?: readonly PlotLimit[];
  readonly tokens?: Tokens;
}

const size = { width: 720, height: 440, left: 72, right: 168, top: 72, bottom: 60 } as const;
const edge = { right: size.width - size.right, base: size.height - size.bottom } as const;

interface View {
  readonly tokens: Tokens;
  readonly xRange: readonly [number, number];
  readonly yRange: readonly [number, number];
  readonly place: (x: number, y: number) => readonly [number, number];
}

function extent(arrays: readonly ArrayLike<number>[]): readonly [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const array of arrays) {
    for (let i = 0; i < array.length; i++) {
      const value = array[i]!;
      if (!Number.isFinite(value)) continue;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  }
  if (low > high) return [0, 1];
  if (high > low) return [low, high];
  const room = low === 0 ? 0.5 : Math.abs(low) / 10;
  return [low - room, high + room];
}

/** The range shown: an axis that comes near zero starts there, and 4 % of room keeps lines off the ends. */
function shownRange([low, high]: readonly [number, number]): readonly [number, number] {
  const fromZero = low >= 0 && low < 0.35 * high;
  const toZero = high <= 0 && high > 0.35 * low;
  const room = 0.04 * (high - low);
  return [fromZero ? 0 : low - room, toZero ? 0 : high + room];
}

function viewOf(options: LinePlotOptions): View {
  const xRange = extent(options.series.map((series) => series.x));
  const limits = (options.limits ?? []).map((limit) => limit.value);
  const bands = options.series.flatMap((series) => (series.band === undefined ? [] : [series.band.low, series.band.high]));
  const yRange = shownRange(extent([...options.series.map((series) => series.y), ...bands, limits]));
  const along = (value: number, [low, high]: readonly [number, number]): number => (value - low) / (high - low);
  return {
    tokens: options.tokens ?? paper,
    xRange,
    yRange,
    place: (x, y) => [
      size.left + along(x, xRange) * (edge.right - size.left),
      edge.base - along(y, yRange) * (edge.base - size.top),
    ],
  };
}

/** Runs of indices over which all given arrays are finite. */
function finiteRuns(arrays: readonly Float64Array[]): readonly (readonly number[])[] {
  const runs: number[][] = [];
  let open = false;
  const length = Math.min(...arrays.map((array) => array.length));
  for (let i = 0; i < length; i++) {
    const whole = arrays.every((array) => Number.isFinite(array[i]));
    if (whole && !open) runs.push([]);
    if (whole) runs[runs.length - 1]!.push(i);
    open = whole;
  }
  return runs;
}

function pathThrough(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${round(x)} ${round(y)}`).join("");
}

function axes(options: LinePlotOptions, { tokens, xRange, yRange, place }: View): readonly string[] {
  const xTicks = niceTicks(...xRange);
  const yTicks = niceTicks(...yRange);
  const xTexts = tickTexts(xTicks);
  const yTexts = tickTexts(yTicks);
  const named = ({ name, unit }: PlotAxis): string => (unit === "" ? name : `${name}, ${unit}`);
  return [
    svgLine(`M${size.left} ${size.top}V${edge.base}H${edge.right}`, { stroke: tokens.ink, width: 1.25 }),
    ...xTicks.flatMap((tick, i) => {
      const [x] = place(tick, yRange[0]);
      return [
        svgLine(`M${round(x)} ${edge.base}v6`, { stroke: tokens.ink3, width: 1.25 }),
        svgText(xTexts[i]!, { at: [x, edge.base + 21], kind: "tick", fill: tokens.ink2, anchor: "middle" }),
      ];
    }),
    ...yTicks.flatMap((tick, i) => {
      const [, y] = place(xRange[0], tick);
      return [
        svgLine(`M${size.left} ${round(y)}h-6`, { stroke: tokens.ink3, width: 1.25 }),
        svgText(yTexts[i]!, { at: [size.left - 10, y + 4], kind: "tick", fill: tokens.ink2, anchor: "end" }),
      ];
    }),
    svgText(named(options.x), { at: [edge.right, edge.base + 44], kind: "caption", fill: tokens.ink2, anchor: "end" }),
    svgText(named(options.y), { at: [size.left - 10, size.top - 14], kind: "caption", fill: tokens.ink2 }),
  ];
}

/** The fence: a heavy line with pickets that stand on the forbidden side, over stippled ground. */
function fence(limit: PlotLimit, { tokens, place, xRange, yRange }: View): string {
  const [, y] = place(xRange[0], limit.value);
  const [bad, toward] = limit.kind === "at least" ? [place(xRange[0], yRange[0])[1], 1] : [place(xRange[0], yRange[1])[1], -1];
  const pickets = Array.from(
    { length: Math.floor((edge.right - size.left) / 24) },
    (_, i) => `M${size.left + 12 + 24 * i} ${round(y)}v${6 * toward}`,
  );
  const ground = { left: size.left + 2, right: edge.right, top: Math.min(y, bad), bottom: Math.max(y, bad) };
  return (
    stipple(ground, { fill: tokens.ink3 }) +
    svgLine(`M${size.left} ${round(y)}H${edge.right}${pickets.join("")}`, { stroke: tokens.ink, width: 2.25 })
  );
}

const strokes = {
  "as drawn": { color: "ink2", width: 1.75, dashes: "12 6" },
  "as built": { color: "ink", width: 1.75, dashes: undefined },
  fitted: { color: "handle", width: 2.25, dashes: undefined },
  measured: { color: "measured", width: 1.75, dashes: undefined },
} as const;

function bandOf(series: PlotSeries, { tokens, place }: View): string {
  const { band } = series;
  if (band === undefined) return "";
  const color = tokens[strokes[series.kind].color];
  const runs = finiteRuns([series.x, band.low, band.high]);
  if (series.kind === "measured") {
    const bars = runs
      .flat()
      .map((i) => `${pathThrough([place(series.x[i]!, band.low[i]!), place(series.x[i]!, band.high[i]!)])}`);
    return svgLine(bars.join(""), { stroke: color, width: 1.75 });
  }
  const areas = runs.map((run) => {
    const high = run.map((i) => place(series.x[i]!, band.high[i]!));
    const low = run.map((i) => place(series.x[i]!, band.low[i]!)).reverse();
    return `${pathThrough([...high, ...low])}Z`;
  });
  return `<path d="${areas.join("")}" fill="${color}" fill-opacity="0.16"/>`;
}

function lineOf(series: PlotSeries, { tokens, place }: View): string {
  const { color, width, dashes } = strokes[series.kind];
  const runs = finiteRuns([series.x, series.y]).map((run) => run.map((i) => place(series.x[i]!, series.y[i]!)));
  if (series.kind === "measured")
    return runs
      .flat()
      .map((at) => diamond(at, { fill: tokens[color] }))
      .join("");
  return svgLine(runs.map(pathThrough).join(""), { stroke: tokens[color], width, ...(dashes === undefined ? {} : { dashes }) });
}

interface EndLabel {
  readonly words: string;
  readonly fill: string;
  /** Height at which the line ends. */
  readonly wanted: number;
}

/** Labels at the ends of lines and fences, pushed apart so that none covers another. */
function endLabels(options: LinePlotOptions, { tokens, place, xRange }: View): readonly string[] {
  const labels: EndLabel[] = options.series.flatMap((series) => {
    const last = finiteRuns([series.x, series.y]).flat().at(-1);
    if (last === undefined) return [];
    const [, y] = place(series.x[last]!, series.y[last]!);
    return [{ words: series.label, fill: tokens[strokes[series.kind].color], wanted: y }];
  });
  for (const limit of options.limits ?? [])
    labels.push({ words: limit.label, fill: tokens.ink, wanted: place(xRange[1], limit.value)[1] });
  labels.sort((a, b) => a.wanted - b.wanted);
  const least = 17;
  const heights = labels.map((label) => label.wanted);
  for (let i = 1; i < heights.length; i++) heights[i] = Math.max(heights[i]!, heights[i - 1]! + least);
  const over = Math.max(0, (heights.at(-1) ?? 0) - edge.base);
  return labels.map((label, i) =>
    svgText(label.words, { at: [edge.right + 10, heights[i]! - over + 4], kind: "label", fill: label.fill }),
  );
}

function describe(options: LinePlotOptions, { xRange, yRange }: View): string {
  const range = ([low, high]: readonly [number, number], unit: string): string =>
    `${round(low)} to ${round(high)}${unit === "" ? "" : ` ${unit}`}`;
  const lines = options.series.map((series) => `${series.label} (${series.kind})`).join(", ");
  const limits = (options.limits ?? [])
    .map((limit) => ` Limit: ${limit.kind} ${round(limit.value)}${options.y.unit === "" ? "" : ` ${options.y.unit}`}.`)
    .join("");
  return `${options.y.name}, ${range(yRange, options.y.unit)}, against ${options.x.name}, ${range(xRange, options.x.unit)}: ${lines}.${limits}`;
}

/** SVG text of the plot. */
export function linePlot(options: LinePlotOptions): string {
  for (const { label, x, y } of options.series)
    if (x.length !== y.length)
      throw new RangeError(`Cannot plot ${label}: wanted as many y as x, found ${y.length} and ${x.length}`);
  const view = viewOf(options);
  return svgDocument({ ...size, title: options.title, description: describe(options, view), tokens: view.tokens }, [
    svgText(options.title, { at: [size.left - 10, 32], kind: "title", fill: view.tokens.ink }),
    ...(options.limits ?? []).map((limit) => fence(limit, view)),
    ...options.series.map((series) => bandOf(series, view)).filter((part) => part !== ""),
    ...axes(options, view),
    ...options.series.map((series) => lineOf(series, view)),
    ...endLabels(options, view),
  ]);
}
