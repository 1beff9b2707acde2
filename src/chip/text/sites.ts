/** Where the entries of a block stand among the lines and brackets of a text. Used to add and remove entries. */
import { isCollection, isMap, isScalar, isSeq, type Node, type Pair, type YAMLMap, type YAMLSeq } from "yaml";
import { findNode } from "./find-node.ts";
import { writtenText } from "./reading.ts";

export type Block = YAMLMap | YAMLSeq;

/** Characters [start, end) of an entry: from its name or dash to the end of its value, without comments around it. */
export interface Site {
  readonly start: number;
  readonly end: number;
}

export const isBlock = (node: unknown): node is Block => isMap(node) || isSeq(node);

/** A value that is not there: nothing stands behind its colon or dash. */
export const isAbsent = (node: Node | null | undefined): boolean =>
  node == null || (isScalar(node) && node.source === "" && node.type === "PLAIN");

/** Start of the line of an offset; the mark at the start of a file is no part of its first line. */
export function lineStart(text: string, offset: number): number {
  const start = text.lastIndexOf("\n", offset - 1) + 1;
  return start === 0 && text.startsWith("\ufeff") ? 1 : start;
}

/** End of the line of an offset, before its line end. */
export function lineEnd(text: string, offset: number): number {
  const end = text.indexOf("\n", offset);
  if (end < 0) return text.length;
  return end > offset && text[end - 1] === "\r" ? end - 1 : end;
}

/** Start of the next line, or the end of the text. */
export function nextLine(text: string, offset: number): number {
  const end = text.indexOf("\n", offset);
  return end < 0 ? text.length : end + 1;
}

export const columnOf = (text: string, offset: number): number => offset - lineStart(text, offset);

/** End of what a value says; undefined where nothing stands there. */
function endOfValue(text: string, node: Node | null | undefined): number | undefined {
  if (node == null || isAbsent(node)) return undefined;
  if (isCollection(node) && node.flow !== true) {
    const last = node.items.at(-1) as Pair<Node, Node | null> | Node;
    return isSeq(node)
      ? (endOfValue(text, last as Node) ?? (last as Node).range![1])
      : endOfPair(text, last as Pair<Node, Node | null>);
  }
  const [start, end] = node.range!;
  if (!isScalar(node) || (node.type !== "BLOCK_LITERAL" && node.type !== "BLOCK_FOLDED")) return end;
  // the empty lines below a block text are its own only where its head has a plus
  const kept = /^[|>]\d?\+/.test(text.slice(start, start + 3)) ? /\r?\n$/ : /(?:[ \t]*\r?\n)+$/;
  return end - (kept.exec(text.slice(start, end))?.[0].length ?? 0);
}

function endOfPair(text: string, { key, value }: Pair<Node, Node | null>): number {
  return endOfValue(text, value) ?? colonOf(text, key);
}

/** Behind the colon of a name; behind the name where it stands alone in brackets. */
export function colonOf(text: string, key: Node): number {
  const end = key.range![1];
  const colon = /^\s*:/.exec(text.slice(end, end + 200));
  return colon === null ? end : end + colon[0].length;
}

/** Where every entry of a block stands. */
export function sitesOf(text: string, block: Block): readonly Site[] {
  if (isMap(block))
    return block.items.map((item) => {
      const pair = item as Pair<Node, Node | null>;
      return { start: pair.key.range![0], end: endOfPair(text, pair) };
    });
  const column = columnOf(text, block.range![0]);
  return block.items.map((item) => {
    const node = item as Node;
    const end = endOfValue(text, node) ?? node.range![1];
    return { start: block.flow === true ? node.range![0] : dashOf(text, node.range![0], column), end };
  });
}

/** The dash of an entry, on its line or on one above it. */
function dashOf(text: string, offset: number, column: number): number {
  let start = lineStart(text, offset);
  while (text[start + column] !== "-" && start > 0) start = lineStart(text, start - 1);
  return start + column;
}

/**
 * End of an entry with the comments that belong to it: the one on its last line, and lines below that are comments indented deeper
 * than the entry; for the last entry of a block also those right below it in its own column.
 */
export function endWithComments(text: string, site: Site, isLast: boolean): number {
  const column = columnOf(text, site.start);
  let end = lineEnd(text, site.end);
  let isRightBelow = true;
  for (let start = nextLine(text, end); start < text.length; start = nextLine(text, start)) {
    const indent = /^[ \t]*/.exec(text.slice(start, lineEnd(text, start)))![0].length;
    const first = text[start + indent];
    if (first === "#" && (indent > column || (isLast && isRightBelow && indent === column))) end = lineEnd(text, start);
    else if (first === undefined || first === "\n" || first === "\r") isRightBelow = false;
    else break;
  }
  return end;
}

/** Start of the first of the comment lines right above an entry, in its column; the start of its own line where there is none. */
export function startWithComments(text: string, site: Site): number {
  const column = columnOf(text, site.start);
  let start = lineStart(text, site.start);
  while (start > 1) {
    const above = lineStart(text, start - 1);
    if (text.slice(above, above + column + 1) !== `${" ".repeat(column)}#`) break;
    start = above;
  }
  return start;
}

/** True where an empty line stands between two entries. */
export const isSpaced = (text: string, before: Site | undefined, after: Site | undefined): boolean =>
  before !== undefined && after !== undefined && /\n[ \t]*\r?\n/.test(text.slice(before.end, after.start));

/** True where a place lies inside brackets. */
export function isInsideBrackets(root: Node, path: readonly string[]): boolean {
  return path.some((_, depth) => {
    const parent = findNode(root, path.slice(0, depth));
    return isBlock(parent) && parent.flow === true;
  });
}

/** Index of an entry by its name, or by its number from 1 in a list; -1 where there is none. */
export function indexOf(block: Block, name: string): number {
  if (isMap(block)) return block.items.findIndex((pair) => isScalar(pair.key) && writtenText(pair.key) === name);
  const number = Number(name);
  return Number.isInteger(number) && number >= 1 && number <= block.items.length ? number - 1 : -1;
}
