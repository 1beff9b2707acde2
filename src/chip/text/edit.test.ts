import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isMap, isScalar, isSeq, type Node } from "yaml";
import { replaceValue } from "./edit.ts";
import { findNode, placeOfPath } from "./find-node.ts";
import { parseText } from "./parse.ts";
import { writtenText } from "./reading.ts";
import { problemsOf, sampleText } from "./text-sample.ts";

const seed = 1977;
const file = "chip.yaml";

/** Every path of a text that ends in a single value. */
function pathsOf(text: string): readonly (readonly string[])[] {
  const found: string[][] = [];
  const walk = (node: Node | null, path: string[]): void => {
    if (isMap(node))
      for (const pair of node.items) isScalar(pair.key) && walk(pair.value as Node | null, [...path, writtenText(pair.key)]);
    else if (isSeq(node))
      node.items.forEach((item, i) => {
        walk(item as Node, [...path, String(i + 1)]);
      });
    else if (isScalar(node)) found.push(path);
  };
  walk(parseText(text, file).root, []);
  return found;
}

/** Everything that a text says, as paths with their values. */
const contentOf = (text: string): ReadonlyMap<string, string> =>
  new Map(pathsOf(text).map((path) => [path.join("/"), writtenText(findNode(parseText(text, file).root, path) as never)]));

const odd = `# top\r\nchip :   Leafgate\t# name\r\n"quoted name": 'it''s'\r\nflow: {a: 1 um,b:  [ 2 um , "3, um" ] , c: x}\r\nempty:\r\nnext: 1\r\nblock: |\r\n  first\r\n  second\r\n\r\nfold: >-\r\n  some\r\n  words\r\nlist:\r\n-   one\r\n- two   # second\r\nlong: a phrase\r\n  on two lines\r\nlast: end`;
const samples = [sampleText, sampleText.replaceAll("\n", "\r\n"), odd, odd.replaceAll("\r\n", "\n"), `\ufeff${sampleText}`];

describe("replaceValue", () => {
  it("changes the value and no other byte", () => {
    const edited = replaceValue(sampleText, { file, path: ["parameters", "leg width"], value: "7.5 um ± 0.2 um" });
    expect(edited).toBe(sampleText.replace("leg width: 6 um     # target", "leg width: 7.5 um ± 0.2 um     # target"));
    expect(problemsOf(edited)).toEqual([]);
  });

  const values = fc.oneof(
    fc.constantFrom(
      "7 um",
      "-5 um",
      "- 5",
      "",
      " x ",
      "a: b",
      "x # y",
      "it's",
      '"',
      "a, b",
      "{x}",
      "[",
      "null",
      "true",
      "~",
      "*a",
      "&a",
      "!a",
      "%a",
      "@",
      "back\\slash",
      "two\nlines",
      "tab\tbed",
      "---",
      "5 %",
      "±",
      "💥",
      "key:",
      "? x",
      "measured 4 um, die K11",
    ),
    fc.string({ unit: fc.constantFrom(..."ab 0:,#'\"[]{}-?!&*|>%@`\\\n"), maxLength: 8 }),
  );

  it("keeps the rest of any text byte for byte, and reads back", () => {
    let changed = 0;
    fc.assert(
      fc.property(fc.constantFrom(...samples), fc.nat(), values, (text, pick, value) => {
        const paths = pathsOf(text);
        const path = paths[pick % paths.length]!;
        const [start, end] = (findNode(parseText(text, file).root, path) as Node).range!;
        let edited: string;
        try {
          edited = replaceValue(text, { file, path, value });
        } catch (error) {
          // single quotes cannot hold a line end; nothing else is refused
          expect(error).toBeInstanceOf(RangeError);
          expect(value).toContain("\n");
          return;
        }
        changed++;
        expect(edited.startsWith(text.slice(0, start))).toBe(true);
        expect(edited.endsWith(text.slice(end))).toBe(true);
        const wanted = new Map(contentOf(text)).set(path.join("/"), value);
        expect(contentOf(edited)).toEqual(wanted);
      }),
      { seed, numRuns: 150 },
    );
    expect(changed).toBeGreaterThan(120);
  });

  it("changes nothing when the same value is written", () => {
    for (const path of pathsOf(sampleText)) {
      const value = writtenText(findNode(parseText(sampleText, file).root, path) as never);
      expect(replaceValue(sampleText, { file, path, value })).toBe(sampleText);
    }
  });

  it("writes a value below zero plainly", () => {
    expect(replaceValue("a: 1 um # x\n", { file, path: ["a"], value: "-5 um" })).toBe("a: -5 um # x\n");
  });

  it("fills an empty place", () => {
    expect(replaceValue("a:\nb: 1\n", { file, path: ["a"], value: "5 um" })).toBe("a: 5 um\nb: 1\n");
  });

  it("refuses what is no single value", () => {
    const edit = (path: readonly string[], value = "1"): string => replaceValue(sampleText, { file, path, value });
    expect(() => edit(["parameters"])).toThrow("Cannot change parameters: a block stands there, not a single value");
    expect(() => edit(["parameters", "none"])).toThrow("Cannot change parameters.none: the text has no such value");
    expect(() => edit(["points", "9", "at"])).toThrow("the text has no such value");
    expect(() => edit(["constructor"])).toThrow("the text has no such value");
    expect(() => edit(["parameters", "gap"], "a\u0000b")).toThrow("would not read back");
  });
});

it("places a path at its value, or at the nearest block above", () => {
  const parsed = parseText(sampleText, file);
  expect(placeOfPath(parsed, ["parameters", "leg width"])).toEqual({ file, line: 20, column: 14 });
  expect(placeOfPath(parsed, ["parameters", "none"])).toEqual({ file, line: 20, column: 3 });
  expect(placeOfPath(parsed, ["points", "2", "at"])).toEqual({ file, line: 28, column: 11 });
  expect(placeOfPath(parsed, ["nothing"])).toEqual({ file, line: 2, column: 1 });
});
