import { expect, test } from "vitest";
import { ribbon } from "./ribbon.ts";

test("a straight beam that tapers has its widths at its ends, and none thinner than a pixel", () => {
  expect([...ribbon(Float64Array.of(0, 0, 10, 0), [4, 0.2])]).toEqual([0, 2, 10, 0.5, 10, -0.5, 0, -2]);
});
