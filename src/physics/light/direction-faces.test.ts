import { describe, expect, it } from "vitest";
import { faceSharesInto } from "./direction-faces.ts";
import { fresnelReflectance } from "./fresnel.ts";

type Vector = readonly [number, number, number];
const silicon = { n: 3.75 };
const opaque = { index: silicon, thickness: 40e-6, absorption: undefined };

const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

function sharesOf(direction: Vector, bars: Parameters<typeof faceSharesInto>[2]) {
  const states = { s: { wall: 0, passes: 0, returns: 0 }, p: { wall: 0, passes: 0, returns: 0 } };
  faceSharesInto(states, { y: direction[1], z: direction[2] }, bars);
  return states;
}

describe("faces met by one direction", () => {
  it("mix a level face's own states by the squared cosine between the two field vectors", () => {
    for (const direction of [
      [0.48, 0.6, 0.64],
      [0.1, 0.3, Math.sqrt(0.9)],
      [0, 0.6, 0.8],
    ] as const) {
      const alongWall = cross(direction, [0, 1, 0]);
      const alongLevel = cross(direction, [0, 0, 1]);
      const own = dot(alongWall, alongLevel) ** 2 / (dot(alongWall, alongWall) * dot(alongLevel, alongLevel));
      const level = fresnelReflectance(silicon, direction[2]);
      const { s, p } = sharesOf(direction, opaque);
      // Plain vectors against the closed form: rounding only.
      expect(s.returns).toBeCloseTo(own * level.s + (1 - own) * level.p, 14);
      expect(p.returns).toBeCloseTo(own * level.p + (1 - own) * level.s, 14);
      expect(s.wall).toBe(fresnelReflectance(silicon, direction[1]).s);
      expect(p.wall).toBe(fresnelReflectance(silicon, direction[1]).p);
      expect(s.passes).toBe(0);
    }
  });

  it("straight on, both states are alike", () => {
    const { s, p } = sharesOf([0, 0, 1], { ...opaque, absorption: 1e4 });
    expect(s.returns).toBeCloseTo(p.returns, 14);
    expect(s.passes).toBeCloseTo(p.passes, 14);
    // One pass keeps exp(-0.4); entering and leaving keep 1 - R each; the rest is a series in R exp(-0.4).
    const face = (2.75 / 4.75) ** 2;
    expect(s.passes).toBeCloseTo(((1 - face) ** 2 * Math.exp(-0.4)) / (1 - face ** 2 * Math.exp(-0.8)), 14);
  });
});
