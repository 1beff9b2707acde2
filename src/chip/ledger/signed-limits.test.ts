/**
 * Limits on metrics that have a sign, through the text of a user. A bar of constants carries exactly the current that its case says, and
 * shows its voltage by Ohm's law, so that every wanted number is plain arithmetic.
 */
import { describe, expect, it } from "vitest";
import { normalChanceBelow } from "#base";
import { openChip } from "../predict/chip.ts";
import { bestInSteps } from "../size/best-design.ts";
import { regionInSteps } from "../size/region-steps.ts";
import { tradesInSteps } from "../size/trades.ts";
import { buildLedger } from "./ledger.ts";
import { limitWords, railRows } from "./rail-rows.ts";

interface Signed {
  readonly need: string;
  readonly of?: string;
  readonly current?: string;
  readonly parameters?: readonly string[];
}

const chipOf = ({ need, of = "supply current", current = "-27 mA", parameters = ["a: drawn 1", "b: drawn 1"] }: Signed) =>
  openChip(
    `chip: signed
version: 1
brief: [{ name: limit, of: ${of}, at: on, need: ${need}${of === "supply current" ? "" : ", where: bar"} }]
surroundings: { gas: vacuum, temperature: 300 K }
materials:
  plain: { conductivity: 100 W/(m K), resistivity: 1e-4 ohm m, expansion: 3 ppm/K, young modulus: 160 GPa }
process: { flow: idealised, silicon thickness: 40 um, silicon: { material: plain } }
parameters:
${parameters.map((line) => `  ${line}`).join("\n")}
devices:
  one: { is: straight bar, length: 100 um, width: 10 um, anchors: ideal, heat loss: none }
drive: { cases: { on: { current: ${current} } } }
`,
    { file: "chip.yaml" },
  );

const ledgerOf = (about: Signed, samples = 0) => buildLedger(chipOf(about), { samples, seed: 1, doubtAsDrawn: true });

function finish<Result>(steps: Generator<unknown, Result, void>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

describe("a limit on -27 mA", () => {
  it.each([
    ["at most 9 mA", "fails", -2],
    ["at most 30 mA", "holds", 0.1],
    ["at least 9 mA", "holds", 2],
    ["at least 30 mA", "fails", -0.1],
    ["27 mA within 2 mA", "holds", 1],
    ["between 20 mA and 30 mA", "holds", 0.6],
    // with a sign of its own the limit compares as numbers do
    ["at most +9 mA", "holds", 4],
    ["at most -9 mA", "holds", 2],
    ["at least -30 mA", "holds", 0.1],
    ["between -30 mA and -20 mA", "holds", 0.6],
    ["between +20 mA and 30 mA", "fails", -9.4],
    // none in this direction
    ["at most 0 mA", "holds", 1],
  ])("%s: %s, margin %d", (need, word, margin) => {
    for (const of of ["supply current", "current through"]) {
      const [row] = ledgerOf({ need, of }).rows;
      expect(row!.built!.word).toBe(word);
      expect(row!.limits[0]!.built!.margin).toBeCloseTo(margin, 9);
      expect(row!.limits[0]!.built!.estimate.value).toBeCloseTo(-0.027, 12);
    }
  });

  it("is said to be about the size where the value is below zero, and only there", () => {
    expect(railRows(ledgerOf({ need: "at most 9 mA" }))[0]).toMatchObject({ limit: "at most 9 mA in size", value: "−27.00 mA" });
    expect(limitWords(ledgerOf({ need: "at most 9 mA", current: "27 mA" }).rows[0]!.limits[0]!)).toBe("at most 9 mA");
    expect(limitWords(ledgerOf({ need: "at most +9 mA" }).rows[0]!.limits[0]!)).toBe("at most +9 mA");
  });
});

describe("the chance of a limit on a size", () => {
  // I = 2 ± 5 mA, normal: |I| is at most 9 mA, and at least 3 mA, by the normal integral on both sides of zero
  const current = "2 mA ± 5 mA";
  const below = (limit: number): number => normalChanceBelow((limit - 2) / 5);
  it.each([
    ["at most 9 mA", below(9) - below(-9)],
    ["at least 3 mA", 1 - below(3) + below(-3)],
    ["between 3 mA and 9 mA", below(9) - below(3) + below(-3) - below(-9)],
    ["at most +9 mA", below(9)],
  ])("%s is %d, to first order and counted", (need, wanted) => {
    const { firstOrder, sampled } = ledgerOf({ need, current }, 1000).rows[0]!.built!;
    // table of the normal integral, 1e-7
    expect(firstOrder).toBeCloseTo(wanted, 6);
    // a Latin hypercube in one dimension has one point in each thousandth: at most one point is wrong at each of four fences
    expect(Math.abs(sampled! - wanted)).toBeLessThan(5e-3);
  });
});

describe("sizing under a limit on a size", () => {
  const form: Signed = {
    need: "between 3 mA and 9 mA",
    current: "(a + b) * 1 mA",
    parameters: ["a: drawn -5", "b: drawn 0 ± 1"],
  };

  it("has edges on both sides of zero, the ground between them split in two", async () => {
    const steps = regionInSteps(chipOf(form), {
      x: { name: "a", from: "-10", to: "10" },
      y: { name: "b", from: "-10", to: "10" },
      side: "drawn",
    });
    let step = await steps.next();
    while (step.done !== true) step = await steps.next();
    const region = step.value;
    expect(region.limits[0]!.edges.map(({ fence, kind }) => [Number((1e3 * fence).toFixed(6)), kind])).toEqual([
      [3, "at least"],
      [9, "at most"],
      [-9, "at least"],
      [-3, "at most"],
    ]);
    for (const { fence, line } of region.limits[0]!.edges)
      for (let k = 0; k < line.length; k += 2) expect(line[k]! + line[k + 1]!).toBeCloseTo(1e3 * fence, 6);
    const n = region.points;
    for (let k = 0; k < n * n; k++) {
      const sum = Math.abs(-20 + (20 * (k % n)) / (n - 1) + (20 * Math.floor(k / n)) / (n - 1));
      if (Math.abs(sum - 3) > 1e-6 && Math.abs(sum - 9) > 1e-6) expect(region.free[k]).toBe(sum > 3 && sum < 9 ? 1 : 0);
    }
  });

  it("finds the middle on the side where it starts, three standard deviations from either end", () => {
    const best = finish(bestInSteps(chipOf(form), { vary: [{ name: "a", from: "-10", to: "-1" }], side: "drawn", surety: 0 }));
    expect(best.x[0]).toBeCloseTo(-6, 3);
    expect(best.limits[0]!.surety).toBeCloseTo(3, 3);
    // 2 Phi(3) - 1, counted in 2048 points
    expect(best.chance).toBeCloseTo(0.9973, 3);
  });

  it("would relax what is broken by its size", () => {
    const broken: Signed = { ...form, need: "at most 4 mA" };
    const [relaxed] = finish(tradesInSteps(chipOf(broken), { side: "drawn", count: 1 })).relaxations;
    // 5 mA of size, and 1.6449 standard deviations of 1 mA further, where it holds in 95 of 100
    expect(relaxed).toMatchObject({ kind: "at most", from: 4e-3 });
    expect(relaxed!.to).toBeCloseTo(6.6449e-3, 7);
    expect(relaxed!.chance).toBeCloseTo(0.95, 3);
  });
});

describe("a limit on a metric with a direction", () => {
  // the bank pushes up, so that the lower tip of a mirrored one travels down: here the output looks the other way
  const text = (need: string): string => `chip: down
version: 1
brief: [{ name: travel, of: motion along y, where: tip, at: on, need: ${need} }]
surroundings: { gas: vacuum, temperature: 300 K }
materials:
  plain: { conductivity: 100 W/(m K), resistivity: 1e-4 ohm m, expansion: 3 ppm/K, young modulus: 160 GPa }
process: { flow: idealised, silicon thickness: 40 um, silicon: { material: plain } }
devices:
  one:
    is: composition
    points: { top: { x: 0 um, y: 0 um }, tip: { from: top, y: -1 mm } }
    parts:
      hold: { is: support, at: top, holds: [x, y, turn, z] }
      bar: { is: beam, from: top, to: tip, width: 10 um }
    output: { point: tip, direction: 90 deg }
    heat loss: none
drive: { cases: { on: { uniform strain: 1e-3 } } }
`;
  it.each([
    ["at most 0.5 um", "fails"],
    ["at most 1.5 um", "holds"],
    ["at least 0.5 um", "fails"],
    ["at least -1.5 um", "holds"],
    ["at most +0.5 um", "holds"],
    ["-1 um within 0.1 um", "holds"],
    ["1 um within 0.1 um", "fails"],
  ])("a tip that goes 1 um down, %s: %s", (need, word) => {
    const ledger = buildLedger(openChip(text(need), { file: "chip.yaml" }), { samples: 0, seed: 1, doubtAsDrawn: false });
    expect(ledger.rows[0]!.limits[0]!.built!.estimate.value).toBeCloseTo(-1e-6, 12);
    expect(ledger.rows[0]!.built!.word).toBe(word);
  });
});
