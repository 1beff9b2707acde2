import { describe, expect, test } from "vitest";
import type { Term, TermStage } from "#chip";
import { lengthOf, slipWords, todayOf } from "./term-words.ts";

const stage = (rest: Partial<TermStage>): TermStage => ({ name: "fab", from: 2, to: 4, isDone: false, isUsual: false, ...rest });
const term: Term = { begins: "2026-09-07", nWeeks: 14, stages: [], flags: [] };

describe("the term as it is drawn", () => {
  test("today is counted in the reader's own day, and is nowhere before, after, or without a term", () => {
    expect(todayOf(term, new Date(2026, 8, 7, 12, 0))).toBeCloseTo(0.5 / 7, 9);
    expect(todayOf(term, new Date(2026, 8, 21, 0, 0))).toBe(2);
    expect(todayOf(term, new Date(2026, 8, 6, 12, 0))).toBeUndefined();
    expect(todayOf(term, new Date(2027, 1, 1))).toBeUndefined();
    expect(todayOf({ ...term, begins: undefined }, new Date(2026, 8, 8))).toBeUndefined();
  });

  test("done is solid, in work is solid to today, to come is not, late runs on", () => {
    expect(lengthOf(stage({ isDone: true }), 9)).toEqual({ from: 2, to: 4, solid: 4 });
    expect(lengthOf(stage({}), 3)).toEqual({ from: 2, to: 4, solid: 3 });
    expect(lengthOf(stage({}), 1)).toEqual({ from: 2, to: 4, solid: 2 });
    expect(lengthOf(stage({}), 5)).toEqual({ from: 2, to: 5, solid: 5 });
    expect(lengthOf(stage({}), undefined)).toEqual({ from: 2, to: 4, solid: 2 });
  });

  test("a slip is counted in whole days", () => {
    expect(slipWords(stage({}), 4.1)).toBeUndefined();
    expect(slipWords(stage({}), 4 + 1.5 / 7)).toBe("1 day over");
    expect(slipWords(stage({}), 4 + 2.1 / 7)).toBe("2 days over");
    expect(slipWords(stage({ isDone: true }), 9)).toBeUndefined();
  });
});
