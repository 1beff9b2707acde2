import { describe, expect, it } from "vitest";
import { arcPoints, countChords, discOutline } from "./arc.ts";

describe("arcs", () => {
  it("keep within the sagitta with no chord to spare", () => {
    for (const [radius, sagitta] of [
      [10, 0.1],
      [1e-4, 1e-8],
      [5000, 0.5],
    ] as const) {
      const chords = countChords({ radius, sweep: 2 * Math.PI }, sagitta);
      const reached = (n: number): number => radius * (1 - Math.cos(Math.PI / n));
      expect(reached(chords)).toBeLessThanOrEqual(sagitta * (1 + 1e-9));
      expect(reached(chords - 1)).toBeGreaterThan(sagitta);
    }
  });

  it("start and end where they say, and run clockwise when `to` is below `from`", () => {
    const points = arcPoints({ centre: [1, 2], radius: 3, from: Math.PI / 2, to: 0 }, { sagitta: 0.01 });
    expect(points[0]).toBeCloseTo(1, 14);
    expect(points[1]).toBeCloseTo(5, 14);
    expect(points[points.length - 2]).toBeCloseTo(4, 14);
    expect(points[2]!).toBeGreaterThan(1);
  });

  it("close a disc without repeating its first point", () => {
    expect(discOutline({ centre: [0, 0], radius: 1 }, { sagitta: 1 - Math.cos(Math.PI / 8) }).length).toBe(16);
    expect(() => arcPoints({ centre: [0, 0], radius: 1, from: 0, to: 1 }, { sagitta: 0 })).toThrow(
      "wanted a positive sagitta, found 0",
    );
    expect(() => countChords({ radius: 1, sweep: 7 }, 1e-20)).toThrow("chords");
  });
});
