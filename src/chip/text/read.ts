/**
 * Reading a tree of nodes by a shape: quantities become phrases, records become objects, and everything that does not fit becomes a
 * sentence with its place. Reading goes on after a problem, so that one run tells all of them.
 */

import { isMap, isScalar, isSeq, type Node, type Scalar, type YAMLMap } from "yaml";
import {
  describeDimension,
  dimensionNamed,
  type EitherShape,
  ExpressionError,
  type Field,
  type Fields,
  type LawShape,
  type LawText,
  nearestName,
  parsePhrase,
  type QuantityShape,
  type QuantityText,
  quantity,
  type ReadRecord,
  type RecordShape,
  readsAsName,
  type Shape,
  type TaggedShape,
  type TaggedText,
} from "#base";
import { checkFormula, checkTable, formulaFields, tableFields } from "./law-text.ts";
import { placeOf } from "./parse.ts";
import { complain, pathText, type Reading, writtenText } from "./reading.ts";

function describeNode(node: Node | null): string {
  if (node === null || (isScalar(node) && node.value === null)) return "nothing";
  if (isMap(node)) return "a block of names";
  if (isSeq(node)) return "a list";
  if (isScalar(node)) {
    const shown = writtenText(node);
    const short = shown.length > 40 ? `${shown.slice(0, 40)}…` : shown;
    return typeof node.value === "number" ? `the number ${short}` : `"${short}"`;
  }
  return "something else";
}

/** What a shape wants, as a phrase with an example. */
export function describeShape(shape: Shape): string {
  switch (shape.kind) {
    case "quantity":
      return `${describeQuantityShape(shape)}, for example ${shape.example}`;
    case "text":
      return `a text, for example ${shape.example}`;
    case "whole":
      return `a whole number from ${shape.least} to ${shape.most}, for example ${shape.example}`;
    case "choice":
      return `one of ${shape.words.join(", ")}`;
    case "law":
      return `${describeDimension(dimensionNamed(shape.dimension))} or a law, for example ${shape.example}`;
    case "list":
      return 'a list, each entry on a line of its own that begins with "- "';
    case "map":
      return `${shape.names} with a name and a colon, for example ${shape.example}`;
    case "either":
      return `${shape.words.length === 1 ? `the word ${shape.words[0]}` : `one of the words ${shape.words.join(", ")}`}, or a block with ${Object.keys(shape.fields).join(", ")}`;
    case "record":
      return `a block with ${Object.keys(shape.fields).join(", ")}`;
    case "tagged":
      return `a block with "${shape.tag}", which is one of ${[...shape.variants.keys()].join(", ")}`;
  }
}

export function describeQuantityShape(shape: QuantityShape): string {
  if (shape.dimension === "temperature") return shape.as === "rise" ? "a temperature rise" : "a temperature";
  return describeDimension(dimensionNamed(shape.dimension));
}

interface At {
  readonly reading: Reading;
  readonly path: readonly string[];
}

function refuse(shape: Shape, node: Node | null, at: At): undefined {
  return complain(
    at.reading,
    node,
    `Cannot read ${pathText(at.path)}: expected ${describeShape(shape)}; found ${describeNode(node)}.`,
  );
}

function readAny(shape: Shape, node: Node | null, at: At): unknown {
  switch (shape.kind) {
    case "quantity":
      return readQuantity(shape, node, at);
    case "text":
      return isScalar(node) && node.value !== null ? writtenText(node) : refuse(shape, node, at);
    case "whole":
      return isScalar(node) &&
        typeof node.value === "number" &&
        Number.isInteger(node.value) &&
        node.value >= shape.least &&
        node.value <= shape.most
        ? node.value
        : refuse(shape, node, at);
    case "choice":
      return readChoice(shape, node, at);
    case "law":
      return readLaw(shape, node, at);
    case "list":
      return isSeq(node)
        ? node.items
            .map((item, i) => readAny(shape.each, item as Node | null, { ...at, path: [...at.path, String(i + 1)] }))
            .filter((item) => item !== undefined)
        : refuse(shape, node, at);
    case "map":
      return readMap(shape, node, at);
    case "either":
      return readEither(shape, node, at);
    case "record":
      return isMap(node) ? readRecord(shape.fields, node, at) : refuse(shape, node, at);
    case "tagged":
      return readTagged(shape, node, at);
  }
}

function readQuantity(shape: QuantityShape, node: Node | null, at: At): QuantityText | undefined {
  if (!isScalar(node) || node.value === null || typeof node.value === "boolean") return refuse(shape, node, at);
  const written = writtenText(node);
  try {
    const phrase = parsePhrase(written);
    const bare = phrase.value.kind === "number" && phrase.value.unit === "" && phrase.value.amount.value !== 0;
    if (bare && shape.dimension !== "number") {
      return complain(
        at.reading,
        node,
        `Cannot read ${pathText(at.path)}: ${written} has no unit; expected ${describeQuantityShape(shape)}, for example ${shape.example}.`,
      );
    }
    const quantity: QuantityText = { path: at.path, place: placeOf(at.reading.parsed, node), text: written, phrase, shape };
    at.reading.quantities.push(quantity);
    return quantity;
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    return complain(
      at.reading,
      node,
      `Cannot read ${pathText(at.path)}: ${error.message}. Expected ${at.path[0] === "parameters" ? "a value" : describeQuantityShape(shape)}, for example ${shape.example}.`,
      error.at,
    );
  }
}

function nearestClause(word: string, allowed: readonly string[]): string {
  const nearest = nearestName(word, allowed);
  return nearest === undefined
    ? `Allowed are ${allowed.join(", ")}.`
    : `The nearest is "${nearest}"; allowed are ${allowed.join(", ")}.`;
}

function readChoice(shape: { words: readonly string[] }, node: Node | null, at: At): string | undefined {
  if (!isScalar(node) || node.value === null)
    return complain(
      at.reading,
      node,
      `Cannot read ${pathText(at.path)}: expected one of ${shape.words.join(", ")}; found ${describeNode(node)}.`,
    );
  const written = writtenText(node);
  if (shape.words.includes(written)) return written;
  return complain(
    at.reading,
    node,
    `Cannot read ${pathText(at.path)}: "${written.slice(0, 60)}" is not known here. ${nearestClause(written, shape.words)}`,
  );
}

function readEither(shape: EitherShape, node: Node | null, at: At): unknown {
  if (isMap(node)) return readRecord(shape.fields, node, at);
  if (isScalar(node) && node.value !== null) {
    const written = writtenText(node);
    if (shape.words.includes(written)) return written;
    return complain(
      at.reading,
      node,
      `Cannot read ${pathText(at.path)}: "${written.slice(0, 60)}" is not known here. Expected ${describeShape(shape)}.`,
    );
  }
  return refuse(shape, node, at);
}

/** A name that the user chooses: words a sum can refer to. */
const chosenName = /^[\p{L}][\p{L}\p{N} _-]*$/u;

function readMap(shape: Shape & { kind: "map" }, node: Node | null, at: At): ReadonlyMap<string, unknown> | undefined {
  if (!isMap(node)) return refuse(shape, node, at);
  const entries = new Map<string, unknown>();
  for (const pair of node.items) {
    const key = pair.key as Scalar;
    const name = writtenText(key);
    if (!chosenName.test(name) || name.length > 60) {
      complain(
        at.reading,
        key,
        `"${name.slice(0, 60)}" cannot be the name of ${shape.names}: a name begins with a letter and holds at most 60 letters, digits, blanks, hyphens and underscores, for example ${shape.example}.`,
      );
      continue;
    }
    if (shape.each.kind === "quantity" && shape.chosenElsewhere !== true && !readsAsName(name)) {
      complain(
        at.reading,
        key,
        `"${name}" cannot be the name of ${shape.names}: in a sum it would be read otherwise. Leave out operators between blanks and the words to, within, per and pi, and do not begin with measured, assumed, drawn or predicted; for example ${shape.example}.`,
      );
      continue;
    }
    const value = readAny(shape.each, pair.value as Node | null, { ...at, path: [...at.path, name] });
    if (value !== undefined) entries.set(name, value);
  }
  return entries;
}

/** In `{ }` a comma ends an entry; a phrase cut in two that way shows as a name without a value. */
function cutPhrase(map: YAMLMap, index: number, fields: Fields): string | undefined {
  const pair = map.items[index];
  // a phrase with several commas leaves several such names
  let before = map.items[index - 1];
  for (let i = index - 1; i > 0 && before?.value == null; i--) before = map.items[i - 1];
  if (map.flow !== true || before === undefined || pair?.value != null) return undefined;
  const key = isScalar(before.key) ? writtenText(before.key) : "";
  const kind = Object.hasOwn(fields, key) ? fields[key]?.shape.kind : undefined;
  return kind === "quantity" || kind === "text" || kind === "law" ? key : undefined;
}

/** A number whose decimal comma was taken for the end of an entry: `{ pads: 5,5 V }`. */
function decimalComma(map: YAMLMap, index: number): string | undefined {
  const value = map.items[index]?.value;
  const next = map.items[index + 1];
  if (map.flow !== true || !isScalar(value) || next === undefined || next.value != null || !isScalar(next.key)) return undefined;
  const before = writtenText(value);
  const behind = writtenText(next.key);
  const touches = (next.key.range?.[0] ?? 0) === (value.range?.[1] ?? 0) + 1;
  return touches && /\d$/.test(before) && /^\d/.test(behind) ? `${before},${behind}` : undefined;
}

export function readRecord<F extends Fields>(fields: F, map: YAMLMap, at: At): ReadRecord<F> | undefined {
  const names = Object.keys(fields);
  const values: Record<string, unknown> = {};
  // a name misspelled is told as such, and not once more as missing
  const meant = new Set<string>();
  let whole = true;
  const afterComma = new Set<number>();
  for (const [index, pair] of map.items.entries()) {
    if (afterComma.has(index)) continue;
    const key = pair.key as Scalar;
    const name = writtenText(key);
    const field: Field | undefined = Object.hasOwn(fields, name) ? fields[name] : undefined;
    if (field === undefined) {
      const nearest = nearestName(name, names);
      if (nearest !== undefined) meant.add(nearest);
      const cut = cutPhrase(map, index, fields);
      complain(
        at.reading,
        key,
        cut !== undefined
          ? `Inside { } a comma ends an entry, so "${name.slice(0, 60)}" is cut off from "${cut}". Write "${cut}" on a line of its own, without the brackets, or put the phrase in "quotes".`
          : `"${name.slice(0, 60)}" is not known ${at.path.length === 0 ? "at the top of a chip text" : `in ${pathText(at.path)}`}. ${nearestClause(name, names)}`,
      );
      whole = false;
      continue;
    }
    const comma = decimalComma(map, index);
    if (comma !== undefined) {
      complain(
        at.reading,
        pair.value as Node,
        `Cannot read ${pathText([...at.path, name])}: "${comma}" has a decimal comma, which ends an entry inside { }. Write a decimal point, ${comma.replace(",", ".")}.`,
      );
      afterComma.add(index + 1);
      whole = false;
      continue;
    }
    const value = readAny(field.shape, pair.value as Node | null, { ...at, path: [...at.path, name] });
    if (value === undefined) whole = false;
    else values[name] = value;
  }
  for (const name of names) {
    const field = fields[name]!;
    if (
      field.optional === true ||
      Object.hasOwn(values, name) ||
      meant.has(name) ||
      map.items.some((pair) => isScalar(pair.key) && writtenText(pair.key) === name)
    )
      continue;
    const place = at.path.length === 0 ? "The chip text" : pathText(at.path);
    complain(at.reading, map, `${place} lacks "${name}": ${describeShape(field.shape)}.`);
    whole = false;
  }
  return whole ? (values as ReadRecord<F>) : undefined;
}

function readTagged(shape: TaggedShape, node: Node | null, at: At): TaggedText | undefined {
  if (!isMap(node)) return refuse(shape, node, at);
  const tag = node.items.find((pair) => isScalar(pair.key) && writtenText(pair.key) === shape.tag);
  const words = [...shape.variants.keys()];
  if (tag === undefined)
    return complain(at.reading, node, `${pathText(at.path)} lacks "${shape.tag}": one of ${words.join(", ")}.`);
  const word = readChoice({ words }, tag.value as Node | null, { ...at, path: [...at.path, shape.tag] });
  const variant: RecordShape | undefined = word === undefined ? undefined : shape.variants.get(word);
  if (word === undefined || variant === undefined) return undefined;
  const tagField: Field = { shape: { kind: "choice", words }, about: "" };
  const fields = readRecord({ [shape.tag]: tagField, ...variant.fields }, node, at);
  return fields === undefined ? undefined : { word, fields, place: placeOf(at.reading.parsed, node) };
}

/** A law: a constant phrase, a table where temperatures are given, a formula otherwise. */
function readLaw(shape: LawShape, node: Node | null, at: At): LawText | undefined {
  if (isMap(node)) {
    const isTable = node.items.some((pair) => isScalar(pair.key) && pair.key.value === "temperatures");
    if (isTable) {
      const fields = readRecord(tableFields(shape), node, at);
      return fields && checkTable(shape, fields, { ...at, node });
    }
    const fields = readRecord(formulaFields, node, at);
    return fields && checkFormula(shape, fields, { ...at, node });
  }
  const constant = readQuantity(quantity(shape.dimension, { example: shape.example, evidence: "assumed" }), node, at);
  return constant && { path: at.path, place: constant.place, shape, given: { kind: "constant", quantity: constant } };
}
