import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LiftedElement, liftedStiffnessInto } from "./out-of-plane-element.ts";

const number = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });
const elements = fc.record({
  angle: number(3),
  length: fc.double({ min: 0.5, max: 2, noNaN: true }),
  bending: fc.double({ min: 0.1, max: 3, noNaN: true }),
  torsion: fc.double({ min: 0.1, max: 3, noNaN: true }),
  shear: fc.double({ min: 0, max: 3, noNaN: true }),
  axialForce: number(2),
  startMoment: number(2),
  endMoment: number(2),
});

function stiffnessOf(e: { readonly angle: number; readonly length: number } & Partial<LiftedElement>): Float64Array {
  const { angle, bending = 1, torsion = 1, shear = 0, axialForce = 0, startMoment = 0, endMoment = 0 } = e;
  const stiffness = new Float64Array(36);
  liftedStiffnessInto(
    { stiffness, own: new Float64Array(8) },
    {
      length: e.length,
      restLength: e.length,
      cos: Math.cos(angle),
      sin: Math.sin(angle),
      bending,
      torsion,
      shear,
      polarRadiusSquared: 0.3,
      axialForce,
      startMoment,
      endMoment,
    },
  );
  return stiffness;
}

const product = (matrix: Float64Array, x: readonly number[]): number[] =>
  Array.from({ length: 6 }, (_, i) => x.reduce((sum, value, j) => sum + matrix[6 * i + j]! * value, 0));

describe("beam element out of the plane", () => {
  it("has a symmetric stiffness that a lift leaves without force", () => {
    fc.assert(
      fc.property(elements, (e) => {
        const k = stiffnessOf(e);
        for (let i = 0; i < 6; i++)
          for (let j = 0; j < i; j++) expect(Math.abs(k[6 * i + j]! - k[6 * j + i]!)).toBeLessThan(1e-12);
        for (const force of product(k, [1, 0, 0, 1, 0, 0])) expect(Math.abs(force)).toBeLessThan(1e-12);
      }),
      { seed: 41, numRuns: 50 },
    );
  });

  it("turns its end forces with it when it tilts as a rigid body", () => {
    // A force F in the plane becomes F + r x F; a moment M about z shows half of r x M, since turns are the components of one vector.
    fc.assert(
      fc.property(elements, number(1), number(1), (e, rx, ry) => {
        const dx = e.length * Math.cos(e.angle);
        const dy = e.length * Math.sin(e.angle);
        const found = product(stiffnessOf(e), [0, rx, ry, rx * dy - ry * dx, rx, ry]);
        const V = (e.startMoment + e.endMoment) / e.length;
        const fx = e.axialForce * Math.cos(e.angle) + V * Math.sin(e.angle);
        const fy = e.axialForce * Math.sin(e.angle) - V * Math.cos(e.angle);
        const lift = rx * fy - ry * fx;
        const half = (moment: number): number[] => [0.5 * ry * moment, -0.5 * rx * moment];
        const expected = [-lift, ...half(e.startMoment), lift, ...half(e.endMoment)];
        expected.forEach((value, i) => {
          // Rounding of numbers of order ten.
          expect(Math.abs(found[i]! - value)).toBeLessThan(1e-12);
        });
      }),
      { seed: 42, numRuns: 100 },
    );
  });

  it("bends, shears and twists as the textbook says", () => {
    // Held at the start: z = P L^3/(3 EI) (1 + phi/4), turn P L^2/(2 EI), twist T L/(G J). Closed form.
    const k = stiffnessOf({ angle: 0, length: 2, bending: 3, torsion: 5, shear: 0.8 });
    const tip = [(8 / 9) * 1.2, 0.4, -2 / 3];
    const force = product(k, [0, 0, 0, ...tip]).slice(3);
    [1, 1, 0].forEach((value, i) => {
      expect(Math.abs(force[i]! - value)).toBeLessThan(1e-14);
    });
  });
});
