/**
 * The term as numbers: weeks count from 0 at the start of the first day, so that "weeks 2 to 4" reaches from 1 to 4.
 * Main test: term.test.ts.
 */
import type { TextProblem } from "#base";
import type { Description } from "../description.ts";
import { type StageName, stageNames } from "../sections/term.ts";
import { placeOfPath } from "../text/find-node.ts";

export interface TermStage {
  readonly name: StageName;
  /** Start and end in weeks from the first day. */
  readonly from: number;
  readonly to: number;
  readonly isDone: boolean;
  /** True where the text does not say it. */
  readonly isUsual: boolean;
}

export interface Term {
  /** First day, "2026-09-07"; undefined where the text has no term: then the plan is the usual one and no day is today. */
  readonly begins: string | undefined;
  readonly nWeeks: number;
  readonly stages: readonly TermStage[];
  readonly flags: readonly { readonly name: string; readonly at: number }[];
}

const usualWeeks = 14;
/** The usual plan over fourteen weeks (common practice of one-term courses, no source). */
const usual: Readonly<Record<StageName, readonly [from: number, to: number]>> = {
  brief: [0, 1],
  size: [0.5, 3],
  predict: [1, 4],
  mask: [2.5, 5],
  drive: [4, 7],
  fab: [5, 9],
  inspect: [7, 10],
  bench: [9, 12],
  explain: [10, 14],
};

/** The plan of a text that says nothing of it. */
export const usualTerm: Term = {
  begins: undefined,
  nWeeks: usualWeeks,
  stages: stageNames.map((name) => ({ name, from: usual[name][0], to: usual[name][1], isDone: false, isUsual: true })),
  flags: [],
};

const dayLength = 86_400_000;

/** Midnight of a day in UTC, [ms]; undefined where there is no such day. */
function midnight(text: string): number | undefined {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text.trim());
  if (found === null) return undefined;
  const [year, month, day] = [Number(found[1]), Number(found[2]), Number(found[3])];
  const time = Date.UTC(year, month - 1, day);
  const back = new Date(time);
  return back.getUTCMonth() === month - 1 && back.getUTCDate() === day ? time : undefined;
}

/** Weeks from the first day of the term to the start of a day; undefined where either is no day. */
export function weekOf(begins: string, day: string): number | undefined {
  const [first, then] = [midnight(begins), midnight(day)];
  return first === undefined || then === undefined ? undefined : (then - first) / (7 * dayLength);
}

const weeksPattern = /^weeks?\s+(\d+(?:\.\d+)?)(?:\s+to\s+(\d+(?:\.\d+)?))?$/;

/** "week 3" is from 2 to 3, "weeks 3 to 5" from 2 to 5. */
function parseWeeks(text: string): readonly [number, number] | undefined {
  const found = weeksPattern.exec(text.trim());
  if (found === null) return undefined;
  const first = Number(found[1]);
  return [first - 1, Number(found[2] ?? found[1])];
}

/** Reads the term; a text without one has the usual plan. */
export function readTerm(description: Description): { readonly term: Term; readonly problems: readonly TextProblem[] } {
  const text = description.sections.term;
  if (text === undefined) return { term: usualTerm, problems: [] };
  const problems: TextProblem[] = [];
  const nWeeks = text.weeks;
  const tell = (path: readonly string[], message: string): undefined => {
    problems.push({ place: placeOfPath(description.parsed, ["term", ...path]), message });
    return undefined;
  };
  if (midnight(text.begins) === undefined)
    tell(["begins"], `Cannot read the first day "${text.begins}": write a day as 2026-09-07.`);
  const within = (path: readonly string[], weeks: readonly [number, number]): readonly [number, number] | undefined =>
    weeks[0] >= 0 && weeks[1] > weeks[0] && weeks[1] <= nWeeks
      ? weeks
      : tell(path, `These weeks lie outside the term: it has weeks 1 to ${nWeeks}, and a stretch ends after it begins.`);
  const stages = stageNames.map((name): TermStage => {
    const written = text.stages?.[name];
    const isDone = text.done?.includes(name) ?? false;
    const [from, to] = usual[name].map((week) => (week * nWeeks) / usualWeeks) as [number, number];
    if (written === undefined) return { name, from, to, isDone, isUsual: true };
    const path = ["stages", name];
    const read = parseWeeks(written) ?? tell(path, `Cannot read the weeks "${written}": write "week 3" or "weeks 3 to 5".`);
    const weeks = read === undefined ? undefined : within(path, read);
    return { name, from: weeks?.[0] ?? from, to: weeks?.[1] ?? to, isDone, isUsual: false };
  });
  const flags = [...(text.flags ?? new Map<string, string>())].flatMap(([name, written]) => {
    const path = ["flags", name];
    const day = weekOf(text.begins, written);
    const week = day ?? parseWeeks(written)?.[1];
    if (week === undefined) {
      tell(path, `Cannot read the date "${written}": write "week 5", which means its end, or a day as 2026-10-09.`);
      return [];
    }
    if (week < 0 || week > nWeeks) {
      tell(path, `This date lies outside the term, which has weeks 1 to ${nWeeks}.`);
      return [];
    }
    return [{ name, at: week }];
  });
  return { term: { begins: text.begins, nWeeks, stages, flags }, problems };
}
