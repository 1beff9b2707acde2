/** What a text says, as plain nested values: to check that an edit said what it was to say, and nothing else. */
import { isMap, isScalar, isSeq, type Node, type YAMLMap, type YAMLSeq } from "yaml";
import { writtenText } from "./reading.ts";
import { isAbsent } from "./sites.ts";
import type { EntryValue } from "./write-value.ts";

/** A single value, a list, or named values in their order. Nothing, an empty block and an empty text are three things. */
export type Tree =
  | { readonly kind: "nothing" }
  | { readonly kind: "value"; readonly text: string }
  | { readonly kind: "list"; readonly items: readonly Tree[] }
  | { readonly kind: "named"; readonly items: readonly { readonly name: string; readonly tree: Tree }[] };

export function treeOf(node: Node | null | undefined): Tree {
  if (isMap(node))
    return {
      kind: "named",
      items: (node as YAMLMap<Node, Node | null>).items.map(({ key, value }) => ({
        name: isScalar(key) ? writtenText(key) : "",
        tree: treeOf(value),
      })),
    };
  if (isSeq(node)) return { kind: "list", items: (node as YAMLSeq<Node | null>).items.map(treeOf) };
  if (!isScalar(node) || isAbsent(node)) return { kind: "nothing" };
  return { kind: "value", text: writtenText(node) };
}

export function treeOfValue(value: EntryValue): Tree {
  if (typeof value === "string") return { kind: "value", text: value };
  if (Array.isArray(value)) return { kind: "list", items: (value as readonly EntryValue[]).map(treeOfValue) };
  const pairs = Object.entries(value) as [string, EntryValue][];
  return { kind: "named", items: pairs.map(([name, inner]) => ({ name, tree: treeOfValue(inner) })) };
}

/** A tree with the part at a path replaced by what `change` makes of it. */
export function changedAt(tree: Tree, path: readonly string[], change: (part: Tree) => Tree): Tree {
  const [step, ...rest] = path;
  if (step === undefined) return change(tree);
  if (tree.kind === "list")
    return { kind: "list", items: tree.items.map((item, i) => (i === Number(step) - 1 ? changedAt(item, rest, change) : item)) };
  if (tree.kind !== "named") return tree;
  return {
    kind: "named",
    items: tree.items.map(({ name, tree: inner }) => ({
      name,
      tree: name === step ? changedAt(inner, rest, change) : inner,
    })),
  };
}
