/**
 * The chip as prose: what its text says of devices, layer and etch, in sentences whose numbers can be taken hold of.
 *
 * Nothing is said that the text does not say; the sentences are those of sentences.table.ts. Main test: prose.test.ts.
 */
import { isScalar } from "yaml";
import { pathKey } from "../evaluate/addresses.ts";
import type { Chip } from "../predict/chip.ts";
import { findNode } from "../text/find-node.ts";
import { writtenText } from "../text/reading.ts";
import { type Handle, handleOf, type WorkedOut } from "./handle.ts";
import { layerSentence, sentences } from "./sentences.table.ts";

export type ProseWord =
  | { readonly kind: "words"; readonly text: string }
  | { readonly kind: "handle"; readonly handle: Handle }
  | { readonly kind: "worked out"; readonly value: WorkedOut };

export interface Paragraph {
  /** The device it is about; undefined for layer and etch. */
  readonly device: string | undefined;
  /** Name of the part it is about, where the device is composed. */
  readonly part: string | undefined;
  readonly words: readonly ProseWord[];
}

/** A field in braces, by its path below a place of the text; undefined where it is not given. */
type Field = (path: readonly string[]) => ProseWord | undefined;

const stretch = /\[([^\]]*)\]|([^[\]]+)/g;

/** Words about fields of the text below a place, as one run. */
export function fillSentence(chip: Chip, sentence: string, root: readonly string[]): readonly ProseWord[] {
  return joined(fill(sentence, fieldsUnder(chip, root)));
}

/** Fills a sentence; a stretch in brackets stays only where all its fields are given. */
function fill(sentence: string, field: Field): readonly ProseWord[] {
  return [...sentence.matchAll(stretch)].flatMap(([, optional, plain]) => {
    const words = (optional ?? plain!).split(/(\{[^}]*\})/).map((piece): ProseWord | undefined => {
      if (!piece.startsWith("{")) return { kind: "words", text: piece };
      return field(piece.slice(1, -1).split("."));
    });
    const given = words.filter((word) => word !== undefined);
    return optional !== undefined && given.length < words.length ? [] : given;
  });
}

/** Words that follow each other as one. */
function joined(words: readonly ProseWord[]): readonly ProseWord[] {
  const result: ProseWord[] = [];
  for (const word of words) {
    const last = result.at(-1);
    if (word.kind === "words" && last?.kind === "words")
      result[result.length - 1] = { kind: "words", text: last.text + word.text };
    else if (word.kind !== "words" || word.text !== "") result.push(word);
  }
  return result;
}

function fieldsUnder(chip: Chip, root: readonly string[]): Field {
  return (below) => {
    const path = [...root, ...below];
    const quantity = chip.addresses.at(pathKey(path));
    if (quantity !== undefined) {
      const handle = handleOf(chip, quantity);
      return "key" in handle ? { kind: "handle", handle } : { kind: "worked out", value: handle };
    }
    const node = findNode(chip.description.parsed.root, path);
    if (!isScalar(node)) return undefined;
    const text = writtenText(node);
    if (!/^\d+$/.test(text)) return { kind: "words", text };
    const name = below.join(" ");
    return {
      kind: "handle",
      handle: {
        key: pathKey(path),
        name,
        digits: text,
        unit: "",
        decimals: 0,
        evidence: "drawn",
        source: undefined,
        whole: true,
      },
    };
  };
}

/** Names of the parts of a composition with the word after "is", in the order of the text. */
function partsOf(fields: Readonly<Record<string, unknown>>): readonly (readonly [name: string, word: string])[] {
  const { parts } = fields;
  if (!(parts instanceof Map)) return [];
  return [...(parts as ReadonlyMap<string, { readonly word: string }>)].map(([name, { word }]) => [name, word]);
}

const capital = (text: string): string => text.replace(/^./, (letter) => letter.toUpperCase());

function paragraphsOf(chip: Chip, device: string): readonly Paragraph[] {
  const text = chip.description.sections.devices.get(device)!;
  const root = ["devices", device];
  if (text.word !== "composition") {
    const sentence = sentences[text.word];
    if (sentence === undefined) return [];
    return [{ device, part: undefined, words: joined(fill(sentence, fieldsUnder(chip, root))) }];
  }
  return partsOf(text.fields).flatMap(([part, word]) => {
    const sentence = sentences[word];
    if (sentence === undefined) return [];
    const words = fill(sentence.replace(/^A(?=n? )/, "a"), fieldsUnder(chip, [...root, "parts", part]));
    return [{ device, part, words: joined([{ kind: "words", text: `${capital(part)}: ` }, ...words]) }];
  });
}

/** All paragraphs: the devices in the order of the text, then layer and etch. */
export function proseOf(chip: Chip): readonly Paragraph[] {
  return [
    ...chip.names.devices.flatMap((device) => paragraphsOf(chip, device)),
    { device: undefined, part: undefined, words: joined(fill(layerSentence, fieldsUnder(chip, []))) },
  ];
}
