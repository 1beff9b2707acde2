/**
 * The requirement ledger: one row per requirement, and on it the limit, the prediction as drawn and as built, the measurement, the
 * margin, the chance that it holds, and what the doubt comes from.
 */
import { type Dimension, type Finding, standardDeviation } from "#base";
import { contradictionsOf } from "../brief/contradictions.ts";
import { comparedWith, type Need } from "../brief/need.ts";
import { type LimitOf, needOf, type Requirement } from "../brief/requirements.ts";
import type { Cause, Scope, Side } from "../evaluate/scope.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import type { Chip } from "../predict/chip.ts";
import { type Estimate, estimateSide, type Progress, type SideEstimates } from "../predict/estimate.ts";
import type { MetricRequest } from "../predict/side-model.ts";
import { type ChanceWord, disagrees, firstOrderChance, LinearSamples, meets, wordForChance } from "./chance.ts";
import { marginOf } from "./margin.ts";
import { type Samples, sampleSide, sortedColumn } from "./sample.ts";

export interface Prediction {
  readonly estimate: Estimate;
  readonly margin: number;
  /** Margin at one standard deviation less and more. */
  readonly marginSigma: number;
  readonly sampled?: { readonly mean: number; readonly sigma: number; readonly low: number; readonly high: number };
}

export interface Measurement {
  readonly value: number;
  readonly sigma: number;
  readonly margin: number;
  readonly source: string | undefined;
  readonly date: string | undefined;
}

export interface LedgerLimit {
  readonly limit: LimitOf;
  readonly dimension: Dimension;
  readonly need: Need | undefined;
  readonly status: "computed" | "not yet computed" | "no model";
  readonly drawn: Prediction | undefined;
  readonly built: Prediction | undefined;
  readonly measured: Measurement | undefined;
}

export interface RowChance {
  readonly firstOrder: number;
  readonly sampled: number | undefined;
  /** The one that is shown: sampled where it was sampled. */
  readonly shown: number;
  readonly word: ChanceWord;
  /** True where the two differ by more than sampling explains. */
  readonly disagree: boolean;
}

export interface LedgerRow {
  readonly requirement: Requirement;
  readonly limits: readonly LedgerLimit[];
  readonly status: "computed" | "not yet computed" | "no model";
  readonly drawn: RowChance | undefined;
  readonly built: RowChance | undefined;
  /** Whether every measured limit is met; undefined where nothing was measured. */
  readonly measuredHolds: boolean | undefined;
  /** Index of the limit with the least margin as built. */
  readonly tightest: number;
}

export interface Ledger {
  readonly chip: Chip;
  readonly rows: readonly LedgerRow[];
  readonly sides: { readonly drawn: SideEstimates; readonly built: SideEstimates };
  /** Causes on the built side that are only assumed, by the largest part they have in any row, largest first. */
  readonly assumed: readonly { readonly cause: Cause; readonly share: number }[];
  readonly findings: readonly Finding[];
  readonly nSamples: number;
}

export interface LedgerOptions {
  /** Number of samples of the full model; 0 = first order alone. */
  readonly samples: number;
  readonly seed: number;
  readonly progress?: Progress;
  /** False to leave out the doubt of the drawn side, which takes half of the time. */
  readonly doubtAsDrawn: boolean;
  /** Metrics wanted besides those of the brief. */
  readonly extra?: readonly MetricRequest[];
}

/** The question that a limit asks; undefined where no model answers it. */
export function requestOf(scope: Scope, limit: LimitOf): MetricRequest | undefined {
  if (limit.metric === undefined || !limit.metric.computed) return undefined;
  const argument =
    limit.argument === undefined
      ? undefined
      : scope.evaluatePhrase(limit.argument, { place: limit.place, name: limit.metric.word }).value;
  return { metric: limit.metric, device: limit.device, caseName: limit.caseName, argument, where: limit.where };
}

/** Requests without repetition, and where each limit finds its own. */
class Requests {
  readonly list: MetricRequest[] = [];
  private readonly index = new Map<string, number>();

  add(request: MetricRequest): number {
    const { metric, device, caseName, argument, where } = request;
    const key = [metric.word, device, caseName ?? "", argument ?? "", where ?? ""].join("|");
    let at = this.index.get(key);
    if (at === undefined) {
      at = this.list.push(request) - 1;
      this.index.set(key, at);
    }
    return at;
  }
}

function predictionOf(estimate: Estimate, need: Need, sampled: { samples: Samples; column: number } | undefined): Prediction {
  const found = estimate.value;
  const margin = marginOf(found, need, { found });
  // a size below zero is none, but its margin goes on on the same line
  const straight: Need = { ...need, ofSize: false };
  const sides = [-1, 1].map((way) => marginOf(comparedWith(need, found) + way * estimate.sigma, straight, { found }));
  const base = { estimate, margin, marginSigma: Math.abs(sides[1]! - sides[0]!) / 2 };
  if (sampled === undefined) return base;
  const sorted = sortedColumn(sampled.samples, sampled.column);
  if (sorted.length === 0) return base;
  const mean = sorted.reduce((sum, value) => sum + value, 0) / sorted.length;
  const sigma = Math.sqrt(sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, sorted.length - 1));
  const quantile = (part: number): number => sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))]!;
  return { ...base, sampled: { mean, sigma, low: quantile(0.05), high: quantile(0.95) } };
}

function measurementOf(chip: Chip, limit: LimitOf, need: Need): Measurement | undefined {
  const reading = chip.readings.metricReadings
    .filter(
      (entry) =>
        entry.metric === limit.metric &&
        entry.device === limit.device &&
        (limit.metric?.stands === "device" || entry.caseName === limit.caseName),
    )
    .sort((a, b) => (a.found.date ?? "").localeCompare(b.found.date ?? ""))
    .at(-1);
  if (reading === undefined) return undefined;
  const amount = chip.side("built").scope.evaluatePhrase(reading.found, { place: reading.place, name: reading.metric.word });
  return {
    value: amount.value,
    sigma: standardDeviation(amount),
    margin: marginOf(amount.value, need, { found: amount.value }),
    source: reading.found.source,
    date: reading.found.date,
  };
}

/** One side answered; without samples its chances are of first order. */
export interface SideWork {
  readonly estimates: SideEstimates;
  readonly samples: Samples | undefined;
}

function chanceOf(limits: readonly { column: number; need: Need }[], work: SideWork, linearSamples: LinearSamples): RowChance {
  const linear = limits.map(({ column, need }) => ({ metric: work.estimates.estimates[column]!, need }));
  const firstOrder = firstOrderChance(linear, work.estimates.causes, linearSamples);
  const { samples } = work;
  if (samples === undefined)
    return { firstOrder, sampled: undefined, shown: firstOrder, word: wordForChance(firstOrder), disagree: false };
  let met = 0;
  for (let i = 0; i < samples.n; i++) {
    if (limits.every(({ column, need }) => meets(samples.values[i * samples.nRequests + column]!, need))) met++;
  }
  const sampled = met / samples.n;
  return {
    firstOrder,
    sampled,
    shown: sampled,
    word: wordForChance(sampled),
    disagree: disagrees(firstOrder, { chance: sampled, n: samples.n }),
  };
}

function statusOf(requirement: Requirement): LedgerRow["status"] {
  if (requirement.limits.every((limit) => limit.metric === undefined)) return "no model";
  return requirement.limits.some((limit) => limit.metric?.computed === true) ? "computed" : "not yet computed";
}

function workSide(chip: Chip, side: Side, options: LedgerOptions & { requests: readonly MetricRequest[] }): SideWork {
  const { requests, progress, samples: n, seed } = options;
  const estimates = estimateSide(chip, side, {
    requests,
    doubt: side === "built" || options.doubtAsDrawn,
    ...(progress && { progress }),
  });
  if (n === 0) return { estimates, samples: undefined };
  return {
    estimates,
    samples: sampleSide(chip, {
      side,
      requests,
      causes: estimates.causes,
      near: estimates.model,
      estimates: estimates.estimates,
      n,
      seed,
      ...(progress && { progress }),
    }),
  };
}

function assumedCauses(sides: readonly SideEstimates[], columns: readonly number[]): { cause: Cause; share: number }[] {
  const total = new Map<string, { cause: Cause; share: number }>();
  for (const { causes, estimates } of sides) {
    for (const column of columns) {
      for (const { cause: name, share } of estimates[column]!.shares) {
        const cause = causes.get(name);
        if (cause === undefined || cause.evidence !== "assumed") continue;
        const known = total.get(name);
        total.set(name, { cause, share: Math.max(known?.share ?? 0, share) });
      }
    }
  }
  return [...total.values()].sort((a, b) => b.share - a.share);
}

/** A problem of both sides is told once: what stands in the same place and is of the same kind. */
function withoutRepeats(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Set<string>();
  return findings.filter((finding) => {
    const key = `${finding.code}|${finding.where}`;
    return !seen.has(key) && seen.add(key);
  });
}

/** What a ledger asks of both sides: each request once, and the column in which a limit finds its own. */
export interface LedgerQuestions {
  readonly requests: readonly MetricRequest[];
  readonly columns: ReadonlyMap<LimitOf, number>;
}

/** Everything that the ledger of a chip asks, besides metrics wanted on their own. */
export function questionsOf(chip: Chip, extra: readonly MetricRequest[] = []): LedgerQuestions {
  const { scope } = chip.side("drawn");
  const requests = new Requests();
  for (const request of extra) requests.add(request);
  const columns = new Map<LimitOf, number>();
  for (const limit of chip.requirements.flatMap((requirement) => requirement.limits)) {
    const request = requestOf(scope, limit);
    if (request !== undefined) columns.set(limit, requests.add(request));
  }
  return { requests: requests.list, columns };
}

/** Works out the ledger of a chip. */
export function buildLedger(chip: Chip, options: LedgerOptions): Ledger {
  const questions = questionsOf(chip, options.extra);
  const [drawn, built] = (["drawn", "built"] as const).map((side) =>
    workSide(chip, side, { ...options, requests: questions.requests }),
  ) as [SideWork, SideWork];
  return assembleLedger(chip, { questions, drawn, built });
}

/** Puts a ledger together from what both sides answered. */
export function assembleLedger(
  chip: Chip,
  work: { readonly questions: LedgerQuestions; readonly drawn: SideWork; readonly built: SideWork },
  linearSamples = new LinearSamples(),
): Ledger {
  const { scope } = chip.side("drawn");
  const { drawn, built } = work;
  const { columns } = work.questions;
  const rows = chip.requirements.map((requirement): LedgerRow => {
    const limits = requirement.limits.map((limit): LedgerLimit => {
      const { metric } = limit;
      if (metric === undefined)
        return {
          limit,
          dimension: [0, 0, 0, 0, 0, 0],
          need: undefined,
          status: "no model",
          drawn: undefined,
          built: undefined,
          measured: undefined,
        };
      const dimension = dimensionOf(metric);
      const need = needOf(scope, limit, { requirement: requirement.name, metric });
      const column = columns.get(limit);
      const measured = measurementOf(chip, limit, need);
      if (column === undefined)
        return { limit, dimension, need, status: "not yet computed", drawn: undefined, built: undefined, measured };
      const predict = (work: SideWork): Prediction =>
        predictionOf(
          work.estimates.estimates[column]!,
          need,
          work.samples === undefined ? undefined : { samples: work.samples, column },
        );
      return { limit, dimension, need, status: "computed", drawn: predict(drawn), built: predict(built), measured };
    });
    const computed = limits.flatMap((entry) =>
      entry.need === undefined || entry.status !== "computed" ? [] : [{ column: columns.get(entry.limit)!, need: entry.need }],
    );
    const measured = limits.flatMap(({ measured: found, need }) =>
      found === undefined || need === undefined ? [] : [meets(found.value, need)],
    );
    const margins = limits
      .map((entry) => entry.built?.margin ?? Number.POSITIVE_INFINITY)
      .map((margin) => (Number.isNaN(margin) ? Number.NEGATIVE_INFINITY : margin));
    return {
      requirement,
      limits,
      status: statusOf(requirement),
      drawn: computed.length === 0 ? undefined : chanceOf(computed, drawn, linearSamples),
      built: computed.length === 0 ? undefined : chanceOf(computed, built, linearSamples),
      measuredHolds: measured.length === 0 ? undefined : measured.every(Boolean),
      tightest: margins.indexOf(Math.min(...margins)),
    };
  });
  return {
    chip,
    rows,
    sides: { drawn: drawn.estimates, built: built.estimates },
    assumed: assumedCauses([built.estimates], [...new Set(columns.values())]),
    // other states of balance are sought only when somebody wants to know
    get findings() {
      return withoutRepeats([
        ...contradictionsOf(chip),
        ...built.estimates.model.findings(),
        ...drawn.estimates.model.findings(),
      ]);
    },
    nSamples: built.samples?.n ?? 0,
  };
}
