import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, unionOf } from "./boolean.ts";
import { boundingBox, sumOfAreas } from "./polygon.ts";
import { strokePolygons } from "./stroke.ts";

const line = (...numbers: number[]): Int32Array => Int32Array.from(numbers);

describe("strokePolygons", () => {
  it("is length x width with flush ends, longer with extended ones", () => {
    expect(areaOf(strokePolygons(line(0, 0, 1000, 0), { width: 100, ends: [0, 0], sagitta: 1 }))).toBe(100_000);
    expect(boundingBox(strokePolygons(line(0, 0, 1000, 0), { width: 100, ends: [50, 20], sagitta: 1 }))).toEqual({
      left: -50,
      bottom: -50,
      right: 1020,
      top: 50,
    });
  });

  it("adds a disc with round ends", () => {
    const area = areaOf(strokePolygons(line(0, 0, 0, 10_000), { width: 2000, ends: "round", sagitta: 1 }));
    // The rim of the two half discs is 2 pi r long; chords are off by the sagitta at most, points by 0.71 dbu.
    expect(Math.abs(area - (2e7 + Math.PI * 1e6))).toBeLessThan(2 * Math.PI * 1000 * 1.71);
  });

  it("mitres a right angle to a full square", () => {
    const pieces = strokePolygons(line(0, 0, 1000, 0, 1000, 1000), { width: 100, ends: [0, 0], sagitta: 1 });
    expect(pieces.length).toBe(1);
    expect(areaOf(pieces)).toBe(1050 * 100 + 950 * 100);
  });

  it("covers a bend with segments shorter than the pen, in pieces", () => {
    const pieces = strokePolygons(line(0, 0, 1000, 0, 1000, 20, 0, 20), { width: 100, ends: [0, 0], sagitta: 1 });
    expect(areaOf(pieces)).toBe(1050 * 120);
  });

  it("draws a dot where the line has no length", () => {
    expect(boundingBox(strokePolygons(line(5, 5, 5, 5), { width: 10, ends: [5, 5], sagitta: 1 }))).toEqual({
      left: 0,
      bottom: 0,
      right: 10,
      top: 10,
    });
    expect(strokePolygons(line(5, 5, 5, 5), { width: 10, ends: [0, 0], sagitta: 1 })).toEqual([]);
  });

  it("covers every segment of any line with a number of points linear in it", () => {
    const coordinate = fc.integer({ min: -500, max: 500 });
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 2, maxLength: 12 }), (points) => {
        const drawn = strokePolygons(polygonLine(points), { width: 40, ends: [0, 0], sagitta: 1 });
        const covered = areaOf(drawn);
        for (let i = 0; i + 1 < points.length; i++) {
          const [x0, y0] = points[i]!;
          const [x1, y1] = points[i + 1]!;
          const own = strokePolygons(line(x0, y0, x1, y1), { width: 40, ends: [0, 0], sagitta: 1 });
          // Rounding to the grid lets the segment's own rectangle stick out by 0.71 dbu along its rim (and crossings are cut by 1 dbu).
          expect(sumOfAreas(unionOf(drawn, own)) - covered).toBeLessThanOrEqual(
            2 * (2 * Math.hypot(x1 - x0, y1 - y0) + 80) + 0.02 * covered,
          );
        }
        expect(drawn.reduce((sum, p) => sum + p.length / 2, 0)).toBeLessThanOrEqual(8 * points.length);
      }),
      { seed: 16, numRuns: 60 },
    );
  });
});

function polygonLine(points: readonly (readonly [number, number])[]): Int32Array {
  return Int32Array.from(points.flat());
}
