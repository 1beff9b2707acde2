import { expect, test } from "vitest";
import type { DeviceView } from "#devices";
import { partAt, partNames } from "./part-at.ts";

const square = (x: number, y: number, half: number): Float64Array =>
  Float64Array.of(x - half, y - half, x + half, y - half, x + half, y + half, x - half, y + half);
const field = {
  from: { x: 0, y: 0 },
  to: { x: 1, y: 0 },
  shares: Float64Array.of(0, 1),
  temperatures: Float64Array.of(300, 300),
};
const view: DeviceView = {
  bodies: [{ name: "blade", kind: "plate", outlines: [square(0, 0, 10), square(0, 0, 4)], field }],
  beams: [{ name: "stem", line: Float64Array.of(0, 10, 0, 30), widths: [2, 2], temperatures: Float64Array.of(300) }],
  stops: [],
  points: new Map(),
};
const at = (x: number, y: number, reach = 1) => partAt(view, { place: { x, y }, reach });

test("a body is under its ground and not under its openings", () => {
  expect([at(7, 0), at(0, 0), at(11, 0)]).toEqual(["blade", undefined, undefined]);
});

test("a beam is under its width and a little beside it, and ends where it ends", () => {
  expect([at(0.9, 20), at(1.9, 20), at(2.1, 20), at(0, 32.1)]).toEqual(["stem", "stem", undefined, undefined]);
});

test("where a beam enters a body the beam is found on its width, the body beside it", () => {
  expect([at(0, 10, 0), at(0.5, 10), at(3, 9.5)]).toEqual(["stem", "stem", "blade"]);
});

test("all parts can be walked through", () => {
  expect(partNames(view)).toEqual(["blade", "stem"]);
});
