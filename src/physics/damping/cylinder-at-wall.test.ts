import { describe, expect, it } from "vitest";
import { cylinderAtWallDrag } from "./cylinder-at-wall.ts";

const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe("cylinder beside a wall", () => {
  it("close to it: the film under a round, 3 sqrt(2) pi mu (a/d)^(3/2), by lubrication", () => {
    for (const gap of [1e-9, 1e-7, 1e-5, 1e-3]) {
      const { towardsWall } = cylinderAtWallDrag({ radius: 1, gap, viscosity: 1 });
      // next term of the film: of the order of the gap
      expect(errorOf(towardsWall, 3 * Math.sqrt(2) * Math.PI * gap ** -1.5)).toBeLessThan(1.1 * gap + 1e-12);
    }
  });
  it("is smooth where the expansion takes over", () => {
    const at = (gap: number): number => cylinderAtWallDrag({ radius: 1, gap, viscosity: 1 }).towardsWall * gap ** 1.5;
    // (1e-4)^2 left out of the expansion, and rounding of the difference
    expect(errorOf(at(0.9999999e-4), at(1.0000001e-4))).toBeLessThan(1e-8);
  });
  it("far from it: 4 pi mu/ln(2 h/a), half of that along the axis, and a little more towards the wall", () => {
    const { alongAxis, alongWall, towardsWall } = cylinderAtWallDrag({ radius: 1, gap: 1e6, viscosity: 1 });
    const wanted = (4 * Math.PI) / Math.log(2 * (1e6 + 1));
    expect(errorOf(alongWall, wanted)).toBeLessThan(1e-12);
    expect(errorOf(alongAxis, wanted / 2)).toBeLessThan(1e-12);
    expect(errorOf(towardsWall, (4 * Math.PI) / (Math.log(2 * (1e6 + 1)) - 1))).toBeLessThan(1e-10);
  });
  it("refuses a wall that it touches", () => {
    expect(() => cylinderAtWallDrag({ radius: 1, gap: 0, viscosity: 1 })).toThrow(/gap above zero/);
  });
});
