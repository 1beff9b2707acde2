import { describe, expect, test } from "vitest";
import type { ModeView } from "#devices";
import { amber, colourOfShare, paper, type Shape } from "#picture";
import { manyTimes, modeScene, scaleOfMode } from "./modes-scene.ts";

const frame = { width: 200, height: 100, density: 1 };
const window = { x: 0, y: 0, zoom: 1e6 };

/** A beam of 40 um whose end moves by 1, and a square plate of 20 um on it. */
const modeIn = (family: ModeView["family"]): ModeView => {
  const isFlat = family === "in plane";
  const across = (moves: readonly number[]) => ({
    moves: Float64Array.from(moves.flatMap((move) => [0, isFlat ? move : 0])),
    lifts: Float64Array.from(moves, (move) => (isFlat ? 0 : move)),
  });
  const square = Float64Array.of(40e-6, -10e-6, 60e-6, -10e-6, 60e-6, 10e-6, 40e-6, 10e-6);
  return {
    family,
    frequency: 24_300,
    unrest: 8e-12,
    largest: 1,
    beams: [{ name: "bar", widths: [4e-6, 4e-6], points: Float64Array.of(0, 0, 20e-6, 0, 40e-6, 0), ...across([0, 0.3, 1]) }],
    bodies: [{ name: "head", kind: "plate", outlines: [{ points: square, ...across([1, 1, 1, 1]) }] }],
  };
};
const areasOf = (shapes: readonly Shape[]) => shapes.filter((shape) => shape.kind === "area");

describe("a mode as it is drawn", () => {
  test("its scale and slowdown are round, within 28 px and 0.9 swings a second, and can be said", () => {
    const scale = scaleOfMode(modeIn("in plane"), window.zoom);
    // 28 px at 1 px/um are 28 um: 3.5 million times 8 pm, so 2 million; 24 300 Hz / 0.9 = 27 000, so 50 000
    expect(scale.times).toBe(2e6);
    expect(scale.perUnit).toBeCloseTo(16e-6, 12);
    expect(scale.slowdown).toBe(50_000);
    expect(manyTimes(2e6)).toBe("2 million");
    expect(manyTimes(50_000)).toBe("50\u00a0000");
    expect(scaleOfMode({ ...modeIn("in plane"), unrest: Number.NaN }, window.zoom)).toMatchObject({ times: undefined });
  });

  test("in the plane it moves to where the phase says, and rests in the middle", () => {
    const headAt = (phase: number): Float64Array =>
      areasOf(modeScene(modeIn("in plane"), { frame, window, tokens: paper, phase }).shapes).at(-1)!.outlines[0]!;
    expect(headAt(0)[1]).toBeCloseTo(60, 9);
    expect(headAt(1)[1]).toBeCloseTo(44, 9);
    expect(headAt(-0.5)[1]).toBeCloseTo(68, 9);
  });

  test("both extremes stand in one picture", () => {
    const { shapes } = modeScene(modeIn("in plane"), { frame, window, tokens: paper, phase: "both" });
    const dashed = shapes.filter((shape) => shape.kind === "line" && shape.stroke.colour === paper.handle);
    expect(dashed).toHaveLength(2);
    expect(areasOf(shapes)).toHaveLength(2);
  });

  test("out of the plane nothing moves; up is the light end with a +, down the dark one with a −, at rest the middle", () => {
    const sceneAt = (phase: number) => modeScene(modeIn("out of plane"), { frame, window, tokens: amber, phase }).shapes;
    const head = (phase: number) => areasOf(sceneAt(phase)).at(-1)!;
    expect(head(1).outlines[0]).toEqual(head(-1).outlines[0]);
    expect(head(1).fill).toBe(colourOfShare(1, amber.ember));
    expect(head(-1).fill).toBe(colourOfShare(0, amber.ember));
    expect(head(0).fill).toBe(colourOfShare(0.5, amber.ember));
    const strokesOfSigns = (phase: number) =>
      sceneAt(phase).filter((shape) => shape.kind === "line" && shape.stroke.colour === amber.ink).length;
    // one plate of 20 px has one sign: a + of two strokes, a − of one
    expect([1, -1, 0].map(strokesOfSigns)).toEqual([2, 1, 0]);
  });
});
