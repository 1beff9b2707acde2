/**
 * Adding, removing and renaming entries of a text. Comments, order and spacing of everything else stay. Every result is read again
 * and must say exactly what was asked; otherwise the edit is refused.
 */
import { isMap, type Node, type YAMLMap } from "yaml";
import { InputError } from "#base";
import { chipFields } from "../description.ts";
import { findNode } from "./find-node.ts";
import { filled, inserted } from "./insertion.ts";
import { parseText } from "./parse.ts";
import { removals } from "./removal.ts";
import { type Block, indexOf, isAbsent, isBlock, isInsideBrackets } from "./sites.ts";
import { spliced } from "./splice.ts";
import { changedAt, type Tree, treeOf, treeOfValue } from "./tree.ts";
import { type EntryValue, writtenName } from "./write-value.ts";

/** A place in a text: names, or numbers from 1 in lists. The empty path is the text as a whole. */
type Path = readonly string[];

const said = (path: Path): string => (path.length === 0 ? "the text" : path.join("."));
const sections = Object.keys(chipFields);

/** Sections stand in their usual order; all else comes last. Answers how many entries stay in front. */
function rankOf(block: Block, name: string | undefined, isRoot: boolean): number {
  const rank = isRoot && name !== undefined ? sections.indexOf(name) : -1;
  if (rank < 0 || !isMap(block)) return block.items.length;
  for (let i = block.items.length; i > 0; i--) {
    const other = sections.indexOf(String((block.items[i - 1]!.key as Node).toJSON()));
    if (other >= 0 && other < rank) return i;
  }
  return block.items.length;
}

/** The text with an entry more. `key` names it; without one, `value` goes to the end of a list. What is missing on the way is made. */
export interface Addition {
  readonly file: string;
  readonly path: Path;
  readonly key?: string;
  readonly value: EntryValue;
}

/**
 * Adds an entry to the block at `path`: behind its last entry, in the layout of its neighbours, on lines or in brackets; a section
 * goes to its usual place. A block that is missing or empty is made. Comments below the last entry that belong to it stay with it.
 * Throws InputError when the text does not read, RangeError with a sentence when a value stands at the path, when the name is taken
 * already, or when the result would not read back.
 */
export function addEntry(text: string, { file, path, key, value }: Addition): string {
  const { root } = parseText(text, file);
  const where = said(path);
  const refuse = (why: string): never => {
    throw new RangeError(`Cannot add ${key === undefined ? "an entry" : `"${key}"`} to ${where}: ${why}`);
  };
  // what is missing of the way is made from inside out
  let depth = path.length;
  while (depth > 0 && isAbsent(findNode(root, path.slice(0, depth)))) depth--;
  const home = path.slice(0, depth);
  const missing = [...path.slice(depth), ...(key === undefined ? [] : [key])];
  const block = findNode(root, home);
  if (!isBlock(block)) return refuse(`${said(home)} is a single value, not a block`);
  const name = missing[0];
  if (isMap(block) ? name === undefined : missing.length > 0)
    return refuse(isMap(block) ? "its entries have names; say one" : "it is a list, whose entries have no names");
  if (key !== undefined && missing.length === 1 && indexOf(block, key) >= 0)
    return refuse("it stands there already; change it, or take another name");
  let whole: EntryValue = key === undefined && missing.length > 0 ? [value] : value;
  for (const step of missing.slice(1).reverse()) whole = { [step]: whole };

  const empty = name !== undefined && indexOf(block, name) >= 0 ? indexOf(block, name) : undefined;
  const at = rankOf(block, name, home.length === 0);
  const changed =
    empty === undefined
      ? inserted(text, { root, home, block, name, value: whole, at })
      : filled(text, { root, path: [...home, name!], value: whole });
  const added = (part: Tree): Tree => {
    const tree = treeOfValue(whole);
    if (part.kind === "list") return { kind: "list", items: [...part.items, tree] };
    if (part.kind !== "named") return part;
    if (empty !== undefined)
      return { kind: "named", items: part.items.map((item, i) => (i === empty ? { name: item.name, tree } : item)) };
    return { kind: "named", items: [...part.items.slice(0, at), { name: name!, tree }, ...part.items.slice(at)] };
  };
  return checked(changed, { file, wanted: changedAt(treeOf(root), home, added) }) ?? refuse("it would not read back as written");
}

/**
 * Removes the entry at `path`. With it go the comment on its last line, comment lines below that are indented deeper, and comment
 * lines right above it in its column; inside brackets only the comment on its line. Comments that an empty line parts from it stay.
 * A block that is left empty stays as {} or []. Throws InputError when the text does not read, RangeError with a sentence when
 * nothing stands there or the rest would not read back.
 */
export function removeEntry(text: string, { file, path }: { readonly file: string; readonly path: Path }): string {
  const { root } = parseText(text, file);
  const refuse = (why: string): never => {
    throw new RangeError(`Cannot remove ${said(path)}: ${why}`);
  };
  const home = path.slice(0, -1);
  const block = path.length === 0 ? undefined : findNode(root, home);
  const index = isBlock(block) ? indexOf(block, path.at(-1)!) : -1;
  if (!isBlock(block) || index < 0) return refuse("nothing stands there");
  if (home.length === 0 && block.items.length === 1) return refuse("it is all that the text has");
  const without = (part: Tree): Tree =>
    part.kind === "list"
      ? { kind: "list", items: part.items.filter((_, i) => i !== index) }
      : part.kind === "named"
        ? { kind: "named", items: part.items.filter((_, i) => i !== index) }
        : part;
  const wanted = changedAt(treeOf(root), home, without);
  for (const changed of removals(text, { root, home, block, index })) {
    const good = checked(changed, { file, wanted });
    if (good !== undefined) return good;
  }
  return refuse("the rest would not read back as it stands");
}

/**
 * Gives the entry at `path` another name, in its place. Nothing that refers to the old name is changed. Throws InputError when the
 * text does not read, RangeError with a sentence when nothing is called so, the new name is taken, or it would not read back.
 */
export function renameEntry(
  text: string,
  { file, path, name }: { readonly file: string; readonly path: Path; readonly name: string },
): string {
  const { root } = parseText(text, file);
  const refuse = (why: string): never => {
    throw new RangeError(`Cannot rename ${said(path)} to "${name}": ${why}`);
  };
  const home = path.slice(0, -1);
  const block = path.length === 0 ? undefined : findNode(root, home);
  const index = isMap(block) ? indexOf(block, path.at(-1)!) : -1;
  if (!isMap(block) || index < 0) return refuse("nothing is called so there");
  if (path.at(-1) === name) return text;
  if (indexOf(block, name) >= 0) return refuse("that name stands there already");
  const [start, end] = (block as YAMLMap<Node, Node | null>).items[index]!.key.range!;
  const changed = spliced(text, { start, end }, writtenName(name, isInsideBrackets(root, path)));
  const renamed = (part: Tree): Tree =>
    part.kind === "named"
      ? { kind: "named", items: part.items.map((item, i) => (i === index ? { ...item, name } : item)) }
      : part;
  return (
    checked(changed, { file, wanted: changedAt(treeOf(root), home, renamed) }) ?? refuse("it would not read back as written")
  );
}

/** The changed text, if it says what it was to say. */
function checked(changed: string, { file, wanted }: { file: string; wanted: Tree }): string | undefined {
  try {
    return JSON.stringify(treeOf(parseText(changed, file).root)) === JSON.stringify(wanted) ? changed : undefined;
  } catch (error) {
    if (error instanceof InputError) return undefined;
    throw error;
  }
}
