import { describe, expect, it } from "vitest";
import { stiffnessAt } from "./answers.ts";
import { createFrameModel } from "./model.ts";
import type { ContactStop } from "./network.ts";
import { at, cantilever, cantileverEI, clamped, equilibrium, errorOf, frameOf } from "./sample-frames.ts";
import { findAllStates } from "./trace.ts";

const stop = (options: Partial<ContactStop>): ContactStop => ({
  name: "stop",
  junction: 1,
  offset: [0, 0],
  direction: [0, 1],
  gap: 1e-4,
  ...options,
});

// Closed forms of the Euler-Bernoulli cantilever, small motion: k = 3 EI/L^3.
describe("one stop at the tip of a cantilever", () => {
  const network = { ...cantilever(4), stops: [stop({})] };
  const model = createFrameModel(network);
  const k = 3 * cantileverEI;
  const push = (value: number) => ({ forces: [{ junction: 1, motion: "y", value }] }) as const;

  it("does nothing before the gap closes", () => {
    const [found] = equilibrium(model, push(0.9e-4 * k)).stops;
    expect(found!.isClosed).toBe(false);
    expect(found!.force).toBe(0);
    expect(errorOf(found!.gap, 1e-5)).toBeLessThan(1e-6);
  });
  it("takes all that is left of the force, and lets nothing through", () => {
    const found = equilibrium(model, push(3e-4 * k));
    expect(found.stops[0]!.isClosed).toBe(true);
    // second order of the slope: 1e-8
    expect(errorOf(found.stops[0]!.force, 2e-4 * k)).toBeLessThan(1e-6);
    expect(Math.abs(found.stops[0]!.gap)).toBeLessThan(1e-9 * 1e-4);
    expect(found.nNegative).toBe(0);
    // the tip can no longer move along the stop
    expect(stiffnessAt(model, found, { junction: 1, motion: "y" })).toBeGreaterThan(1e9 * k);
    // turning against the stop: propped cantilever, 4 EI/L
    expect(errorOf(stiffnessAt(model, found, { junction: 1, motion: "turn" }), 4 * cantileverEI)).toBeLessThan(1e-5);
  });
  it("lets go again", () => {
    const closed = equilibrium(model, push(3e-4 * k));
    const open = equilibrium(model, push(0.5e-4 * k), { start: closed });
    expect(open.stops[0]!.isClosed).toBe(false);
    expect(errorOf(open.motions[4]!, 0.5e-4)).toBeLessThan(1e-6);
    const again = equilibrium(model, push(3e-4 * k), { start: open });
    expect(errorOf(again.stops[0]!.force, closed.stops[0]!.force)).toBeLessThan(1e-9);
  });
  it("is found closed on a traced path too", () => {
    const [state] = findAllStates(model, push(3e-4 * k), { largestMove: 1e-4 });
    expect(state!.isClosed[0]).toBe(1);
    expect(errorOf(state!.stops[0]!.force, equilibrium(model, push(3e-4 * k)).stops[0]!.force)).toBeLessThan(1e-8);
  });
});

describe("stops on a rigid body", () => {
  const leg = { width: 1e-3, thickness: 1e-3, youngsModulus: 1e11, nElements: 4 };
  const guided = (stops: readonly ContactStop[]) =>
    createFrameModel({
      ...frameOf(
        [at("left", -1, 0, clamped), at("body", 0, 0), at("right", 1, 0, clamped)],
        [
          [0, 1, leg],
          [1, 2, leg],
        ],
      ),
      stops,
    });
  const force = (value: number, x = 0) => ({ forces: [{ junction: 1, motion: "y", value, offset: [x, 0] }] }) as const;
  const small = 1e-5 * cantileverEI;

  it("share the force between two points, by the lever", () => {
    const model = guided([stop({ name: "a", offset: [-0.1, 0], gap: 1e-9 }), stop({ name: "b", offset: [0.1, 0], gap: 1e-9 })]);
    const { stops } = equilibrium(model, force(small, 0.05));
    // nothing moves, so the beams take next to nothing of the force: 2e-9 x 24 EI of 1e-5 EI
    expect(errorOf(stops[0]!.force, 0.25 * small)).toBeLessThan(1e-2);
    expect(errorOf(stops[1]!.force, 0.75 * small)).toBeLessThan(1e-2);
    expect(errorOf(stops[0]!.force + stops[1]!.force, small)).toBeLessThan(5e-3);
  });
  it("closes only those that push", () => {
    const model = guided([stop({ name: "a", offset: [-0.1, 0], gap: 1e-9 }), stop({ name: "b", offset: [0.1, 0], gap: 1e-9 })]);
    const { stops } = equilibrium(model, force(small, 0.3));
    expect(stops.map(({ isClosed }) => isClosed)).toEqual([false, true]);
    expect(stops.every(({ force: push, gap }) => push >= 0 && gap >= -1e-18)).toBe(true);
  });
  it("bears stops that say the same", () => {
    const offsets = [-0.1, 0, 0.1];
    const model = guided(offsets.map((x) => stop({ name: `${x}`, offset: [x, 0], gap: 1e-9 })));
    const { stops } = equilibrium(model, force(small, 0.02));
    expect(
      errorOf(
        stops.reduce((sum, { force: push }) => sum + push, 0),
        small,
      ),
    ).toBeLessThan(5e-3);
    expect(stops.every(({ force: push, gap }) => push >= 0 && gap >= -1e-18)).toBe(true);
  });
  it("meets a slanted stop and slides along it", () => {
    const model = guided([stop({ direction: [Math.SQRT1_2, Math.SQRT1_2], gap: 2e-6 })]);
    const { stops, motions } = equilibrium(model, force(2 * small * 10));
    expect(stops[0]!.isClosed).toBe(true);
    expect(errorOf((motions[3]! + motions[4]!) * Math.SQRT1_2, 2e-6)).toBeLessThan(1e-9);
    // the stop pushes back along its own direction: sideways too
    expect(motions[3]!).toBeLessThan(0);
  });
});
