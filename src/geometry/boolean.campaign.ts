/**
 * Many random pairs of sets through the clipping library: area identities that hold whatever the answer is.
 * The tolerance is what cutting of crossings explains (see boolean.test.ts), so a lost or doubled piece of any size beyond shows.
 */
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { campaign } from "../../test/campaign.ts";
import { areaOf, comparePolygonSets, differenceOf, exclusiveOrOf, intersectionOf, unionOf } from "./boolean.ts";
import { decomposePolygons } from "./decompose.ts";
import { countPoints, type Polygon, perimeter, polygonFrom, sumOfAreas } from "./polygon.ts";
import { rotation, transformPolygons } from "./transform.ts";

const { nCases, seed } = campaign({ name: "set operations on random rings", sample: 150, full: 20_000 });

const reach = 100_000;

describe("set operations on random rings", () => {
  it(`keep the area identities in ${nCases} cases`, () => {
    const random = xoroshiro128plus(seed);
    const ring = (): Polygon =>
      polygonFrom(Array.from({ length: 2 * uniformInt(random, 3, 9) }, () => uniformInt(random, -reach, reach)));
    const set = (): readonly Polygon[] => Array.from({ length: uniformInt(random, 1, 3) }, ring);
    for (let i = 0; i < nCases; i++) {
      const a = set();
      const b = set();
      const tolerance = 2 * [...a, ...b].reduce((sum, polygon) => sum + perimeter(polygon), 0);
      const [areaA, areaB] = [areaOf(a), areaOf(b)];
      const [both, either] = [sumOfAreas(intersectionOf(a, b)), sumOfAreas(unionOf(a, b))];
      const failing = `case ${i}: ${JSON.stringify([a, b].map((polygons) => polygons.map((p) => Array.from(p))))}`;
      expect(Math.abs(areaA + areaB - both - either), failing).toBeLessThanOrEqual(tolerance);
      expect(Math.abs(sumOfAreas(differenceOf(a, b)) - (areaA - both)), failing).toBeLessThanOrEqual(tolerance);
      expect(Math.abs(sumOfAreas(exclusiveOrOf(a, b)) - (either - both)), failing).toBeLessThanOrEqual(tolerance);
      const quarter = rotation(Math.PI / 2);
      const turned = unionOf(transformPolygons(a, quarter), transformPolygons(b, quarter));
      expect(comparePolygonSets(transformPolygons(unionOf(a, b), quarter), turned), failing).toBeLessThanOrEqual(tolerance);
      const pieces = decomposePolygons(a, { mostPoints: 12 });
      expect(Math.abs(sumOfAreas(pieces) - areaA), failing).toBeLessThanOrEqual(tolerance);
      expect(Math.max(...pieces.map(countPoints)), failing).toBeLessThanOrEqual(12);
    }
  });
});
