import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meets } from "../ledger/chance.ts";
import { metrics } from "../metrics/vocabulary.table.ts";
import { openChip } from "../predict/chip.ts";
import { contradictionsOf, possible, stretchesOf } from "./contradictions.ts";

const beam = readFileSync("examples/01-one-bent-beam/chip.yaml", "utf8");
const withBrief = (...entries: string[]): string =>
  beam.replace(/brief:\n(?: {2}.*\n)+/, `brief:\n${entries.map((entry) => `  - { ${entry} }\n`).join("")}`);
const told = (...entries: string[]): readonly string[] =>
  contradictionsOf(openChip(withBrief(...entries), { file: "chip.yaml" })).map(({ code, message }) => `${code}: ${message}`);
const travel = "of: steady travel, at: hold";

describe("contradictions of a brief", () => {
  test("limits that exclude each other name both rows", () => {
    expect(told(`name: far, need: at least 10 um, ${travel}`, `name: near, need: at most 8 um, ${travel}`)).toEqual([
      'limits-exclude-each-other: "far" and "near" cannot both hold: "at least 10 um" and "at most 8 um" for steady travel at hold. Change one of them.',
    ]);
    expect(told(`name: both, limits: [{ need: 3 um within 1 um, ${travel} }, { need: at least 5 um, ${travel} }]`)[0]).toContain(
      'Two limits of "both" cannot both hold',
    );
  });
  test("limits that meet in one value, and limits said twice", () => {
    expect(told(`name: a, need: at least 8 um, ${travel}`, `name: b, need: at most 8 um, ${travel}`)[0]).toContain(
      "leave one value alone",
    );
    expect(told(`name: a, need: at least 8 um, ${travel}`, `name: b, need: at least leg width, ${travel}`)[0]).toContain(
      'limit-said-twice: "a" and "b" say the same',
    );
  });
  test("limits outside what a metric can be", () => {
    expect(told("name: a, need: at most -1 %, of: chance of a broken root, at: hold")).toEqual([
      'limit-out-of-reach: "at most -1 %" can never hold: chance of a broken root lies between 0 and 1. Change the limit.',
    ]);
    expect(told("name: a, need: at least 0 K, of: hottest silicon temperature, at: hold")[0]).toContain("limit-without-effect");
  });
  test("a size holds on both sides of zero; other cases and other values stand apart", () => {
    expect(told(`name: a, need: at most 8 um, ${travel}`, `name: b, need: at least -9 um, ${travel}`)).toEqual([]);
    expect(
      told(
        "name: a, need: at most 5 V, of: pad voltage for travel, for: 1 um",
        "name: b, need: at least 6 V, of: pad voltage for travel, for: 2 um",
      ),
    ).toEqual([]);
  });
  test("no example of ours contradicts itself", () => {
    for (const name of ["01-one-bent-beam", "02-leafgate"])
      expect(contradictionsOf(openChip(readFileSync(`examples/${name}/chip.yaml`, "utf8"), { file: "chip.yaml" }))).toEqual([]);
  });
});

test("a value lies in the stretches of a limit exactly where the ledger says that it meets it", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 9, noNaN: true }),
      fc.double({ min: 0.1, max: 9, noNaN: true }),
      fc.constantFrom("low", "high", "both"),
      fc.boolean(),
      fc.double({ min: -20, max: 20, noNaN: true }),
      (low, width, ends, ofSize, value) => {
        const need = {
          low: ends === "high" ? undefined : low,
          high: ends === "low" ? undefined : low + width,
          target: undefined,
          ofSize,
        };
        expect(stretchesOf(need).some((stretch) => value >= stretch.low && value <= stretch.high)).toBe(meets(value, need));
      },
    ),
    { seed: 7 },
  );
});

test("a metric whose sign means something may be below zero", () => {
  for (const metric of metrics.filter(({ sign }) => sign !== undefined))
    expect(possible(metric).low).toBe(Number.NEGATIVE_INFINITY);
});
