import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { buildLedger, openChip } from "#chip";
import { type LiveAnswer, LiveChip } from "./live-chip.ts";
import { lastOf } from "./pieces.fixture.ts";
import type { LiveQuestion } from "./question.ts";

const file = "examples/02-leafgate/chip.yaml";
const text = readFileSync(file, "utf8");
const question: LiveQuestion = { held: [], device: "shutter", caseName: "hold", exaggeration: 1 };
const key = "parameters.leg width";
const holding = (digits: string): LiveQuestion => ({ ...question, held: [{ key, digits }] });

describe("a chip under the pointer", { timeout: 120_000 }, () => {
  let live: LiveChip;
  let full: LiveAnswer;
  beforeAll(() => {
    live = LiveChip.open(text, file);
    full = lastOf(live.later(question));
  }, 120_000);

  test("says after all pieces what the ledger says from a cold start", () => {
    const cold = buildLedger(openChip(text, { file }), { samples: 0, seed: 1, doubtAsDrawn: false });
    const rows = cold.rows.flatMap((row) => row.limits.map((limit) => ({ row, limit })));
    rows.forEach(({ row, limit }, i) => {
      const rail = full.rails[i]!;
      expect(rail.of).toBe(row.requirement.name);
      // warm and cold starts of the same equations meet within their stopping tolerances
      if (limit.built !== undefined && Number.isFinite(limit.built.margin) && rail.twoSided !== true)
        expect(Math.abs(rail.built!.margin - limit.built.margin)).toBeLessThan(1e-6);
      if (row.built === undefined) expect(rail.chanceNumber).toBeUndefined();
      else expect(rail.chanceNumber).toBeCloseTo(row.built.shown, 4);
    });
  });

  test("the frame of the same numbers says the same, and marks as stale only what cannot follow a pointer", () => {
    const frame = lastOf(live.frame(question));
    expect(frame.answers.map(({ text: words }) => words)).toEqual(full.answers.map(({ text: words }) => words));
    const stale = frame.rails.filter(({ isStale }) => isStale).map(({ metric }) => metric);
    expect(stale).toContain("time to open");
    expect(stale).not.toContain("steady travel");
  });

  test("nothing is said of a requirement while one of its limits has never been computed", () => {
    const first = lastOf(LiveChip.open(text, file).frame(question));
    const currents = first.rails.filter(({ of }) => of === "current");
    expect(currents.map(({ caseName }) => caseName)).toEqual(["hold", "exposure"]);
    expect(currents.map(({ verdict, chance }) => [verdict, chance])).toEqual([
      ["not yet computed", ""],
      ["not yet computed", ""],
    ]);
    expect(currents[0]!.value).not.toBe("");
    expect(full.rails.filter(({ of }) => of === "current").every(({ verdict }) => verdict === "holds")).toBe(true);
  });

  test("its first piece says the same of the case in view, and of the others what they said before", () => {
    const first = live.frame(holding("6.4")).next();
    if (first.done === true) throw new Error("a first piece expected");
    const whole = lastOf(live.frame(holding("6.4")));
    expect(first.value.answer!.answers).toEqual(whole.answers);
    const other = whole.rails.findIndex(
      ({ metric, caseName }) => metric === "hottest silicon temperature" && caseName === "kick stuck on",
    );
    expect(first.value.answer!.rails[other]!.value).toBe(full.rails[other]!.value);
    expect(whole.rails[other]!.value).not.toBe(full.rails[other]!.value);
  });

  test("a held number answers as the text with that number would, and the text stays", () => {
    const held = lastOf(live.frame(holding("6.5")));
    const written = lastOf(LiveChip.open(text.replace("leg width: 6 um", "leg width: 6.5 um"), file).frame(question));
    held.answers.forEach(({ value }, i) => {
      expect(Math.abs(value / written.answers[i]!.value - 1)).toBeLessThan(1e-8);
    });
    expect(live.chip.description.parsed.text).toBe(text);
    expect(lastOf(live.frame(question)).answers[0]!.text).toBe(full.answers[0]!.text);
  });

  test("what does not fit is refused; what is not in the text cannot be held", () => {
    expect(() => lastOf(live.frame(holding("0")))).toThrow(/leg width|width/);
    expect(() => lastOf(live.frame({ ...question, held: [{ key: "parameters.nothing", digits: "1" }] }))).toThrow(
      'Cannot hold "parameters.nothing": the text has no such quantity',
    );
  });
});
