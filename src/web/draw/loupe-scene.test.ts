import { describe, expect, test } from "vitest";
import type { DeviceLayers } from "#chip";
import { amber, paper, type Shape } from "#picture";
import { type LoupeView, loupeShapes, loupeWords, tableOfLoupe } from "./loupe-scene.ts";

const um = 1e-6;
const rectangle = (left: number, bottom: number, right: number, top: number) =>
  Float64Array.of(left * um, bottom * um, right * um, bottom * um, right * um, top * um, left * um, top * um);
const [first, second] = [rectangle(0, 0, 100, 6), rectangle(0, 16, 100, 22)];
const layers: DeviceLayers = {
  anchors: [],
  moving: [first, second],
  silicon: [first, second],
  // half a micrometre in from every edge
  built: [rectangle(0.5, 0.5, 99.5, 5.5), rectangle(0.5, 16.5, 99.5, 21.5)],
  metal: [],
  recess: [],
  parts: [
    { name: "leg 1", outline: first },
    { name: "leg 2", outline: second },
  ],
  inward: 0.5 * um,
  thickness: 40 * um,
  depth: 7 * um,
};
const at = (x: number, y: number) => ({ x: x * um, y: y * um });

describe("the loupe", () => {
  test("says how wide a beam is and how far two are apart, as drawn and as built", () => {
    expect(loupeWords(layers, at(50, 2))).toBe("leg 1 is 6.00 µm wide as drawn, 5.00 µm as built.");
    expect(loupeWords(layers, at(50, 10))).toBe("A gap of 10.0 µm as drawn, 11.0 µm as built, between leg 1 and leg 2.");
    expect(loupeWords(layers, at(50, -30))).toBe("Open ground, 30.0 µm from leg 1.");
    // within what the etch takes away there is no width as built
    expect(loupeWords(layers, at(50, 0.2))).toBe("leg 1 is 6.00 µm wide as drawn.");
  });

  const view: LoupeView = {
    layers,
    place: at(50, 10),
    zoom: 10 / um,
    centre: { x: 200, y: 150 },
    spot: { x: 200, y: 150 },
    tokens: paper,
  };
  const insideOf = (shapes: readonly Shape[]): readonly Shape[] =>
    shapes.flatMap((shape) => (shape.kind === "inside" ? shape.shapes : []));

  test("shows true geometry: the gap of 10 um is 100 px long at 10 px a micrometre, its edges where the outlines are", () => {
    const [line] = insideOf(loupeShapes(view)).flatMap((shape) =>
      shape.kind === "line" && shape.stroke.colour === paper.handle ? [shape.points] : [],
    );
    const [x0, y0, x1, y1] = [...line!] as [number, number, number, number];
    expect(Math.hypot(x1 - x0, y1 - y0)).toBeCloseTo(100, 6);
    expect(x0).toBeCloseTo(200, 6);
    // the edge at 6 um lies 4 um below the middle: 40 px further down
    expect(Math.max(y0, y1)).toBeCloseTo(190, 6);
  });

  test("leaves out what it does not reach, and leads to the spot where a finger covers it", () => {
    const far = loupeShapes({ ...view, place: at(50, 200) });
    expect(insideOf(far).filter((shape) => shape.kind === "line")).toEqual([]);
    const led = loupeShapes({ ...view, spot: { x: 200, y: 330 }, tokens: amber });
    expect(led.filter((shape) => shape.kind === "line")).toHaveLength(1);
    expect(tableOfLoupe(view).split("\n")).toHaveLength(2 + 4 * 4);
  });
});
