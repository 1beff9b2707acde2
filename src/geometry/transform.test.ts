import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { perimeter, polygonFrom, signedArea } from "./polygon.ts";
import {
  composeTransforms,
  identity,
  mirror,
  rotation,
  scaling,
  transformOutline,
  transformPolygon,
  translation,
} from "./transform.ts";

const settings = { seed: 13, numRuns: 100 };
const coordinate = fc.integer({ min: -1_000_000, max: 1_000_000 });
const ring = fc
  .array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 8 })
  .map((points) => polygonFrom(points.flat()));

describe("transforms on the grid", () => {
  it("quarter turns, mirrors and shifts keep the signed area exactly", () => {
    fc.assert(
      fc.property(ring, coordinate, (polygon, shift) => {
        const area = signedArea(polygon);
        for (const move of [
          rotation(Math.PI / 2),
          rotation(-1.5 * Math.PI),
          mirror(0, { through: [shift, 0] }),
          mirror(Math.PI / 4, { through: [0, 0] }),
          translation(shift, shift),
        ]) {
          expect(signedArea(transformPolygon(polygon, move))).toBe(area);
        }
      }),
      settings,
    );
  });

  it("four quarter turns and two mirrors are nothing", () => {
    fc.assert(
      fc.property(ring, (polygon) => {
        let turned = polygon;
        for (let i = 0; i < 4; i++) turned = transformPolygon(turned, rotation(Math.PI / 2));
        expect(turned).toEqual(polygon);
        const about = mirror(Math.PI / 2, { through: [31, 5] });
        expect(transformPolygon(transformPolygon(polygon, about), about)).toEqual(polygon);
      }),
      settings,
    );
  });

  it("any other rotation moves each point to within the rounding of the grid", () => {
    fc.assert(
      fc.property(ring, fc.double({ min: -4, max: 4, noNaN: true }), (polygon, angle) => {
        const turned = transformPolygon(polygon, rotation(angle));
        // Each corner is off by at most sqrt(1/2), so each edge by at most sqrt(2).
        expect(Math.abs(perimeter(turned) - perimeter(polygon))).toBeLessThanOrEqual((polygon.length / 2) * Math.SQRT2);
      }),
      settings,
    );
  });

  it("turns counter-clockwise and mirrors about a slanting line through a point", () => {
    expect(Array.from(transformPolygon(polygonFrom([1, 0, 2, 0, 2, 5]), rotation(Math.PI / 2)))).toEqual([0, 1, 0, 2, -5, 2]);
    const image = transformOutline(Float64Array.of(4, 1), mirror(Math.PI / 4, { through: [1, 1] }));
    expect(image[0]).toBeCloseTo(1, 14);
    expect(image[1]).toBeCloseTo(4, 14);
  });

  it("composes first, then second", () => {
    const both = composeTransforms(translation(10, 0), rotation(Math.PI / 2));
    expect(Array.from(transformPolygon(polygonFrom([0, 0, 1, 0, 1, 1]), both))).toEqual([0, 10, 0, 11, -1, 11]);
    expect(composeTransforms(identity, scaling(2))).toEqual(scaling(2));
    expect(() => scaling(-1)).toThrow("found -1");
  });
});
