import { describe, expect, test } from "vitest";
import type { BeamEnd, EndNumber } from "#workbench";
import { changesFor, nearestEnd, placeEnds, reallyChanged, thinned } from "./ends.ts";

const number = (name: string, digits: string, rest: { decimals: number; move: readonly [number, number] }): EndNumber => ({
  handle: {
    key: `devices.${name}`,
    name,
    digits,
    unit: "um",
    decimals: rest.decimals,
    evidence: "drawn",
    source: undefined,
    whole: false,
  },
  move: rest.move,
});
const length = number("length", "400", { decimals: 0, move: [1e-6, 0] });
const tilt = number("tilt", "2.5", { decimals: 1, move: [-0.3e-6, 7e-6] });
const end: BeamEnd = { part: "leg", end: "end", numbers: [length, tilt] };
const digitsOf = (way: readonly [number, number], of = end) => changesFor(of, way).map(({ digits }) => digits);

describe("an end under the pointer", () => {
  test("along the beam its length alone follows, in whole steps of its own", () => {
    expect(digitsOf([12.4e-6, 0])).toEqual(["412", "2.5"]);
    expect(digitsOf([-12.6e-6, 1e-6])).toEqual(["387", "2.5"]);
  });

  test("across it the tilt alone follows", () => {
    expect(digitsOf([0, 7e-6])).toEqual(["400", "3.5"]);
  });

  test("aslant both follow, so that the end stands under the pointer: solved by hand", () => {
    // 7 um up is 1 deg, which draws the end back by 0.3 um; the length gives that back
    expect(digitsOf([19.7e-6, 7e-6])).toEqual(["420", "3.5"]);
  });

  test("one number follows as far as it goes along its own way", () => {
    expect(digitsOf([10e-6, 30e-6], { ...end, numbers: [length] })).toEqual(["410"]);
  });

  test("less than half a step changes nothing, not even how the number is written", () => {
    const written = { ...end, numbers: [number("length", "400.0", { decimals: 1, move: [1e-6, 0] })] };
    expect(reallyChanged(changesFor(written, [0.04e-6, 0]))).toEqual([]);
    expect(reallyChanged(changesFor(end, [0, 0]))).toEqual([]);
  });
});

test("ends stand where their beams do; the nearest within reach is meant; rings keep their distance", () => {
  const beam = {
    name: "leg",
    line: Float64Array.of(0, 0, 1, 0, 2, 1),
    widths: [1, 1],
    temperatures: Float64Array.of(1, 1),
  } as const;
  const view = { bodies: [], beams: [beam], stops: [], points: new Map() };
  const start: BeamEnd = { ...end, end: "start" };
  const placed = placeEnds(view, [start, end, { ...end, part: "gone" }]);
  expect(placed.map(({ at }) => at)).toEqual([
    { x: 0, y: 0 },
    { x: 2, y: 1 },
  ]);
  expect(nearestEnd(placed, { place: { x: 1.9, y: 1.1 }, reach: 0.2 })?.end).toBe(end);
  expect(nearestEnd(placed, { place: { x: 1, y: 0.4 }, reach: 0.2 })).toBeUndefined();
  expect(thinned(placed, 3)).toHaveLength(1);
  expect(thinned(placed, 1)).toHaveLength(2);
});
