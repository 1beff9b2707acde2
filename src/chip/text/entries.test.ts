import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isMap, isSeq, type Node, type Pair } from "yaml";
import { addEntry, removeEntry, renameEntry } from "./entries.ts";
import { findNode } from "./find-node.ts";
import { newChipText } from "./new-text.ts";
import { parseText } from "./parse.ts";
import { sampleText } from "./text-sample.ts";
import { changedAt, type Tree, treeOf, treeOfValue } from "./tree.ts";
import type { EntryValue } from "./write-value.ts";

const file = "chip.yaml";
const seed = 1977;
const add = (text: string, path: string, key: string | undefined, value: EntryValue): string =>
  addEntry(text, { file, path: path === "" ? [] : path.split("."), ...(key !== undefined && { key }), value });
const remove = (text: string, path: string): string => removeEntry(text, { file, path: path.split(".") });
const tree = (text: string): Tree => treeOf(parseText(text, file).root);

describe("addEntry", () => {
  it("adds a named value behind its neighbours, in their column, behind the comments of the last one", () => {
    const text = "parameters:\n    a: 1 um  # first\n    b: 2 um  # second\n             # still the second\n\ndevices: {}\n";
    expect(add(text, "parameters", "gap", "3 um")).toBe(text.replace("still the second\n", "still the second\n    gap: 3 um\n"));
  });

  it("adds an entry to a list as its neighbours stand", () => {
    const text = "chip: x\nbrief:\n  -   name: a\n      need: at least 1\n\n  -   name: b\n      need: at most 2\n";
    expect(add(text, "brief", undefined, { name: "c", limits: [{ need: "at most 3" }] })).toBe(
      `${text.trimEnd()}\n\n  -   name: c\n      limits:\n          - need: at most 3\n`.replace(
        "          - need",
        "        - need",
      ),
    );
  });

  it("adds between brackets, on the line or on lines", () => {
    expect(add("a: { b: 1, c: 2 }  # x\n", "a", "d", "3")).toBe("a: { b: 1, c: 2, d: 3 }  # x\n");
    expect(add("a: [1, 2,]\n", "a", undefined, "3, 4")).toBe('a: [1, 2, "3, 4",]\n');
    expect(add("a: {\n  b: 1, # one\n  c: 2 # two\n}\n", "a", "d", { e: "3" })).toBe(
      "a: {\n  b: 1, # one\n  c: 2,\n  d: { e: 3 } # two\n}\n",
    );
    expect(add("a: { b: {} }\n", "a.b", "c", "1")).toBe("a: { b: { c: 1 } }\n");
  });

  it("follows the neighbours in brackets or on lines", () => {
    expect(add("drive:\n  cases:\n    hold: { pads: 5 V }\n", "drive.cases", "cold", { pads: "0 V" })).toBe(
      "drive:\n  cases:\n    hold: { pads: 5 V }\n    cold: { pads: 0 V }\n",
    );
    expect(add("devices:\n  a:\n    is: bar\n", "devices", "b", { is: "plate", at: { x: "1 um" } })).toBe(
      "devices:\n  a:\n    is: bar\n  b:\n    is: plate\n    at:\n      x: 1 um\n",
    );
  });

  it("makes what is missing, and fills what is empty", () => {
    expect(add("chip: x\n", "drive.cases", "hold", { pads: "5 V" })).toBe(
      "chip: x\ndrive:\n  cases:\n    hold:\n      pads: 5 V\n",
    );
    expect(add("a:  # none yet\nb: 1\n", "a", undefined, { name: "x" })).toBe("a:  # none yet\n  - name: x\nb: 1\n");
    expect(add("a: {}  # none yet\nb: 1", "a", "x", "1 um")).toBe("a:  # none yet\n  x: 1 um\nb: 1");
    expect(add("b: 1\na: []", "a", undefined, "x")).toBe("b: 1\na: [x]");
  });

  it("puts a section in its usual place, with an empty line where its neighbours have one", () => {
    const bare = newChipText("New").replace("brief: []\n\n", "");
    expect(add(bare, "brief", undefined, { name: "travel", need: "at least 2 um", of: "steady travel" })).toBe(
      newChipText("New").replace("brief: []", "brief:\n  - name: travel\n    need: at least 2 um\n    of: steady travel"),
    );
  });

  it("keeps a windows text and a mark at its start", () => {
    expect(add("\ufeffchip: x\r\nnote: y\r\n", "parameters", "a", "1 um")).toBe(
      "\ufeffchip: x\r\nnote: y\r\nparameters:\r\n  a: 1 um\r\n",
    );
  });

  it("refuses with a sentence", () => {
    expect(() => add(sampleText, "parameters", "leg width", "1 um")).toThrow(
      'Cannot add "leg width" to parameters: it stands there already; change it, or take another name',
    );
    expect(() => add(sampleText, "mount", "a", "1")).toThrow('Cannot add "a" to mount: mount is a single value, not a block');
    expect(() => add(sampleText, "points", "a", "1")).toThrow("it is a list, whose entries have no names");
    expect(() => add(sampleText, "parameters", undefined, "1")).toThrow("its entries have names; say one");
    expect(() => add(sampleText, "parameters", "a", "b\u0000")).toThrow("it would not read back as written");
  });
});

describe("removeEntry", () => {
  const text = `parameters:\n  # what all share\n\n  # of the legs,\n  # as drawn\n  leg width: 6 um   # target\n                    # of the etch\n  gap: 2 um\n`;

  it("takes the comments of the entry with it and leaves those that an empty line parts from it", () => {
    expect(remove(text, "parameters.leg width")).toBe("parameters:\n  # what all share\n\n  gap: 2 um\n");
    expect(remove(text, "parameters.gap")).toBe(text.replace("  gap: 2 um\n", ""));
  });

  it("leaves an emptied block as empty brackets", () => {
    expect(remove("a:  # all\n  b: 1\nc: 2\n", "a.b")).toBe("a: {}  # all\nc: 2\n");
    expect(remove("a:\n  - b\n", "a.1")).toBe("a: []\n");
    expect(remove("a:\n- b: 1\n- c: 2\n", "a.1.b")).toBe("a:\n- {}\n- c: 2\n");
    expect(remove("a: { b: 1 }\n", "a.b")).toBe("a: {}\n");
  });

  it("moves the next name up behind the dash, unless a comment stands between", () => {
    expect(remove("a:\n  - b: 1 # x\n    c: 2 # y\n", "a.1.b")).toBe("a:\n  - c: 2 # y\n");
    expect(remove("a:\n  - b: 1 # x\n    # of c\n    c: 2\n", "a.1.b")).toBe("a:\n  -\n    # of c\n    c: 2\n");
  });

  it("takes one of two empty lines", () => {
    expect(remove("a: 1\n\nb: 2\n\nc: 3\n", "b")).toBe("a: 1\n\nc: 3\n");
    expect(remove("a: 1\n\nb: 2", "b")).toBe("a: 1");
  });

  it("removes between brackets with the comment on the line", () => {
    expect(remove("a: { b: 1, c: 2, d: 3 }\n", "a.c")).toBe("a: { b: 1, d: 3 }\n");
    expect(remove("a: { b: 1, c: 2 }\n", "a.c")).toBe("a: { b: 1 }\n");
    const lines = "a: {\n  b: 1, # one\n  c: 2, # two\n  d: 3 # three\n}\n";
    expect(remove(lines, "a.c")).toBe("a: {\n  b: 1, # one\n  d: 3 # three\n}\n");
    expect(remove(lines, "a.d")).toBe("a: {\n  b: 1, # one\n  c: 2, # two\n}\n");
  });

  it("refuses with a sentence", () => {
    expect(() => remove(text, "parameters.none")).toThrow("Cannot remove parameters.none: nothing stands there");
    expect(() => remove(text, "parameters")).toThrow("Cannot remove parameters: it is all that the text has");
  });
});

describe("renameEntry", () => {
  const rename = (path: string, name: string): string => renameEntry(sampleText, { file, path: path.split("."), name });
  it("changes the name alone", () => {
    expect(rename("parameters.leg width", "arm width")).toBe(sampleText.replace("leg width: 6 um  ", "arm width: 6 um  "));
    expect(rename("devices.blade", "a: b")).toBe(sampleText.replace("  blade:", '  "a: b":'));
  });
  it("refuses with a sentence", () => {
    expect(() => rename("parameters.leg width", "gap")).toThrow(
      'Cannot rename parameters.leg width to "gap": that name stands there already',
    );
    expect(() => rename("points.1", "x")).toThrow("nothing is called so there");
  });
});

/* ---- any text, any entry ---- */

const odd = `# top\r\nchip :   Leafgate\t# name\r\n"quoted name": 'it''s'\r\nflow: {a: 1 um,b:  [ 2 um , "3, um" ] , c: x}\r\nempty:\r\nnext: 1\r\nblock: |\r\n  first\r\n  second\r\n\r\nkept: |+\r\n  some\r\n\r\nfold: >-\r\n  some\r\n  words\r\nlist:\r\n-   one\r\n- two   # second\r\n-\r\n- - deep\r\n  - deeper # x\r\n- a: 1\r\n\r\n  # of b\r\n  b:\r\n    c: 2\r\n\r\n    # tail\r\nlong: a phrase\r\n  on two lines\r\nlines: {\r\n  a: 1, # one\r\n  # above\r\n  b: { },\r\n  c: 3 # three\r\n}\r\nlast: end`;
const samples = [
  sampleText,
  sampleText.replaceAll("\n", "\r\n"),
  odd,
  odd.replaceAll("\r\n", "\n"),
  `\ufeff${sampleText}`,
  newChipText("New"),
];
/** Comments, whatever their indent, in their order. */
const commentsOf = (text: string): readonly string[] =>
  text.split(/\r?\n/).flatMap((line) => /(?:^|\s)(#[^"']*)$/.exec(line)?.[1]?.trim() ?? []);

/** Paths of all blocks, and of all entries, of a text. */
function pathsOf(text: string): { blocks: { path: string[]; isList: boolean }[]; entries: string[][] } {
  const found: ReturnType<typeof pathsOf> = { blocks: [], entries: [] };
  const walk = (node: Node | null, path: string[]): void => {
    if (isMap(node) || isSeq(node)) {
      found.blocks.push({ path, isList: isSeq(node) });
      for (const [i, item] of (node.items as (Node | Pair<Node, Node | null>)[]).entries()) {
        const step = isMap(node) ? String((item as Pair<Node>).key.toJSON()) : String(i + 1);
        found.entries.push([...path, step]);
        walk(isMap(node) ? ((item as Pair<Node, Node | null>).value ?? null) : (item as Node), [...path, step]);
      }
    }
  };
  walk(parseText(text, file).root, []);
  return found;
}

const words = fc.oneof(
  fc.constantFrom(
    "7 um",
    "-5 um",
    "",
    " x ",
    "a: b",
    "x # y",
    "it's",
    "[",
    "null",
    "~",
    "*a",
    "two\nlines",
    "key:",
    "---",
    "± 5 %",
  ),
  fc.string({ unit: fc.constantFrom(..."ab 0:,#'\"[]{}-?!&*|>%@`\\\n"), maxLength: 8 }),
);
const { value: values } = fc.letrec<{ value: EntryValue }>((tie) => ({
  value: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    words,
    fc.array(tie("value"), { maxLength: 3 }),
    fc.dictionary(fc.stringMatching(/^[a-z][a-z ]{0,5}[a-z]$/), tie("value"), { maxKeys: 3, noNullPrototype: true }),
  ),
}));

describe("any entry of any text", { timeout: 120_000 }, () => {
  it("is added: the text says exactly that and no more, and every comment stays in its order", () => {
    let added = 0;
    fc.assert(
      fc.property(fc.constantFrom(...samples), fc.nat(), words, values, (text, pick, name, value) => {
        const { blocks } = pathsOf(text);
        const { path, isList } = blocks[pick % blocks.length]!;
        const key = `new ${name}`;
        let edited: string;
        try {
          edited = addEntry(text, { file, path, ...(!isList && { key }), value });
        } catch (error) {
          expect(error).toBeInstanceOf(RangeError);
          return;
        }
        added++;
        const wanted = changedAt(tree(text), path, (part) =>
          part.kind === "list"
            ? { kind: "list", items: [...part.items, treeOfValue(value)] }
            : part.kind === "named"
              ? { kind: "named", items: [...part.items, { name: key, tree: treeOfValue(value) }] }
              : part,
        );
        expect(tree(edited)).toEqual(wanted);
        const comments = commentsOf(edited);
        let from = 0;
        for (const comment of commentsOf(text)) {
          from = comments.indexOf(comment, from) + 1;
          expect(from, `${comment} in ${edited}`).toBeGreaterThan(0);
        }
        const alone = removeEntry(edited, { file, path: [...path, isList ? String(lengthAt(edited, path)) : key] });
        expect(tree(alone)).toEqual(tree(text));
      }),
      { seed, numRuns: 400 },
    );
    expect(added).toBeGreaterThan(380);
  });

  it("is removed: the rest says what it said, and of its lines none but the entry's own have changed", () => {
    for (const text of samples)
      for (const path of pathsOf(text).entries) {
        const edited = removeEntry(text, { file, path });
        const home = path.slice(0, -1);
        const block = findNode(parseText(text, file).root, home);
        const index = isMap(block)
          ? block.items.findIndex((pair) => String((pair.key as Node).toJSON()) === path.at(-1))
          : Number(path.at(-1)) - 1;
        const wanted = changedAt(tree(text), home, (part) =>
          part.kind === "list"
            ? { kind: "list", items: part.items.filter((_, i) => i !== index) }
            : part.kind === "named"
              ? { kind: "named", items: part.items.filter((_, i) => i !== index) }
              : part,
        );
        expect(tree(edited), path.join(".")).toEqual(wanted);
        expect(edited.length).toBeLessThan(text.length + 3);
        const kept = commentsOf(edited);
        expect(commentsOf(text).filter((comment) => kept.includes(comment))).toEqual(kept);
      }
  });
});

function lengthAt(text: string, path: readonly string[]): number {
  const block = findNode(parseText(text, file).root, path);
  return isSeq(block) ? block.items.length : 0;
}
