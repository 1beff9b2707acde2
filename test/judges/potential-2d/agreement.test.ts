/**
 * Boundary elements against finite volumes: shape factors and couplings of sections above a plane. The judge's own error, from its
 * extrapolation and its far wall, is below 1e-3; each case says how far its grids lie apart.
 */
import { describe, expect, it } from "vitest";
import { crossSectionCouplings, crossSectionShapeFactors } from "../../../src/physics/conduction/index.ts";
import { judgeConduction } from "./plane-potential.ts";
import { judgedSections, listedLegs, listedRow, listedRows, rectangle } from "./sections.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe("shape factors", () => {
  it.each(judgedSections)("$name", ({ bodies, isSymmetric, nSteps }) => {
    const { heat, correction } = judgeConduction(bodies, { nSteps, isSymmetric });
    // The extrapolation must be a small step, or it is not to be trusted.
    expect(correction).toBeLessThan(0.006);
    const hot = bodies.filter((body) => body.potential === "hot");
    const present = hot.flatMap((body, i) => (!isSymmetric || body.x + body.width / 2 > 0 ? [i] : []));
    const fine = crossSectionShapeFactors({ rectangles: bodies, panelsPerSide: 24 });
    const quick = crossSectionShapeFactors({ rectangles: bodies });
    present.forEach((body, i) => {
      // 24 panels err by 1e-4, the judge by up to 1.5e-3 where its extrapolation steps by 0.5 %.
      expect(relative(fine[body]!, heat[i]!)).toBeLessThan(2e-3);
      // The default of 8 panels is made for 2e-3.
      expect(relative(quick[body]!, fine[body]!)).toBeLessThan(2e-3);
    });
  });
});

describe("listed values", () => {
  it.each(listedLegs)("%d x %d, gap %d: %d", (width, height, gap, factor) => {
    const { heat } = judgeConduction([rectangle([0, width, height, gap])], { nSteps: 8, isSymmetric: true });
    expect(relative(heat[0]!, factor)).toBeLessThan(1.5e-3);
  });

  it.each(listedRows)("%d legs at pitch %d: mean %d", (n, pitch, mean) => {
    const { heat } = judgeConduction(listedRow(n, pitch), { nSteps: 8, isSymmetric: true });
    expect(relative(heat.reduce((sum, value) => sum + value, 0) / heat.length, mean)).toBeLessThan(1.5e-3);
  });
});

describe("couplings", () => {
  it("of a narrow and a wide arm beside cold silicon", () => {
    const bodies = [rectangle([0, 6, 40, 7]), rectangle([20, 14, 40, 7]), rectangle([-60, 50, 40, 7], "cold")];
    const { toGround, between } = crossSectionCouplings({ rectangles: bodies, panelsPerSide: 24 });
    const first = judgeConduction(bodies, { nSteps: 7, isSymmetric: false, only: 0 }).heat;
    const second = judgeConduction(bodies, { nSteps: 7, isSymmetric: false, only: 1 }).heat;
    expect(relative(between[1]!, -first[1]!)).toBeLessThan(2e-3);
    expect(relative(between[1]!, -second[0]!)).toBeLessThan(2e-3);
    expect(relative(toGround[0]!, first[0]! + second[0]!)).toBeLessThan(2e-3);
    expect(relative(toGround[1]!, first[1]! + second[1]!)).toBeLessThan(2e-3);
  });
});
