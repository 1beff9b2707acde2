import { describe, expect, it } from "vitest";
import { closedFormChip } from "./closed-form.fixture.ts";
import { sizeChoicesInSteps } from "./size-choices.ts";

/** Stiffness a² b = 12 N/m, asked to be at most 25 N/m; c counts for nothing, d is a sum. */
const chip = closedFormChip({
  parameters: ["c: drawn 40", "b: drawn 3", "a: drawn 2", "d: 2 * b"],
  x: "a * a * b",
  y: "100",
  needs: [["x", "at most 25 N/m"]],
});

function choices(ranked: boolean) {
  const steps = sizeChoicesInSteps(chip, {
    side: "drawn",
    rankedBy: ranked ? (word) => word.startsWith("stiffness") : undefined,
  });
  const told: number[] = [];
  for (;;) {
    const step = steps.next();
    if (step.done === true) return { found: step.value, told };
    told.push(step.value.done / step.value.total);
  }
}

describe("sizes that a study can be about", () => {
  const { found, told } = choices(true);
  it("come with those first that the limits feel most, by the logarithmic derivative of the margin", () => {
    expect(found.slice(0, 2).map(({ name }) => name)).toEqual(["a", "b"]);
    // margin 1 - a² b / 25: a hundredth more of a takes 2 x 12 / 25 hundredths off it; one-sided differences of 1e-4 are off by half of that
    expect(found[0]!.felt).toBeCloseTo((0.01 * 2 * 12) / 25, 5);
    expect(found[1]!.felt).toBeCloseTo((0.01 * 12) / 25, 6);
    expect(found.find(({ name }) => name === "c")!.felt).toBeLessThan(1e-12);
  });
  it("hold a number of their own, with a range about it", () => {
    expect(found.map(({ name }) => name)).not.toContain("d");
    const c = found.find(({ name }) => name === "c")!;
    expect([c.from, c.to, c.handle.digits, c.isDrive]).toEqual(["24", "56", "40", false]);
    const width = found.find(({ name }) => name === "width of mass")!;
    expect([width.from, width.to, width.handle.unit]).toEqual(["60 um", "140 um", "um"]);
    expect(width.perUnit * 100 + width.zero).toBeCloseTo(1e-4, 15);
  });
  it("stand in the order of the text where nothing is worked out", () => {
    const plain = choices(false).found;
    expect(plain.slice(0, 3).map(({ name }) => name)).toEqual(["c", "b", "a"]);
    expect(plain.every(({ felt }) => Number.isNaN(felt))).toBe(true);
  });
  it("tell how far the ranking is", () => {
    expect(told.length).toBe(found.length);
    expect(told).toEqual([...told].sort((a, b) => a - b));
  });
});
