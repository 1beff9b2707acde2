/** Where and how a further entry is written: behind its neighbours, on lines or in brackets, as they are. Main test: entries.test.ts. */
import { isMap, type Node } from "yaml";
import { findNode } from "./find-node.ts";
import {
  type Block,
  colonOf,
  columnOf,
  endWithComments,
  indexOf,
  isAbsent,
  isBlock,
  isInsideBrackets,
  isSpaced,
  lineEnd,
  lineStart,
  sitesOf,
} from "./sites.ts";
import { indented, spliced } from "./splice.ts";
import { type EntryValue, inBrackets, itemLines, namedLines, writtenName } from "./write-value.ts";

type Path = readonly string[];

export interface Insertion {
  readonly root: Node;
  readonly home: Path;
  readonly block: Block;
  readonly name: string | undefined;
  readonly value: EntryValue;
  /** How many entries stay in front. */
  readonly at: number;
}

/** The text with the entry behind its neighbours, in their layout. */
export function inserted(text: string, insertion: Insertion): string {
  const { root, home, block, name, value, at } = insertion;
  if (block.items.length === 0) {
    const whole = name === undefined ? [value] : { [name]: value };
    return home.length === 0 ? inBracketsOf(text, insertion) : filled(text, { root, path: home, value: whole });
  }
  if (block.flow === true) return inBracketsOf(text, insertion);
  const sites = sitesOf(text, block);
  const before = sites[at - 1]!;
  const column = columnOf(text, before.start);
  const layout = { column, step: stepOf(text, root, home), brackets: isLaidOutInBrackets(block) };
  const afterDash = /^-( +)\S/.exec(text.slice(before.start, lineEnd(text, before.start)))?.[1] ?? " ";
  const lines = name === undefined ? itemLines(value, { ...layout, afterDash }) : namedLines(name, value, layout);
  const end = endWithComments(text, before, at === sites.length);
  const spaced = isSpaced(text, sites[at - 2], before) || isSpaced(text, before, sites[at]);
  return spliced(text, { start: end, end }, `\n${spaced ? "\n" : ""}${indented(lines, column).join("\n")}`);
}

/** Blanks from one step to the next round a block, as the text has them. */
function stepOf(text: string, root: Node, home: Path): number {
  for (let depth = home.length; depth > 0; depth--) {
    const [inner, outer] = [findNode(root, home.slice(0, depth)), findNode(root, home.slice(0, depth - 1))];
    if (!isMap(inner) || !isMap(outer) || inner.flow === true || inner.items.length === 0) continue;
    const step = columnOf(text, inner.range![0]) - columnOf(text, sitesOf(text, outer)[0]!.start);
    if (step > 0) return step;
  }
  return 2;
}

/** Whether the last neighbour that is a block itself stands in brackets. */
function isLaidOutInBrackets(block: Block): boolean {
  const values = isMap(block) ? block.items.map(({ value }) => value) : block.items;
  return (
    (values as readonly unknown[])
      .filter(isBlock)
      .filter(({ items }) => items.length > 0)
      .at(-1)?.flow === true
  );
}

/** A further entry between the brackets of a block. */
function inBracketsOf(text: string, { block, name, value, at }: Insertion): string {
  const entry = name === undefined ? inBrackets(value) : `${writtenName(name, true)}: ${inBrackets(value)}`;
  const [start, end] = block.range!;
  if (block.items.length === 0) return spliced(text, { start: start + 1, end: end - 1 }, isMap(block) ? ` ${entry} ` : entry);
  const sites = sitesOf(text, block);
  const last = sites[at - 1]!;
  // entries on lines of their own stay so
  const isAlone = text.slice(lineStart(text, last.start), last.start).trim() === "";
  const gap = isAlone ? `\n${" ".repeat(columnOf(text, last.start))}` : " ";
  return spliced(text, { start: last.end, end: last.end }, `,${gap}${entry}`);
}

/** A value put where nothing stands, or only empty brackets. */
export function filled(text: string, { root, path, value }: { root: Node; path: Path; value: EntryValue }): string {
  const parent = findNode(root, path.slice(0, -1)) as Block;
  const index = indexOf(parent, path.at(-1)!);
  const node = findNode(root, path);
  const isBare = isAbsent(node);
  const site = sitesOf(text, parent)[index]!;
  const from = isMap(parent) ? colonOf(text, parent.items[index]!.key as Node) : site.start + 1;
  const brackets = isBare ? { start: from, end: from } : { start: from, end: node!.range![1] };
  if (!isMap(parent) || isInsideBrackets(root, path) || /[\n#]/.test(text.slice(brackets.start, brackets.end)))
    return spliced(
      text,
      isBare ? brackets : { start: node!.range![0], end: brackets.end },
      `${isBare ? " " : ""}${inBrackets(value)}`,
    );
  const column = columnOf(text, site.start);
  const [head, ...lines] = namedLines("x", value, { column, step: stepOf(text, root, path.slice(0, -1)), brackets: false });
  if (lines.length === 0) return spliced(text, brackets, head!.slice(2));
  const end = lineEnd(text, brackets.end);
  return spliced(text, { start: brackets.start, end }, `${text.slice(brackets.end, end)}\n${lines.join("\n")}`);
}
