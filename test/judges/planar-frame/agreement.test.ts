import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findBeamForces, stiffnessAt } from "../../../src/physics/frame/answers.ts";
import { createFrameModel } from "../../../src/physics/frame/model.ts";
import { at, clamped, frameOf } from "../../../src/physics/frame/sample-frames.ts";
import { PlanarFrameModel } from "./index.ts";

/** Even steps: the judge does not settle under loads of 1e-300. */
const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 2001 }).map((step) => min + (step / 2001) * (max - min));

/** A row of junctions that zigzags between two clamped ends, with a side beam from every second one. */
const frames = fc.record({
  heights: fc.array(number(-0.3, 0.3), { minLength: 3, maxLength: 6 }),
  width: number(0.02, 0.06),
  shear: fc.boolean(),
  nElements: fc.integer({ min: 2, max: 5 }),
  strain: number(-2e-3, 1e-3),
  force: number(-5e-4, 5e-4),
  spring: number(0, 0.05),
});

// The frame of straight beams of this folder: another program for the same element, all nodes in one matrix.
describe("agreement with the uncondensed frame", () => {
  it("on random frames", () => {
    let compared = 0;
    fc.assert(
      fc.property(frames, ({ heights, width, shear, nElements, strain, force, spring }) => {
        const size = { width, thickness: 0.5, youngsModulus: 7, nElements, ...(shear ? { shearModulus: 2.7 } : {}) };
        const n = heights.length;
        const junctions = [
          at("first", 0, 0, clamped),
          ...heights.map((y, i) => ({ ...at("j", i + 1, y), springs: { x: spring, y: 2 * spring } })),
          at("last", n + 1, 0, clamped),
          ...heights.map((_, i) => at("side", i + 1.3, 1.5, clamped)),
        ];
        const beams: (readonly [number, number, typeof size])[] = [];
        for (let i = 0; i <= n; i++) beams.push([i, i + 1, size]);
        for (let i = 0; i < n; i += 2) beams.push([i + 1, n + 2 + i, size]);
        const network = frameOf(junctions, beams);
        const strains = beams.map(
          (_, b) => Float64Array.from({ length: nElements }, (_, e) => strain * (1 + 0.2 * b - 0.3 * e)) as Float64Array,
        );
        const model = createFrameModel(network);
        const found = model.solve({ strains, forces: [{ junction: 1, motion: "y", value: force }] });
        const other = new PlanarFrameModel({
          joints: junctions.map(({ x, y, held, springs }) => ({
            x,
            y,
            fixed: held.length === 3,
            springX: springs?.x ?? 0,
            springY: springs?.y ?? 0,
          })),
          members: beams.map(([from, to]) => ({ from, to, ...size })),
        });
        const loading = { strains, loads: [{ joint: 1, motion: 1 as const, value: force }], held: [] };
        let judged: ReturnType<typeof other.solve>;
        try {
          judged = other.solve(loading);
        } catch {
          // the judge found no stable state; ours may be more patient
          return;
        }
        if (found.outcome !== "equilibrium") throw new Error(found.reason);
        compared++;
        const largest = judged.joints.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
        // both stop at corrections of 1e-9 of the motions or less
        for (let i = 0; i < judged.joints.length; i++) {
          expect(Math.abs(found.motions[i]! - judged.joints[i]!)).toBeLessThan(1e-9 * largest + 1e-15);
        }
        const forces = findBeamForces(model, found);
        judged.members.forEach(({ peakStress }, m) => {
          expect(Math.abs(forces[m]!.peakStress - peakStress)).toBeLessThan(1e-7 * (Math.abs(strain) * 7 + peakStress) + 1e-14);
        });
        const k = stiffnessAt(model, found, { junction: 2, motion: "y" });
        // the tangent of a state that is 1e-9 off, near buckling amplified
        expect(Math.abs(k / other.stiffnessAt(judged, loading, { joint: 2, motion: 1 }) - 1)).toBeLessThan(1e-5);
      }),
      { seed: 21, numRuns: 100 },
    );
    expect(compared).toBeGreaterThan(60);
  });
});
