import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { polygonFrom, signedArea } from "./polygon.ts";
import { dropIdlePoints, dropSpikes } from "./tidy.ts";

const rough = polygonFrom([0, 0, 5, 0, 10, 0, 10, 0, 10, 10, 10, 30, 10, 10, 0, 10]);

describe("dropping idle points", () => {
  it("drops repeated points, points on a straight run and spikes", () => {
    expect(Array.from(dropIdlePoints(rough))).toEqual([0, 0, 10, 0, 10, 10, 0, 10]);
    expect(dropIdlePoints(polygonFrom([0, 0, 5, 5, 9, 9])).length).toBe(0);
  });

  it("keeps points on straight runs when only spikes are to go", () => {
    expect(Array.from(dropSpikes(rough))).toEqual([0, 0, 5, 0, 10, 0, 10, 10, 0, 10]);
  });

  it("drops a spike across the end of the list", () => {
    expect(Array.from(dropSpikes(polygonFrom([-7, 0, 0, 0, 9, 0, 9, 9, 0, 0])))).toEqual([0, 0, 9, 0, 9, 9]);
  });

  it("never changes the signed area", () => {
    const small = fc.integer({ min: -3, max: 3 });
    fc.assert(
      fc.property(fc.array(fc.tuple(small, small), { minLength: 3, maxLength: 12 }), (points) => {
        const polygon = polygonFrom(points.flat());
        const area = signedArea(polygon);
        for (const tidy of [dropIdlePoints(polygon), dropSpikes(polygon)])
          expect(tidy.length === 0 ? 0 : signedArea(tidy)).toBeCloseTo(area, 12);
      }),
      { seed: 17, numRuns: 300 },
    );
  });
});
