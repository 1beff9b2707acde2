import { expect, test } from "vitest";
import { projection, wholeOf } from "./window.ts";

test("the whole stands in the middle, as large as its margins of 16 px allow, and up is up", () => {
  const frame = { width: 232, height: 132 };
  const window = wholeOf([Float64Array.of(0, 0, 4, 1), Float64Array.of(1, -1, 2, 0)], frame);
  expect(window).toEqual({ x: 2, y: 0, zoom: 50 });
  const { line } = projection(window, frame);
  expect([...line(Float64Array.of(0, -1, 4, 1, 2, 0))]).toEqual([16, 116, 216, 16, 116, 66]);
});
