import { describe, expect, it } from "vitest";
import { type FrontProblem, tradeOffFront } from "./trade-off-front.ts";

const options = { tolerance: 1e-8, maxIterations: 200, count: 9 };

/** Binh & Korn (1997), two unknowns and two constraints. */
const binhKorn: FrontProblem = {
  low: Float64Array.of(0, 0),
  high: Float64Array.of(5, 3),
  evaluate: (v) => {
    const [x, y] = [v[0]!, v[1]!];
    return {
      values: [4 * x * x + 4 * y * y, (x - 5) ** 2 + (y - 5) ** 2],
      gradients: [Float64Array.of(8 * x, 8 * y), Float64Array.of(2 * (x - 5), 2 * (y - 5))],
      constraints: Float64Array.of(25 - (x - 5) ** 2 - y * y, (x - 8) ** 2 + (y + 3) ** 2 - 7.7),
      jacobian: Float64Array.of(-2 * (x - 5), -2 * y, 2 * (x - 8), 2 * (y + 3)),
    };
  },
};

/** Problem T1 of Zitzler, Deb & Thiele (2000) in four unknowns: its front is f2 = 1 - sqrt(f1), where all but the first unknown are zero. */
const rootFront: FrontProblem = {
  low: Float64Array.of(0.0004, 0, 0, 0),
  high: Float64Array.of(1, 1, 1, 1),
  evaluate: (v) => {
    const x = v[0]!;
    const g = 1 + 3 * (v[1]! + v[2]! + v[3]!);
    const root = Math.sqrt(x * g);
    const byG = 3 - (1.5 * x) / root;
    return {
      values: [x, g - root],
      gradients: [Float64Array.of(1, 0, 0, 0), Float64Array.of(-g / (2 * root), byG, byG, byG)],
      constraints: new Float64Array(0),
      jacobian: new Float64Array(0),
    };
  },
};

describe("a front of two aims", () => {
  it("is the published one of Binh & Korn: on x = y, then along y = 3", () => {
    const front = tradeOffFront(binhKorn, Float64Array.of(1, 1), options);
    expect(front.length).toBe(9);
    for (const { x, values } of front) {
      const y = Math.min(x[0]!, 3);
      expect(Math.abs(x[1]! - y)).toBeLessThan(2e-3);
      expect(Math.abs(values[1] - ((x[0]! - 5) ** 2 + (y - 5) ** 2))).toBeLessThan(2e-2);
    }
    // ends: (0, 50), and (136, 4), which are the best of each aim alone
    expect(front[0]!.values[1]).toBeCloseTo(50, 1);
    expect(front.at(-1)!.values[0]).toBeCloseTo(136, 1);
  });
  it("is the published root, in points that lie evenly", () => {
    const front = tradeOffFront(rootFront, Float64Array.of(0.5, 0.4, 0.3, 0.2), options);
    expect(front.length).toBe(9);
    for (const { values } of front) expect(values[1]).toBeCloseTo(1 - Math.sqrt(values[0]), 5);
    const gaps = front
      .slice(1)
      .map(({ values }, k) => Math.hypot(values[0] - front[k]!.values[0], values[1] - front[k]!.values[1]));
    expect(Math.max(...gaps) / Math.min(...gaps)).toBeLessThan(3);
  });
  it("is a single point where the aims agree", () => {
    const agreeing: FrontProblem = {
      low: Float64Array.of(0),
      high: Float64Array.of(1),
      evaluate: (v) => ({
        values: [v[0]!, 2 * v[0]!],
        gradients: [Float64Array.of(1), Float64Array.of(2)],
        constraints: new Float64Array(0),
        jacobian: new Float64Array(0),
      }),
    };
    expect(tradeOffFront(agreeing, Float64Array.of(0.5), options).length).toBe(1);
  });
});
