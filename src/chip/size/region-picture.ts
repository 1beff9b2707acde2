/** A region as a picture and as a table. */
import { csvOf, displayScale, siUnitText } from "#base";
import { type RegionPlotOptions, regionPlot, type Tokens } from "#picture";
import { boundsFreeGround, isFreeAt, type Region } from "./region.ts";
import { inHundred } from "./region-words.ts";

/** What a plot of a region is made of, in units for people. */
export function regionParts(region: Region): Omit<RegionPlotOptions, "title" | "note" | "tokens"> {
  const { x, y } = region;
  const units = [displayScale(x.high, x.dimension), displayScale(y.high, y.dimension)] as const;
  const scaled = (line: Float64Array): Float64Array => line.map((value, k) => value / units[k % 2]!.factor);
  const mark = (at: Region["present"], words: string) =>
    at === undefined
      ? undefined
      : { label: `${words}, ${inHundred(at.chance)}`, x: at.x / units[0].factor, y: at.y / units[1].factor };
  const design = mark(region.present, "as in the text");
  const best = mark(region.best, "best");
  const axis = (of: Region["x"], { text, factor }: { text: string; factor: number }) => ({
    name: of.name,
    unit: text,
    low: of.low / factor,
    high: of.high / factor,
  });
  return {
    x: axis(x, units[0]),
    y: axis(y, units[1]),
    isFree: (s, t) => isFreeAt(region, s, t),
    edges: region.limits.flatMap((limit) =>
      limit.edges.map((edge) => ({ label: limit.label, line: scaled(edge.line), bounds: boundsFreeGround(region, edge) })),
    ),
    contours: region.contours.map(({ chance, lines }) => ({ label: inHundred(chance), lines: lines.map(scaled) })),
    ...(design && { design }),
    ...(best && { best }),
  };
}

/** SVG text of a region. */
export function regionPicture(region: Region, about: { readonly chip: string; readonly tokens?: Tokens }): string {
  return regionPlot({
    ...regionParts(region),
    title: `${about.chip}: ${region.y.name} against ${region.x.name}`,
    note: "Clear ground keeps all limits. Stippled ground breaks one, or has no answer.",
    ...(about.tokens && { tokens: about.tokens }),
  });
}

/** Edges and contours as rows of points, in SI. */
export function regionTable(region: Region): string {
  const [numbers, xs, ys]: [number[], number[], number[]] = [[], [], []];
  const heads: string[] = [];
  const push = (label: string, line: Float64Array): void => {
    const number = heads.push(label);
    for (let k = 0; k < line.length; k += 2) {
      numbers.push(number);
      xs.push(line[k]!);
      ys.push(line[k + 1]!);
    }
  };
  for (const limit of region.limits) for (const { line } of limit.edges) push(limit.label, line);
  for (const { chance, lines } of region.contours) for (const line of lines) push(inHundred(chance), line);
  const { x, y } = region;
  const key = heads.map((label, i) => `${i + 1} = ${label}`).join("; ");
  return csvOf(
    [`line (${key})`, `${x.name} (${siUnitText(x.dimension)})`, `${y.name} (${siUnitText(y.dimension)})`],
    [numbers, xs, ys],
  );
}
