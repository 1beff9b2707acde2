import { describe, expect, it } from "vitest";
import { SolveError } from "#base";
import { createFrameModel } from "./model.ts";
import type { FrameNetwork } from "./network.ts";
import { apex, apexRise, at, chevron, clamped, D1, deg, equilibrium, frameOf, straightBeam, um } from "./sample-frames.ts";

describe("branches", () => {
  // Long flat legs: a Newton from the linear answer lands on the snapped-through shape (apex far below) without complaint.
  it("stays on the branch that starts cold", () => {
    const shape = { l: 800 * um, w: 4 * um, t: 40 * um, angle: 1.5 * deg, E: 169e9 };
    const found = equilibrium(createFrameModel(chevron(shape)), { strains: [4e-4, 4e-4] });
    expect(apexRise(found.motions)).toBeGreaterThan(0);
    expect(found.nNegative).toBe(0);
  });
  it("buckles to the side of its imperfection, however small", () => {
    for (const [side, size] of [
      [1, 1e-3],
      [-1, 1e-3],
      [1, 1e-5],
      [-1, 1e-5],
    ] as const) {
      const half = { width: 2 * um, thickness: 10 * um, youngsModulus: 169e9, nElements: 8 };
      const model = createFrameModel(
        frameOf(
          [at("a", 0, 0, clamped), at("middle", 200 * um, side * size * 2 * um), at("b", 400 * um, 0, clamped)],
          [
            [0, 1, half],
            [1, 2, half],
          ],
        ),
      );
      expect(Math.sign(equilibrium(model, { strains: [5e-4, 5e-4] }).motions[4]!)).toBe(side);
    }
  });
  it("says so when a load snaps the frame through, and how far it came", () => {
    const model = createFrameModel(chevron({ ...D1, w: 2 * um, angle: 2 * deg }));
    const guided = createFrameModel({
      ...model.network,
      junctions: model.network.junctions.map((j, i) => (i === 2 ? { ...j, held: ["x", "turn"] as const } : j)),
    });
    const found = guided.solve({ forces: [{ ...apex, value: -10e-3 }] });
    if (found.outcome === "equilibrium") throw new Error("snapped without a word");
    expect(found.reason).toMatch(/snaps through|buckles/);
    expect(found.reachedFactor).toBeGreaterThan(0);
    expect(found.reachedFactor).toBeLessThan(1);
    // just short of it there is a state, just beyond there is none
    const part = (factor: number) =>
      guided.solve({ forces: [{ ...apex, value: -10e-3 * factor * found.reachedFactor }] }).outcome;
    expect(part(0.999)).toBe("equilibrium");
    expect(part(1.001)).toBe("no equilibrium");
  });
  it("solves a body on springs alone", () => {
    const springs = { x: 2, y: 3, turn: 1e-3 };
    const model = createFrameModel({ junctions: [{ ...at("body", 0, 0), springs }], beams: [] });
    const forces = [
      { junction: 0, motion: "x", value: 1e-6 },
      { junction: 0, motion: "turn", value: 1e-6 },
    ] as const;
    expect([...equilibrium(model, { forces }).motions]).toEqual([5e-7, 0, 1e-3]);
  });
  it("leaves a frame without load exactly where it is", () => {
    const found = equilibrium(createFrameModel(chevron(D1)), {});
    expect(found.motions.every((motion) => motion === 0)).toBe(true);
  });
});

describe("frames that cannot be solved", () => {
  const bar = { width: 2 * um, thickness: 2 * um, youngsModulus: 1e11, nElements: 2 };
  const load = { forces: [{ junction: 1, motion: "y", value: 1e-9 }] } as const;
  const refusal = (network: FrameNetwork, given: Parameters<ReturnType<typeof createFrameModel>["solve"]>[0] = load): string => {
    for (const attempt of ["solve", "solveLinear"] as const) {
      try {
        createFrameModel(network)[attempt](given);
      } catch (error) {
        if (!(error instanceof SolveError)) throw error;
        if (attempt === "solveLinear") return error.message;
        continue;
      }
      throw new Error(`${attempt} did not refuse`);
    }
    return "";
  };
  it("names a floating part", () => {
    const network = frameOf(
      [at("a", 0, 0, clamped), at("b", 100 * um, 0), at("c", 0, 50 * um), at("d", 30 * um, 70 * um)],
      [
        [0, 1, bar],
        [2, 3, bar],
      ],
    );
    expect(refusal(network)).toMatch(/Cannot solve the frame: junction "[cd]" is free to move/);
  });
  it("names a missing support", () => {
    const network = frameOf([at("a", 0, 0, ["x", "y"]), at("b", 100 * um, 20 * um)], [[0, 1, bar]]);
    expect(refusal(network)).toMatch(/junction "b" is free to move/);
  });
  it("names the junction of too many hinges", () => {
    const hinged = { ...bar, hingedFrom: true, hingedTo: true };
    // a square of four bars, pinned at its foot
    const network = frameOf(
      [
        at("a", 0, 0, clamped),
        at("b", 100 * um, 0, clamped),
        at("c", 0, 100 * um, ["turn"]),
        at("d", 100 * um, 100 * um, ["turn"]),
      ],
      [
        [0, 2, hinged],
        [1, 3, hinged],
        [2, 3, hinged],
      ],
    );
    expect(refusal(network, { forces: [{ junction: 2, motion: "x", value: 1e-9 }] })).toMatch(
      /junction "[cd]" is free to move \(x\)/,
    );
  });
  it("names a pin that nothing turns", () => {
    const hinged = { ...bar, hingedTo: true };
    const network = frameOf(
      [at("a", 0, 0, clamped), at("pin", 100 * um, 0), at("b", 50 * um, 90 * um, clamped)],
      [
        [0, 1, hinged],
        [2, 1, hinged],
      ],
    );
    expect(refusal(network)).toMatch(/junction "pin" is free to move \(turn\)/);
  });
  it("bears a long soft chain, which is no mechanism", () => {
    const n = 200;
    const junctions = Array.from({ length: n + 1 }, (_, i) => at("j", i * 20 * um, (i % 2) * 3 * um, i === 0 ? clamped : []));
    const model = createFrameModel(
      frameOf(
        junctions,
        Array.from({ length: n }, (_, i) => [i, i + 1, { ...bar, nElements: 1 }] as const),
      ),
    );
    const tip = model.solveLinear({ forces: [{ junction: n, motion: "y", value: 1e-12 }] })[3 * n + 1]!;
    const length = n * Math.hypot(20, 3) * um;
    // cantilever, its way a little longer than its reach: P times the integral of reach^2 over EI
    const wanted = (1e-12 * length * (n * 20 * um) ** 2) / (3 * 1e11 * ((2 * um) ** 4 / 12));
    expect(Math.abs(tip / wanted - 1)).toBeLessThan(1e-3);
  });
  it.each([
    ["no element", { widths: new Float64Array(0) }, /at least one element/],
    ["nodes that do not fit", { nodes: Float64Array.of(0, 0) }, /wanted 6 coordinates, found 2/],
    ["no width", { widths: Float64Array.of(1, 0) }, /width of element 1 of beam "leg": wanted a positive number, found 0/],
    ["a modulus that is none", { youngsModulus: Number.NaN }, /modulus of beam "leg"/],
    ["an end nowhere", { to: 7 }, /a junction from 0 to 1, found 7/],
    ["both ends in one", { to: 0 }, /two different junctions/],
  ])("refuses a beam with %s", (_, wrong, sentence) => {
    const beam = straightBeam({ from: 0, to: 1, start: [0, 0], end: [1, 0] }, { ...bar, name: "leg" });
    const make = () => createFrameModel({ junctions: [at("a", 0, 0, clamped), at("b", 1, 0)], beams: [{ ...beam, ...wrong }] });
    expect(make).toThrow(RangeError);
    expect(make).toThrow(sentence);
  });
  it("refuses numbers that do not fit the frame", () => {
    const model = createFrameModel(chevron(D1));
    expect(() => model.solve({ strains: [new Float64Array(3), 0] })).toThrow(
      /free strains of beam "": wanted 10 numbers, found 3/,
    );
    expect(() => model.solve({ bodyStrains: new Float64Array(1) })).toThrow(/wanted 3 numbers, found 1/);
    expect(() => model.solve({ forces: [{ junction: 9, motion: "x", value: 1 }] })).toThrow(/a junction from 0 to 2, found 9/);
    expect(() => model.solve({ forces: [{ junction: 2, motion: "x", value: Number.NaN }] })).toThrow(/a finite number/);
    const start = equilibrium(createFrameModel(chevron(D1, 4)), {});
    expect(() => model.solve({}, { start })).toThrow(/another frame's/);
  });
});
