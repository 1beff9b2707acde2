import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { numberFromReal8, real8FromNumber } from "./real8.ts";

const hex = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0"))
    .join("")
    .toUpperCase();

/** Worked from the definition of the format by hand arithmetic (rubin1987, from memory). */
const patterns: readonly (readonly [number, string])[] = [
  [1e-3, "3E4189374BC6A7F0"],
  [1e-9, "3944B82FA09B5A54"],
  [1, "4110000000000000"],
  [0.5, "4080000000000000"],
  [-2.5, "C128000000000000"],
  [90, "425A000000000000"],
  [5e-9, "3A15798EE2308C3A"],
  [0, "0000000000000000"],
];

describe("eight-byte reals", () => {
  it.each(patterns)("write %d as its pattern", (value, pattern) => {
    // The format holds 56 bits and a double 53: the last byte may differ by up to 3 between writers.
    const found = hex(real8FromNumber(value));
    expect(found.slice(0, 14)).toBe(pattern.slice(0, 14));
    expect(Math.abs(Number.parseInt(found.slice(14), 16) - Number.parseInt(pattern.slice(14), 16))).toBeLessThanOrEqual(3);
  });

  it.each(patterns)("read the pattern of %d", (value, pattern) => {
    const bytes = Uint8Array.from(pattern.match(/../g)!, (pair) => Number.parseInt(pair, 16));
    expect(Math.abs(numberFromReal8(new DataView(bytes.buffer), 0) - value)).toBeLessThanOrEqual(1e-15 * Math.abs(value));
  });

  it("keep every double within range exactly", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e70, max: 1e70, noNaN: true }), (value) => {
        if (value !== 0 && Math.abs(value) < 1e-75) return;
        expect(numberFromReal8(new DataView(real8FromNumber(value).buffer), 0)).toBe(value === 0 ? 0 : value);
      }),
      { seed: 21, numRuns: 1000 },
    );
  });

  it("refuse what the format cannot hold", () => {
    expect(() => real8FromNumber(1e80)).toThrow("wanted a size between");
    expect(() => real8FromNumber(1e-90)).toThrow("wanted a size between");
    expect(() => real8FromNumber(Number.NaN)).toThrow("wanted a finite number");
  });
});
