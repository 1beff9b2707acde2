import { describe, expect, it } from "vitest";
import { filletCorners } from "./fillet.ts";
import { polygonFrom, rectangle, signedArea } from "./polygon.ts";

describe("filletCorners", () => {
  const radius = 2000;
  const sagitta = 1;
  /** Area between a right-angled corner and its fillet, in closed form. */
  const spandrel = radius ** 2 * (1 - Math.PI / 4);
  // Four quarter arcs of length pi r / 2: chords off by the sagitta at most, points rounded by 0.71 dbu at most.
  const tolerance = (corners: number): number => corners * (Math.PI / 2) * radius * (sagitta + 0.71);

  it("takes a spandrel from each convex corner", () => {
    const area = signedArea(
      filletCorners(rectangle({ left: 0, bottom: 0, right: 10_000, top: 8000 }), { radius, sagitta, corners: "convex" }),
    );
    expect(Math.abs(area - (8e7 - 4 * spandrel))).toBeLessThan(tolerance(4));
  });

  it("adds a spandrel at a concave corner and leaves the convex ones sharp", () => {
    const bracket = polygonFrom([0, 0, 20_000, 0, 20_000, 5000, 5000, 5000, 5000, 20_000, 0, 20_000]);
    const rounded = filletCorners(bracket, { radius, sagitta, corners: "concave" });
    expect(Math.abs(signedArea(rounded) - (signedArea(bracket) + spandrel))).toBeLessThan(tolerance(1));
    expect(Array.from(rounded.slice(0, 4))).toEqual([0, 0, 20_000, 0]);
  });

  it("refuses a radius that the edges have no room for", () => {
    expect(() =>
      filletCorners(rectangle({ left: 0, bottom: 0, right: 10_000, top: 3000 }), { radius, sagitta, corners: "all" }),
    ).toThrow(/wanted an edge of at least 4000\.0 database units, found 3000\.0/);
  });
});
