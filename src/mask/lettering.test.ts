import { describe, expect, it } from "vitest";
import { boundingBox, findSelfCrossing, regionsOf, signedArea, sumOfAreas } from "#geometry";
import { glyphs } from "./glyphs.generated.ts";
import { textPolygons } from "./lettering.ts";

const height = 100_000;

/** Pieces and counters of a word: what the eye counts in the letters. */
function piecesAndCounters(text: string): readonly [number, number] {
  const regions = regionsOf(textPolygons(text, { height }));
  return [regions.length, regions.reduce((sum, region) => sum + region.holes.length, 0)];
}

describe("textPolygons", () => {
  it("gives letters in one piece with their counters open", () => {
    // L E F G T have none; A A R have one each: "LEAFGATE R1" has 10 letters and 3 counters.
    expect(piecesAndCounters("LEAFGATE R1")).toEqual([10, 3]);
    expect(piecesAndCounters("B8i%")).toEqual([1 + 1 + 2 + 3, 2 + 2 + 0 + 2]);
    expect(piecesAndCounters("µΩ±")[1]).toBe(0);
  });

  it("makes capitals as high as asked, standing on the baseline", () => {
    const box = boundingBox(textPolygons("HILT", { height }))!;
    expect([box.bottom, box.top]).toEqual([0, height]);
    expect(box.left).toBeGreaterThanOrEqual(0);
  });

  it("scales: twice the height is four times the area", () => {
    const area = (size: number): number => sumOfAreas(textPolygons("WAFER 8", { height: size }));
    // Points are rounded to 1 dbu on letters of 1e5 dbu.
    expect(area(2 * height) / area(height)).toBeCloseTo(4, 3);
  });

  it("holds every printable sign of ASCII and takes both code points of micro and ohm", () => {
    for (let code = 33; code < 127; code++) {
      const polygons = textPolygons(String.fromCharCode(code), { height });
      expect(sumOfAreas(polygons)).toBeGreaterThan(0);
      for (const polygon of polygons) expect(findSelfCrossing(polygon)).toBeUndefined();
    }
    expect(glyphs.size).toBe(98);
    expect(textPolygons("\u03bc\u2126", { height })).toEqual(textPolygons("µΩ", { height }));
    expect(textPolygons(" ", { height })).toEqual([]);
  });

  it("winds filled outlines counter-clockwise", () => {
    expect(
      textPolygons("O", { height })
        .map((polygon) => Math.sign(signedArea(polygon)))
        .sort(),
    ).toEqual([-1, 1]);
  });

  it("refuses a letter that plates do not carry", () => {
    expect(() => textPolygons("é", { height })).toThrow('Cannot write "é" on a plate');
  });
});
