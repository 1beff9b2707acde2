/**
 * How a limit is worded: "at least 11 um", "at most 80 mA", "10 um within 1 um", "between 9 um and 11 um".
 */
import { describeAmount, describeDimension, ExpressionError, type Phrase, type Place, parsePhrase, sameDimension } from "#base";
import { EvaluationError, type Scope } from "../evaluate/scope.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import type { Metric } from "../metrics/vocabulary.table.ts";

export type NeedText = {
  /** True where a value of the limit is written with a sign: "at most +9 mA" is about the direction too. */
  readonly signed: boolean;
} & (
  | { readonly kind: "at least"; readonly limit: Phrase }
  | { readonly kind: "at most"; readonly limit: Phrase }
  | { readonly kind: "within"; readonly phrase: Phrase }
  | { readonly kind: "between"; readonly low: Phrase; readonly high: Phrase }
);

/** A limit in SI. One of the ends may be open. */
export interface Need {
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** The wanted value inside a two-sided limit. */
  readonly target: number | undefined;
  /** True where the limit is about the size of the metric, whatever its sign; its ends are then at or above zero. */
  readonly ofSize: boolean;
}

/** A value as the limit takes it: itself, or its size. */
export function comparedWith({ ofSize }: Need, value: number): number {
  return ofSize ? Math.abs(value) : value;
}

/** Values at which a limit begins or ceases to hold, with their sign; below `at` it holds for "at most". */
export interface Fence {
  readonly at: number;
  readonly kind: "at least" | "at most";
}

/** All fences of a limit. One that is about a size has them on both sides of zero. */
export function fencesOf({ low, high, ofSize }: Need): readonly Fence[] {
  return [
    ...(low === undefined ? [] : [{ at: low, kind: "at least" } as const]),
    ...(high === undefined ? [] : [{ at: high, kind: "at most" } as const]),
    ...(ofSize && high !== undefined ? [{ at: -high, kind: "at least" } as const] : []),
    ...(ofSize && low !== undefined ? [{ at: -low, kind: "at most" } as const] : []),
  ];
}

const wording = 'write "at least 11 um", "at most 80 mA", "10 um within 1 um" or "between 9 um and 11 um"';

/** Blanks stand in for the words before, so that every offset points into the whole limit. */
function phraseOf(text: string, offset: number): Phrase {
  return parsePhrase(" ".repeat(offset) + text);
}

/** Reads a limit. Throws ExpressionError with a clause. */
export function parseNeed(text: string): NeedText {
  const oneSided = /^\s*(at least|at most)\s+/.exec(text);
  if (oneSided !== null) {
    const limit = phraseOf(text.slice(oneSided[0].length), oneSided[0].length);
    if (limit.spread !== undefined) throw new ExpressionError("a limit has no spread", oneSided[0].length);
    return { kind: oneSided[1] === "at least" ? "at least" : "at most", limit, signed: hasSign(text.slice(oneSided[0].length)) };
  }
  const between = /^\s*between\s+(.+?)\s+and\s+(.+)$/.exec(text);
  if (between !== null) {
    const highAt = text.length - between[2]!.length;
    return {
      kind: "between",
      low: phraseOf(between[1]!, text.indexOf(between[1]!)),
      high: phraseOf(between[2]!, highAt),
      signed: hasSign(between[1]!) || hasSign(between[2]!),
    };
  }
  if (!/\swithin\s/.test(text)) throw new ExpressionError(`"${text.slice(0, 40)}" is not worded as a limit; ${wording}`, 0);
  return { kind: "within", phrase: phraseOf(text, 0), signed: hasSign(text) };
}

function hasSign(text: string): boolean {
  return /^\s*[+-]/.test(text);
}

/** Whether a limit with these ends is about the size of a metric. Zero is a direction: "at most 0 mA" asks that none flows this way. */
function isOfSize(need: NeedText, metric: Metric, ends: readonly number[]): boolean {
  if (need.signed || !ends.every((end) => end >= 0) || !ends.some((end) => end > 0)) return false;
  return metric.sign === "sense" || (metric.sign === "direction" && need.kind === "at most");
}

/** Evaluates a limit on a metric. Throws EvaluationError when its dimension is not the metric's. */
export function evaluateNeed(need: NeedText, scope: Scope, at: { place: Place; name: string; metric: Metric }): Need {
  const { metric } = at;
  const dimension = dimensionOf(metric);
  const value = (phrase: Phrase): number => {
    const amount = scope.evaluatePhrase(phrase, at);
    if (!sameDimension(amount.dimension, dimension)) {
      throw new EvaluationError(
        `Cannot compare ${at.name}: its metric is ${describeDimension(dimension)}, but its limit is ${describeAmount(amount)}.`,
        at.place,
      );
    }
    return amount.value;
  };
  if (need.kind === "at least" || need.kind === "at most") {
    const limit = value(need.limit);
    return {
      low: need.kind === "at least" ? limit : undefined,
      high: need.kind === "at most" ? limit : undefined,
      target: undefined,
      ofSize: isOfSize(need, metric, [limit]),
    };
  }
  const [low, high] = need.kind === "between" ? [value(need.low), value(need.high)] : ends(need.phrase, value);
  if (!(high > low)) {
    const wanted =
      need.kind === "between"
        ? "its upper limit must lie above its lower one"
        : 'the distance behind "within" must be above zero';
    throw new EvaluationError(`Cannot use ${at.name}: ${wanted}.`, at.place);
  }
  return { low, high, target: (low + high) / 2, ofSize: isOfSize(need, metric, [low, high]) };
}

function ends(phrase: Phrase, value: (phrase: Phrase) => number): [number, number] {
  const middle = value({ value: phrase.value });
  const spread = phrase.spread!;
  const reach = spread.relative ? Math.abs(middle) * valueOfPerCent(phrase) : value({ value: spread.amount });
  return [middle - reach, middle + reach];
}

function valueOfPerCent(phrase: Phrase): number {
  const { amount } = phrase.spread!;
  return amount.kind === "number" ? amount.amount.value : Number.NaN;
}
