import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { openChip } from "../predict/chip.ts";
import { caseProse } from "./case-prose.ts";
import { type ProseWord, proseOf } from "./prose.ts";

const file = "examples/02-leafgate/chip.yaml";
const leafgate = () => openChip(readFileSync(file, "utf8"), { file });

const said = (words: readonly ProseWord[]): string =>
  words
    .map((word) => {
      if (word.kind === "words") return word.text;
      return word.kind === "handle" ? `${word.handle.digits} ${word.handle.unit}`.trim() : word.value.text;
    })
    .join("");

describe("a chip as prose", () => {
  test("its parts are told in the order of the text, with their numbers as written", () => {
    const paragraphs = proseOf(leafgate());
    expect(paragraphs.map(({ part }) => part)).toEqual([
      "drive",
      "stem",
      "blade",
      "upper flexure",
      "lower flexure",
      "grid",
      undefined,
    ]);
    expect(said(paragraphs[0]!.words)).toContain(
      "6 pairs of legs, each 800 um long and 6 um wide, tilted by 2.5 deg and 16 um apart",
    );
  });

  test("every number in it can be held, and each has one home", () => {
    const handles = proseOf(leafgate()).flatMap(({ words }) => words.filter((word) => word.kind === "handle"));
    expect(handles.length).toBeGreaterThan(20);
    for (const { handle } of handles) expect(Number.isFinite(Number(handle.digits.replace("\u2212", "-")))).toBe(true);
  });

  test("a case is told by what drives it; an unknown one is refused", () => {
    expect(said(caseProse(leafgate(), "hold"))).toBe("10.20 V on the pads");
    expect(said(caseProse(leafgate(), "cold"))).toBe("0 V on the pads");
    expect(() => caseProse(leafgate(), "warm")).toThrow('Cannot tell a case: there is none called "warm"');
  });
});
