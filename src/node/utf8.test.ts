import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findBrokenUtf8 } from "./utf8.ts";

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

// Bytes near the borders of the well-formed sequences, so that long, overlong and surrogate sequences come up often.
const borders = [
  0x00, 0x7f, 0x80, 0x8f, 0x90, 0x9f, 0xa0, 0xbf, 0xc0, 0xc1, 0xc2, 0xdf, 0xe0, 0xed, 0xef, 0xf0, 0xf3, 0xf4, 0xf5, 0xff,
];
const byte = fc.oneof(fc.constantFrom(...borders), fc.integer({ min: 0, max: 255 }));

describe("findBrokenUtf8", () => {
  it("agrees with the platform's own decoder on every sequence, and all before the place is whole", () => {
    fc.assert(
      fc.property(fc.array(byte, { maxLength: 8 }), (values) => {
        const bytes = Uint8Array.from(values);
        const at = findBrokenUtf8(bytes);
        expect(at === -1).toBe(isUtf8(bytes));
        if (at !== -1) expect(isUtf8(bytes.subarray(0, at))).toBe(true);
      }),
      { seed: 1, numRuns: 20_000 },
    );
  });

  it("accepts every text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => findBrokenUtf8(new TextEncoder().encode(text)) === -1),
      { seed: 2, numRuns: 1000 },
    );
  });

  it.each([
    ["a lone continuation byte", [0x61, 0x80], 1],
    ["a character cut short", [0x61, 0xe2, 0x82], 1],
    ["an overlong slash", [0xc0, 0xaf], 0],
    ["a surrogate", [0x61, 0x62, 0xed, 0xa0, 0x80], 2],
    ["a character beyond the last", [0xf4, 0x90, 0x80, 0x80], 0],
  ])("finds %s", (_, bytes, offset) => {
    expect(findBrokenUtf8(Uint8Array.from(bytes))).toBe(offset);
  });
});
