/**
 * The chance that a requirement is met.
 *
 * First order: each metric moves linearly with its causes of doubt. One limit with normal causes alone has a closed form; several limits
 * in one row share causes, and some causes are uniform, so these are sampled on the linear model with a fixed seed.
 * Sampled: the full model is evaluated for every sample; its chance is a plain count.
 */
import { createRandomSource, latinHypercube, normalChanceBelow, normalQuantile } from "#base";
import { comparedWith, type Need } from "../brief/need.ts";
import type { Cause } from "../evaluate/scope.ts";

/** A metric about its present value: how it moves when each cause goes up by one standard deviation. */
export interface LinearMetric {
  readonly value: number;
  readonly shifts: ReadonlyMap<string, number>;
}

export function linearSigma(metric: LinearMetric): number {
  let sum = 0;
  for (const shift of metric.shifts.values()) sum += shift * shift;
  return Math.sqrt(sum);
}

/** Whether a value meets a limit. A value that does not exist meets none. */
export function meets(value: number, need: Need): boolean {
  const { low, high } = need;
  const compared = comparedWith(need, value);
  return Number.isFinite(value) && (low === undefined || compared >= low) && (high === undefined || compared <= high);
}

function closedForm(metric: LinearMetric, need: Need): number {
  const sigma = linearSigma(metric);
  if (!(sigma > 0)) return meets(metric.value, need) ? 1 : 0;
  const chanceBelow = (limit: number): number => normalChanceBelow((limit - metric.value) / sigma);
  const chanceBetween = (low: number, high: number): number => Math.max(0, chanceBelow(high) - chanceBelow(low));
  const [low, high] = [need.low ?? Number.NEGATIVE_INFINITY, need.high ?? Number.POSITIVE_INFINITY];
  if (!need.ofSize) return chanceBetween(low, high);
  const least = Math.max(0, low);
  return chanceBetween(least, high) + chanceBetween(-high, -least);
}

/** Position of a cause, in standard deviations, for a uniform random number u in (0, 1). */
export function deviationOf(cause: Pick<Cause, "distribution">, u: number): number {
  return cause.distribution === "normal" ? normalQuantile(u) : (2 * u - 1) * Math.sqrt(3);
}

const nLinearSamples = 2000;
const linearSeed = 20261;

/**
 * Places at which the linear model is sampled, in standard deviations: [nLinearSamples × causes], row-major. They depend on the kinds of
 * the causes alone, so whoever asks again and again keeps them.
 */
export class LinearSamples {
  private readonly tables = new Map<string, Float64Array>();

  of(causes: readonly Cause[]): Float64Array {
    const key = causes.map(({ distribution }) => distribution).join(" ");
    let table = this.tables.get(key);
    if (table === undefined) {
      const points = latinHypercube(createRandomSource(linearSeed), {
        count: nLinearSamples,
        dimensions: Math.max(1, causes.length),
      });
      table = Float64Array.from(points, (u, i) => (causes.length === 0 ? 0 : deviationOf(causes[i % causes.length]!, u)));
      this.tables.set(key, table);
    }
    return table;
  }
}

/** Chance that all limits of a row hold, to first order. */
export function firstOrderChance(
  limits: readonly { metric: LinearMetric; need: Need }[],
  causes: ReadonlyMap<string, Cause>,
  samples = new LinearSamples(),
): number {
  if (limits.some(({ metric }) => !Number.isFinite(metric.value))) return 0;
  const named = new Set(limits.flatMap(({ metric }) => [...metric.shifts.keys()]));
  const used = [...named].flatMap((name) => causes.get(name) ?? []);
  const [only] = limits;
  if (limits.length === 1 && only !== undefined && used.every((cause) => cause.distribution === "normal"))
    return closedForm(only.metric, only.need);
  const table = samples.of(used);
  const rows = limits.map(({ metric, need }) => ({
    value: metric.value,
    need,
    shifts: Float64Array.from(used, (cause) => metric.shifts.get(cause.name) ?? 0),
  }));
  let met = 0;
  for (let sample = 0; sample < nLinearSamples; sample++) {
    const all = rows.every(({ value, need, shifts }) => {
      let moved = value;
      for (let column = 0; column < shifts.length; column++) moved += shifts[column]! * table[sample * shifts.length + column]!;
      return meets(moved, need);
    });
    if (all) met++;
  }
  return met / nLinearSamples;
}

export type ChanceWord = "holds" | "likely" | "open" | "doubtful" | "fails";

/** The five words for a chance; there are no others. */
export function wordForChance(chance: number): ChanceWord {
  if (chance >= 0.95) return "holds";
  if (chance >= 0.75) return "likely";
  if (chance >= 0.25) return "open";
  return chance >= 0.05 ? "doubtful" : "fails";
}

/** Standard error of a chance that was counted in n samples (binomial; at least half a count). */
export function chanceError(chance: number, n: number): number {
  return Math.max(Math.sqrt((chance * (1 - chance)) / n), 0.5 / n);
}

/** True where a counted chance and the first-order one differ by more than sampling explains. */
export function disagrees(firstOrder: number, sampled: { chance: number; n: number }): boolean {
  return Math.abs(firstOrder - sampled.chance) > 0.03 + 3 * chanceError(sampled.chance, sampled.n);
}
