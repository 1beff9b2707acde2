import { describe, expect, test } from "vitest";
import { beamText } from "../broken-texts.table.ts";
import { readDescription } from "../description.ts";
import { readTerm, weekOf } from "./term.ts";

const withTerm = (term: string) => readTerm(readDescription(`${beamText}\n${term}`, "chip.yaml"));

describe("the term", () => {
  test("a text without one has the usual plan and no day", () => {
    const { term, problems } = withTerm("");
    expect(problems).toEqual([]);
    expect(term).toMatchObject({ begins: undefined, nWeeks: 14, flags: [] });
    expect(term.stages.find(({ name }) => name === "fab")).toEqual({ name: "fab", from: 5, to: 9, isDone: false, isUsual: true });
  });

  test("weeks count from the first day; a stage that is left out is stretched to the term", () => {
    const { term, problems } = withTerm(
      "term:\n  begins: 2026-09-07\n  weeks: 7\n  stages: { brief: week 1, size: weeks 2 to 3.5 }\n  flags: { plates: week 3, panel: 2026-10-19 }\n  done: [brief]\n",
    );
    expect(problems).toEqual([]);
    expect(term.stages.slice(0, 3)).toEqual([
      { name: "brief", from: 0, to: 1, isDone: true, isUsual: false },
      { name: "size", from: 1, to: 3.5, isDone: false, isUsual: false },
      { name: "predict", from: 0.5, to: 2, isDone: false, isUsual: true },
    ]);
    // six weeks after a Monday is a Monday
    expect(term.flags).toEqual([
      { name: "plates", at: 3 },
      { name: "panel", at: 6 },
    ]);
  });

  test("days are counted by the calendar, leap days and changes of the clock included", () => {
    expect(weekOf("2028-02-28", "2028-03-06")).toBe(1);
    expect(weekOf("2026-10-19", "2026-11-02")).toBe(2);
    expect(weekOf("2026-09-07", "2026-09-10")).toBeCloseTo(3 / 7, 12);
    expect(weekOf("2026-02-30", "2026-03-01")).toBeUndefined();
  });

  test("what does not read is told at its place", () => {
    const { problems } = withTerm(
      "term:\n  begins: 7.9.2026\n  weeks: 7\n  stages:\n    brief: first week\n    size: weeks 3 to 9\n  flags:\n    plates: soon\n    panel: week 8\n",
    );
    expect(problems.map(({ message }) => message)).toEqual([
      'Cannot read the first day "7.9.2026": write a day as 2026-09-07.',
      'Cannot read the weeks "first week": write "week 3" or "weeks 3 to 5".',
      "These weeks lie outside the term: it has weeks 1 to 7, and a stretch ends after it begins.",
      'Cannot read the date "soon": write "week 5", which means its end, or a day as 2026-10-09.',
      "This date lies outside the term, which has weeks 1 to 7.",
    ]);
    expect(new Set(problems.map(({ place }) => place.line)).size).toBe(5);
  });
});
