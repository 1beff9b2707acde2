/**
 * A plot of lines as SVG text: L-shaped frame, at most five ticks an axis, the unit at the end of the axis, the label at the line's end.
 */
import { paper, type Tokens } from "./tokens.ts";

export interface PlotSeries {
  readonly label: string;
  readonly kind: "as drawn" | "as built";
  /** In display units; a value that is not a number breaks the line. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export interface LinePlotOptions {
  readonly title: string;
  readonly x: { readonly name: string; readonly unit: string };
  readonly y: { readonly name: string; readonly unit: string };
  readonly series: readonly PlotSeries[];
  readonly tokens?: Tokens;
}

const size = { width: 720, height: 440, left: 72, right: 150, top: 56, bottom: 60 } as const;

/** Round tick values that span a range, at most five of them. */
export function niceTicks(low: number, high: number): number[] {
  if (!(high > low)) return [low];
  const rough = (high - low) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((factor) => factor * power).find((candidate) => (high - low) / candidate <= 4.0001) ?? 10 * power;
  const ticks: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) ticks.push(Number((k * step).toPrecision(12)));
  return ticks;
}

function escapeText(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

const round = (value: number): string => String(Number(value.toFixed(3)));

function extent(arrays: readonly Float64Array[]): [number, number] {
  const values = arrays.flatMap((array) => [...array]).filter((value) => Number.isFinite(value));
  if (values.length === 0) return [0, 1];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return high > low ? [low, high] : [low - 0.5, high + 0.5];
}

function pathOf(series: PlotSeries, place: (x: number, y: number) => readonly [number, number]): string {
  let path = "";
  let broken = true;
  series.x.forEach((x, i) => {
    const y = series.y[i]!;
    if (!Number.isFinite(y)) {
      broken = true;
      return;
    }
    const [px, py] = place(x, y);
    path += `${broken ? "M" : "L"}${round(px)} ${round(py)}`;
    broken = false;
  });
  return path;
}

/** SVG text of the plot. The same input gives the same text. */
export function linePlot(options: LinePlotOptions): string {
  const tokens = options.tokens ?? paper;
  const [xLow, xHigh] = extent(options.series.map((series) => series.x));
  const [yFound, yHigh] = extent(options.series.map((series) => series.y));
  // an axis that comes near zero starts there
  const yLow = yFound > 0 && yFound < 0.35 * yHigh ? 0 : yFound;
  const inner = { width: size.width - size.left - size.right, height: size.height - size.top - size.bottom };
  const place = (x: number, y: number): readonly [number, number] => [
    size.left + ((x - xLow) / (xHigh - xLow)) * inner.width,
    size.top + inner.height - ((y - yLow) / (yHigh - yLow)) * inner.height,
  ];
  const base = size.top + inner.height;
  const text = (x: number, y: number, words: string, rest: string): string => `<text x="${round(x)}" y="${round(y)}" ${rest}>${escapeText(words)}</text>`;
  const small = `font-family="Source Sans 3, Source Sans Pro, sans-serif" font-size="13" fill="${tokens.ink2}"`;
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${size.width}" height="${size.height}" viewBox="0 0 ${size.width} ${size.height}" role="img" aria-label="${escapeText(options.title)}">`,
    `<title>${escapeText(options.title)}</title>`,
    `<rect width="100%" height="100%" fill="${tokens.stock}"/>`,
    text(size.left, 30, options.title, `font-family="Literata, Georgia, serif" font-size="18" font-weight="500" fill="${tokens.ink}"`),
    `<path d="M${size.left} ${size.top}V${base}H${size.width - size.right}" fill="none" stroke="${tokens.ink}" stroke-width="1.25"/>`,
    ...niceTicks(xLow, xHigh).map((tick) => `<path d="M${round(place(tick, yLow)[0])} ${base}v6" stroke="${tokens.ink}" stroke-width="0.75"/>${text(place(tick, yLow)[0], base + 22, String(tick), `${small} text-anchor="middle"`)}`),
    ...niceTicks(yLow, yHigh).map((tick) => `<path d="M${size.left} ${round(place(xLow, tick)[1])}h-6" stroke="${tokens.ink}" stroke-width="0.75"/>${text(size.left - 10, place(xLow, tick)[1] + 4, String(tick), `${small} text-anchor="end"`)}`),
    text(size.width - size.right, base + 44, `${options.x.name}${options.x.unit === "" ? "" : `, ${options.x.unit}`}`, `${small} text-anchor="end"`),
    text(size.left, size.top - 10, options.y.unit, small),
    ...options.series.map((series) => {
      const dashes = series.kind === "as drawn" ? ` stroke-dasharray="9 5"` : "";
      const color = series.kind === "as drawn" ? tokens.ink2 : tokens.ink;
      const last = series.y.reduce((found, value, i) => (Number.isFinite(value) ? i : found), -1);
      const end = last < 0 ? undefined : place(series.x[last]!, series.y[last]!);
      const label = end === undefined ? "" : text(end[0] + 8, end[1] + 4, series.label, `font-family="Source Sans 3, Source Sans Pro, sans-serif" font-size="14" fill="${color}"`);
      return `<path d="${pathOf(series, place)}" fill="none" stroke="${color}" stroke-width="1.75" stroke-linejoin="round"${dashes}/>${label}`;
    }),
    "</svg>",
    "",
  ];
  return parts.join("\n");
}
