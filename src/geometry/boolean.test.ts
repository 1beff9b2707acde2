import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, comparePolygonSets, differenceOf, exclusiveOrOf, intersectionOf, regionsOf, unionOf } from "./boolean.ts";
import { type Polygon, perimeter, polygonFrom, rectangle, signedArea, sumOfAreas } from "./polygon.ts";
import { mirror, rotation, transformPolygons, translation } from "./transform.ts";

const settings = { seed: 11, numRuns: 60 };

const coordinate = fc.integer({ min: -1000, max: 1000 });

const rectangles = fc.array(
  fc
    .tuple(coordinate, coordinate, fc.integer({ min: 1, max: 900 }), fc.integer({ min: 1, max: 900 }))
    .map(([left, bottom, width, height]) => rectangle({ left, bottom, right: left + width, top: bottom + height })),
  { minLength: 1, maxLength: 6 },
);

/** Any ring of points, so mostly self-crossing. */
const scribbles = fc.array(
  fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 7 }).map((points) => polygonFrom(points.flat())),
  { minLength: 1, maxLength: 3 },
);

/** A boundary may move by 1 dbu in x and in y wherever it was cut: twice its length bounds the change of area of one operation. */
function cutTolerance(...sets: readonly (readonly Polygon[])[]): number {
  return 2 * sets.flat().reduce((sum, polygon) => sum + perimeter(polygon), 0);
}

/** Area by counting the cells of the coordinate grid of all rectangles: independent of the clipping library, exact. */
function areaByCells(a: readonly Polygon[], b: readonly Polygon[], member: (inA: boolean, inB: boolean) => boolean): number {
  const axis = (offset: number): number[] =>
    [...new Set([...a, ...b].flatMap((p) => [p[offset]!, p[4 + offset]!]))].sort((p, q) => p - q);
  const xs = axis(0);
  const ys = axis(1);
  const holds = (set: readonly Polygon[], x: number, y: number): boolean =>
    set.some((p) => p[0]! <= x && x < p[4]! && p[1]! <= y && y < p[5]!);
  let area = 0;
  for (let i = 0; i + 1 < xs.length; i++) {
    for (let j = 0; j + 1 < ys.length; j++) {
      if (member(holds(a, xs[i]!, ys[j]!), holds(b, xs[i]!, ys[j]!))) area += (xs[i + 1]! - xs[i]!) * (ys[j + 1]! - ys[j]!);
    }
  }
  return area;
}

describe("set operations", () => {
  it("are exact for rectangles, against an independent count of cells", () => {
    fc.assert(
      fc.property(rectangles, rectangles, (a, b) => {
        expect(sumOfAreas(unionOf(a, b))).toBe(areaByCells(a, b, (inA, inB) => inA || inB));
        expect(sumOfAreas(intersectionOf(a, b))).toBe(areaByCells(a, b, (inA, inB) => inA && inB));
        expect(sumOfAreas(differenceOf(a, b))).toBe(areaByCells(a, b, (inA, inB) => inA && !inB));
        expect(sumOfAreas(exclusiveOrOf(a, b))).toBe(areaByCells(a, b, (inA, inB) => inA !== inB));
      }),
      settings,
    );
  });

  it("keep area(A) + area(B) = area(union) + area(intersection) for slanting, self-crossing rings", () => {
    fc.assert(
      fc.property(scribbles, scribbles, (a, b) => {
        const parts = areaOf(a) + areaOf(b);
        const together = sumOfAreas(unionOf(a, b)) + sumOfAreas(intersectionOf(a, b));
        expect(Math.abs(parts - together)).toBeLessThanOrEqual(cutTolerance(a, b));
      }),
      settings,
    );
  });

  it("give the same area after quarter turns, mirrors and shifts: exactly for rectangles", () => {
    fc.assert(
      fc.property(rectangles, rectangles, coordinate, (a, b, shift) => {
        const area = sumOfAreas(intersectionOf(a, b));
        for (const move of [
          rotation(Math.PI / 2),
          rotation(Math.PI),
          mirror(0, { through: [0, 0] }),
          mirror(Math.PI / 4, { through: [3, 3] }),
          translation(shift, -shift),
        ]) {
          expect(sumOfAreas(intersectionOf(transformPolygons(a, move), transformPolygons(b, move)))).toBe(area);
        }
      }),
      settings,
    );
  });

  it("commute with moves for slanting rings to within the cutting of crossings", () => {
    fc.assert(
      fc.property(scribbles, scribbles, (a, b) => {
        for (const move of [rotation(-Math.PI / 2), mirror(Math.PI / 2, { through: [7, 0] }), translation(5000, 9000)]) {
          const movedLater = transformPolygons(unionOf(a, b), move);
          const movedFirst = unionOf(transformPolygons(a, move), transformPolygons(b, move));
          expect(comparePolygonSets(movedLater, movedFirst)).toBeLessThanOrEqual(cutTolerance(a, b));
        }
      }),
      settings,
    );
  });

  it("runs outer boundaries counter-clockwise and holes clockwise", () => {
    const frame = differenceOf(
      [rectangle({ left: 0, bottom: 0, right: 10, top: 10 })],
      [rectangle({ left: 3, bottom: 3, right: 7, top: 7 })],
    );
    expect(frame.map(signedArea).sort((p, q) => p - q)).toEqual([-16, 100]);
  });

  it("takes a clockwise ring for material when nothing surrounds it", () => {
    expect(areaOf([polygonFrom([0, 0, 0, 10, 10, 10, 10, 0])])).toBe(100);
  });
});

describe("regionsOf", () => {
  it("keeps a hole with its piece and an island in the hole apart", () => {
    const ring = differenceOf(
      [rectangle({ left: 0, bottom: 0, right: 100, top: 100 })],
      [rectangle({ left: 20, bottom: 20, right: 80, top: 80 })],
    );
    const island = rectangle({ left: 40, bottom: 40, right: 60, top: 60 });
    const regions = [...regionsOf([...ring, island])].sort((a, b) => signedArea(b.outer) - signedArea(a.outer));
    expect(regions.map((r) => [signedArea(r.outer), r.holes.map(signedArea)])).toEqual([
      [10000, [-3600]],
      [400, []],
    ]);
  });
});

describe("comparePolygonSets", () => {
  it("is zero for the same region drawn differently and the area of the difference otherwise", () => {
    const whole = [rectangle({ left: 0, bottom: 0, right: 20, top: 10 })];
    const halves = [rectangle({ left: 0, bottom: 0, right: 12, top: 10 }), rectangle({ left: 8, bottom: 0, right: 20, top: 10 })];
    expect(comparePolygonSets(whole, halves)).toBe(0);
    expect(comparePolygonSets(whole, [halves[0]!])).toBe(80);
  });
});
