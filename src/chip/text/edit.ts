/**
 * Changing one value of a text. Only the characters of that value change: comments, order, spacing, quotes and line ends of
 * everything else stay byte for byte.
 */

import { isScalar, type Scalar } from "yaml";
import { InputError } from "#base";
import { findNode } from "./find-node.ts";
import { type ParsedText, parseText } from "./parse.ts";
import { writtenText } from "./reading.ts";
import { isInsideBrackets } from "./sites.ts";
import { writtenScalar } from "./write-value.ts";

/** Quotes stay as they are. */
const quotesOf = ({ type }: Scalar): { quotes?: "single" | "double" } =>
  type === "QUOTE_SINGLE" ? { quotes: "single" } : type === "QUOTE_DOUBLE" ? { quotes: "double" } : {};

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
  const changed = `${text.slice(0, start)}${before}${writtenScalar(edit.value, { flow: isInsideBrackets(parsed.root, edit.path), ...quotesOf(node) })}${behind}${text.slice(end)}`;
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
