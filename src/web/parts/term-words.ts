/** Where the stretches of the term begin and end, how far they are solid, and how late they are. Main test: term-words.test.ts. */
import { type Term, type TermStage, weekOf } from "#chip";

/** Weeks from the first day to today, the part of the day included; undefined where the text has no term, or it is not now. */
export function todayOf(term: Term, now: Date): number | undefined {
  if (term.begins === undefined) return undefined;
  const pad = (value: number): string => String(value).padStart(2, "0");
  const day = weekOf(term.begins, `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`);
  if (day === undefined) return undefined;
  const today = day + (now.getHours() + now.getMinutes() / 60) / 24 / 7;
  return today < 0 || today > term.nWeeks ? undefined : today;
}

/** A stretch in weeks: what is done is solid throughout, what is in work up to today, and what is late runs on to today. */
export function lengthOf(
  { from, to, isDone }: TermStage,
  today: number | undefined,
): { from: number; to: number; solid: number } {
  if (isDone) return { from, to, solid: to };
  if (today === undefined || today <= from) return { from, to, solid: from };
  return { from, to: Math.max(to, today), solid: today };
}

/** "2 days over"; undefined where it is not late. */
export function slipWords({ to, isDone }: TermStage, today: number | undefined): string | undefined {
  if (isDone || today === undefined) return undefined;
  const days = Math.floor((today - to) * 7);
  if (days < 1) return undefined;
  return days === 1 ? "1 day over" : `${days} days over`;
}
