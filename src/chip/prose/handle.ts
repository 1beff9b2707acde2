/**
 * A number of the text that can be taken hold of: which quantity it is, how it is written, and how it is written anew. A quantity that
 * only names another is followed to the one that holds the number, so that every size has one home. Main test: handle.test.ts.
 */
import { type EvidenceKind, formatQuantity, parsePhrase, type QuantityText } from "#base";
import { pathKey } from "../evaluate/addresses.ts";
import type { Chip } from "../predict/chip.ts";

export interface Handle {
  /** Path key of the quantity that changes with it. */
  readonly key: string;
  /** Shortest name of that quantity. */
  readonly name: string;
  /** The number as written, and its unit as written; a whole number has none. */
  readonly digits: string;
  readonly unit: string;
  /** Decimals of one step: those written, one more where fewer than two digits are. */
  readonly decimals: number;
  readonly evidence: EvidenceKind;
  /** Where it comes from, in the writer's words, and its doubt as written. */
  readonly source: string | undefined;
  /** True where it is a whole number, such as a count of legs. */
  readonly whole: boolean;
}

/** The number that digits as written stand for; a typographic minus is one. */
export const numberFrom = (digits: string): number => Number(digits.replace("\u2212", "-"));

/** A value worked out from others; it has no number of its own to hold. */
export interface WorkedOut {
  readonly name: string;
  readonly text: string;
  readonly from: string;
}

const numberAt = /[-+\u2212]?\d[\d.]*(?:[eE][-+]?\d+)?/y;

/** The number in a phrase and where it stands; undefined where the phrase is a sum or a name. */
function numberIn(text: string): { readonly start: number; readonly end: number; readonly unit: string } | undefined {
  const { value } = parsePhrase(text);
  const isNegative = value.kind === "negate";
  const number = isNegative ? value.of : value;
  if (number.kind !== "number") return undefined;
  // the sign belongs to the number: it stands before it, perhaps with a gap
  numberAt.lastIndex = number.at;
  const found = numberAt.exec(text);
  return found === null ? undefined : { start: isNegative ? value.at : found.index, end: numberAt.lastIndex, unit: number.unit };
}

/** The phrase with another number in the place of its own; doubt, source and unit stay. */
export function phraseWithNumber(text: string, digits: string): string {
  const place = numberIn(text);
  if (place === undefined) throw new RangeError(`Cannot write ${digits} into "${text}": it holds no number of its own`);
  return text.slice(0, place.start) + digits + text.slice(place.end);
}

/** Decimals that a number is stepped in. */
export function stepDecimals(digits: string): number {
  const plain = digits.replace(/^[-+\u2212]/, "").replace(/[eE].*$/, "");
  const written = plain.includes(".") ? plain.length - plain.indexOf(".") - 1 : 0;
  const significant = plain.replace(".", "").replace(/^0+/, "").length;
  return significant < 2 ? written + 1 : written;
}

/** The number that a quantity stands for, followed through names; a value worked out where it is a sum. */
export function handleOf(chip: Chip, quantity: QuantityText): Handle | WorkedOut {
  const { addresses } = chip;
  let home = quantity;
  for (let steps = 0; steps < 20 && home.phrase.value.kind === "name"; steps++) {
    const found = addresses.find(home.phrase.value.name);
    if (found.kind !== "one") break;
    home = found.quantity;
  }
  const key = pathKey(home.path);
  const name = addresses.shortest(key);
  const place = numberIn(home.text);
  if (place === undefined) {
    const amount = chip.side("drawn").scope.amountOf(home);
    return { name, text: formatQuantity(amount.value, amount.dimension), from: home.text };
  }
  const digits = home.text.slice(place.start, place.end).replace(/^([-\u2212])\s+/, "$1");
  const { phrase } = home;
  const remarks = [phrase.source, phrase.date].filter((remark) => remark !== undefined).join(", ");
  return {
    key,
    name,
    digits,
    unit: place.unit,
    decimals: stepDecimals(digits),
    evidence: phrase.evidence ?? home.shape.evidence,
    source: remarks === "" ? undefined : remarks,
    whole: false,
  };
}
