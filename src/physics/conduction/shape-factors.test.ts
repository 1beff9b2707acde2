import { describe, expect, it } from "vitest";
import { type CrossSection, crossSectionShapeFactors } from "./shape-factors.ts";

const um = 1e-6;
function body(
  sizes: readonly [x: number, width: number, height: number, gap: number],
  potential: "hot" | "cold" = "hot",
): CrossSection {
  const [x, width, height, gap] = sizes;
  return { x: x * um, width: width * um, height: height * um, gap: gap * um, potential };
}
function legs(n: number, pitch: number, section: readonly [width: number, height: number, gap: number]): CrossSection[] {
  return Array.from({ length: n }, (_, i) => body([(i - (n - 1) / 2) * pitch, ...section]));
}
const mean = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

const singles: [width: number, height: number, gap: number, factor: number][] = [
  [2, 2, 2, 3.961],
  [3, 3.5, 2, 4.9115],
  [10, 2.25, 2, 8.4826],
  [8, 40, 10, 4.8126],
  [8, 40, 5, 6.3814],
  [30, 40, 10, 7.2112],
  [100, 40, 10, 14.5435],
];

// References: an independent boundary-element calculation with 240 graded panels, itself checked on a circle above a plane.
describe("one leg above the plane", () => {
  it.each(singles)("%d × %d um, gap %d um conducts %d", (width, height, gap, factor) => {
    const rectangles = [body([0, width, height, gap])];
    // Five printed digits; the discretisation error at 60 panels a side is below 1e-5.
    expect(relative(crossSectionShapeFactors({ rectangles, panelsPerSide: 60 })[0]!, factor)).toBeLessThan(2.5e-5);
    // The default setting is made for 0.2 %.
    expect(relative(crossSectionShapeFactors({ rectangles })[0]!, factor)).toBeLessThan(2e-3);
  });

  it("converges at least with the square of the number of panels", () => {
    for (const [width, height, gap] of singles) {
      const at = (panelsPerSide: number): number =>
        crossSectionShapeFactors({ rectangles: [body([0, width, height, gap])], panelsPerSide })[0]!;
      const exact = at(60);
      expect(Math.abs(at(8) - exact) / Math.abs(at(16) - exact)).toBeGreaterThan(4);
    }
  });

  it("does not depend on the unit of length or on the place", () => {
    const at = (scale: number, x: number): number =>
      crossSectionShapeFactors({
        rectangles: [{ x, width: 8 * scale, height: 40 * scale, gap: 10 * scale, potential: "hot" }],
      })[0]!;
    expect(relative(at(1e-6, 0), at(1, 0))).toBeLessThan(1e-12);
    expect(relative(at(1e-6, 0.003), at(1e-6, 0))).toBeLessThan(1e-9);
  });
});

describe("legs side by side", () => {
  const section = [8, 40, 10] as const;
  const at = (n: number, pitch: number): Float64Array =>
    crossSectionShapeFactors({ rectangles: legs(n, pitch, section), panelsPerSide: 24 });

  it("share the gas as the reference says", () => {
    // 24 panels a side: 2e-4; inner and outer are printed to 0.001.
    expect(relative(at(2, 40)[0]!, 3.9116)).toBeLessThan(2e-4);
    expect(relative(mean(at(8, 40)), 3.115)).toBeLessThan(2e-4);
    expect(Math.abs(Math.min(...at(8, 40)) - 2.878)).toBeLessThan(0.0015);
    expect(Math.abs(Math.max(...at(8, 40)) - 3.743)).toBeLessThan(0.0015);
    expect(relative(at(2, 20)[0]!, 3.3839)).toBeLessThan(2e-4);
    expect(relative(mean(at(4, 20)), 2.6376)).toBeLessThan(2e-4);
    expect(relative(mean(at(8, 20)), 2.2433)).toBeLessThan(2e-4);
    expect(Math.abs(Math.min(...at(8, 20)) - 1.897)).toBeLessThan(0.0015);
    expect(Math.abs(Math.max(...at(8, 20)) - 3.224)).toBeLessThan(0.0015);
  });

  it("are twice as frugal in a bank of eight as alone", () => {
    expect(4.8126 / mean(at(8, 20))).toBeCloseTo(2.145, 2);
  });
});

describe("six legs of 6 × 40 um at pitch 16 um with anchored silicon 24 um beside", () => {
  const jump = 0.39;
  const leg = (gap: number) => [6, 40, gap + jump] as const;
  const wall = (gap: number): CrossSection[] => [-1, 1].map((side) => body([side * (43 + 24 + 50), 100, 40, gap + jump], "cold"));
  const bank = (gap: number): Float64Array =>
    crossSectionShapeFactors({ rectangles: [...legs(6, 16, leg(gap)), ...wall(gap)], panelsPerSide: 16 });

  it("conduct 4.30 outside, 2.13 and 2.09 inside, 2.839 in the mean", () => {
    const found = bank(7);
    expect(relative(mean(found), 2.839)).toBeLessThan(1e-3);
    [4.3, 2.13, 2.09, 2.09, 2.13, 4.3].forEach((factor, i) => {
      expect(Math.abs(found[i]! - factor)).toBeLessThan(0.006);
    });
  });

  it.each([
    [5, 3.42],
    [6, 3.09],
    [8, 2.64],
    [10, 2.35],
  ])("with a gap of %d um conduct %d in the mean", (gap, factor) => {
    expect(Math.abs(mean(bank(gap)) - factor)).toBeLessThan(0.006);
  });

  it("conduct 2.51 without the silicon beside, 5.12 alone", () => {
    expect(Math.abs(mean(crossSectionShapeFactors({ rectangles: legs(6, 16, leg(7)), panelsPerSide: 16 })) - 2.51)).toBeLessThan(
      0.006,
    );
    expect(Math.abs(crossSectionShapeFactors({ rectangles: legs(1, 16, leg(7)), panelsPerSide: 16 })[0]! - 5.12)).toBeLessThan(
      0.006,
    );
  });

  it("see the same wall whether it hangs at their height or stands on the plane", () => {
    const standing = [-1, 1].map((side) => body([side * (43 + 24 + 50), 100, 47.39, 0], "cold"));
    const found = crossSectionShapeFactors({ rectangles: [...legs(6, 16, leg(7)), ...standing], panelsPerSide: 16 });
    expect(relative(mean(found), mean(bank(7)))).toBeLessThan(1e-3);
  });
});

describe("exact properties", () => {
  it("gives a plate in a plane of cold silicon 1/gap below and the coplanar strip's share above for more width", () => {
    const at = (width: number): number => {
      const walls = [-1, 1].map((side) => body([side * (width / 2 + 24 + 2000), 4000, 40, 10], "cold"));
      return crossSectionShapeFactors({ rectangles: [body([0, width, 40, 10]), ...walls], panelsPerSide: 60 })[0]!;
    };
    const agm = (x: number, y: number): number => (Math.abs(x - y) < 1e-14 ? x : agm((x + y) / 2, Math.sqrt(x * y)));
    // Conformal map of a strip between half planes, one side: 2 K(k)/K'(k) with k = width/(width + 2 trench), exact for thin sheets.
    const above = (width: number): number => {
      const k = width / (width + 48);
      return (2 * agm(1, k)) / agm(1, Math.sqrt(1 - k * k));
    };
    const wanted = 100 / 10 + above(400) - above(300);
    // The edges themselves cancel in the difference; the walls end at 4 mm.
    expect(Math.abs(at(400) - at(300) - wanted)).toBeLessThan(0.01);
    expect(above(400) - above(300)).toBeGreaterThan(0.15);
  });

  it("solves one half of a symmetric arrangement and the whole of any other alike", () => {
    const even = [...legs(3, 16, [6, 40, 7]), body([-60, 20, 40, 0], "cold"), body([60, 20, 40, 0], "cold")];
    // A part in 1e7 of asymmetry sends the same arrangement down the other path.
    const uneven = even.map((rectangle, i) => (i === 0 ? { ...rectangle, width: rectangle.width * (1 + 1e-7) } : rectangle));
    const [half, whole] = [crossSectionShapeFactors({ rectangles: even }), crossSectionShapeFactors({ rectangles: uneven })];
    expect(half).toHaveLength(3);
    half.forEach((factor, i) => {
      // Both carry the same discretisation error; the far-panel rule is taken pairwise the same.
      expect(relative(factor, whole[i]!)).toBeLessThan(1e-6);
    });
  });

  it("keeps the order of the hot bodies", () => {
    const rectangles = [body([100, 8, 40, 10]), body([-300, 5, 5, 5], "cold"), body([0, 100, 40, 10])];
    const found = crossSectionShapeFactors({ rectangles });
    expect(found).toHaveLength(2);
    expect(found[1]!).toBeGreaterThan(found[0]! + 8);
  });

  it("loses less per leg with every hot neighbour and more with every cold one", () => {
    const alone = crossSectionShapeFactors({ rectangles: legs(1, 20, [8, 40, 10]) })[0]!;
    const withHot = crossSectionShapeFactors({ rectangles: legs(2, 20, [8, 40, 10]) })[0]!;
    const withCold = crossSectionShapeFactors({ rectangles: [body([0, 8, 40, 10]), body([20, 8, 40, 10], "cold")] })[0]!;
    expect(withHot).toBeLessThan(alone);
    expect(withCold).toBeGreaterThan(alone);
  });

  it("refuses what has no answer", () => {
    expect(() => crossSectionShapeFactors({ rectangles: [body([0, 8, 40, 0])] })).toThrow(RangeError);
    expect(() => crossSectionShapeFactors({ rectangles: legs(2, 7, [8, 40, 10]) })).toThrow(/touching/);
    expect(() => crossSectionShapeFactors({ rectangles: [body([0, 0, 40, 10])] })).toThrow(RangeError);
    expect(() => crossSectionShapeFactors({ rectangles: [body([Number.NaN, 8, 40, 10])] })).toThrow(RangeError);
    expect(() => crossSectionShapeFactors({ rectangles: legs(1, 7, [8, 40, 10]), panelsPerSide: 1 })).toThrow(RangeError);
    expect(crossSectionShapeFactors({ rectangles: [] })).toHaveLength(0);
  });
});
