import { expect, test } from "vitest";
import { distanceToLine } from "./line-distance.ts";

const corner = Float64Array.of(0, 0, 4, 0, 4, 3);

test("beside a piece it is the way straight across, past its ends the way to the end", () => {
  expect(distanceToLine(corner, { x: 2, y: -1.5 })).toBe(1.5);
  expect(distanceToLine(corner, { x: 5, y: 2 })).toBe(1);
  expect(distanceToLine(corner, { x: -3, y: -4 })).toBe(5);
  expect(distanceToLine(corner, { x: 4, y: 5 })).toBe(2);
});

test("on the line it is nothing; a piece without length is its point", () => {
  expect(distanceToLine(corner, { x: 4, y: 1 })).toBe(0);
  expect(distanceToLine(Float64Array.of(1, 1, 1, 1), { x: 4, y: 5 })).toBe(5);
});
