/**
 * How a limit is worded: "at least 11 um", "at most 80 mA", "10 um within 1 um", "between 9 um and 11 um".
 */
import { type Dimension, describeAmount, ExpressionError, type Phrase, type Place, parsePhrase, sameDimension } from "#base";
import { EvaluationError, type Scope } from "../evaluate/scope.ts";

export type NeedText =
  | { readonly kind: "at least"; readonly limit: Phrase }
  | { readonly kind: "at most"; readonly limit: Phrase }
  | { readonly kind: "within"; readonly phrase: Phrase }
  | { readonly kind: "between"; readonly low: Phrase; readonly high: Phrase };

/** A limit in SI. One of the ends may be open. */
export interface Need {
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** The wanted value inside a two-sided limit. */
  readonly target: number | undefined;
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
    return { kind: oneSided[1] === "at least" ? "at least" : "at most", limit };
  }
  const between = /^\s*between\s+(.+?)\s+and\s+(.+)$/.exec(text);
  if (between !== null) {
    const highAt = text.length - between[2]!.length;
    return { kind: "between", low: phraseOf(between[1]!, text.indexOf(between[1]!)), high: phraseOf(between[2]!, highAt) };
  }
  if (!/\swithin\s/.test(text)) throw new ExpressionError(`"${text.slice(0, 40)}" is not worded as a limit; ${wording}`, 0);
  return { kind: "within", phrase: phraseOf(text, 0) };
}

/** Evaluates a limit. Throws EvaluationError when its dimension is not the metric's. */
export function evaluateNeed(
  need: NeedText,
  scope: Scope,
  at: { place: Place; name: string; dimension: Dimension; wanted: string },
): Need {
  const value = (phrase: Phrase): number => {
    const amount = scope.evaluatePhrase(phrase, at);
    if (!sameDimension(amount.dimension, at.dimension)) {
      throw new EvaluationError(
        `Cannot compare ${at.name}: its metric is ${at.wanted}, but its limit is ${describeAmount(amount)}.`,
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
  return { low, high, target: (low + high) / 2 };
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
