import { describe, expect, it } from "vitest";
import { meijsFokkemaShapeFactor, plateConduction, plateEdgeFactor, thinFilmShapeFactor } from "./closed-forms.ts";
import { crossSectionShapeFactors } from "./shape-factors.ts";

describe("closed forms for a line above a plane", () => {
  it.each([
    [2, 2, 2, 3.89, 4.0],
    [3, 3.5, 2, 4.85, 5.25],
    [10, 2.25, 2, 8.48, 8.13],
    [8, 40, 10, 4.69, 6.8],
    [8, 40, 5, 6.56, 11.6],
    [30, 40, 10, 7.29, 9.0],
    [100, 40, 10, 14.78, 16.0],
  ])("%d × %d um, gap %d um: Meijs & Fokkema %d, thin-film form %d", (width, height, gap, fit, film) => {
    const line = { width: width * 1e-6, height: height * 1e-6, gap: gap * 1e-6 };
    expect(Math.abs(meijsFokkemaShapeFactor(line) - fit)).toBeLessThan(0.0051);
    expect(Math.abs(thinFilmShapeFactor(line) - film)).toBeLessThan(0.051);
    expect(
      Math.abs(
        meijsFokkemaShapeFactor(line) / crossSectionShapeFactors({ rectangles: [{ ...line, x: 0, potential: "hot" }] })[0]! - 1,
      ),
    ).toBeLessThan(0.031);
  });

  it("does not trust the thin-film form on tall legs: 41 and 82 % too high", () => {
    for (const [gap, excess] of [
      [10, 0.41],
      [5, 0.82],
    ] as const) {
      const line = { width: 8e-6, height: 40e-6, gap: gap * 1e-6 };
      const exact = crossSectionShapeFactors({ rectangles: [{ ...line, x: 0, potential: "hot" }] })[0]!;
      expect(Math.abs(thinFilmShapeFactor(line) / exact - 1 - excess)).toBeLessThan(0.006);
    }
  });
});

describe("plates", () => {
  const gap = 7.39e-6;
  const height = 40e-6;

  it("gives a stem of 20 um with cold silicon 24 um beside 8.89 per length", () => {
    const width = 20e-6;
    const edge = plateEdgeFactor({ width, height, gap, coldWallAt: 24e-6 });
    const perLength = plateConduction({ width, length: 1, gap, edgeFactors: [edge, edge, 0, 0], fillFactor: 1 });
    expect(Math.abs(perLength / 8.89 - 1)).toBeLessThan(2e-3);
  });

  it("has edges that lose more beside cold silicon and grow with the logarithm of the width, as a coplanar strip does", () => {
    const walled = (width: number): number => plateEdgeFactor({ width, height, gap, coldWallAt: 24e-6 });
    const free = (width: number): number => plateEdgeFactor({ width, height, gap });
    expect(walled(150e-6)).toBeGreaterThan(free(150e-6) + 0.8);
    // Per edge (1/pi) ln(w2/w1) where the cold silicon goes on without end; here it ends one width away, and the trench is not narrow.
    expect((walled(400e-6) - walled(150e-6)) / (Math.log(400 / 150) / Math.PI)).toBeGreaterThan(0.7);
    expect((walled(400e-6) - walled(150e-6)) / (Math.log(400 / 150) / Math.PI)).toBeLessThan(1);
  });

  it("adds area and edges", () => {
    expect(plateConduction({ width: 2, length: 3, gap: 0.5, edgeFactors: [1, 2, 3, 4], fillFactor: 0.75 })).toBe(9 + 9 + 14);
  });
});
