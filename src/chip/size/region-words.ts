/** A region in sentences. */
import { formatQuantity } from "#base";
import { meets } from "../ledger/chance.ts";
import { boundsFreeGround, type Region } from "./region.ts";

export const inHundred = (chance: number): string => `${Math.round(100 * chance)} in 100`;

/** A design in words, for example "length of legs 620.0 µm, leg width 7.200 µm". */
export function designWords({ x, y }: Pick<Region, "x" | "y">, at: { readonly x: number; readonly y: number }): string {
  return `${x.name} ${formatQuantity(at.x, x.dimension, { like: x.high })}, ${y.name} ${formatQuantity(at.y, y.dimension, { like: y.high })}`;
}

/** Part of the plane on which something holds. */
export function partWhere(region: Region, test: (k: number) => boolean): number {
  let count = 0;
  for (let k = 0; k < region.free.length; k++) if (test(k)) count++;
  return count / region.free.length;
}

/** What part of the ground keeps every limit, and what ends it. */
export function groundSentences(region: Region): readonly string[] {
  const free = partWhere(region, (k) => region.free[k] === 1);
  if (free > 0) {
    const bounding = region.limits.filter((limit) => limit.edges.some((edge) => boundsFreeGround(region, edge)));
    const ends = bounding.length === 0 ? "no limit, only the ranges given" : bounding.map(({ label }) => label).join("; ");
    return [`All limits hold on ${(100 * free).toFixed(0)} % of this ground. It ends at: ${ends}.`];
  }
  const worst = region.limits
    .map((limit) => ({ limit, part: partWhere(region, (k) => !meets(limit.values[k]!, limit.need)) }))
    .sort((a, b) => b.part - a.part);
  return [
    "No design here keeps all limits.",
    ...worst.slice(0, 3).map(({ limit, part }) => `${limit.label}: broken on ${(100 * part).toFixed(0)} % of the ground.`),
  ];
}

/** How sure the picture is of itself. */
export function surenessSentences(region: Region): readonly string[] {
  const edges = region.limits.flatMap((limit) => limit.edges);
  const nExact = edges.reduce((sum, edge) => sum + edge.nExact, 0);
  const off = edges.map(({ error }) => error).filter(Number.isFinite);
  const values = region.limits
    .map(({ error, need: { low, high } }) => error / Math.abs(high ?? low ?? Number.NaN))
    .filter(Number.isFinite);
  const told = [region.present, region.best].flatMap((design) => design ?? []);
  const percent = (part: number): string => `${(100 * part).toPrecision(2)} %`;
  const between = off.length === 0 ? "" : `; between them they are off by about ${percent(Math.max(...off))} of the plane`;
  return [
    `${region.nDesigns} designs solved. Edges were held to the model at ${nExact} points${between}.`,
    ...(values.length === 0
      ? []
      : [`Between the designs, values near the edges are off by about ${percent(Math.max(...values))} of their limits.`]),
    ...(told.length === 0
      ? []
      : [
          `Chances over the plane take their doubt from nine designs: where one was solved in full, they were off by at most ${Math.ceil(100 * Math.max(...told.map(({ chance, foretold }) => Math.abs(chance - foretold))))} in 100.`,
        ]),
  ];
}

/** What a region comes to, one sentence or two a line. */
export function regionSentences(region: Region): readonly string[] {
  const { present, best } = region;
  return [
    ...groundSentences(region),
    present === undefined
      ? "The design of the text lies outside these ranges."
      : `The text has ${designWords(region, present)}: all limits hold in ${inHundred(present.chance)}.`,
    ...(best === undefined
      ? ["No design here has a chance to keep all limits."]
      : [`Best here is ${designWords(region, best)}, solved in full: ${inHundred(best.chance)}.`]),
    ...region.reasons.slice(0, 3).map((reason) => `Part of the ground has no answer and counts as forbidden: ${reason}`),
    ...surenessSentences(region),
  ];
}
