/** Two planar frames written apart, one condensed beam by beam, one on a skyline, must give the same states. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PlanarFrameModel } from "../../../src/physics/planar-frame/index.ts";
import { rectangularSection } from "./frame.ts";
import { createFrameModel } from "./model.ts";

const um = 1e-6;

describe("condensed frame against skyline frame", () => {
  it("agree on random pairs of legs with a stem, unequal strains, a spring and a load", () => {
    const cases = fc.record({
      rise: fc.double({ min: 15, max: 50, noNaN: true }),
      width: fc.double({ min: 5, max: 10, noNaN: true }),
      strains: fc.tuple(fc.double({ min: 0, max: 6e-4, noNaN: true }), fc.double({ min: 0, max: 6e-4, noNaN: true })),
      spring: fc.double({ min: 0, max: 500, noNaN: true }),
      load: fc.double({ min: -1e-4, max: 1e-4, noNaN: true }),
    });
    fc.assert(
      fc.property(cases, ({ rise, width, strains, spring, load }) => {
        const places = [
          { x: 0, y: 0, fixed: true },
          { x: 1000 * um, y: 0, fixed: true },
          { x: 500 * um, y: rise * um, fixed: false },
          { x: 500 * um, y: (rise + 100) * um, fixed: false, springX: spring, springY: spring },
        ];
        const beams = [
          { from: 0, to: 2, width: width * um, nElements: 8 },
          { from: 1, to: 2, width: width * um, nElements: 8 },
          { from: 2, to: 3, width: 20 * um, nElements: 2 },
        ];
        const skyline = new PlanarFrameModel({
          joints: places,
          members: beams.map((beam) => ({ ...beam, thickness: 40 * um, youngsModulus: 169e9 })),
        });
        const condensed = createFrameModel({
          junctions: places.map(({ x, y, fixed, springX, springY }) => ({
            x,
            y,
            ...(fixed && { fixed: ["x", "y", "rotation"] as const }),
            ...(springX !== undefined && { springs: { x: springX, y: springY! } }),
          })),
          branches: beams.map(({ width: depth, ...beam }) => ({
            ...beam,
            section: rectangularSection(depth, 40 * um),
            youngsModulus: 169e9,
          })),
        });
        const all = [strains[0], strains[1], 3e-4];
        const a = skyline.solve({
          strains: beams.map((beam, b) => new Float64Array(beam.nElements).fill(all[b]!)),
          loads: [{ joint: 3, motion: 1, value: load }],
          held: [],
        });
        const b = condensed.solve({ freeStrains: all, forces: [{ junction: 3, motion: "y", value: load }] });
        if (b.outcome !== "equilibrium") throw new Error(b.reason);
        expect(b.nNegative).toBe(a.nNegative);
        // Both stop at steps of 1e-7 to 1e-9 of the motion; the errors left are of the order of the square.
        for (let i = 6; i < 12; i++) expect(Math.abs(a.joints[i]! - b.motions[i]!)).toBeLessThan(i % 3 === 2 ? 1e-9 : 1e-13);
        for (let m = 0; m < 3; m++) {
          const stress = a.members[m]!.peakStress;
          expect(Math.abs(b.branches[m]!.peakStress - stress)).toBeLessThan(1e-6 * stress + 10);
        }
      }),
      { seed: 5, numRuns: 25 },
    );
  });
});
