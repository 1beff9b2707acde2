/** A region as a picture, as a table and as data. */
import { csvOf, displayScale, siUnitText } from "#base";
import { boundsFreeGround, type Region } from "#chip";
import { regionPlot } from "#picture";
import { inHundred, partWhere } from "./region-words.ts";

/** SVG text of a region. */
export function regionPicture(region: Region, chip: string): string {
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
  return regionPlot({
    title: `${chip}: ${y.name} against ${x.name}`,
    note: "Clear ground keeps all limits. Stippled ground breaks one, or has no answer.",
    x: axis(x, units[0]),
    y: axis(y, units[1]),
    free: region.free,
    edges: region.limits.flatMap((limit) =>
      limit.edges.map((edge) => ({ label: limit.label, line: scaled(edge.line), bounds: boundsFreeGround(region, edge) })),
    ),
    contours: region.contours.map(({ chance, lines }) => ({ label: inHundred(chance), lines: lines.map(scaled) })),
    ...(design && { design }),
    ...(best && { best }),
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

const orNull = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** The region as data, all in SI. */
export function regionToJson(region: Region): string {
  const axis = ({ name, key, low, high, present, dimension }: Region["x"]) => ({
    name,
    key,
    unit: siUnitText(dimension),
    low,
    high,
    present,
  });
  const design = (at: Region["present"]) =>
    at === undefined ? null : { x: at.x, y: at.y, chance: at.chance, values: [...at.values].map(orNull) };
  return JSON.stringify(
    {
      form: "waferwright region",
      version: 1,
      x: axis(region.x),
      y: axis(region.y),
      side: region.side,
      present: design(region.present),
      best: design(region.best),
      freePart: partWhere(region, (k) => region.free[k] === 1),
      limits: region.limits.map(({ label, requirement, dimension, error, edges }) => ({
        label,
        requirement,
        unit: siUnitText(dimension),
        error: orNull(error),
        edges: edges.map((edge) => ({
          fence: edge.fence,
          kind: edge.kind,
          closed: edge.closed,
          solvedPoints: edge.nExact,
          error: orNull(edge.error),
          points: [...edge.line],
        })),
      })),
      contours: region.contours.map(({ chance, lines }) => ({ chance, lines: lines.map((line) => [...line]) })),
      reasons: region.reasons,
      designs: region.nDesigns,
    },
    undefined,
    1,
  );
}
