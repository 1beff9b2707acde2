/**
 * From text to a tree of nodes with places. The YAML library does the parsing; its complaints are put into our own sentences.
 * Anchors, aliases, tags and merge keys are refused: a value has one home, under a name of its own.
 */

import {
  type Document,
  isAlias,
  isCollection,
  isMap,
  isScalar,
  LineCounter,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from "yaml";
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
  ["BLOCK_AS_IMPLICIT_KEY", 'A second colon stands in this value. A text with a colon inside must stand in "quotes".'],
  ["BLOCK_IN_FLOW", "A block cannot begin inside { } or [ ]. Close the bracket or write the entries on lines of their own."],
  ["MISSING_CHAR", "A closing bracket, quote, colon or comma is missing here."],
  ["MULTILINE_IMPLICIT_KEY", "A name must stand on one line, followed by a colon and a blank. Perhaps one of them is missing."],
  ["MULTIPLE_DOCS", "A second document begins here (---). A chip text is a single document."],
  ["RESOURCE_EXHAUSTION", "This text refers to itself too often. Aliases are not used in a chip text."],
  ["UNEXPECTED_TOKEN", 'This cannot be read here. A text with a colon, a # or quotes inside must stand in "quotes".'],
  ["TAG_RESOLVE_FAILED", "A tag (!) stands here. Tags are not used in a chip text; write the value as it is."],
]);

/** Where the innermost bracket or quote opens that is still open at `offset`, as far as the parser came. */
function findOpening(document: Document, text: string, offset: number): number | undefined {
  let opening: number | undefined;
  visit(document, {
    Node: (_key, node) => {
      const [start, end] = node.range ?? [Number.POSITIVE_INFINITY, 0];
      if (start > offset) return undefined;
      const quoted = isScalar(node) && (node.type === "QUOTE_DOUBLE" || node.type === "QUOTE_SINGLE");
      const isOpen = quoted
        ? end - start < 2 || text[end - 1] !== text[start]
        : isCollection(node) && node.flow === true && text[end - 1] !== (text[start] === "{" ? "}" : "]");
      if (isOpen) opening = start;
      return undefined;
    },
  });
  return opening;
}

/** The line below a value that is indented deeper, although the value is complete. */
function findDeeperLine(text: string, offset: number): number | undefined {
  const indentAt = (start: number): number => /^ */.exec(text.slice(start, start + 200))![0].length;
  const lineStart = text.lastIndexOf("\n", offset - 1) + 1;
  for (let next = text.indexOf("\n", offset) + 1; next > 0; next = text.indexOf("\n", next) + 1) {
    const indent = indentAt(next);
    const first = text[next + indent];
    if (first === undefined || "#\r\n".includes(first)) continue;
    return indent > indentAt(lineStart) ? next + indent : undefined;
  }
  return undefined;
}

function problemOf(error: YAMLError, parsed: { document: Document; text: string; placeAt(offset: number): Place }): TextProblem {
  const { document, text } = parsed;
  const place = parsed.placeAt(error.pos[0]);
  // what stays open swallows the lines below it, which the parser takes for a wrong indent
  const isCut = error.code === "MISSING_CHAR" || (error.code === "BAD_INDENT" && error.message.startsWith("Flow "));
  const opening = isCut ? findOpening(document, text, error.pos[0]) : undefined;
  if (opening !== undefined) {
    const sign = text[opening]!;
    const what = sign === "{" || sign === "[" ? "bracket" : "quote";
    return {
      place: parsed.placeAt(opening),
      message: `A closing ${what} is missing: the ${sign} that opens here is never closed.`,
    };
  }
  const deeper = error.code === "BLOCK_AS_IMPLICIT_KEY" ? findDeeperLine(text, error.pos[0]) : undefined;
  if (deeper !== undefined) return { place: parsed.placeAt(deeper), message: sentences.get("BAD_INDENT")! };
  const sentence =
    sentences.get(error.code) ?? 'This line does not fit the form "name: value". Look for a missing colon, blank or quote.';
  return { place, message: sentence };
}

/** The first anchor, alias, tag or merge key, which a chip text does not use. */
function findForeignSyntax(
  document: Document,
  parsed: { text: string; placeAt(offset: number): Place },
): TextProblem | undefined {
  let found: TextProblem | undefined;
  /** `sign` begins what is refused; it stands before the node that it belongs to. */
  const report = (node: Node | null | undefined, message: string, sign = ""): symbol => {
    const start = node?.range?.[0] ?? 0;
    let before = sign === "" ? start : parsed.text.lastIndexOf(sign, start);
    while (sign !== "" && parsed.text[before - 1] === sign) before--;
    found = { place: parsed.placeAt(before < 0 ? start : before), message };
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
          `&${anchored.anchor}`,
        );
      // a tag that the parser infers is not set on the node; only a written one is
      if (anchored.tag !== undefined) return report(node, sentences.get("TAG_RESOLVE_FAILED")!, "!");
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
    // what follows the first error of form is mostly its echo; a name that stands twice is found for itself
    const first = document.errors.find((error) => error.code !== "DUPLICATE_KEY");
    const problems = document.errors
      .filter((error) => error === first || error.code === "DUPLICATE_KEY")
      .map((error) => problemOf(error, { document, text, placeAt }));
    throw new InputError(problems.slice(0, 10));
  }
  const foreign = findForeignSyntax(document, { text, placeAt });
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
