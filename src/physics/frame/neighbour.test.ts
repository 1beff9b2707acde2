import { describe, expect, it } from "vitest";
import { createFrameModel, estimateNeighbour, type FrameModel } from "./model.ts";
import type { FrameLoad, FrameNetwork } from "./network.ts";
import { at, clamped, equilibrium, errorOf, straightBeam, um } from "./sample-frames.ts";

/** A body on two bent legs and a hinged strut to a stop; every size and load moves with its own part of h. */
function network(h: number): FrameNetwork {
  const leg = {
    width: 6 * um * (1 + h),
    thickness: 30 * um,
    youngsModulus: 160e9,
    shearModulus: 65e9,
    density: 2330,
    nElements: 6,
  };
  const apex = 25 * um * (1 - 0.5 * h);
  return {
    junctions: [
      at("a", -400 * um * (1 + 0.3 * h), 0, clamped),
      at("b", 420 * um, 0, clamped),
      {
        ...at("body", 0, apex),
        springs: { y: 20 * (1 + h) },
        body: { mass: 1e-9 * (1 + 2 * h), centre: [5 * um, 3 * um], aboutX: 0, aboutY: 0, aboutZ: 0 },
      },
      at("c", 100 * um, 160 * um, ["x"]),
    ],
    beams: [
      straightBeam({ from: 0, to: 2, start: [-400 * um * (1 + 0.3 * h), 0], end: [-20 * um * (1 + h), apex] }, leg),
      straightBeam({ from: 1, to: 2, start: [420 * um, 0], end: [20 * um, apex + 3 * um * h] }, leg),
      straightBeam(
        { from: 2, to: 3, start: [3 * um, apex + 40 * um * (1 + h)], end: [100 * um, 160 * um] },
        { ...leg, hingedFrom: true, nElements: 3 },
      ),
    ],
    stops: [{ name: "stop", junction: 3, offset: [2 * um, 0], direction: [0, 1], gap: 3 * um * (1 + h) }],
  };
}
const loadAt = (h: number): FrameLoad => ({
  strains: [8e-4 * (1 + h), 7e-4, 1e-4 * h],
  moduli: [160e9 * (1 - h), 160e9, 150e9],
  bodyStrains: Float64Array.of(0, 0, 4e-4 * (1 + h), 0),
  forces: [{ junction: 2, motion: "x", value: 1e-5 * h, offset: [10 * um, 40 * um * (1 + h)] }],
  held: [{ junction: 3, motion: "turn", value: 1e-3 * (1 + h) }],
  acceleration: [50 * (1 + h), 200],
});

describe("first-order change to a neighbour of other sizes and loads", () => {
  const model = createFrameModel(network(0));
  const state = equilibrium(model, loadAt(0));
  const at = (h: number): { model: FrameModel; load: FrameLoad } => ({
    model: createFrameModel(network(h), { like: model }),
    load: loadAt(h),
  });

  it("stands against its stop", () => {
    expect(state.stops[0]!.isClosed).toBe(true);
    expect(state.stops[0]!.force).toBeGreaterThan(0);
  });

  it("is right to the second order, stop force and inner nodes included", () => {
    const errors = [2e-3, 1e-3].map((h) => {
      const change = model.changeTo(state, at(h));
      const { model: other, load } = at(h);
      const exact = equilibrium(other, load, { start: state });
      const body = [6, 7, 8].map((i) => Math.abs(change[i]! - (exact.allMotions[i]! - state.allMotions[i]!)));
      const node = model.topology.nodesAt[1]! + 9;
      const inner = [0, 1].map((k) => Math.abs(change[node + k]! - (exact.allMotions[node + k]! - state.allMotions[node + k]!)));
      const force = Math.abs(state.stops[0]!.force + change[model.topology.stopsAt]! - exact.stops[0]!.force);
      return [...body, ...inner, force];
    });
    errors[0]!.forEach((error, i) => {
      // half the step, a quarter of the error
      const ratio = error / errors[1]![i]!;
      expect(ratio).toBeGreaterThan(3.6);
      expect(ratio).toBeLessThan(4.4);
    });
  });

  it("gives a state whose forces are right to the second order", () => {
    const errors = [2e-3, 1e-3].map((h) => {
      const { model: other, load } = at(h);
      const guess = estimateNeighbour(state, { from: model, model: other, load });
      const exact = equilibrium(other, load, { start: state });
      return [0, 1, 2].map((i) => Math.abs(guess.reactions[i]! - exact.reactions[i]!));
    });
    errors[0]!.forEach((error, i) => {
      expect(error / errors[1]![i]!).toBeGreaterThan(3.5);
    });
  });

  it("can be asked many times, and a solve in between does no harm", () => {
    const first = model.changeTo(state, at(1e-5));
    equilibrium(model, { strains: [1e-4, 0, 0] });
    expect(model.changeTo(state, at(1e-5))).toEqual(first);
    expect(errorOf(model.changeTo(state, at(-1e-5))[7]!, -first[7]!)).toBeLessThan(2e-3);
  });

  it("needs models made alike", () => {
    const stranger = createFrameModel(network(0));
    expect(() => model.changeTo(state, { model: stranger, load: loadAt(0) })).toThrow(/Cannot compare two frames/);
  });
});

describe("solving from a neighbouring state", () => {
  const model = createFrameModel(network(0));
  const state = equilibrium(model, loadAt(0));
  it("takes one to three factorisations and finds the same state as a cold start", () => {
    for (const h of [0, 1e-4, 1e-2]) {
      const other = createFrameModel(network(h), { like: model });
      const warm = equilibrium(other, loadAt(h), { start: state });
      const cold = equilibrium(other, loadAt(h));
      expect(warm.passes).toBeLessThanOrEqual(h === 0 ? 1 : 3);
      for (const i of [6, 7, 8]) expect(errorOf(warm.motions[i]!, cold.motions[i]!)).toBeLessThan(1e-9);
    }
  });
  it("walks there where the neighbour is far", () => {
    const far = { ...loadAt(0), strains: [-3e-4, -2e-4, 0], held: [] };
    const warm = equilibrium(model, far, { start: state });
    const cold = equilibrium(model, far);
    expect(warm.stops[0]!.isClosed).toBe(false);
    for (const i of [6, 7, 8]) expect(errorOf(warm.motions[i]!, cold.motions[i]!)).toBeLessThan(1e-8);
  });
});
