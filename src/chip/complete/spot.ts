/** The place of a caret in the tree of a text: the way down to it, its shape, and what stands beside it. */
import { type Document, isMap, isPair, isScalar, isSeq, type Node, type Pair, parseDocument, visit } from "yaml";
import type { Fields, Shape } from "#base";
import { findNode } from "../text/find-node.ts";
import { longestText } from "../text/guard.ts";
import { formulaFields, tableFields } from "../text/law-text.ts";
import { writtenText } from "../text/reading.ts";
import type { Caret } from "./caret.ts";

/** Stands in the text for what is being written, so that the rest parses; no text holds it by itself. */
const mark = "what is being written here 7319";

export interface Spot {
  /** Names from the top down to the block or value, with "*" for an entry of a list. */
  readonly path: readonly string[];
  /** Shape of the block around a name, or of the value. */
  readonly shape: Shape;
  readonly stands: Caret["stands"];
  /** Names that stand in the block already. */
  readonly beside: readonly string[];
  /** The word that says of which kind a block is, where its shape asks for one. */
  readonly tag: string | undefined;
  readonly root: Node | undefined;
}

function parse(source: string): Document | undefined {
  try {
    return parseDocument(source, { prettyErrors: false, strict: false, uniqueKeys: false, version: "1.2" });
  } catch {
    // nests too deeply to be read: nothing can be said about it
    return undefined;
  }
}

interface Found {
  /** As `findNode` takes it: entries of a list by their number. */
  readonly path: readonly string[];
  readonly stands: Caret["stands"];
}

function pathOf(ancestors: readonly unknown[]): string[] {
  return ancestors.flatMap((node, i) => {
    if (isPair(node)) return isScalar(node.key) && writtenText(node.key) !== mark ? [writtenText(node.key)] : [];
    const child = ancestors[i + 1];
    return isSeq(node) && child !== undefined ? [String(node.items.indexOf(child) + 1)] : [];
  });
}

function findMark(document: Document): Found | undefined {
  let found: Found | undefined;
  visit(document, {
    Scalar: (key, node, ancestors) => {
      if (!writtenText(node).includes(mark)) return undefined;
      found = { path: pathOf([...ancestors, node]), stands: key === "key" ? "name" : "value" };
      return visit.BREAK;
    },
  });
  return found;
}

const tagOf = (node: Node | undefined, tag: string): string | undefined => {
  const value = isMap(node) ? findNode(node, [tag]) : undefined;
  return isScalar(value) ? writtenText(value) : undefined;
};

/** Fields that may stand in a block of a shape; undefined where its names are chosen, or where it is no block. */
export function fieldsWithin(shape: Shape, tag: string | undefined): Fields | undefined {
  switch (shape.kind) {
    case "record":
    case "either":
      return shape.fields;
    case "law":
      return { ...tableFields(shape), ...formulaFields };
    case "tagged": {
      const words = [...shape.variants.keys()];
      const kind = { shape: { kind: "choice", words }, about: `Of which kind it is: ${words.join(", ")}.` } as const;
      return { [shape.tag]: kind, ...(tag === undefined ? {} : shape.variants.get(tag)?.fields) };
    }
    default:
      return undefined;
  }
}

function shapeAt(top: Fields, root: Node | undefined, path: readonly string[]): Shape | undefined {
  let shape: Shape | undefined = { kind: "record", fields: top };
  for (const [i, step] of path.entries()) {
    if (shape === undefined) return undefined;
    if (shape.kind === "list" || shape.kind === "map") shape = shape.each;
    else {
      const node = root === undefined ? undefined : findNode(root, path.slice(0, i));
      const fields = fieldsWithin(shape, shape.kind === "tagged" ? tagOf(node, shape.tag) : undefined);
      shape = fields !== undefined && Object.hasOwn(fields, step) ? fields[step]?.shape : undefined;
    }
  }
  return shape;
}

/** Where a text's caret stands in the shapes of a chip text, or undefined where nothing is known there. */
export function findSpot(text: string, caret: Caret, top: Fields): Spot | undefined {
  if (text.length > longestText) return undefined;
  const colon = caret.stands === "name" && !caret.hasColon ? ": " : "";
  const document = parse(`${text.slice(0, caret.from)}${mark}${colon}${text.slice(caret.to)}`);
  if (document === undefined) return undefined;
  const found = findMark(document);
  if (found === undefined) return undefined;
  const root = (document.contents ?? undefined) as Node | undefined;
  const shape = shapeAt(top, root, found.path);
  if (shape === undefined) return undefined;
  const node = root === undefined ? undefined : findNode(root, found.path);
  const names = isMap(node) ? (node.items as Pair[]).flatMap(({ key }) => (isScalar(key) ? [writtenText(key)] : [])) : [];
  const isBlock = fieldsWithin(shape, undefined) !== undefined || shape.kind === "map";
  return {
    path: found.path.map((step, i) => (shapeAt(top, root, found.path.slice(0, i))?.kind === "list" ? "*" : step)),
    shape,
    // a word alone on a line is a value where no block may stand
    stands: found.stands === "name" && isBlock ? "name" : "value",
    beside: names.filter((name) => name !== mark),
    tag: shape.kind === "tagged" ? tagOf(node, shape.tag) : undefined,
    root,
  };
}
