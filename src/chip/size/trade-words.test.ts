import { describe, expect, it } from "vitest";
import { closedFormChip } from "./closed-form.fixture.ts";
import { relaxationWords, sensitivityTable, tradeWords } from "./trade-words.ts";
import { tradesInSteps } from "./trades.ts";

/** Stiffness a b = 24 N/m asked to be at most 20 N/m, and a² = 16 N/m to be at least 12 N/m. */
const chip = closedFormChip({
  parameters: ["a: drawn 4", "b: drawn 6 ± 0.3"],
  x: "a * b",
  y: "a * a",
  needs: [
    ["x", "at most 20 N/m"],
    ["y", "at least 12 N/m"],
  ],
});
const steps = tradesInSteps(chip, { side: "drawn", count: 4 });
let step = steps.next();
while (step.done !== true) step = steps.next();
const found = step.value;

describe("trades in words", () => {
  it("say what a step gives and what it costs, with margins", () => {
    const less = found.trades.find(({ name, to }) => name === "a" && to < 4)!;
    // a step of 0.2: a b = 22.8, margins (20 - 24) / 20 and (20 - 22.8) / 20; a² = 14.44, margins (16 - 12) / 12 and (14.44 - 12) / 12
    expect(tradeWords(found, less)).toEqual({
      step: "a 4.000 → 3.800",
      gives: ["stiffness along x at cold 24.00 N/m → 22.80 N/m (margin -20 → -14 %)"],
      costs: ["stiffness along y at cold 16.00 N/m → 14.44 N/m (margin 33 → 20 %)"],
    });
  });
  it("say what a limit would have to ask instead", () => {
    // doubt of b is 0.3, so that of a b is 1.2: in 95 of 100 it is at most 24 + 1.645 x 1.2
    expect(relaxationWords(found, found.relaxations[0]!)).toBe(
      "limit 1, stiffness along x at cold at most 25.97 N/m, not 20.00 N/m",
    );
  });
  it("put how metrics answer into a table: powers are told as such", () => {
    const [head, ...rows] = sensitivityTable(found).trim().split("\n");
    expect(head).toBe("size,value,unit,stiffness along x at cold (% per %),stiffness along y at cold (% per %)");
    const cells = rows.map((row) => row.split(","));
    const [a, b] = ["a", "b"].map((name) =>
      cells
        .find(([size]) => size === name)!
        .slice(3)
        .map(Number),
    );
    // one-sided differences of 1e-4 of a step
    for (const [k, power] of [1, 2].entries()) expect(a![k]).toBeCloseTo(power, 4);
    for (const [k, power] of [1, 0].entries()) expect(b![k]).toBeCloseTo(power, 4);
  });
});
