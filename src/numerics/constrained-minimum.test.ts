import { describe, expect, it } from "vitest";
import { createRandomSource } from "#base";
import { bestMinimum, type ConstrainedProblem, constrainedMinimum } from "./constrained-minimum.ts";
import { sobolPoints } from "./sobol.ts";

type Formula = (x: Float64Array) => number;

/** Gradients by central differences of the formulas: good to 1e-9 here, and written by nobody. */
function problemOf(
  low: readonly number[],
  high: readonly number[],
  f: Formula,
  constraints: readonly Formula[] = [],
  equal?: readonly boolean[],
): ConstrainedProblem {
  const slope = (formula: Formula, x: Float64Array): Float64Array =>
    x.map((value, j) => {
      const h = 6e-6 * Math.max(1, Math.abs(value));
      const at = (moved: number): number => formula(x.map((old, k) => (k === j ? moved : old)));
      return (at(value + h) - at(value - h)) / (2 * h);
    });
  return {
    low: Float64Array.from(low),
    high: Float64Array.from(high),
    evaluate: (x) => ({
      value: f(x),
      gradient: slope(f, x),
      constraints: Float64Array.from(constraints, (formula) => formula(x)),
      jacobian: Float64Array.from(constraints.flatMap((formula) => [...slope(formula, x)])),
    }),
    ...(equal && { equal }),
  };
}
const options = { tolerance: 1e-9, maxIterations: 300 };
const box = (n: number, low: number, high: number) => [Array(n).fill(low), Array(n).fill(high)] as const;

// Hock & Schittkowski, Test Examples for Nonlinear Programming Codes (1981), by number, each from its published start (FROM MEMORY);
// where the problem has no bounds, wide ones that hold start and optimum
const problems: readonly { name: string; problem: ConstrainedProblem; start: readonly number[]; best: number }[] = [
  {
    name: "1, Rosenbrock's valley",
    problem: problemOf([-10, -1.5], [10, 10], (x) => 100 * (x[1]! - x[0]! ** 2) ** 2 + (1 - x[0]!) ** 2),
    start: [-2, 1],
    best: 0,
  },
  {
    name: "6, an equation",
    problem: problemOf(...box(2, -5, 5), (x) => (1 - x[0]!) ** 2, [(x) => 10 * (x[1]! - x[0]! ** 2)], [true]),
    start: [-1.2, 1],
    best: 0,
  },
  {
    name: "35, Beale",
    problem: problemOf(
      ...box(3, 0, 10),
      ([a, b, c]) => 9 - 8 * a! - 6 * b! - 4 * c! + 2 * a! ** 2 + 2 * b! ** 2 + c! ** 2 + 2 * a! * b! + 2 * a! * c!,
      [(x) => 3 - x[0]! - x[1]! - 2 * x[2]!],
    ),
    start: [0.5, 0.5, 0.5],
    best: 1 / 9,
  },
  {
    name: "43, Rosen and Suzuki",
    problem: problemOf(
      ...box(4, -10, 10),
      ([a, b, c, d]) => a! ** 2 + b! ** 2 + 2 * c! ** 2 + d! ** 2 - 5 * a! - 5 * b! - 21 * c! + 7 * d!,
      [
        ([a, b, c, d]) => 8 - a! ** 2 - b! ** 2 - c! ** 2 - d! ** 2 - a! + b! - c! + d!,
        ([a, b, c, d]) => 10 - a! ** 2 - 2 * b! ** 2 - c! ** 2 - 2 * d! ** 2 + a! + d!,
        ([a, b, c, d]) => 5 - 2 * a! ** 2 - b! ** 2 - c! ** 2 - 2 * a! + b! + d!,
      ],
    ),
    start: [0, 0, 0, 0],
    best: -44,
  },
  {
    name: "71",
    problem: problemOf(
      ...box(4, 1, 5),
      ([a, b, c, d]) => a! * d! * (a! + b! + c!) + c!,
      [([a, b, c, d]) => a! * b! * c! * d! - 25, (x) => x.reduce((sum, value) => sum + value ** 2, -40)],
      [false, true],
    ),
    start: [1, 5, 5, 1],
    best: 17.0140173,
  },
  {
    name: "100",
    problem: problemOf(
      ...box(7, -10, 10),
      ([a, b, c, d, e, f, g]) =>
        (a! - 10) ** 2 +
        5 * (b! - 12) ** 2 +
        c! ** 4 +
        3 * (d! - 11) ** 2 +
        10 * e! ** 6 +
        7 * f! ** 2 +
        g! ** 4 -
        4 * f! * g! -
        10 * f! -
        8 * g!,
      [
        ([a, b, c, d, e]) => 127 - 2 * a! ** 2 - 3 * b! ** 4 - c! - 4 * d! ** 2 - 5 * e!,
        ([a, b, c, d, e]) => 282 - 7 * a! - 3 * b! - 10 * c! ** 2 - d! + e!,
        ([a, b, , , , f, g]) => 196 - 23 * a! - b! ** 2 - 6 * f! ** 2 + 8 * g!,
        ([a, b, c, , , f, g]) => -4 * a! ** 2 - b! ** 2 + 3 * a! * b! - 2 * c! ** 2 - 5 * f! + 11 * g!,
      ],
    ),
    start: [1, 2, 0, 4, 0, 1, 1],
    best: 680.6300573,
  },
];

describe("a constrained minimum", () => {
  it.each(problems)("is that of Hock & Schittkowski $name", ({ problem, start, best }) => {
    const found = constrainedMinimum(problem, Float64Array.from(start), options);
    // the published optima have ten digits; the gradients by differences let eight through
    expect(Math.abs(found.value - best)).toBeLessThan(2e-7 * Math.max(1, Math.abs(best)));
    expect(found.violation).toBeLessThan(1e-7);
  });
  it("is that of problem G6 (Floudas & Pardalos 1990; FROM MEMORY), a thin crescent", () => {
    const problem = problemOf([13, 0], [100, 100], (x) => (x[0]! - 10) ** 3 + (x[1]! - 20) ** 3, [
      (x) => (x[0]! - 5) ** 2 + (x[1]! - 5) ** 2 - 100,
      (x) => 82.81 - (x[0]! - 6) ** 2 - (x[1]! - 5) ** 2,
    ]);
    const found = constrainedMinimum(problem, Float64Array.of(20.1, 5.84), options);
    expect(found.value).toBeCloseTo(-6961.81388, 2);
  });
  it("is found among many by several starts: problem G8 (Schoenauer & Xanthakis 1993; FROM MEMORY)", () => {
    const problem = problemOf(
      [0.5, 0.5],
      [10, 10],
      ([x, y]) => -(Math.sin(2 * Math.PI * x!) ** 3 * Math.sin(2 * Math.PI * y!)) / (x! ** 3 * (x! + y!)),
      [([x, y]) => y! - x! ** 2 - 1, ([x, y]) => x! - 1 - (y! - 4) ** 2],
    );
    const points = sobolPoints({ count: 32, dimensions: 2 }, createRandomSource(1));
    const starts = Array.from({ length: 32 }, (_, i) =>
      Float64Array.of(0.5 + 9.5 * points[2 * i]!, 0.5 + 9.5 * points[2 * i + 1]!),
    );
    const found = bestMinimum(problem, starts, { ...options, allowedViolation: 1e-7 });
    expect(found.value).toBeCloseTo(-0.095825, 6);
  });
  it("says by how much the constraints are missed where none can be kept", () => {
    const problem = problemOf([0], [1], (x) => x[0]!, [(x) => x[0]! - 2]);
    const found = constrainedMinimum(problem, Float64Array.of(0.3), options);
    expect(found.violation).toBeCloseTo(1, 6);
  });
  it("goes round a place where the function does not exist", () => {
    const problem = problemOf([0], [4], (x) => (x[0]! > 1 ? Number.NaN : (x[0]! - 0.9) ** 2));
    const found = constrainedMinimum(problem, Float64Array.of(0.1), options);
    expect(found.x[0]).toBeCloseTo(0.9, 5);
  });
});
