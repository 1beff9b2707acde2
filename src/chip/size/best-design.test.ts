import { describe, expect, it } from "vitest";
import { metricRequest } from "../predict/metric-request.ts";
import { type Aim, type BestOptions, bestInSteps, frontInSteps } from "./best-design.ts";
import { type ClosedForm, closedFormChip } from "./closed-form.fixture.ts";
import type { StudyStep } from "./study-step.ts";

function finish<Result>(steps: Generator<StudyStep, Result, void>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

const box = (low: string, high: string) => [
  { name: "a", from: low, to: high },
  { name: "b", from: low, to: high },
];

function aimAt(form: ClosedForm, axis: "x" | "y", way: Aim["way"]): Aim {
  return { way, request: metricRequest(closedFormChip(form), `stiffness along ${axis}`, { caseName: "cold", where: "middle" }) };
}

describe("the least of a metric with its limits held", () => {
  // Hock & Schittkowski, Test Examples for Nonlinear Programming Codes (1981), problem 12 (FROM MEMORY): -30 at (2, 3);
  // a stiffness is above zero, so that 100 is added
  const problem12: ClosedForm = {
    parameters: ["a: drawn 0.5", "b: drawn 0.5"],
    x: "4 * a^2 + b^2",
    y: "100 + 0.5 * a^2 + b^2 - a * b - 7 * a - 7 * b",
    needs: [["x", "at most 25 N/m"]],
  };
  const options = { vary: box("0", "5"), side: "drawn", surety: 0 } as const satisfies BestOptions;
  it("is that of Hock & Schittkowski 12, whose formulas stand in the text", () => {
    const found = finish(bestInSteps(closedFormChip(problem12), { ...options, aim: aimAt(problem12, "y", "least") }));
    // slopes are differences over 1e-5 of the range, and the search ends at 1e-4 of it, square in the aim
    expect(found.aim).toBeCloseTo(70, 2);
    expect(found.x[0]).toBeCloseTo(2, 2);
    expect(found.x[1]).toBeCloseTo(3, 2);
    expect(found.converged).toBe(true);
    expect(structuredClone(found)).toEqual(found);
  });
  it("keeps the chosen distance to a doubtful limit", () => {
    // 10 a has a standard deviation of 1: the most of a that is 2 standard deviations below 40 is 3.8
    const form: ClosedForm = {
      parameters: ["a: drawn 1 ± 0.1", "b: drawn 1"],
      x: "10 * a",
      y: "100 + a - b",
      needs: [["x", "at most 40 N/m"]],
    };
    const aim = aimAt(form, "y", "most");
    const found = finish(bestInSteps(closedFormChip(form), { vary: box("0.5", "6"), side: "drawn", surety: 2, aim }));
    expect(found.x[0]).toBeCloseTo(3.8, 2);
    expect(found.x[1]).toBeCloseTo(0.5, 3);
    expect(found.limits[0]!.surety).toBeCloseTo(2, 1);
    // normal table: 0.97725 below two standard deviations
    expect(Math.abs(found.chance - 0.97725)).toBeLessThan(3e-3);
  });
  it("says that it did not arrive where no design holds the limits", () => {
    const form = { ...problem12, needs: [["x", "at most 0 N/m"]] } as const satisfies ClosedForm;
    const found = finish(bestInSteps(closedFormChip(form), { ...options, vary: box("1", "5"), aim: aimAt(form, "y", "least") }));
    expect(found.converged).toBe(false);
    expect(found.limits[0]!.surety).toBeLessThan(0);
  });
});

describe("the surest design", () => {
  it("is as many standard deviations from one limit as from the other", () => {
    // (25 - 10 a) / 1 = (100 + 20 a - 130) / 2 at a = 2, five standard deviations from either
    const form: ClosedForm = {
      parameters: ["a: drawn 1.2 ± 0.1", "b: drawn 1"],
      x: "10 * a",
      y: "100 + 20 * a",
      needs: [
        ["x", "at most 25 N/m"],
        ["y", "at least 130 N/m"],
      ],
    };
    const found = finish(bestInSteps(closedFormChip(form), { vary: [box("0.5", "4")[0]!], side: "drawn", surety: 0 }));
    expect(found.x[0]).toBeCloseTo(2, 3);
    for (const { surety } of found.limits) expect(surety).toBeCloseTo(5, 2);
    expect(found.chance).toBe(1);
    // three standard deviations short of one limit: 0.00135 (table of the normal distribution), in steps of 1/2048
    expect(found.chanceBefore).toBeCloseTo(0.00135, 3);
  });
  it("is found from the middle where the present design has no answer", () => {
    const form: ClosedForm = {
      parameters: ["a: drawn 1 ± 0.05", "b: drawn 1"],
      x: "100 * ((a - 3)^2 - 1)",
      y: "100",
      needs: [["x", "between 100 N/m and 200 N/m"]],
    };
    // moved into the range, the present design comes to stand where the stiffness would be below zero
    const found = finish(bestInSteps(closedFormChip(form), { vary: [box("2.5", "6")[0]!], side: "drawn", surety: 0 }));
    // in the middle of the limits, where (a - 3)^2 is 2.5
    expect(found.x[0]).toBeCloseTo(3 + Math.sqrt(2.5), 2);
    expect(found.chanceBefore).toBeNaN();
  });
  it("is not looked for where the ranges hold no design", () => {
    const form: ClosedForm = { parameters: ["a: drawn 3"], x: "50 * (a - 1)", y: "100", needs: [["x", "at least 50 N/m"]] };
    expect(() => finish(bestInSteps(closedFormChip(form), { vary: [box("0", "0.9")[0]!], side: "drawn", surety: 0 }))).toThrow(
      "Neither the present design nor the middle of the ranges has a value for every limit",
    );
  });
  it("is found by several starts where one search stays in the lesser of two valleys", () => {
    // (a^2 - 1)^2 + 0.3 a over the present side of the hill has its lesser minimum; the true one lies across, near a = -1.036
    const form: ClosedForm = {
      parameters: ["a: drawn 1", "b: drawn 1"],
      x: "100 + (a^2 - 1)^2 + 0.3 * a",
      y: "100",
      needs: [["x", "at most 1000 N/m"]],
    };
    const vary = [{ name: "a", from: "-1.6", to: "1.6" }];
    const find = (starts: number) =>
      finish(bestInSteps(closedFormChip(form), { vary, side: "drawn", surety: 0, aim: aimAt(form, "x", "least"), starts }));
    expect(find(1).x[0]).toBeGreaterThan(0.9);
    // the root of 4 a (a^2 - 1) + 0.3 = 0 below zero
    expect(find(6).x[0]).toBeCloseTo(-1.0352, 2);
  });
});

describe("a front of two aims over a chip", () => {
  it("is that of Binh & Korn (1997): on a = b up to 3, then along b = 3", () => {
    const form: ClosedForm = {
      parameters: ["a: drawn 1", "b: drawn 1"],
      // 10 N/m more than published, so that the plate is held where the aim is least
      x: "10 + 4 * a^2 + 4 * b^2",
      y: "(a - 5)^2 + (b - 5)^2",
      needs: [["x", "at most 1000 N/m"]],
    };
    const aims = [aimAt(form, "x", "least"), aimAt(form, "y", "least")] as const;
    const vary = [
      { name: "a", from: "0", to: "5" },
      { name: "b", from: "0", to: "3" },
    ];
    const { points } = finish(frontInSteps(closedFormChip(form), { vary, side: "drawn", surety: 0, aims, count: 6 }));
    // at most as many as asked for: one at which a search ends short of its normal is left out
    expect(points.length).toBeGreaterThanOrEqual(5);
    for (const { x, values } of points) {
      const b = Math.min(x[0]!, 3);
      // a step of 1e-4 of the range ends each search
      expect(Math.abs(x[1]! - b)).toBeLessThan(1e-3);
      expect(Math.abs(values[1] - ((x[0]! - 5) ** 2 + (b - 5) ** 2))).toBeLessThan(5e-3);
    }
    expect(points[0]!.values[1]).toBeCloseTo(50, 1);
    expect(points.at(-1)!.values[0]).toBeCloseTo(146, 1);
  });
});

it("refuses a search over nothing", () => {
  const form: ClosedForm = { parameters: ["a: drawn 1"], x: "a", y: "a", needs: [["x", "at most 2 N/m"]] };
  expect(() => finish(bestInSteps(closedFormChip(form), { vary: [], side: "drawn", surety: 0 }))).toThrow(
    "Say what may vary: at least one quantity with its range.",
  );
});
