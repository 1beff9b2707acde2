/** How a value is written into a text so that it reads back the same: a single value, or a block of values on lines or in brackets. */

import { indented } from "./splice.ts";

/** What can be written: a single value as text, a list, or named values in their order. */
export type EntryValue = string | readonly EntryValue[] | { readonly [name: string]: EntryValue };

const isList = (value: EntryValue): value is readonly EntryValue[] => Array.isArray(value);
const named = (value: EntryValue): readonly (readonly [string, EntryValue])[] =>
  typeof value === "string" ? [] : (Object.entries(value) as [string, EntryValue][]);

/** A single value: plain where that reads back the same, in quotes otherwise or where `quotes` asks for them. */
export function writtenScalar(value: string, place: { readonly flow: boolean; readonly quotes?: "single" | "double" }): string {
  if (place.quotes === "single") return `'${value.replaceAll("'", "''")}'`;
  const needsQuotes =
    place.quotes === "double" ||
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

/** A name in front of its colon. Three hyphens or dots at the start of a line would end the text. */
export function writtenName(name: string, flow: boolean): string {
  return writtenScalar(name, { flow, ...(/^(?:---|\.\.\.)/.test(name) && { quotes: "double" }) });
}

/** A value on one line, in brackets where it is a list or a block. */
export function inBrackets(value: EntryValue): string {
  if (typeof value === "string") return writtenScalar(value, { flow: true });
  if (isList(value)) return value.length === 0 ? "[]" : `[${value.map(inBrackets).join(", ")}]`;
  const pairs = named(value).map(([name, inner]) => `${writtenName(name, true)}: ${inBrackets(inner)}`);
  return pairs.length === 0 ? "{}" : `{ ${pairs.join(", ")} }`;
}

/** How blocks are laid out in a text: blanks of one step, and whether a block stands in brackets. */
export interface Layout {
  readonly step: number;
  readonly brackets: boolean;
}

/** True where a value is written on the line of its name: single values, empty blocks and lists of single values. */
const isShort = (value: EntryValue): boolean =>
  typeof value === "string" || named(value).length === 0 || (isList(value) && value.every((inner) => typeof inner === "string"));

const shortText = (value: EntryValue): string =>
  typeof value === "string" ? writtenScalar(value, { flow: false }) : inBrackets(value);

/** The lines of a named value whose name begins at `column`; the first line comes without its indent. */
export function namedLines(name: string, value: EntryValue, at: Layout & { readonly column: number }): readonly string[] {
  const head = `${writtenName(name, false)}:`;
  if (at.brackets || isShort(value)) return [`${head} ${shortText(value)}`];
  const column = at.column + at.step;
  const layout = { ...at, column };
  const inner = isList(value)
    ? value.flatMap((item) => indented(itemLines(item, { ...layout, afterDash: " " }), column))
    : named(value).flatMap(([key, item]) => indented(namedLines(key, item, layout), column));
  return [head, ...inner];
}

/** The lines of an entry of a list whose dash stands at `column`, with `afterDash` between the dash and its value. */
export function itemLines(
  value: EntryValue,
  at: Layout & { readonly column: number; readonly afterDash: string },
): readonly string[] {
  if (at.brackets || isShort(value)) return [`-${at.afterDash}${shortText(value)}`];
  const column = at.column + 1 + at.afterDash.length;
  const layout = { ...at, column };
  const [first, ...rest] = isList(value)
    ? value.flatMap((item) => indented(itemLines(item, { ...layout, afterDash: " " }), column))
    : named(value).flatMap(([key, item]) => indented(namedLines(key, item, layout), column));
  return [`-${at.afterDash}${first!.trimStart()}`, ...rest];
}
