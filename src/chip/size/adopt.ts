/**
 * Adopting a design: its values written into the text, in the units that stand there; spread, source, comments and order stay.
 * Main test: adopt.test.ts.
 */
import { evaluateExpression, formatNumber, parsePhrase } from "#base";
import { pathKey } from "../evaluate/addresses.ts";
import type { Chip } from "../predict/chip.ts";
import { refuse } from "../predict/choose.ts";
import { handleOf, numberFrom, phraseWithNumber } from "../prose/handle.ts";
import { replaceValue } from "../text/edit.ts";

/** A quantity by its path key, and the value that it is to have, SI. */
export interface DesignValue {
  readonly key: string;
  readonly value: number;
}

export interface Adopted {
  readonly text: string;
  readonly changes: readonly { readonly key: string; readonly before: string; readonly after: string }[];
}

/** The number that stands in a phrase, and one as written there for a value in SI; undefined where it holds no number of its own. */
export function numberOfPhrase(chip: Chip, key: string) {
  const quantity = chip.addresses.at(key);
  if (quantity === undefined) throw new RangeError(`Cannot find the quantity "${key}"`);
  const handle = handleOf(chip, quantity);
  if (!("key" in handle) || handle.key !== key) return undefined;
  const siOf = (digits: string): number =>
    evaluateExpression(parsePhrase(phraseWithNumber(quantity.text, digits)).value, (name) => {
      throw new RangeError(`Cannot evaluate "${name}" in a plain number`);
    }).value;
  // degrees celsius have a zero of their own
  const zero = siOf("0");
  const perUnit = siOf("1") - zero;
  return { quantity, number: numberFrom(handle.digits), perUnit, numberFor: (si: number): number => (si - zero) / perUnit };
}

/** A number to four digits, without zeros that say nothing. */
function digitsOf(value: number): string {
  const digits = formatNumber(value, 4).replace("\u2212", "-");
  return digits.includes(".") && !/e/i.test(digits) ? digits.replace(/\.?0+$/, "") : digits;
}

/** The text with the values of a design, to four digits each. Throws InputError where a quantity holds no number of its own. */
export function adoptDesign(chip: Chip, text: string, design: readonly DesignValue[]): Adopted {
  let changed = text;
  const changes = design.map(({ key, value }) => {
    const found = numberOfPhrase(chip, key);
    const before = chip.addresses.at(key)!.text;
    if (found === undefined)
      throw refuse(
        chip,
        `Cannot write a value for "${key}": the text has "${before}", which is worked out. Vary what it is worked out from.`,
      );
    const after = phraseWithNumber(before, digitsOf(found.numberFor(value)));
    changed = replaceValue(changed, { file: chip.description.file, path: found.quantity.path, value: after });
    return { key: pathKey(found.quantity.path), before, after };
  });
  return { text: changed, changes };
}
