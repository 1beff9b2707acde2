import { describe, expect, it } from "vitest";
import type { CrossSection } from "./cross-section.ts";
import { createShapeFactorCurve } from "./shape-factor-curve.ts";
import { crossSectionShapeFactors } from "./shape-factors.ts";

/** Six legs between field silicon, in micrometres. */
function bank({ gap = 7.39, width = 6, height = 40, distance = 24 }): CrossSection[] {
  const legs = [-2.5, -1.5, -0.5, 0.5, 1.5, 2.5].map((i) => ({ x: i * 16, width, height, gap, potential: "hot" as const }));
  const walls = [-1, 1].map((side) => ({
    x: side * (40 + width / 2 + distance + 50),
    width: 100,
    height,
    gap,
    potential: "cold" as const,
  }));
  return [...legs, ...walls];
}

const measures: readonly (readonly [name: string, sectionAt: (measure: number) => CrossSection[], from: number, to: number])[] = [
  ["gap", (gap) => bank({ gap }), 5, 10],
  ["width", (width) => bank({ width }), 4, 8],
  ["thickness", (height) => bank({ height }), 28, 56],
  ["distance", (distance) => bank({ distance }), 16, 36],
];

describe("shape factors over one measure", () => {
  it.each(measures)("%s: follows the solved values to 1e-5 and their slopes to 2e-4", (_, sectionAt, from, to) => {
    const curve = createShapeFactorCurve({ from, to, nPoints: 7, sectionAt });
    for (const share of [0.03, 0.31, 0.62, 0.97]) {
      const measure = from + share * (to - from);
      const step = 3e-4 * measure;
      const [below, at, above] = [measure - step, measure, measure + step].map((value) =>
        crossSectionShapeFactors({ rectangles: sectionAt(value) }),
      );
      const values = curve.valuesAt(measure);
      const slopes = curve.slopesAt(measure);
      at!.forEach((wanted, i) => {
        expect(Math.abs(values[i]! / wanted - 1)).toBeLessThan(1e-5);
        // Slope of the logarithm; the difference quotient itself is good to 1e-4, between jumps of 1e-8 by its short step.
        const quotient = (above![i]! - below![i]!) / (2 * step);
        expect(Math.abs(((slopes[i]! - quotient) * measure) / wanted)).toBeLessThan(2e-4);
      });
    }
  });

  it("goes through the solved values at its points", () => {
    const sectionAt = (gap: number) => bank({ gap });
    const curve = createShapeFactorCurve({ from: 5, to: 10, nPoints: 4, sectionAt });
    const point = Math.sqrt(50) * 2 ** (Math.cos(Math.PI / 8) / 2);
    const exact = crossSectionShapeFactors({ rectangles: sectionAt(point) });
    curve.valuesAt(point).forEach((value, i) => {
      expect(Math.abs(value / exact[i]! - 1)).toBeLessThan(1e-7);
    });
  });

  it("refuses to go beyond its range and sections that change their bodies", () => {
    const sectionAt = (gap: number) => bank({ gap });
    const curve = createShapeFactorCurve({ from: 5, to: 10, nPoints: 3, sectionAt });
    expect(() => curve.valuesAt(10.1)).toThrow(RangeError);
    expect(() => curve.slopesAt(Number.NaN)).toThrow(RangeError);
    expect(() => createShapeFactorCurve({ from: 10, to: 5, nPoints: 3, sectionAt })).toThrow(RangeError);
    const changing = (gap: number) => bank({ gap }).slice(gap > 7 ? 1 : 0);
    expect(() => createShapeFactorCurve({ from: 5, to: 10, nPoints: 3, sectionAt: changing })).toThrow(/same number/);
  });
});
