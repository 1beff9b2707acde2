/**
 * A drawing in the making: words of the text add parts and named points to it. A word that stands inside another (a family within a
 * composition) draws in its own frame, from where it is moved to its place.
 */
import type { Fields, ValueRecord } from "#base";
import type { Part, Place } from "./drawing/part.ts";

export interface Draft {
  /** Name that the text gives to what is being drawn; empty for a device that is one family. */
  readonly name: string;
  /** Name of a part of what is being drawn: the own name stands before it. */
  named(part: string): string;
  /** Place of a named point. Throws AssemblyError where there is none. */
  place(point: string): Place;
  add(part: Part): void;
  /** Gives a place a name that others may use, behind the own name. */
  markPoint(point: string, place: Place): void;
}

/** A word that may stand after "is" in the parts of a composition. */
export interface PartWord {
  readonly name: string;
  readonly about: string;
  /** True where it draws about its own origin: the text then says at which point that lies, and how it is turned. */
  readonly placed: boolean;
  readonly fields: Fields;
  draw(values: unknown, draft: Draft): void;
}

/** States a word; the types of `values` follow from `fields`. */
export function definePart<F extends Fields>(word: {
  readonly name: string;
  readonly about: string;
  readonly placed?: true;
  readonly fields: F;
  readonly draw: (values: ValueRecord<F>, draft: Draft) => void;
}): PartWord {
  // the reader has checked the values against `fields`, which is where their type comes from
  return { ...word, placed: word.placed === true, draw: (values, draft) => word.draw(values as ValueRecord<F>, draft) };
}
