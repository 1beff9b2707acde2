import { describe, expect, it } from "vitest";
import { dbuFromMetres, metresFromDbu, outlineFromPolygon, polygonFromOutline, roundToDbu } from "./grid.ts";
import { boundingBox, counterClockwise, perimeter, polygonFrom, rectangle, reversePolygon, signedArea } from "./polygon.ts";

describe("mask grid", () => {
  it("turns metres into nanometres and back", () => {
    expect(dbuFromMetres(6.8e-6)).toBe(6800);
    expect(metresFromDbu(6800)).toBe(6.8e-6);
    expect(Array.from(outlineFromPolygon(polygonFromOutline(Float64Array.of(1e-6, -2.5e-6))))).toEqual([1e-6, -2.5e-6]);
  });

  it("rounds halves upward, so that a shift by whole units commutes with rounding", () => {
    expect([-1.5, -0.5, 0.5, 1.5].map(roundToDbu)).toEqual([-1, 0, 1, 2]);
  });

  it("refuses what 32 bits cannot hold", () => {
    expect(() => dbuFromMetres(3)).toThrow(/Cannot place .* wanted a coordinate within 2147483647 database units/);
    expect(() => dbuFromMetres(Number.NaN)).toThrow(RangeError);
  });
});

describe("polygon", () => {
  const square = rectangle({ left: 0, bottom: 0, right: 10, top: 10 });

  it("has positive area counter-clockwise, negative clockwise", () => {
    expect(signedArea(square)).toBe(100);
    expect(signedArea(reversePolygon(square))).toBe(-100);
    expect(signedArea(counterClockwise(reversePolygon(square)))).toBe(100);
    expect(perimeter(square)).toBe(40);
  });

  it("keeps the exact area of a small polygon far from the origin", () => {
    const far = 2_000_000_000;
    expect(signedArea(polygonFrom([far, far, far + 3, far, far, far + 5]))).toBe(7.5);
  });

  it("knows its box; an empty set has none", () => {
    expect(boundingBox([square, rectangle({ left: -5, bottom: 2, right: 3, top: 40 })])).toEqual({
      left: -5,
      bottom: 0,
      right: 10,
      top: 40,
    });
    expect(boundingBox([])).toBeUndefined();
  });

  it("refuses fractions, odd counts and coordinates beyond 32 bits", () => {
    expect(() => polygonFrom([0, 0, 1, 0.5, 1, 1])).toThrow("found 0.5");
    expect(() => polygonFrom([0, 0, 1, 1])).toThrow("found 4 numbers");
    expect(() => polygonFrom([0, 0, 1, 1, 3e9, 0])).toThrow("found 3000000000");
  });
});
