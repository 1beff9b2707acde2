import { describe, expect, it } from "vitest";
import { normalChanceBelow } from "#base";
import { Cancelled } from "../predict/estimate.ts";
import { type ClosedForm, closedFormChip } from "./closed-form.fixture.ts";
import { createDesignSolver, type DesignQuestion, type RegionRequest } from "./design-questions.ts";
import { boundsFreeGround, type Region } from "./region.ts";
import { type RegionStep, type RegionWork, regionInSteps } from "./region-steps.ts";

const request: RegionRequest = {
  x: { name: "a", from: "0.5", to: "4" },
  y: { name: "b", from: "0.5", to: "6" },
  side: "drawn",
};

async function finish(form: ClosedForm, about: Partial<RegionRequest> = {}, work: RegionWork = {}) {
  const steps = regionInSteps(closedFormChip(form), { ...request, ...about }, work);
  const all: RegionStep[] = [];
  for (;;) {
    const step = await steps.next();
    if (step.done === true) return { steps: all, region: step.value };
    all.push(step.value);
  }
}

const ellipse: ClosedForm = {
  parameters: ["a: drawn 2", "b: drawn 1"],
  x: "4 * a^2 + b^2",
  y: "100 + 20 * a * b",
  needs: [
    ["x", "at most 25 N/m"],
    ["y", "between 120 N/m and 160 N/m"],
  ],
};

const pointsOf = (line: Float64Array) =>
  Array.from({ length: line.length / 2 }, (_, k) => [line[2 * k]!, line[2 * k + 1]!] as const);

describe("a region whose edges are known in closed form", async () => {
  const { steps, region } = await finish(ellipse);
  const edgesOf = (k: number) => region.limits[k]!.edges;
  it("has the ellipse and the hyperbolas of the text as edges, free ground on their left", () => {
    expect(edgesOf(0)).toHaveLength(1);
    expect(edgesOf(1)).toHaveLength(2);
    // distance of the line from the true edge in parts of the plane: the value's error over its slope, good to second order.
    // Points held to the model are good to 1e-4; between them lie the stand-in and chords of 1/100 of the plane, whose sag on these
    // curves is 1e-4 at most
    const distance = (value: number, [alongX, alongY]: readonly [number, number]): number =>
      Math.abs(value) / Math.hypot(3.5 * alongX, 5.5 * alongY);
    for (const [a, b] of pointsOf(edgesOf(0)[0]!.line))
      expect(distance(4 * a ** 2 + b ** 2 - 25, [8 * a, 2 * b])).toBeLessThan(2e-4);
    for (const { fence, line } of edgesOf(1))
      for (const [a, b] of pointsOf(line)) expect(distance(100 + 20 * a * b - fence, [20 * b, 20 * a])).toBeLessThan(2e-4);
    expect(edgesOf(1).map(({ kind, fence }) => [kind, fence])).toEqual([
      ["at least", 120],
      ["at most", 160],
    ]);
    const [[x0, y0], [x1, y1]] = pointsOf(edgesOf(0)[0]!.line).slice(4, 6) as [
      readonly [number, number],
      readonly [number, number],
    ];
    const left = [(x0 + x1) / 2 - 0.01 * (y1 - y0), (y0 + y1) / 2 + 0.01 * (x1 - x0)] as const;
    expect(4 * left[0] ** 2 + left[1] ** 2).toBeLessThan(25);
  });
  it("says which ground is free, and what ends it", () => {
    const n = region.points;
    let wrong = 0;
    for (let k = 0; k < n * n; k++) {
      const [a, b] = [0.5 + (3.5 * (k % n)) / (n - 1), 0.5 + (5.5 * Math.floor(k / n)) / (n - 1)];
      const margin = Math.min(25 - 4 * a * a - b * b, 20 * a * b - 20, 60 - 20 * a * b);
      // on the very edge rounding may decide
      if (Math.abs(margin) > 1e-3 && (region.free[k] === 1) !== margin > 0) wrong++;
    }
    expect(wrong).toBe(0);
    expect(region.limits.map(({ edges }) => edges.map((edge) => boundsFreeGround(region, edge)))).toEqual([[true], [true, true]]);
  });
  it("states an error that its values keep", () => {
    for (const [k, formula] of [
      (a: number, b: number) => 4 * a * a + b * b,
      (a: number, b: number) => 100 + 20 * a * b,
    ].entries()) {
      const { values, error, need } = region.limits[k]!;
      let worst = 0;
      for (let j = 0; j < 101; j++) {
        for (let i = 0; i < 101; i++) {
          const value = formula(0.5 + 0.035 * i, 0.5 + 0.055 * j);
          if (Math.abs(value - need.high!) < 2) worst = Math.max(worst, Math.abs(values[j * 101 + i]! - value));
        }
      }
      // both are exact for cubic pieces but for the slopes by differences, 1e-5 of the range
      expect(worst).toBeLessThan(Math.max(error, 1e-2));
      expect(error).toBeLessThan(1e-1);
    }
  });
  it("shows a first picture from four designs, then better ones, and only plain data", () => {
    const pictures = steps.filter((step) => step.region !== undefined);
    expect(pictures[0]).toMatchObject({ stage: "first look", region: { nDesigns: 4 } });
    expect(pictures.map(({ stage }) => stage).filter((stage, k, all) => stage !== all[k - 1])).toEqual([
      "first look",
      "finer",
      "edges",
      "doubt",
    ]);
    for (const step of [...pictures, { region }]) expect(structuredClone(step)).toEqual(step);
    for (const { done, total } of steps) expect(done).toBeLessThanOrEqual(total);
  });
  it("tells the design of the text", () => {
    expect(region.present).toMatchObject({ x: 2, y: 1, chance: 1 });
    expect(region.present!.values[0]).toBeCloseTo(17, 6);
    expect(region.x).toMatchObject({ name: "a", key: "parameters.a", low: 0.5, high: 4, present: 2 });
  });
});

describe("a region on doubtful ground", () => {
  it("has the chance of the normal distribution, and its contours where the quantile lies", async () => {
    // the stiffness is 10 a with a standard deviation of 0.2 in a alone: at most 20 means a below 2
    const { region } = await finish({
      parameters: ["a: drawn 1.8 ± 0.2", "b: drawn 1"],
      x: "10 * a",
      y: "100 + b",
      needs: [["x", "at most 20 N/m"]],
    });
    // 2048 points of a sequence with a discrepancy near one over their number
    expect(region.present!.chance).toBeCloseTo(normalChanceBelow(1), 2);
    expect(Math.abs(region.present!.chance - normalChanceBelow(1))).toBeLessThan(2e-3);
    expect(Math.abs(region.present!.foretold - normalChanceBelow(1))).toBeLessThan(5e-3);
    const contour = region.contours.find(({ chance }) => chance === 0.9)!;
    // 0.9 lies 1.2815515655 standard deviations below the fence (table of the normal distribution); the grid of chances is 0.0875 wide
    for (const [a] of pointsOf(contour.lines[0]!)) expect(Math.abs(a - (2 - 0.2 * 1.2815515655))).toBeLessThan(0.02);
    expect(region.best!.chance).toBe(1);
  });
  it("counts ground without an answer as forbidden and says why", async () => {
    const { region } = await finish({
      parameters: ["a: drawn 3", "b: drawn 1"],
      x: "50 * (a - 1)",
      y: "100",
      needs: [["x", "at least 50 N/m"]],
    });
    // a stiffness below zero is no spring
    expect(region.reasons).toHaveLength(1);
    expect(region.reasons[0]).toMatch(/parts\.coil\.x: .+ N\/m is too small/);
    const at = (a: number): number => Math.round(((a - 0.5) / 3.5) * 100);
    expect(region.free[50 * 101 + at(0.6)]).toBe(0);
    expect(region.limits[0]!.values[50 * 101 + at(0.55)]).toBeNaN();
    expect(region.free[50 * 101 + at(1.9)]).toBe(0);
    expect(region.free[50 * 101 + at(2.1)]).toBe(1);
  });
  it("says so where no design keeps all limits", async () => {
    const { region } = await finish({ ...ellipse, needs: [["x", "at most 1 N/m"]] });
    expect(region.best).toBeUndefined();
    expect(region.free.some((free) => free === 1)).toBe(false);
  });
});

describe("the work behind a region", () => {
  const countLanes = (n: number) => {
    const counts = new Array<number>(n).fill(0);
    const lanes = counts.map((_, lane) => {
      const solve = createDesignSolver(closedFormChip(ellipse), request);
      return async (question: DesignQuestion) => {
        counts[lane]!++;
        // through a worker's letter box and back
        await new Promise((resolve) => setTimeout(resolve, 0));
        return structuredClone(solve(structuredClone(question)));
      };
    });
    return { counts, lanes };
  };
  const without = ({ nDesigns, ...rest }: Region) => ({ ...rest, nDesigns });
  it("comes out the same from two workers as from one thread, and both work", async () => {
    const { counts, lanes } = countLanes(2);
    const [one, two] = [await finish(ellipse), await finish(ellipse, {}, { lanes })];
    expect(Math.min(...counts)).toBeGreaterThan(5);
    expect(counts[0]! + counts[1]!).toBe(two.region.nDesigns);
    expect(without(two.region)).toEqual(without(one.region));
  });
  it("ends with Cancelled soon after it is told to stop", async () => {
    const stop = new AbortController();
    const steps = regionInSteps(closedFormChip(ellipse), request, { signal: stop.signal });
    for (let k = 0; k < 4; k++) await steps.next();
    stop.abort();
    await expect(steps.next()).rejects.toThrow(Cancelled);
    expect(await steps.next()).toEqual({ done: true, value: undefined });
  });
  it("passes on what goes wrong in a worker", async () => {
    const lanes = [
      () => {
        throw new Error("the worker is gone");
      },
    ];
    await expect(finish(ellipse, {}, { lanes })).rejects.toThrow("the worker is gone");
  });
  it("takes the limits of one case where one is named", async () => {
    await expect(finish(ellipse, { caseName: "hot" })).rejects.toThrow('"hot" is not an operating case');
    expect((await finish(ellipse, { caseName: "cold" })).region.limits).toHaveLength(2);
  });
  it.each([
    [{ x: { name: "c", from: "1", to: "2" } }, 'Cannot vary "c": nothing is called "c"'],
    [{ x: { name: "a", from: "1 um", to: "2 um" } }, 'Cannot vary "a" from 1 um to 2 um: its present value is drawn 2, which'],
    [{ x: { name: "a", from: "2", to: "1" } }, 'Cannot vary "a" from 2 to 1: the second value must be above the first.'],
    [{ x: { name: "a", from: "b", to: "4" } }, 'Cannot size up to "b": a plain value is wanted, not the name "b"'],
    [{ x: { name: "b", from: "1", to: "4" } }, '"b" is varied twice: name different quantities.'],
  ])("refuses ranges that make no plane: %j", async (about, sentence) => {
    await expect(finish(ellipse, about)).rejects.toThrow(sentence);
  });
  it("refuses to vary what a limit is worked out from", async () => {
    await expect(finish({ ...ellipse, needs: [["x", "at most 10 N/m * b"]] })).rejects.toThrow(
      'Cannot vary "b": the limit of "limit 1" is worked out from it. Write that limit as a plain value.',
    );
  });
  it("refuses a brief without limits", async () => {
    await expect(finish({ ...ellipse, needs: [] })).rejects.toThrow("The brief has no limit that a model computes");
  });
});
