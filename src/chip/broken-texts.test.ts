import { describe, expect, it } from "vitest";
import { InputError } from "#base";
import { brokenCompositions, frameText } from "./broken-compositions.table.ts";
import { beamText, brokenTexts, leafText } from "./broken-texts.table.ts";
import { openChip } from "./predict/chip.ts";

const bases = { beam: beamText, leaf: leafText, frame: frameText };
const rows = [...brokenTexts, ...brokenCompositions];

/** A base text with one piece replaced; the piece must stand there exactly once. */
function breakText(base: keyof typeof bases, piece: string, replacement: string): string {
  if (piece === "") return replacement;
  const parts = bases[base].split(piece);
  if (parts.length !== 2) throw new Error(`"${piece}" stands ${parts.length - 1} times in the base text`);
  return parts.join(replacement);
}

/** What opening a text throws; undefined where it opens. */
function failureOf(text: string): unknown {
  try {
    openChip(text, { file: "chip.yaml" });
    return undefined;
  } catch (error) {
    return error;
  }
}

describe("broken chip texts", () => {
  it.each(Object.entries(bases))("the base text %s is sound", (_, text) => {
    expect(failureOf(text)).toBeUndefined();
  });

  it.each(rows)("%s", (_, base, piece, replacement, problems) => {
    const failure = failureOf(breakText(base, piece, replacement));
    expect(failure).toBeInstanceOf(InputError);
    const told = (failure as InputError).problems.map(({ place, message }) => `${place.line}:${place.column} ${message}`);
    expect(told).toEqual(problems);
    expect((failure as InputError).problems.every(({ place }) => place.file === "chip.yaml")).toBe(true);
  });

  it("are told, and soon, as InputError alone, and leave Object.prototype as it was", () => {
    const before = Reflect.ownKeys(Object.prototype);
    for (const [name, base, piece, replacement] of rows) {
      const text = breakText(base, piece, replacement);
      // a reader that searches back and forth takes minutes over a hostile text; a busy machine takes a fifth of a second over a good one
      const started = performance.now();
      expect(failureOf(text), name).toBeInstanceOf(InputError);
      expect(performance.now() - started, name).toBeLessThan(3000);
    }
    expect(Reflect.ownKeys(Object.prototype)).toEqual(before);
    expect(Object.getPrototypeOf({})).toBe(Object.prototype);
  });
});
