import { describe, expect, it } from "vitest";
import type { Need } from "../brief/need.ts";
import { type CauseKind, JointChance } from "./joint-chance.ts";

const atLeast = (low: number): Need => ({ low, high: undefined, target: undefined, ofSize: false });
const normal = (name: string): CauseKind => ({ name, distribution: "normal" });

describe("the chance that all limits hold", () => {
  const n = 2048;
  // scrambled points: the error is far below 1 / sqrt(n) = 0.022, and each chance a whole number of 1 / n
  const allowed = 3e-3;
  it.each([-0.9, -0.5, 0, 0.3, 0.8, 0.99])(
    "of two normal metrics with correlation %d is the quadrant's: 1/4 + asin(r) / 2 pi (Sheppard 1899)",
    (r) => {
      const joint = new JointChance([normal("one"), normal("other")], n);
      const shifts = Float64Array.of(1, 0, r, Math.sqrt(1 - r * r));
      const chance = joint.of([0, 0], shifts, [atLeast(0), atLeast(0)]);
      expect(Math.abs(chance - (1 / 4 + Math.asin(r) / (2 * Math.PI)))).toBeLessThan(allowed);
    },
  );
  it("of three metrics is the octant's: 1/8 + (asin r12 + asin r13 + asin r23) / 4 pi (David 1953; FROM MEMORY)", () => {
    const [r12, r13, r23] = [0.6, -0.2, 0.3];
    // lower triangle of the correlations' square root
    const a = Math.sqrt(1 - r12 ** 2);
    const b = (r23 - r12 * r13) / a;
    const shifts = Float64Array.of(1, 0, 0, r12, a, 0, r13, b, Math.sqrt(1 - r13 ** 2 - b ** 2));
    const joint = new JointChance([normal("one"), normal("two"), normal("three")], n);
    const chance = joint.of([0, 0, 0], shifts, [atLeast(0), atLeast(0), atLeast(0)]);
    const wanted = 1 / 8 + (Math.asin(r12) + Math.asin(r13) + Math.asin(r23)) / (4 * Math.PI);
    expect(Math.abs(chance - wanted)).toBeLessThan(allowed);
  });
  it("of a uniform cause is its share of the range, which is sqrt(12) standard deviations wide", () => {
    const joint = new JointChance([{ name: "offset", distribution: "uniform" }], n);
    expect(Math.abs(joint.of([0.5], Float64Array.of(1), [atLeast(0)]) - (0.5 + 0.5 / Math.sqrt(12)))).toBeLessThan(allowed);
  });
  it("of ten independent metrics is the product", () => {
    const causes = Array.from({ length: 10 }, (_, k) => normal(`cause ${k}`));
    const joint = new JointChance(causes, n);
    const shifts = Float64Array.from({ length: 100 }, (_, k) => (k % 11 === 0 ? 1 : 0));
    // each is below 1.2815515655 standard deviations in 9 of 10 (table of the normal distribution)
    const needs = causes.map((): Need => ({ low: undefined, high: 1.2815515655, target: undefined, ofSize: false }));
    // ten dimensions fill worse than two: three standard errors of plain chance are 0.03
    expect(Math.abs(joint.of(new Float64Array(10), shifts, needs) - 0.9 ** 10)).toBeLessThan(0.015);
  });
  it("is nought where a value does not exist, and one where no doubt can reach a limit", () => {
    const joint = new JointChance([normal("one")], 64);
    expect(joint.of([Number.NaN], Float64Array.of(0), [atLeast(0)])).toBe(0);
    expect(joint.of([10], Float64Array.of(1), [atLeast(0)])).toBe(1);
    expect(joint.of([-10], Float64Array.of(1), [atLeast(0)])).toBe(0);
  });
  it("takes a Latin hypercube where there are more causes than Sobol dimensions", () => {
    const causes = Array.from({ length: 40 }, (_, k) => normal(`cause ${k}`));
    const joint = new JointChance(causes, n);
    // the sum of 40 equal shifts: below one standard deviation in 0.8413447461 (table of the normal distribution)
    const shifts = new Float64Array(40).fill(1 / Math.sqrt(40));
    expect(Math.abs(joint.of([1], shifts, [atLeast(0)]) - 0.8413447461)).toBeLessThan(0.015);
  });
});
