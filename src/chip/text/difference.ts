/** What changed between two texts, in words: each value by its shortest path, so that an undo chain can be read back. Main test: difference.test.ts. */
import { isMap, isScalar, isSeq, type Node } from "yaml";
import { InputError } from "#base";
import { parseText } from "./parse.ts";
import { writtenText } from "./reading.ts";

function collect(node: Node | null, path: string, into: Map<string, string>): void {
  if (isMap(node))
    for (const pair of node.items)
      collect(pair.value as Node | null, `${path} ${isScalar(pair.key) ? writtenText(pair.key) : ""}`.trim(), into);
  else if (isSeq(node))
    for (const [i, item] of node.items.entries())
      collect(item as Node | null, `${path} ${nameOf(item as Node | null) ?? i + 1}`, into);
  else into.set(path, isScalar(node) ? writtenText(node) : "");
}

/** Entries of a list that have a name go by it. */
function nameOf(item: Node | null): string | undefined {
  if (!isMap(item)) return undefined;
  const name = item.get("name");
  return typeof name === "string" ? name : undefined;
}

function valuesOf(text: string): Map<string, string> | undefined {
  try {
    const values = new Map<string, string>();
    collect(parseText(text, "chip.yaml").root, "", values);
    return values;
  } catch (error) {
    if (error instanceof InputError) return undefined;
    throw error;
  }
}

/** The last words of a path: enough to know it by. */
const short = (path: string): string => path.replace(/^(?:parameters|process|drive cases|drive|devices|brief) /, "");

/** "leg width 6 um → 6.8 um", two such, "3 values changed, leg width 6 um → 6.8 um first", or "comments and layout". */
export function describeDifference(before: string, after: string): string {
  const [old, now] = [valuesOf(before), valuesOf(after)];
  if (old === undefined || now === undefined) return "the text as a whole";
  const changed = [...now].filter(([path, value]) => old.has(path) && old.get(path) !== value);
  const added = [...now.keys()].filter((path) => !old.has(path));
  const removed = [...old.keys()].filter((path) => !now.has(path));
  const phrases = [
    ...changed.map(([path, value]) => `${short(path)} ${old.get(path)} → ${value}`),
    ...added.map((path) => `${short(path)} added`),
    ...removed.map((path) => `${short(path)} removed`),
  ];
  if (phrases.length === 0) return "comments and layout";
  if (phrases.length === 2 && changed.length === 2) return phrases.join(", ");
  return phrases.length === 1 ? phrases[0]! : `${phrases.length} values, first ${phrases[0]}`;
}
