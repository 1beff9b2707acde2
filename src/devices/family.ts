/**
 * A device family: a name that a chip text may use, the fields it takes, and the parts it is made of.
 * Adding a family is one file beside the others and one line in families/index.ts.
 */
import type { Fields, ValueRecord } from "#base";
import type { Assembly } from "./assembly.ts";

export interface Family {
  readonly name: string;
  readonly about: string;
  readonly fields: Fields;
  /** Makes the parts from values in SI, as read by `fields`. Throws RangeError with a sentence where they do not fit together. */
  assemble(values: unknown): Assembly;
}

/** States a family; the types of `values` follow from `fields`. */
export function defineFamily<F extends Fields>(family: {
  readonly name: string;
  readonly about: string;
  readonly fields: F;
  readonly assemble: (values: ValueRecord<F>) => Assembly;
}): Family {
  // the reader has checked the values against `fields`, which is where their type comes from
  return { ...family, assemble: (values) => family.assemble(values as ValueRecord<F>) };
}
