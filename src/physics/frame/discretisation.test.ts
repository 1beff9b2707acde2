import { describe, expect, it } from "vitest";
import { estimateDiscretisation, recommendElements } from "./discretisation.ts";
import { createFrameModel } from "./model.ts";
import { apexRise, at, cantilever, cantileverEI, chevron, clamped, D2, equilibrium, frameOf, um } from "./sample-frames.ts";

const hot = { strains: [9e-4, 9e-4] };

describe("error by the length of the elements", () => {
  const exact = apexRise(equilibrium(createFrameModel(chevron(D2, 64)), hot).motions);
  it.each([4, 6, 10])("is foreseen for %d elements a leg", (n) => {
    const model = createFrameModel(chevron(D2, n));
    const state = equilibrium(model, hot);
    const { missing, relative } = estimateDiscretisation(model, state);
    const real = exact - apexRise(state.motions);
    // higher orders of four coarse elements
    expect(Math.abs(missing[7]! / real - 1)).toBeLessThan(0.1);
    expect(Math.abs(relative / Math.abs(real / exact) - 1)).toBeLessThan(0.1);
  });
  it("is foreseen for a beam that turns far", () => {
    const load = { forces: [{ junction: 1, motion: "y", value: 5 * cantileverEI }] } as const;
    const options = { largestMove: 0.05 };
    const state = (n: number) => equilibrium(createFrameModel(cantilever(n)), load, options);
    const model = createFrameModel(cantilever(8));
    const coarse = equilibrium(model, load, options);
    const { missing } = estimateDiscretisation(model, coarse);
    const fine = state(64).motions;
    for (const i of [3, 4, 5]) expect(Math.abs(missing[i]! / (fine[i]! - coarse.motions[i]!) - 1)).toBeLessThan(0.15);
  });
  it("is nothing where nothing moves", () => {
    const model = createFrameModel(chevron(D2, 4));
    expect(estimateDiscretisation(model, equilibrium(model, {})).relative).toBe(0);
  });
  it("asks for as many elements as the target needs", () => {
    const model = createFrameModel(chevron(D2, 4));
    const wanted = recommendElements(model, equilibrium(model, hot), { target: 1e-6 });
    expect(wanted[0]).toBe(wanted[1]);
    const finer = createFrameModel(chevron(D2, wanted[0]!));
    const { relative } = estimateDiscretisation(finer, equilibrium(finer, hot));
    expect(relative).toBeLessThan(1e-6);
    expect(relative).toBeGreaterThan(2e-7);
  });
  it("leaves alone a beam that hardly bends", () => {
    const leg = { width: 4 * um, thickness: 20 * um, youngsModulus: 169e9, nElements: 4 };
    const network = frameOf(
      [at("a", -500 * um, 0, clamped), at("b", 500 * um, 0, clamped), at("apex", 0, 20 * um), at("tail", 0, 120 * um)],
      [
        [0, 2, leg],
        [1, 2, leg],
        [2, 3, leg],
      ],
    );
    const model = createFrameModel(network);
    const counts = recommendElements(model, equilibrium(model, { strains: [8e-4, 8e-4, 0] }), { target: 1e-7 });
    expect(counts[2]).toBe(4);
    expect(counts[0]).toBeGreaterThan(8);
  });
});
