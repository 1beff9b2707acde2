/** The ledger as the page draws it: each rail with what it knows now, and whether that is still of the last time. */
import { type Fence, fencesOf, type Ledger, type LedgerQuestions, type LedgerRow, railOf } from "#chip";
import type { RailRow } from "#picture";

export interface Rail extends RailRow {
  /** Index of its requirement in the brief, and of its limit there. */
  readonly requirement: number;
  readonly limitIndex: number;
  /** Name of the requirement, also on its further limits. */
  readonly of: string;
  /** The operating case where it stands. */
  readonly caseName: string | undefined;
  /** True while its value is of the last time, and true while its doubt is. */
  readonly isStale: boolean;
  readonly chanceNumber: number | undefined;
  /** Causes of its doubt as built, by their part of the variance, largest first. */
  readonly shares: readonly { readonly cause: string; readonly share: number }[];
  readonly why: string | undefined;
  /** The word of its metric; undefined where no model proves it. */
  readonly metric: string | undefined;
  /** The limit as written and where it stands in the text; undefined where none is written. */
  readonly need: { readonly text: string; readonly path: readonly string[] } | undefined;
  /** Where the limit begins or ceases to hold, SI, as it is worked out now; on both sides of zero where it is about a size. */
  readonly fences: readonly Fence[];
  /** Why it has no value. */
  readonly reason: string | undefined;
}

export function railsOf(
  ledger: Ledger,
  at: { readonly questions: LedgerQuestions; readonly stale: readonly boolean[]; readonly hasDoubt: boolean },
): readonly Rail[] {
  const isUnknownLimit = (limit: LedgerRow["limits"][number]): boolean => {
    const column = at.questions.columns.get(limit.limit);
    return column !== undefined && at.stale[column]! && !Number.isFinite(limit.built?.estimate.value);
  };
  return ledger.rows.flatMap((row, requirement) => {
    // the chance of a requirement is that of all its limits: while one has never been computed, nothing is said of it
    const waits = row.limits.some(isUnknownLimit);
    return row.limits.map((limit, limitIndex): Rail => {
      const column = at.questions.columns.get(limit.limit);
      const rail = railOf(row, limit, limitIndex);
      return {
        ...rail,
        ...(waits && { verdict: "not yet computed", chance: "" }),
        ...(isUnknownLimit(limit) && { value: "" }),
        ...(!at.hasDoubt && { chance: "" }),
        requirement,
        limitIndex,
        of: row.requirement.name,
        caseName: limit.limit.caseName,
        isStale: column === undefined ? false : at.stale[column]! || !at.hasDoubt,
        chanceNumber: waits ? undefined : row.built?.shown,
        shares: limit.built?.estimate.shares ?? [],
        why: row.requirement.why,
        metric: limit.limit.metric?.word,
        need:
          limit.limit.metric === undefined
            ? undefined
            : { text: limit.limit.text, path: needPath(row, { requirement, limitIndex }) },
        fences: limit.need === undefined ? [] : fencesOf(limit.need),
        reason: limit.built?.estimate.reason,
      };
    });
  });
}

/** Where the words of a limit stand: of the requirement itself, or among its limits. Entries of lists count from 1. */
function needPath(row: LedgerRow, at: { readonly requirement: number; readonly limitIndex: number }): readonly string[] {
  const entry = ["brief", String(at.requirement + 1)];
  return row.limits.length === 1 ? [...entry, "need"] : [...entry, "limits", String(at.limitIndex + 1), "need"];
}
