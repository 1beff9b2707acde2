import { describe, expect, test } from "vitest";
import { type IsolineField, isolineShapes, isolinesOf } from "./isolines.ts";
import { amber } from "./tokens.ts";

/** A beam along x with pieces of 10, warm as its place; a plate from 0 to 40 in x whose warmth falls from 400 to 300. */
const field: IsolineField = {
  low: 300,
  high: 400,
  unit: "K",
  beams: [
    { points: Float64Array.of(0, 0, 10, 0, 20, 0, 30, 0, 40, 0), widths: [4, 2], values: Float64Array.of(305, 315, 325, 335) },
  ],
  plates: [
    {
      outline: Float64Array.of(0, 10, 40, 10, 40, 30, 0, 30),
      from: [0, 20],
      to: [40, 20],
      shares: Float64Array.of(0, 0.5, 1),
      values: Float64Array.of(400, 350, 300),
    },
  ],
};

describe("lines of equal value", () => {
  test("a beam is crossed where it takes the value, over its own width there", () => {
    const [line] = isolinesOf({ ...field, plates: [] }, [320]);
    // 315 at 15 and 325 at 25: 320 stands at 20, in the middle of a beam that narrows from 4 to 2
    expect(line!.from[0]).toBeCloseTo(20, 9);
    expect(line!.to[0]).toBeCloseTo(20, 9);
    expect(Math.abs(line!.to[1] - line!.from[1])).toBeCloseTo(3, 9);
    expect(isolinesOf({ ...field, plates: [] }, [301, 339])).toEqual([]);
  });

  test("a plate is crossed from edge to edge, square to its axis", () => {
    const [line] = isolinesOf({ ...field, beams: [] }, [375]);
    expect(line!.from[0]).toBeCloseTo(10, 9);
    expect(line!.to[0]).toBeCloseTo(10, 9);
    expect([line!.from[1], line!.to[1]].sort((a, b) => a - b)).toEqual([10, 30]);
  });

  test("a plate that leaves a gap on the way is crossed in two pieces", () => {
    const notched = Float64Array.of(0, 10, 40, 10, 40, 14, 5, 14, 5, 26, 40, 26, 40, 30, 0, 30);
    expect(isolinesOf({ ...field, beams: [], plates: [{ ...field.plates[0]!, outline: notched }] }, [325])).toHaveLength(2);
  });

  test("every value is told once where its lines crowd, in Amber without blue", () => {
    const shapes = isolineShapes(field, { place: (x, y) => [2 * x + 60, 2 * y + 60], width: 200, height: 200, tokens: amber });
    const words = shapes.flatMap((shape) => (shape.kind === "words" ? [shape.words] : []));
    expect([...words].sort()).toEqual(["325 K", "350 K", "375 K"]);
    const colours = shapes.flatMap((shape) => (shape.kind === "line" ? [shape.stroke.colour] : []));
    expect(colours.length).toBeGreaterThan(0);
    expect(colours.filter((colour) => !colour.endsWith("00"))).toEqual([]);
  });
});
