/**
 * Changing one value of a text. Only the characters of that value change: comments, order, spacing, quotes and line ends of
 * everything else stay byte for byte.
 */

import { isMap, isScalar, isSeq, type Node, type Scalar } from "yaml";
import { InputError } from "#base";
import { findNode } from "./find-node.ts";
import { type ParsedText, parseText } from "./parse.ts";
import { writtenText } from "./reading.ts";

function isInsideFlow(root: Node, path: readonly string[]): boolean {
  return path.some((_, depth) => {
    const parent = findNode(root, path.slice(0, depth));
    return (isMap(parent) || isSeq(parent)) && parent.flow === true;
  });
}

/** A value as it must stand at a place: plain where that reads back the same, in quotes otherwise. */
function written(value: string, place: { flow: boolean; like: Scalar }): string {
  if (place.like.type === "QUOTE_SINGLE") return `'${value.replaceAll("'", "''")}'`;
  const needsQuotes =
    place.like.type === "QUOTE_DOUBLE" ||
    value === "" ||
    value !== value.trim() ||
    /^(?:[-?:](?:\s|$)|[,[\]{}#&*!|>'"%@`])/.test(value) ||
    (place.flow && /^[-?:]/.test(value)) ||
    /: |:$| #|[\r\n\t]/.test(value) ||
    (place.flow && /[,[\]{}]/.test(value)) ||
    /^(?:true|false|null|~)$/i.test(value);
  if (!needsQuotes) return value;
  return `"${value.replaceAll("\\", "\\\\").replaceAll('"', '\\"').replaceAll("\n", "\\n").replaceAll("\r", "\\r").replaceAll("\t", "\\t")}"`;
}

/** The text with the value at `path` replaced. Throws RangeError when there is no single value at that path. */
export function replaceValue(
  text: string,
  edit: { readonly file: string; readonly path: readonly string[]; readonly value: string },
): string {
  const parsed: ParsedText = parseText(text, edit.file);
  const node = findNode(parsed.root, edit.path);
  const where = edit.path.join(".");
  if (node === undefined) throw new RangeError(`Cannot change ${where}: the text has no such value`);
  if (!isScalar(node) || node.range == null)
    throw new RangeError(`Cannot change ${where}: a block stands there, not a single value`);
  const [start, end] = node.range;
  // an empty place begins right behind its colon; a block text ends with its line end
  const before = /[:-]$/.test(text.slice(0, start)) ? " " : "";
  const behind = /(?:\r?\n)*$/.exec(text.slice(start, end))![0];
  const changed = `${text.slice(0, start)}${before}${written(edit.value, { flow: isInsideFlow(parsed.root, edit.path), like: node })}${behind}${text.slice(end)}`;
  if (!readsBack(changed, edit)) throw new RangeError(`Cannot change ${where}: the new value would not read back as written`);
  return changed;
}

function readsBack(
  changed: string,
  edit: { readonly file: string; readonly path: readonly string[]; readonly value: string },
): boolean {
  try {
    const after = findNode(parseText(changed, edit.file).root, edit.path);
    return isScalar(after) && writtenText(after) === edit.value;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}
