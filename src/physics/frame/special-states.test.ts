import { describe, expect, it } from "vitest";
import { motionAt } from "./answers.ts";
import { createFrameModel } from "./model.ts";
import { at, cantilever, cantileverEI, clamped, errorOf, frameOf } from "./sample-frames.ts";
import { findSpecialState, type SpecialState } from "./special-states.ts";

/** The special state that must be there. */
function special(...question: Parameters<typeof findSpecialState>): SpecialState {
  const found = findSpecialState(...question);
  if (found.kind === "none") throw new Error(`none up to ${found.reachedFactor}`);
  return found;
}

// Two pinned bars, half-span 100, rise 10, EA 1e4 each: engineering strain (closed form), see trace.test.ts.
describe("two-bar truss", () => {
  const bar = { width: 20, thickness: 1 / 20, youngsModulus: 1e4, nElements: 1, hingedFrom: true, hingedTo: true };
  const model = createFrameModel(
    frameOf(
      [at("left", -100, 0, clamped), at("right", 100, 0, clamped), at("apex", 0, 10, ["turn"])],
      [
        [0, 2, bar],
        [1, 2, bar],
      ],
    ),
  );
  const load = { forces: [{ junction: 2, motion: "y", value: -0.02 }] } as const;

  it("has both limit points as states under a part of the load, far beyond the load itself", () => {
    for (const [count, sign] of [
      [1, 1],
      [2, -1],
    ] as const) {
      const found = special(model, load, { count, largestFactor: 1000, largestMove: 1 });
      expect(found.kind).toBe("limit");
      // flat in the load: the square of the place's error
      expect(errorOf(0.02 * found.loadFactor, sign * 3.810871904)).toBeLessThan(1e-9);
      const drop = -motionAt(model, found.state, { junction: 2, motion: "y" });
      expect(errorOf(count === 1 ? drop : 20 - drop, 4.236074473)).toBeLessThan(1e-5);
      // in balance under the load that it says it has
      const [l, L, z] = [Math.hypot(100, 10 - drop), Math.hypot(100, 10), 10 - drop];
      expect(errorOf(found.state.load.forces[0]!.value, (2e4 * (l - L) * z) / (L * l))).toBeLessThan(1e-9);
    }
  });

  it("counts the load from that of a start", () => {
    const start = model.solve({ forces: [{ junction: 2, motion: "y", value: -1 }] });
    if (start.outcome !== "equilibrium") throw new Error(start.reason);
    const whole = { forces: [{ junction: 2, motion: "y", value: -2 }] } as const;
    const found = special(model, whole, { count: 1, largestFactor: 10, start, largestMove: 1 });
    expect(errorOf(found.loadFactor, 2.810871904)).toBeLessThan(1e-9);
    expect(
      errorOf(
        found.state.load.forces.reduce((sum, { value }) => sum - value, 0),
        3.810871904,
      ),
    ).toBeLessThan(1e-9);
  });

  it("finds none beyond the bound", () => {
    expect(findSpecialState(model, load, { count: 1, largestFactor: 100 })).toEqual({ kind: "none", reachedFactor: 100 });
    expect(() => findSpecialState(model, load, { count: 1, largestFactor: 0 })).toThrow(/positive bound, found 0/);
  });
});

it("tells buckling from snapping", () => {
  // Euler, pi^2/4 (Timoshenko & Gere, from memory); sixteen elements: (pi/32)^4/720
  const load = { forces: [{ junction: 1, motion: "x", value: -cantileverEI }] } as const;
  const found = special(createFrameModel(cantilever(16)), load, { count: 1, largestFactor: 100 });
  expect(found.kind).toBe("bifurcation");
  expect(errorOf(found.loadFactor, Math.PI ** 2 / 4)).toBeLessThan(1e-6);
});
