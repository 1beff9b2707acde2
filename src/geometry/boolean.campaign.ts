/**
 * Many random pairs of sets through the clipping library: area identities that hold whatever the answer is.
 * The tolerance is what cutting of crossings explains (see boolean.test.ts), so a lost or doubled piece of any size beyond shows.
 */
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { campaign } from "#campaign";
import { areaOf, comparePolygonSets, differenceOf, exclusiveOrOf, intersectionOf, unionOf } from "./boolean.ts";
import { decomposePolygons } from "./decompose.ts";
import { countPoints, type Polygon, perimeter, polygonFrom, sumOfAreas } from "./polygon.ts";
import { rotation, transformPolygons } from "./transform.ts";

const { nCases, seed } = campaign({ name: "set operations on random rings", sample: 150, full: 20_000 });

const reach = 100_000;

/** One case in this many may lose area: the library has rare defects at crossings within one unit of each other (1 in 20 000 seen, 0.04 % of the area). */
const casesPerDefect = 5000;

/** Largest share of the area that such a defect may cost. */
const worstShare = 0.01;

describe("set operations on random rings", () => {
  it(`keep the area identities in ${nCases} cases`, () => {
    const random = xoroshiro128plus(seed);
    const ring = (): Polygon =>
      polygonFrom(Array.from({ length: 2 * uniformInt(random, 3, 9) }, () => uniformInt(random, -reach, reach)));
    const set = (): readonly Polygon[] => Array.from({ length: uniformInt(random, 1, 3) }, ring);
    const quarter = rotation(Math.PI / 2);
    const defects: { readonly found: number; readonly share: number; readonly sets: string }[] = [];
    for (let i = 0; i < nCases; i++) {
      const a = set();
      const b = set();
      const tolerance = 2 * [...a, ...b].reduce((sum, polygon) => sum + perimeter(polygon), 0);
      const [areaA, areaB] = [areaOf(a), areaOf(b)];
      const [both, either] = [sumOfAreas(intersectionOf(a, b)), sumOfAreas(unionOf(a, b))];
      const turned = unionOf(transformPolygons(a, quarter), transformPolygons(b, quarter));
      const pieces = decomposePolygons(a, { mostPoints: 12 });
      const found = Math.max(
        Math.abs(areaA + areaB - both - either),
        Math.abs(sumOfAreas(differenceOf(a, b)) - (areaA - both)),
        Math.abs(sumOfAreas(exclusiveOrOf(a, b)) - (either - both)),
        comparePolygonSets(transformPolygons(unionOf(a, b), quarter), turned),
        Math.abs(sumOfAreas(pieces) - areaA),
      );
      if (found > tolerance)
        defects.push({ found, share: found / either, sets: JSON.stringify([a, b].map((s) => s.map((p) => [...p]))) });
      expect(Math.max(...pieces.map(countPoints))).toBeLessThanOrEqual(12);
    }
    const told = defects.map(({ found, share, sets }) => `${found} square units, ${share} of the area: ${sets}`).join("\n");
    expect(defects.length, told).toBeLessThanOrEqual(Math.ceil(nCases / casesPerDefect));
    expect(Math.max(0, ...defects.map(({ share }) => share)), told).toBeLessThanOrEqual(worstShare);
  });
});
