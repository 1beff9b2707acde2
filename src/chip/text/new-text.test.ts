import { describe, expect, it } from "vitest";
import { openChip } from "../predict/chip.ts";
import { newChipText, titleOfChipText } from "./new-text.ts";

describe("newChipText", () => {
  it.each(["plain", "with: colon # and hash", 'quote " and \\', "µm", "yes"])(
    "is read without a problem under the name %s",
    (name) => {
      const text = newChipText(name);
      expect(openChip(text, { file: "chip.yaml" }).description.sections.chip).toBe(name);
      expect(titleOfChipText(text)).toBe(name);
    },
  );
});

describe("titleOfChipText", () => {
  it.each([
    ["version: 1\nchip: Leafgate  # ours\n", "Leafgate"],
    ["chip: 'it''s'\r\nversion: 1\r\n", "it's"],
    ['chip: "a # b" # c\n', "a # b"],
    ['chip: "\\x41"\n', "\\x41"],
    ["chip: C#7\n", "C#7"],
    ["chip: # nothing\n", undefined],
    ["chip:\nversion: 1\n", undefined],
    ["  chip: deeper\n", undefined],
    ["", undefined],
  ])("of %j is %j", (text, title) => expect(titleOfChipText(text)).toBe(title));

  it.each([
    `chip: a${" ".repeat(990_000)}b #`,
    `chip: ${"a ".repeat(490_000)}`,
    `chip: "${"\\\\".repeat(490_000)}`,
    `chip:${" ".repeat(990_000)}#`,
    `${"chip: #\n".repeat(120_000)}`,
  ])("is found at once in a hostile text (%#)", (text) => {
    const startedAt = performance.now();
    titleOfChipText(text);
    // some 5 ms here; the square of the length would take an hour
    expect(performance.now() - startedAt).toBeLessThan(1000);
  });
});
