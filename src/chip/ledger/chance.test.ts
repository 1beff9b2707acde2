/** Chances: closed forms, agreement of the linear estimate with sampling, and the words. */
import { describe, expect, it } from "vitest";
import { normalChanceBelow } from "#base";
import type { Cause } from "../evaluate/scope.ts";
import { chanceError, disagrees, firstOrderChance, meets, wordForChance } from "./chance.ts";
import { marginOf } from "./margin.ts";

const cause = (name: string, distribution: Cause["distribution"] = "normal"): Cause => ({
  name,
  distribution,
  evidence: "assumed",
  scope: undefined,
  sigma: 1,
});
const need = (low?: number, high?: number, ofSize = false) => ({ low, high, target: undefined, ofSize });

describe("firstOrderChance()", () => {
  it("is the normal integral for one limit with normal causes", () => {
    const metric = {
      value: 10,
      shifts: new Map([
        ["a", 3],
        ["b", 4],
      ]),
    };
    const causes = new Map([
      ["a", cause("a")],
      ["b", cause("b")],
    ]);
    expect(firstOrderChance([{ metric, need: need(undefined, 15) }], causes)).toBeCloseTo(normalChanceBelow(1), 12);
    expect(firstOrderChance([{ metric, need: need(5, 15) }], causes)).toBeCloseTo(2 * normalChanceBelow(1) - 1, 12);
  });
  it("counts a shared cause once: two limits on the same metric are one", () => {
    const metric = { value: 0, shifts: new Map([["a", 1]]) };
    const causes = new Map([["a", cause("a")]]);
    const both = firstOrderChance(
      [
        { metric, need: need(undefined, 1) },
        { metric, need: need(undefined, 1) },
      ],
      causes,
    );
    // 2000 samples of a Latin hypercube in one dimension
    expect(Math.abs(both - normalChanceBelow(1))).toBeLessThan(2e-3);
  });
  it("multiplies independent causes", () => {
    const causes = new Map([
      ["a", cause("a")],
      ["b", cause("b")],
    ]);
    const limits = ["a", "b"].map((name) => ({ metric: { value: 0, shifts: new Map([[name, 1]]) }, need: need(undefined, 1) }));
    expect(Math.abs(firstOrderChance(limits, causes) - normalChanceBelow(1) ** 2)).toBeLessThan(0.02);
  });
  it("knows that a uniform cause has hard ends", () => {
    const causes = new Map([["a", cause("a", "uniform")]]);
    const metric = { value: 0, shifts: new Map([["a", 1]]) };
    expect(firstOrderChance([{ metric, need: need(undefined, 1.74) }], causes)).toBe(1);
    expect(Math.abs(firstOrderChance([{ metric, need: need(undefined, 0) }], causes) - 0.5)).toBeLessThan(2e-3);
  });
  it("is 0 or 1 without doubt, and 0 for a value that does not exist", () => {
    const exact = { value: 5, shifts: new Map<string, number>() };
    expect(firstOrderChance([{ metric: exact, need: need(4) }], new Map())).toBe(1);
    expect(firstOrderChance([{ metric: exact, need: need(6) }], new Map())).toBe(0);
    expect(firstOrderChance([{ metric: { ...exact, value: Number.NaN }, need: need(4) }], new Map())).toBe(0);
    expect(meets(Number.NaN, need())).toBe(false);
  });
});

describe("words and comparison", () => {
  it.each([
    [0.95, "holds"],
    [0.949, "likely"],
    [0.75, "likely"],
    [0.5, "open"],
    [0.25, "open"],
    [0.1, "doubtful"],
    [0.049, "fails"],
  ] as const)("%f is %s", (chance, word) => {
    expect(wordForChance(chance)).toBe(word);
  });
  it("says when sampling contradicts the linear estimate, and only then", () => {
    expect(chanceError(0.5, 400)).toBeCloseTo(0.025, 3);
    expect(disagrees(0.5, { chance: 0.56, n: 400 })).toBe(false);
    expect(disagrees(0.5, { chance: 0.7, n: 400 })).toBe(true);
  });
});

describe("marginOf()", () => {
  it("is 0 on the fence, positive where it holds, a share of the limit", () => {
    expect(marginOf(11, need(10), { found: 11 })).toBeCloseTo(0.1, 12);
    expect(marginOf(80, need(undefined, 100), { found: 80 })).toBeCloseTo(0.2, 12);
    expect(marginOf(110, need(undefined, 100), { found: 110 })).toBeCloseTo(-0.1, 12);
  });
  it("is 1 in the middle of a two-sided limit and 0 at either end", () => {
    expect(marginOf(10, need(9, 11), { found: 10 })).toBe(1);
    expect(marginOf(9, need(9, 11), { found: 9 })).toBe(0);
    expect(marginOf(12, need(9, 11), { found: 12 })).toBe(-1);
  });
  it("takes the size of what was found where the limit is zero", () => {
    expect(marginOf(-2, need(undefined, 0), { found: -2 })).toBe(1);
  });
});
