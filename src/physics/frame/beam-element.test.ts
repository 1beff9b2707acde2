import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type ElementShape,
  elementSize,
  evaluateElementInto,
  forceAt,
  resultantAt,
  strainForceAt,
  tangentAt,
} from "./beam-element.ts";

/** Full 6 x 6 tangent from the packed one. */
function unpack(result: Float64Array): number[][] {
  const k = (i: number): number => result[tangentAt + i]!;
  const xx = k(0);
  const xy = k(1);
  const yy = k(2);
  return [
    [xx, xy, -k(3), -xx, -xy, -k(5)],
    [xy, yy, -k(4), -xy, -yy, -k(6)],
    [-k(3), -k(4), k(7), k(3), k(4), k(8)],
    [-xx, -xy, k(3), xx, xy, k(5)],
    [-xy, -yy, k(4), xy, yy, k(6)],
    [-k(5), -k(6), k(8), k(5), k(6), k(9)],
  ];
}

function evaluate(shape: ElementShape, motions: Float64Array, freeStrain: number): Float64Array {
  const result = new Float64Array(elementSize);
  evaluateElementInto(result, 0, { shape, youngsModulus: 3, freeStrain, motions, start: 0 });
  return result;
}

const number = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });
const cases = fc.record({
  angle: number(3),
  turn: number(3),
  bend1: number(0.2),
  bend2: number(0.2),
  stretch: number(0.05),
  strain: number(0.02),
  shear: fc.option(fc.double({ min: 0.5, max: 5, noNaN: true }), { nil: undefined }),
  share: fc.double({ min: 0.5, max: 1, noNaN: true }),
  bending: fc.constantFrom(undefined, { start: 2, cross: -0.4, end: 0.9 }),
});

/** An element of length 2 turned by any angle, stretched and bent. */
function make(c: {
  angle: number;
  turn: number;
  bend1: number;
  bend2: number;
  stretch: number;
  shear: number | undefined;
  share: number;
  bending: ElementShape["bending"] | undefined;
}) {
  const shape = {
    dx: 2 * Math.cos(c.angle),
    dy: 2 * Math.sin(c.angle),
    length: 2,
    area: 0.7,
    secondMoment: 0.3,
    effectiveShearModulus: c.shear,
    axialShare: c.share,
    ...(c.bending !== undefined && { bending: c.bending }),
  };
  const l = 2 * (1 + c.stretch);
  const end = c.angle + c.turn;
  const motions = Float64Array.from([
    0.3,
    -0.2,
    c.turn + c.bend1,
    0.3 + l * Math.cos(end) - shape.dx,
    -0.2 + l * Math.sin(end) - shape.dy,
    c.turn + c.bend2,
  ]);
  return { shape, motions };
}

describe("corotational beam element", () => {
  it("has the derivative of its forces as tangent, symmetric", () => {
    fc.assert(
      fc.property(cases, (c) => {
        const { shape, motions } = make(c);
        const tangent = unpack(evaluate(shape, motions, c.strain));
        const h = 1e-6;
        for (let j = 0; j < 6; j++) {
          const up = Float64Array.from(motions);
          const down = Float64Array.from(motions);
          up[j] = up[j]! + h;
          down[j] = down[j]! - h;
          const above = evaluate(shape, up, c.strain);
          const below = evaluate(shape, down, c.strain);
          for (let i = 0; i < 6; i++) {
            const slope = (above[forceAt + i]! - below[forceAt + i]!) / (2 * h);
            // Central differences: h^2 times a third derivative of order one.
            expect(Math.abs(slope - tangent[i]![j]!)).toBeLessThan(2e-8);
          }
        }
      }),
      { seed: 1, numRuns: 60 },
    );
  });

  it("has the derivative with respect to the free strain", () => {
    fc.assert(
      fc.property(cases, (c) => {
        const { shape, motions } = make(c);
        const at = evaluate(shape, motions, c.strain);
        const above = evaluate(shape, motions, c.strain + 1e-3);
        // Forces are linear in the free strain.
        for (let i = 0; i < 6; i++) expect(Math.abs((above[i]! - at[i]!) / 1e-3 - at[strainForceAt + i]!)).toBeLessThan(1e-11);
      }),
      { seed: 2, numRuns: 60 },
    );
  });

  it("feels nothing when moved as a rigid body, however far it turns", () => {
    fc.assert(
      fc.property(cases, (c) => {
        const { shape, motions } = make({ ...c, bend1: 0, bend2: 0, stretch: 0 });
        const result = evaluate(shape, motions, 0);
        for (let i = 0; i < 6; i++) expect(Math.abs(result[forceAt + i]!)).toBeLessThan(1e-14);
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it("balances its own forces and moments", () => {
    fc.assert(
      fc.property(cases, (c) => {
        const { shape, motions } = make(c);
        const f = evaluate(shape, motions, c.strain);
        const x = shape.dx + motions[3]! - motions[0]!;
        const y = shape.dy + motions[4]! - motions[1]!;
        expect(Math.abs(f[0]! + f[3]!)).toBeLessThan(1e-14);
        expect(Math.abs(f[1]! + f[4]!)).toBeLessThan(1e-14);
        expect(Math.abs(f[2]! + f[5]! + x * f[4]! - y * f[3]!)).toBeLessThan(1e-13);
        expect(Math.hypot(x, y)).toBeCloseTo(f[resultantAt + 3]!, 14);
      }),
      { seed: 4, numRuns: 60 },
    );
  });
});
