import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { normalChanceBelow } from "#base";
import { openChip } from "../predict/chip.ts";
import { closedFormChip } from "./closed-form.fixture.ts";
import { sizeLimits } from "./design-space.ts";
import { sensibleStep, type TradeOptions, tradesInSteps } from "./trades.ts";

function trades(chip: Parameters<typeof tradesInSteps>[0], options: Partial<TradeOptions> = {}) {
  const steps = tradesInSteps(chip, { side: "built", count: 6, ...options });
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

const read = (example: string) =>
  openChip(readFileSync(new URL(`../../../examples/${example}/chip.yaml`, import.meta.url), "utf8"), { file: "chip.yaml" });

it.each([
  [8, 0.5],
  [500, 20],
  [2.5, 0.1],
  [-3, 0.2],
  [0.007, 0.0005],
])("a twentieth of %d, rounded, is %d", (number, step) => {
  expect(sensibleStep(number)).toBe(step);
});

describe("trades of one bent beam", () => {
  const chip = read("01-one-bent-beam");
  const found = trades(chip);
  const limits = sizeLimits(chip);
  const valueAt = (name: string, value: string, limit: number): number =>
    chip.with([{ name, value }]).side("built").valueOf(limits[limit]!.request).value;
  it("change what the program predicts with the other size, solved from cold", () => {
    expect(found.trades.length).toBeGreaterThan(3);
    expect(found.trades.flatMap(({ changes }) => changes).length).toBeGreaterThan(3);
    for (const { key, to, changes, dimension } of found.trades) {
      const unit = dimension[5] === 1 ? "rad" : "m";
      expect(dimension.filter((exponent) => exponent !== 0)).toEqual([1]);
      for (const { limit, before, after } of changes) {
        // both are solved to 1e-9 or so
        expect(Math.abs(after / valueAt(key, `${to} ${unit}`, limit) - 1)).toBeLessThan(1e-6);
        expect(before).toBe(found.limits[limit]!.value);
      }
    }
  });
  it("come best first, in steps that are round in the unit of the text", () => {
    const chances = found.trades.map(({ chance }) => chance);
    expect(chances).toEqual([...chances].sort((a, b) => b - a));
    expect(chances[0]).toBeGreaterThan(found.chance);
    for (const { key, from, to } of trades(chip, { names: ["legs tilt", "legs length", "leg width"], count: 6 }).trades) {
      const perUnit = key.endsWith("tilt") ? Math.PI / 180 : 1e-6;
      const step = Math.abs(to - from) / perUnit;
      expect(["1", "2", "5"]).toContain(step.toExponential(6)[0]);
      expect(Number(step.toPrecision(1))).toBeCloseTo(step, 9);
    }
  });
  it("rest on sensitivities that are the central differences of full solutions", () => {
    for (const name of ["legs length", "leg width", "legs tilt"]) {
      const key = { "legs length": "devices.pusher.legs.length", "leg width": "parameters.leg width" }[name];
      const { value, slopes, dimension } = found.sensitivities.find((one) => one.key === (key ?? "devices.pusher.legs.tilt"))!;
      const unit = dimension[5] === 1 ? "rad" : "m";
      const h = 1e-4 * value;
      slopes.forEach((slope, i) => {
        const wanted = (valueAt(name, `${value + h} ${unit}`, i) - valueAt(name, `${value - h} ${unit}`, i)) / (2 * h);
        // forward by 5e-6 of the value to first order, against central by 1e-4: what curvature leaves
        expect(Math.abs(slope - wanted)).toBeLessThan(2e-4 * Math.abs(wanted) + 1e-9 * Math.abs(found.limits[i]!.value / value));
      });
    }
  });
  it("are plain data", () => {
    expect(structuredClone(found)).toEqual(found);
  });
});

describe("trades of a chip in closed form", () => {
  // 10 a is 18 with a standard deviation of 2 in a alone: at most 20 holds one standard deviation off
  const chip = closedFormChip({
    parameters: ["a: drawn 1.8 ± 0.2", "b: drawn 1", "c: drawn 3"],
    x: "10 * a",
    y: "100 + b",
    needs: [["x", "at most 20 N/m"]],
  });
  const found = trades(chip, { side: "drawn" });
  it("have the chance of the normal distribution", () => {
    expect(Math.abs(found.chance - normalChanceBelow(1))).toBeLessThan(2e-3);
    const [best] = found.trades;
    expect(best).toMatchObject({ name: "a", key: "parameters.a", from: 1.8 });
    expect(best!.to).toBeCloseTo(1.7, 12);
    expect(Math.abs(best!.chance - normalChanceBelow(1.5))).toBeLessThan(2e-3);
    expect(best!.changes[0]).toMatchObject({ limit: 0 });
    expect(best!.changes[0]!.marginAfter).toBeCloseTo(0.15, 9);
  });
  it("leave out what no limit feels", () => {
    expect(found.sensitivities.map(({ name }) => name)).toEqual(["a"]);
    expect(found.trades.every(({ name }) => name === "a")).toBe(true);
  });
  it("would ask for less, to where the limit holds in 95 of 100", () => {
    expect(found.relaxations).toHaveLength(1);
    expect(found.relaxations[0]).toMatchObject({ kind: "at most", from: 20 });
    // 1.6448536270 standard deviations (table of the normal distribution)
    expect(found.relaxations[0]!.to).toBeCloseTo(18 + 2 * 1.644853627, 6);
    expect(Math.abs(found.relaxations[0]!.chance - 0.95)).toBeLessThan(2e-3);
  });
  it.each([
    [["d"], 'Cannot trade "d": nothing is called "d"'],
    [["coil x"], "which is worked out. Name what it is worked out from."],
  ])("refuses %j", (names, sentence) => {
    expect(() => trades(chip, { side: "drawn", names })).toThrow(sentence);
  });
});
