import { describe, expect, it } from "vitest";
import { plateConduction, plateEdgeFactor } from "./closed-forms.ts";
import { crossSectionShapeFactors } from "./shape-factors.ts";
import { slitGridFactor } from "./slit-grid.ts";

/** Deep slits far apart [carter1901], from memory: 1 - (4/pi) [r atan r - ln(1 + r²)/2] gap/period, r = slit/(2 gap). */
function carterFactor({ bar, slit, gap }: { readonly bar: number; readonly slit: number; readonly gap: number }): number {
  const r = slit / (2 * gap);
  return 1 - ((4 / Math.PI) * (r * Math.atan(r) - Math.log(1 + r * r) / 2) * gap) / (bar + slit);
}

describe("grid of slits", () => {
  it.each([
    [60, 8, 7.39, 40],
    [60, 30, 7.39, 200],
    [100, 1, 10, 40],
    [12, 8, 1, 40],
  ])("bars %d, slits %d, gap %d, thickness %d: the exact map of a deep slit", (bar, slit, gap, thickness) => {
    const grid = { bar, slit, gap, thickness };
    // Bars here are wider than the gap and slits deeper than wide: neighbours and the open top change less than the panels' error.
    expect(Math.abs(slitGridFactor(grid) - carterFactor(grid))).toBeLessThan(1.2e-3);
  });

  it("approaches the middle of a long row of single bars", () => {
    const row = (n: number): number => {
      const rectangles = Array.from({ length: n }, (_, i) => ({
        x: (i - (n - 1) / 2) * 20,
        width: 12,
        height: 40,
        gap: 7.39,
        potential: "hot" as const,
      }));
      return (crossSectionShapeFactors({ rectangles, panelsPerSide: 6 })[(n - 1) / 2]! * 7.39) / 20;
    };
    const wanted = slitGridFactor({ bar: 12, slit: 8, gap: 7.39, thickness: 40 });
    // What leaves over the top of the middle bar falls as one over the width of the row: 11 and 21 bars extrapolate to none.
    expect(Math.abs((21 * row(21) - 11 * row(11)) / 10 - wanted)).toBeLessThan(5e-3);
  });

  it("does not depend on the unit, lies between bars and plate, and falls as the slits widen", () => {
    const at = (slit: number, scale = 1) =>
      slitGridFactor({ bar: (20 - slit) * scale, slit: slit * scale, gap: 7 * scale, thickness: 40 * scale });
    expect(Math.abs(at(8, 1e-6) / at(8) - 1)).toBeLessThan(1e-9);
    for (const slit of [2, 5, 8, 12]) {
      expect(at(slit)).toBeGreaterThan(1 - slit / 20);
      expect(at(slit)).toBeLessThan(1);
      expect(at(slit + 1)).toBeLessThan(at(slit));
    }
  });

  it("gives a slit plate of 1100 x 1080 in a trench of 24 within 5 % of a hand model", () => {
    // The hand model: 0.97 W H/gap + 3.74 × 2 (W + H), bars 12, slits 8, gap 7.39, thickness 40 um; window 5 %.
    const [width, length, gap] = [1100, 1080, 7.39];
    const edge = (size: number) => plateEdgeFactor({ width: size, height: 40, gap, coldWallAt: 24 });
    const fillFactor = slitGridFactor({ bar: 12, slit: 8, gap, thickness: 40 });
    const edgeFactors = [edge(width), edge(width), edge(length), edge(length)] as const;
    const found = plateConduction({ width, length, gap, edgeFactors, fillFactor });
    const hand = (0.97 * width * length) / gap + 3.74 * 2 * (width + length);
    expect(Math.abs(found / hand - 1)).toBeLessThan(0.05);
  });

  it("refuses what is no grid", () => {
    expect(() => slitGridFactor({ bar: 12, slit: 0, gap: 7, thickness: 40 })).toThrow(/slit/);
    expect(() => slitGridFactor({ bar: 12, slit: 8, gap: -1, thickness: 40 })).toThrow(RangeError);
  });
});
