/** Finding the node, and so the place, of a path of names in a text. */

import { isMap, isScalar, isSeq, type Node } from "yaml";
import type { Place } from "#base";
import { type ParsedText, placeOf } from "./parse.ts";
import { writtenText } from "./reading.ts";

/** The node at the end of a path of names (or numbers from 1, in lists). */
export function findNode(root: Node, path: readonly string[]): Node | undefined {
  let node: Node | null | undefined = root;
  for (const step of path) {
    if (isMap(node))
      node = node.items.find((pair) => isScalar(pair.key) && writtenText(pair.key) === step)?.value as Node | null | undefined;
    else if (isSeq(node)) node = node.items[Number(step) - 1] as Node | null | undefined;
    else return undefined;
  }
  return node ?? undefined;
}

/** Place of the value at a path; of the nearest block above it where there is none. */
export function placeOfPath(parsed: ParsedText, path: readonly string[]): Place {
  for (let length = path.length; length > 0; length--) {
    const node = findNode(parsed.root, path.slice(0, length));
    if (node !== undefined) return placeOf(parsed, node);
  }
  return placeOf(parsed, parsed.root);
}
