import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, comparePolygonSets, differenceOf, unionOf } from "./boolean.ts";
import { decomposePolygons } from "./decompose.ts";
import { findSelfCrossing } from "./orientation.ts";
import { countPoints, perimeter, polygonFrom, rectangle, signedArea, sumOfAreas } from "./polygon.ts";

const settings = { seed: 15, numRuns: 60 };
const coordinate = fc.integer({ min: 0, max: 2000 });
const rectangles = fc.array(
  fc
    .tuple(coordinate, coordinate, fc.integer({ min: 2, max: 700 }), fc.integer({ min: 2, max: 700 }))
    .map(([left, bottom, width, height]) => rectangle({ left, bottom, right: left + width, top: bottom + height })),
  { minLength: 1, maxLength: 12 },
);

describe("decomposePolygons", () => {
  it("conserves the area of rectilinear sets with holes exactly, within the number of points", () => {
    fc.assert(
      fc.property(rectangles, rectangles, fc.integer({ min: 4, max: 12 }), (a, b, mostPoints) => {
        const set = differenceOf(a, b);
        const pieces = decomposePolygons(set, { mostPoints });
        expect(sumOfAreas(pieces)).toBe(sumOfAreas(set));
        expect(comparePolygonSets(pieces, set)).toBe(0);
        for (const piece of pieces) {
          expect(countPoints(piece)).toBeLessThanOrEqual(mostPoints);
          expect(signedArea(piece)).toBeGreaterThan(0);
          expect(findSelfCrossing(piece)).toBeUndefined();
        }
      }),
      settings,
    );
  });

  it("joins the pieces of slanting sets without gap or overlap", () => {
    const holes = fc
      .array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 6 })
      .map((points) => polygonFrom(points.flat()));
    fc.assert(
      fc.property(fc.array(holes, { minLength: 1, maxLength: 4 }), (cutters) => {
        const set = differenceOf([polygonFrom([-500, -400, 2600, -300, 2500, 2700, -300, 2400])], cutters);
        const pieces = decomposePolygons(set, { mostPoints: 8 });
        // Each cut moves an edge by half a unit at one point: half a unit times half the edge; the perimeter bounds them all.
        const tolerance = unionOf(set).reduce((sum, polygon) => sum + perimeter(polygon), 0);
        expect(Math.abs(sumOfAreas(pieces) - areaOf(set))).toBeLessThanOrEqual(tolerance);
        // No overlap and no gap between pieces: their areas add up to the area of their union.
        expect(Math.abs(sumOfAreas(pieces) - areaOf(pieces))).toBeLessThanOrEqual(0.05 * tolerance);
      }),
      settings,
    );
  });

  it("leaves what needs no cut as it is", () => {
    const square = rectangle({ left: 0, bottom: 0, right: 10, top: 10 });
    expect(decomposePolygons([square], { mostPoints: 4 }).map(signedArea)).toEqual([100]);
    expect(() => decomposePolygons([square], { mostPoints: 3 })).toThrow("room for at least 4 points");
  });

  it("cuts a plate of 24 slits into few pieces", () => {
    const slits = Array.from({ length: 24 }, (_, i) =>
      rectangle({ left: 10_000, bottom: 12_000 * i, right: 290_000, top: 12_000 * i + 7200 }),
    );
    const plate = differenceOf([rectangle({ left: 0, bottom: -5000, right: 300_000, top: 290_000 })], slits);
    const pieces = decomposePolygons(plate, { mostPoints: 4000 });
    expect(sumOfAreas(pieces)).toBe(300_000 * 295_000 - 24 * 280_000 * 7200);
    expect(pieces.length).toBeLessThanOrEqual(25);
  });
});
