import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { comparePolygonSets, differenceOf } from "./boolean.ts";
import { offsetPolygons } from "./offset.ts";
import { boundingBox, perimeter, polygonFrom, rectangle, signedArea, sumOfAreas } from "./polygon.ts";

const settings = { seed: 14, numRuns: 100 };
const mitre = { join: "mitre", limit: 2 } as const;
const side = fc.integer({ min: 200, max: 100_000 });

describe("offsetPolygons", () => {
  it("grows and shrinks rectangles exactly with mitred corners", () => {
    fc.assert(
      fc.property(side, side, fc.integer({ min: -99, max: 5000 }), (width, height, distance) => {
        const grown = offsetPolygons([rectangle({ left: 0, bottom: 0, right: width, top: height })], distance, mitre);
        expect(boundingBox(grown)).toEqual({
          left: -distance,
          bottom: -distance,
          right: width + distance,
          top: height + distance,
        });
        expect(sumOfAreas(grown)).toBe((width + 2 * distance) * (height + 2 * distance));
      }),
      settings,
    );
  });

  it("moves edges by fractions of the grid, each rounded by itself", () => {
    const anyFraction = fc.integer({ min: -1600, max: 1600 }).map((sixteenths) => sixteenths / 16);
    fc.assert(
      fc.property(side, side, anyFraction, (width, height, distance) => {
        const box = boundingBox(offsetPolygons([rectangle({ left: 0, bottom: 0, right: width, top: height })], distance, mitre))!;
        const errors = [box.left + distance, box.bottom + distance, box.right - width - distance, box.top - height - distance];
        // rounding to the grid: half a step, as this distance is a whole part of the finer grid
        for (const error of errors) expect(Math.abs(error)).toBeLessThanOrEqual(0.5);
      }),
      {
        ...settings,
        examples: [
          [1000, 1000, -0.5],
          [1000, 200, 0.5],
        ],
      },
    );
  });

  it("out and in again is the same region for convex polygons", () => {
    fc.assert(
      fc.property(
        side,
        side,
        fc.integer({ min: -90, max: 90 }),
        fc.integer({ min: 1, max: 400 }),
        (width, height, slant, distance) => {
          const polygon = polygonFrom([0, 0, width, slant, width + slant, height, slant, height + slant]);
          const back = offsetPolygons(offsetPolygons([polygon], distance, mitre), -distance, mitre);
          // Corners are rounded twice, each time by up to 0.71 dbu: a strip of that width along the boundary, on either side.
          expect(comparePolygonSets([polygon], back)).toBeLessThanOrEqual(1.42 * perimeter(polygon));
        },
      ),
      settings,
    );
  });

  it("adds perimeter * d + pi d^2 with round corners, too little by no more than the sagitta allows", () => {
    for (const sagitta of [0.5, 5, 50]) {
      const polygon = polygonFrom([0, 0, 40_000, 0, 20_000, 30_000]);
      const distance = 3000;
      const grown = sumOfAreas(offsetPolygons([polygon], distance, { join: "round", sagitta }));
      const exact = signedArea(polygon) + perimeter(polygon) * distance + Math.PI * distance ** 2;
      // A full turn of arcs has length 2 pi d; a chord lies inside by at most sagitta, rounding adds 0.71 dbu along the whole rim.
      const rim = perimeter(polygon) + 2 * Math.PI * distance;
      expect(grown).toBeLessThanOrEqual(exact + 0.71 * rim);
      expect(grown).toBeGreaterThanOrEqual(exact - sagitta * 2 * Math.PI * distance - 0.71 * rim);
    }
  });

  it("grows into holes from all sides and closes what is narrow", () => {
    const outer = rectangle({ left: 0, bottom: 0, right: 1000, top: 1000 });
    const frame = differenceOf([outer], [rectangle({ left: 400, bottom: 400, right: 600, top: 600 })]);
    expect(sumOfAreas(offsetPolygons(frame, 50, mitre))).toBe(1100 ** 2 - 100 ** 2);
    expect(sumOfAreas(offsetPolygons(frame, 100, mitre))).toBe(1200 ** 2);
    expect(offsetPolygons(frame, -200, mitre)).toEqual([]);
  });

  it("refuses what it cannot honour", () => {
    const square = [rectangle({ left: 0, bottom: 0, right: 10, top: 10 })];
    expect(() => offsetPolygons(square, 5, { join: "round", sagitta: 0.001 })).toThrow("wanted a sagitta of at least 0.02");
    expect(() => offsetPolygons(square, 5, { join: "mitre", limit: 0.5 })).toThrow("wanted a mitre limit of at least 1");
    expect(() => offsetPolygons(square, Number.NaN, mitre)).toThrow("wanted a finite distance");
  });
});
