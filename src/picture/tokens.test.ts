import { describe, expect, it } from "vitest";
import { amber, night, paper, type Tokens } from "./tokens.ts";

const channels = (colour: string): readonly number[] => [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));

/** Relative luminance and contrast after WCAG 2.1 (from memory). */
function luminance(colour: string): number {
  const [r, g, b] = channels(colour).map((value) => {
    const share = value / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((p, q) => q - p);
  return (high! + 0.05) / (low! + 0.05);
}

const all: readonly (readonly [string, Tokens])[] = [
  ["paper", paper],
  ["night", night],
  ["amber", amber],
];

describe.each(all)("tokens of %s", (_, tokens) => {
  it("carry text at 4.5 to 1 or better on stock and on sheet, ticks at 3 to 1", () => {
    for (const ground of [tokens.stock, tokens.sheet]) {
      for (const ink of [tokens.ink, tokens.ink2, tokens.handle, tokens.measured, tokens.fail, tokens.care])
        expect(contrast(ink, ground)).toBeGreaterThan(4.5);
      expect(contrast(tokens.ink3, ground)).toBeGreaterThan(3);
    }
  });

  it("have a field map that grows lighter step by step", () => {
    const steps = tokens.ember.map(luminance);
    expect(steps.length).toBe(11);
    for (let i = 1; i < steps.length; i++) expect(steps[i]!).toBeGreaterThan(steps[i - 1]!);
  });
});

describe("amber", () => {
  it("has no blue in any colour", () => {
    for (const colour of Object.values(amber).flat()) expect(channels(colour)[2]).toBe(0);
  });
});
