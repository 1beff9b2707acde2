/** The rows of a ledger as rails: where each mark stands on its axis, and the words beside it. Main test: rail-rows.test.ts. */
import { formatQuantity, prettyUnits } from "#base";
import type { RailRow } from "#picture";
import { comparedWith } from "../brief/need.ts";
import type { Ledger, LedgerLimit, LedgerRow, Prediction } from "./ledger.ts";

/** A limit as rails and sentences print it. Where it is about a size and what was found has a sign, that is said. */
export function limitWords({ limit, need, drawn, built, measured }: LedgerLimit): string {
  const text = prettyUnits(limit.text);
  const isBelowZero = [drawn?.estimate.value, built?.estimate.value, measured?.value].some(
    (value) => value !== undefined && value < 0,
  );
  return need?.ofSize === true && isBelowZero ? `${text} in size` : text;
}

const mark = (prediction: Prediction | undefined): { margin: number; sigma: number } | undefined =>
  prediction === undefined || !Number.isFinite(prediction.margin)
    ? undefined
    : { margin: prediction.margin, sigma: prediction.marginSigma };

/** A rail of a two-sided limit counts its margin from the lower limit, in half widths. */
function fromLower(limit: LedgerLimit, value: number): number {
  const need = limit.need!;
  return (comparedWith(need, value) - need.low!) / ((need.high! - need.low!) / 2);
}

/** One limit of a row; `index` is its place among the limits of the row, the first of which carries the name. */
export function railOf(row: LedgerRow, limit: LedgerLimit, index: number): RailRow {
  const name = index === 0 ? row.requirement.name : "";
  const text = limitWords(limit) || "proof by test";
  const base = {
    name,
    limit: row.limits.length > 1 && limit.limit.caseName !== undefined ? `${text}, ${limit.limit.caseName}` : text,
  };
  if (limit.built === undefined || row.built === undefined || limit.need === undefined) {
    return limit.status === "no model"
      ? { ...base, value: "no model proves it", verdict: "to test", chance: "" }
      : { ...base, value: "", verdict: "not yet computed", chance: "" };
  }
  const { estimate } = limit.built;
  const like = limit.need.high ?? limit.need.low ?? estimate.value;
  const twoSided = limit.need.low !== undefined && limit.need.high !== undefined;
  const half = twoSided ? (limit.need.high! - limit.need.low!) / 2 : 1;
  const marks = (prediction: Prediction | undefined) =>
    twoSided && prediction !== undefined && Number.isFinite(prediction.estimate.value)
      ? { margin: fromLower(limit, prediction.estimate.value), sigma: prediction.estimate.sigma / half }
      : mark(prediction);
  const [drawn, built] = [marks(limit.drawn), marks(limit.built)];
  const measured =
    limit.measured === undefined
      ? undefined
      : { margin: twoSided ? fromLower(limit, limit.measured.value) : limit.measured.margin };
  return {
    ...base,
    value: formatQuantity(estimate.value, limit.dimension, { sigma: estimate.sigma, like }),
    verdict: row.built.word,
    chance: index === 0 ? `${Math.round(100 * row.built.shown)} in 100` : "",
    twoSided,
    ...(drawn !== undefined && { drawn }),
    ...(built !== undefined && { built }),
    ...(measured !== undefined && { measured }),
  };
}

/** All limits of a ledger, in the order of the brief. */
export function railRows(ledger: Ledger): readonly RailRow[] {
  return ledger.rows.flatMap((row) => row.limits.map((limit, index) => railOf(row, limit, index)));
}
