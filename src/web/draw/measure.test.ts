import { describe, expect, test } from "vitest";
import { measureAt } from "./measure.ts";

const rectangle = (left: number, bottom: number, right: number, top: number) =>
  Float64Array.of(left, bottom, right, bottom, right, top, left, top);
/** Two bars 6 um wide and 10 um apart, the second with a slit of 2 um through it. */
const um = 1e-6;
const bars = [
  rectangle(0, 0, 100 * um, 6 * um),
  rectangle(0, 16 * um, 100 * um, 22 * um),
  rectangle(40 * um, 18 * um, 60 * um, 20 * um),
];
const at = (x: number, y: number) => measureAt(bars, { x: x * um, y: y * um })!;

describe("measures at a place", () => {
  test("within a bar its width, wherever across it one looks", () => {
    for (const y of [0.5, 2, 5.9]) expect(at(20, y).size! / um).toBeCloseTo(6, 9);
    expect(at(20, 2)).toMatchObject({ kind: "width", from: { x: 20 * um, y: 0 } });
  });

  test("between two bars their gap; within a slit its own; beside it what is left of the bar", () => {
    expect(at(20, 9)).toMatchObject({ kind: "gap" });
    expect(at(20, 9).size! / um).toBeCloseTo(10, 9);
    expect(at(50, 19.2).kind).toBe("gap");
    expect(at(50, 19.2).size! / um).toBeCloseTo(2, 9);
    expect(at(50, 17).kind).toBe("width");
    expect(at(50, 17).size! / um).toBeCloseTo(2, 9);
  });

  test("over open ground there is nothing opposite, but a nearest edge", () => {
    const open = at(20, -7);
    expect(open).toMatchObject({ kind: "gap", size: undefined, to: undefined });
    expect(open.distance / um).toBeCloseTo(7, 9);
  });

  test("on an edge it is square to it", () => {
    expect(at(20, 6).size! / um).toBeCloseTo(at(20, 6).kind === "gap" ? 10 : 6, 6);
  });

  test("across an aslant bar it is the width, not the way along an axis", () => {
    const [c, s] = [Math.cos(0.4), Math.sin(0.4)];
    const turned = rectangle(-50, -3, 50, 3).map((_, i, all) => {
      const [x, y] = i % 2 === 0 ? [all[i]!, all[i + 1]!] : [all[i - 1]!, all[i]!];
      return i % 2 === 0 ? c * x - s * y : s * x + c * y;
    });
    expect(measureAt([turned], { x: 5 * c + s, y: 5 * s - c })!.size).toBeCloseTo(6, 9);
  });

  test("where there is nothing there is no measure", () => {
    expect(measureAt([], { x: 0, y: 0 })).toBeUndefined();
  });
});
