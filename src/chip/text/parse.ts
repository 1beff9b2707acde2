/**
 * From text to a tree of nodes with places. The YAML library does the parsing; its complaints are put into our own sentences.
 * Anchors, aliases, tags and merge keys are refused: a value has one home, under a name of its own.
 */

import { type Document, isAlias, isMap, isScalar, LineCounter, type Node, parseDocument, visit, type YAMLError } from "yaml";
import { InputError, type Place, type TextProblem } from "#base";
import { findUnreadable } from "./guard.ts";

export interface ParsedText {
  readonly text: string;
  readonly file: string;
  readonly root: Node;
  placeAt(offset: number): Place;
}

/** Place of a node in its file. */
export function placeOf(parsed: ParsedText, node: Node | null | undefined): Place {
  return parsed.placeAt(node?.range?.[0] ?? 0);
}

const sentences: ReadonlyMap<string, string> = new Map([
  [
    "DUPLICATE_KEY",
    "This name stands here a second time in the same block. Each name may stand once: rename or delete one of them.",
  ],
  ["TAB_AS_INDENT", "This line is indented with a tab. Indent with blanks, two for each step."],
  ["BAD_INDENT", "The indentation does not fit the lines above. Lines that belong together start in the same column."],
  [
    "BAD_ALIAS",
    "An alias (*) stands here. Aliases are not used in a chip text: give the value a name under parameters and write that name.",
  ],
  [
    "BLOCK_AS_IMPLICIT_KEY",
    "The line cannot be read: a name, a colon and a blank must come before a value, or the indentation is off.",
  ],
  ["BLOCK_IN_FLOW", "A block cannot begin inside { } or [ ]. Close the bracket or write the entries on lines of their own."],
  ["MISSING_CHAR", "A closing bracket, quote, colon or comma is missing here."],
  ["MULTILINE_IMPLICIT_KEY", "A name must stand on one line, followed by a colon. Perhaps the colon is missing."],
  ["MULTIPLE_DOCS", "A second document begins here (---). A chip text is a single document."],
  ["RESOURCE_EXHAUSTION", "This text refers to itself too often. Aliases are not used in a chip text."],
  ["UNEXPECTED_TOKEN", 'This cannot be read here. A text with a colon, a # or quotes inside must stand in "quotes".'],
  ["TAG_RESOLVE_FAILED", "A tag (!) stands here. Tags are not used in a chip text; write the value as it is."],
]);

function problemOf(error: YAMLError, parsed: { placeAt(offset: number): Place }): TextProblem {
  const place = parsed.placeAt(error.pos[0]);
  // a bracket that stays open swallows the lines below it, which the parser takes for a wrong indent
  const code = error.code === "BAD_INDENT" && error.message.startsWith("Flow ") ? "MISSING_CHAR" : error.code;
  const sentence =
    sentences.get(code) ?? 'This line does not fit the form "name: value". Look for a missing colon, blank or quote.';
  return { place, message: sentence };
}

/** The first anchor, alias, tag or merge key, which a chip text does not use. */
function findForeignSyntax(document: Document, placeAt: (offset: number) => Place): TextProblem | undefined {
  let found: TextProblem | undefined;
  const report = (node: Node | null | undefined, message: string): symbol => {
    found = { place: placeAt(node?.range?.[0] ?? 0), message };
    return visit.BREAK;
  };
  visit(document, {
    Node: (_key, node) => {
      if (isAlias(node)) return report(node, sentences.get("BAD_ALIAS")!);
      const anchored = node as { anchor?: string; tag?: string };
      if (anchored.anchor !== undefined)
        return report(
          node,
          `An anchor (&${anchored.anchor.slice(0, 30)}) stands here. Anchors are not used in a chip text: give the value a name under parameters.`,
        );
      // a tag that the parser infers is not set on the node; only a written one is
      if (anchored.tag !== undefined) return report(node, sentences.get("TAG_RESOLVE_FAILED")!);
      return undefined;
    },
    Pair: (_key, pair) => {
      if (isScalar(pair.key) && pair.key.value === "<<")
        return report(pair.key, "A merge key (<<) stands here. Merge keys are not used in a chip text: write the entries out.");
      if (pair.key !== null && !isScalar(pair.key))
        return report(pair.key as Node, "A name must be a single word or words, not a list or block.");
      return undefined;
    },
  });
  return found;
}

/** Parses a text. Throws InputError with every problem that the form of the text has. */
export function parseText(text: string, file: string): ParsedText {
  const unreadable = findUnreadable(text, file);
  if (unreadable !== undefined) throw new InputError([unreadable]);
  const counter = new LineCounter();
  const placeAt = (offset: number): Place => {
    const { line, col } = counter.linePos(offset);
    return { file, line: Math.max(1, line), column: Math.max(1, col) };
  };
  let document: Document;
  try {
    document = parseDocument(text, { lineCounter: counter, prettyErrors: false, strict: true, uniqueKeys: true, version: "1.2" });
  } catch {
    throw new InputError([{ place: placeAt(0), message: "This text nests too deeply to be read." }]);
  }
  if (document.errors.length > 0) {
    const seen = new Set<number>();
    const problems = document.errors
      .map((error) => problemOf(error, { placeAt }))
      .filter((p) => !seen.has(p.place.line) && seen.add(p.place.line));
    throw new InputError(problems.slice(0, 10));
  }
  const foreign = findForeignSyntax(document, placeAt);
  if (foreign !== undefined) throw new InputError([foreign]);
  const root = document.contents as Node | null;
  if (root === null || !isMap(root)) {
    throw new InputError([
      {
        place: placeAt(root?.range?.[0] ?? 0),
        message: 'A chip text is made of named sections. Begin with a line such as "chip: Leafgate".',
      },
    ]);
  }
  return { text, file, root, placeAt };
}
