import fc from "fast-check";
import { expect, test } from "vitest";
import { barOf } from "./scale-bar.ts";

test("the bar is a round length, as long as fits", () => {
  expect(barOf(90 / 1e-3)).toEqual({ pixels: 90, text: "1 mm" });
  expect(barOf(90 / 0.7e-3)).toMatchObject({ text: "500 µm" });
  expect(barOf(90 / 3e-9)).toMatchObject({ text: "2 nm" });
});

test("at any zoom it is between two fifths of the room and all of it", () => {
  fc.assert(
    fc.property(fc.double({ min: 3, max: 9, noNaN: true }), (power) => {
      const { pixels } = barOf(10 ** power);
      expect(pixels).toBeLessThanOrEqual(90 * (1 + 1e-6));
      expect(pixels).toBeGreaterThanOrEqual(90 * 0.4 * (1 - 1e-6));
    }),
  );
});
