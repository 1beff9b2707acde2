/** Random sections of up to four legs and a wall: boundary elements against finite volumes on finer grids. */

import { describe, expect, it } from "vitest";
import { createRandomSource } from "#base";
import { campaign } from "#campaign";
import { crossSectionShapeFactors } from "../../../src/physics/conduction/index.ts";
import { type JudgeBody, judgeConduction } from "./plane-potential.ts";
import { judgedSections, rectangle } from "./sections.ts";

const { nCases, seed } = campaign({ name: "sections above a plane", sample: 3, full: 60 });

describe("boundary elements against finite volumes", () => {
  it("agree on random sections", () => {
    const random = createRandomSource(seed);
    const between = (low: number, high: number): number => low + (high - low) * random.uniform();
    let worst = 0;
    for (let i = 0; i < nCases; i++) {
      const [height, gap] = [between(10, 50), between(3, 15)];
      const bodies: JudgeBody[] = [];
      let right = 0;
      const nLegs = 1 + Math.floor(between(0, 4));
      for (let leg = 0; leg < nLegs; leg++) {
        const width = between(4, 25);
        bodies.push(rectangle([right + width / 2, width, height, gap]));
        right += width + between(6, 40);
      }
      bodies.push(rectangle([right + 30, 60, height + gap, 0], "cold"));
      const { heat } = judgeConduction(bodies, { nSteps: 8, isSymmetric: false });
      const found = crossSectionShapeFactors({ rectangles: bodies, panelsPerSide: 24 });
      heat.forEach((value, k) => {
        worst = Math.max(worst, Math.abs(found[k]! / value - 1));
      });
    }
    // Extrapolation from steps of a sixteenth of the distance between edges.
    expect(worst).toBeLessThan(3e-3);
  });

  it.runIf(process.env.CAMPAIGN === "full").each(judgedSections.filter((section) => section.isSymmetric))(
    "agree to 5e-4 on a grid twice as fine: $name",
    ({ bodies, nSteps }) => {
      const { heat } = judgeConduction(bodies, { nSteps: 2 * nSteps, isSymmetric: true });
      const found = crossSectionShapeFactors({ rectangles: bodies, panelsPerSide: 32 });
      const hot = bodies.filter((body) => body.potential === "hot");
      const present = hot.flatMap((body, i) => (body.x + body.width / 2 > 0 ? [i] : []));
      present.forEach((body, i) => {
        expect(Math.abs(found[body]! / heat[i]! - 1)).toBeLessThan(5e-4);
      });
    },
  );
});
