import { describe, expect, it } from "vitest";
import { type CrossSection, crossSectionCouplings, crossSectionShapeFactors } from "./shape-factors.ts";

function body(
  sizes: readonly [x: number, width: number, height: number, gap: number],
  potential: "hot" | "cold" = "hot",
): CrossSection {
  const [x, width, height, gap] = sizes;
  return { x, width, height, gap, potential };
}
const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

/** A narrow hot arm, a wide cold arm of the same piece beside it, and field silicon. */
const arms = [body([0, 6, 40, 7]), body([20, 14, 40, 7]), body([-60, 50, 40, 7], "cold")];

describe("heat between bodies of different temperatures", () => {
  it("is the shape factor at one common temperature", () => {
    const { toGround } = crossSectionCouplings({ rectangles: arms });
    crossSectionShapeFactors({ rectangles: arms }).forEach((factor, i) => {
      // Both are solved by steps, to 1e-8 of the right-hand side.
      expect(relative(toGround[i]!, factor)).toBeLessThan(1e-7);
    });
  });

  it("is the same both ways, and above zero", () => {
    const { between } = crossSectionCouplings({ rectangles: arms });
    expect(between[0]).toBe(0);
    expect(between[1]).toBe(between[2]);
    expect(between[1]!).toBeGreaterThan(0);
  });

  it("takes a cold body for a hot one at the plane's temperature", () => {
    const { toGround, between } = crossSectionCouplings({ rectangles: arms });
    const asCold = crossSectionShapeFactors({ rectangles: [arms[0]!, { ...arms[1]!, potential: "cold" }, arms[2]!] });
    // Reciprocity holds to the discretisation error, which the mean of both directions halves.
    expect(relative(toGround[0]! + between[1]!, asCold[0]!)).toBeLessThan(1e-3);
  });

  it("tends to facing area over distance for tall bodies close together", () => {
    // Plates 80 tall, 1 apart, far above the plane: 80 + what the ends add; each end adds (1/pi) ln-like terms of a few units in total.
    const at = (height: number): number =>
      crossSectionCouplings({
        rectangles: [body([-3, 5, height, 20]), body([3, 5, height, 20])],
        panelsPerSide: 16,
      }).between[1]!;
    // The ends cancel in the difference.
    expect(Math.abs(at(120) - at(80) - 40)).toBeLessThan(0.1);
  });

  it("falls with distance, and a cold body in between cuts it", () => {
    const at = (distance: number) =>
      crossSectionCouplings({ rectangles: [body([0, 6, 40, 7]), body([distance, 6, 40, 7])] }).between[1]!;
    expect(at(16)).toBeGreaterThan(2 * at(40));
    const shielded = crossSectionCouplings({
      rectangles: [body([0, 6, 40, 7]), body([20, 6, 47, 0], "cold"), body([40, 6, 40, 7])],
    });
    expect(shielded.between[1]!).toBeLessThan(at(40) / 3);
  });

  it("gives the same on the half of a symmetric section as on the whole", () => {
    const even = [body([-16, 6, 40, 7]), body([0, 6, 40, 7]), body([16, 6, 40, 7]), body([60, 40, 47, 0], "cold")];
    const mirrored = [...even, body([-60, 40, 47, 0], "cold")];
    const uneven = mirrored.map((rectangle, i) => (i === 0 ? { ...rectangle, width: 6 * (1 + 1e-7) } : rectangle));
    const [half, whole] = [crossSectionCouplings({ rectangles: mirrored }), crossSectionCouplings({ rectangles: uneven })];
    half.between.forEach((value, i) => {
      expect(Math.abs(value - whole.between[i]!)).toBeLessThan(1e-6);
    });
    expect(relative(half.toGround[1]!, whole.toGround[1]!)).toBeLessThan(1e-6);
    expect(relative(half.between[1]!, half.between[5]!)).toBeLessThan(1e-9);
  });

  it.each([
    [0.05, 40],
    [0.25, 3],
  ])("keeps its error where a short body faces the middle of a long side, %d apart", (apart, gap) => {
    // Panels must resolve the short body's corners on the long side; a plain division of the sides is 79 and 25 % low here.
    const rectangles = [body([0, 4, 80, 1]), body([4 + apart, 4, 6, gap], "cold")];
    const [coarse, fine] = [8, 40].map((panelsPerSide) => crossSectionShapeFactors({ rectangles, panelsPerSide })[0]!);
    expect(relative(coarse!, fine!)).toBeLessThan(3e-3);
  });

  it("has nothing to say without hot bodies", () => {
    expect(crossSectionCouplings({ rectangles: [body([0, 6, 40, 7], "cold")] }).toGround).toHaveLength(0);
    expect(crossSectionCouplings({ rectangles: [] }).between).toHaveLength(0);
  });
});

describe("steps of temperature at the surfaces", () => {
  it("to first order a step all around is a body as much thicker on every side and a plane as much higher", () => {
    // independent of the charges' products: two solves of sections that differ by the same amount, each to 0.01 %
    for (const [width, height, gap] of [
      [8, 40, 10],
      [6, 40, 3],
      [100, 40, 10],
      [2, 2, 2],
    ] as const) {
      const at = (grown: number): number =>
        crossSectionCouplings({
          rectangles: [body([0, width + 2 * grown, height + 2 * grown, gap - 2 * grown])],
          panelsPerSide: 48,
        }).toGround[0]!;
      const delta = 0.002 * gap;
      const grown = (at(delta) - at(-delta)) / (2 * delta);
      const lossWith = (panelsPerSide: number): number =>
        crossSectionCouplings({ rectangles: [body([0, width, height, gap])], panelsPerSide }).stepLoss.toGround[0]!;
      // the square of the flux is steep at corners: 0.7 % with 60 panels a side, 4 % with the usual 8, of a small correction
      expect(relative(lossWith(60), grown)).toBeLessThan(8e-3);
      expect(relative(lossWith(8), grown)).toBeLessThan(4e-2);
    }
  });

  it("between two tall bars side by side it is that of parallel plates, twice the square of the factor over the height", () => {
    // close bars: the flux between them is that of parallel plates, S = height/distance, loss 2 S/distance; the fringe adds to both
    const { between, stepLoss } = crossSectionCouplings({
      rectangles: [body([0, 6, 200, 300]), body([8, 6, 200, 300])],
      panelsPerSide: 24,
    });
    expect(stepLoss.between[1]! / (2 * (200 / 2 ** 2))).toBeGreaterThan(0.97);
    expect(stepLoss.between[1]! / (2 * (200 / 2 ** 2))).toBeLessThan(1.1);
    expect(stepLoss.between[1]).toBeCloseTo(stepLoss.between[2]!, 6);
    expect(between[1]! / (200 / 2)).toBeLessThan(1.1);
  });
});
