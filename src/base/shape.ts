/**
 * Shapes: what may stand at each place of a chip text, as data.
 *
 * One shape serves the reader (with its error sentences), the JSON Schema for editors, the reference in docs, and the types of
 * what comes out. Modules below the chip text (device families, for example) state their own shape beside their own code.
 */
import type { DimensionName } from "./dimension.ts";
import type { Place } from "./errors.ts";
import type { Law } from "./law.ts";
import type { EvidenceKind, Phrase } from "./phrase.ts";

export interface QuantityShape {
  readonly kind: "quantity";
  readonly dimension: DimensionName;
  /** Only for temperatures: a temperature and a rise are never mixed. */
  readonly as?: "temperature" | "rise";
  /** An example that works, shown in errors. */
  readonly example: string;
  /** Evidence meant when the phrase states none. */
  readonly evidence: EvidenceKind;
  /** Allowed range of the value [SI]; `above` excludes its end. */
  readonly least?: number;
  readonly above?: number;
  readonly most?: number;
}

export interface TextShape {
  readonly kind: "text";
  readonly example: string;
}

/** A whole number. */
export interface WholeShape {
  readonly kind: "whole";
  readonly least: number;
  readonly most: number;
  readonly example: string;
}

export interface ChoiceShape<W extends string = string> {
  readonly kind: "choice";
  readonly words: readonly W[];
}

/** A property law: a constant, a formula of the temperature T, or a table. */
export interface LawShape {
  readonly kind: "law";
  readonly dimension: DimensionName;
  readonly example: string;
}

export interface Field {
  readonly shape: Shape;
  /** One sentence for the reference and for editors. */
  readonly about: string;
  readonly optional?: true;
}

export type Fields = Readonly<Record<string, Field>>;

export interface RecordShape<F extends Fields = Fields> {
  readonly kind: "record";
  readonly fields: F;
}

export interface ListShape<E extends Shape = Shape> {
  readonly kind: "list";
  readonly each: E;
}

/** Entries under names that the user chooses. */
export interface MapShape<E extends Shape = Shape> {
  readonly kind: "map";
  readonly each: E;
  /** What a name stands for, for example "a parameter". */
  readonly names: string;
  readonly example: string;
  /** True where a name is chosen elsewhere, such as that of a part that a family draws: a sum need not be able to refer to it. */
  readonly chosenElsewhere?: boolean;
}

/** A word from a list, or a record that says more. */
export interface EitherShape<W extends string = string, F extends Fields = Fields> {
  readonly kind: "either";
  readonly words: readonly W[];
  readonly fields: F;
}

/** A record whose further fields depend on the word under `tag`. */
export interface TaggedShape {
  readonly kind: "tagged";
  readonly tag: string;
  readonly variants: ReadonlyMap<string, RecordShape>;
}

export type Shape =
  | QuantityShape
  | TextShape
  | WholeShape
  | ChoiceShape
  | LawShape
  | RecordShape
  | ListShape
  | MapShape
  | EitherShape
  | TaggedShape;

/** A quantity as it stands in the text: read, not yet evaluated. */
export interface QuantityText {
  /** Words from the top of the text down to it, for example ["devices", "drive", "legs", "width"]. */
  readonly path: readonly string[];
  readonly place: Place;
  readonly text: string;
  readonly phrase: Phrase;
  readonly shape: QuantityShape;
}

/** A law as it stands in the text. */
export interface LawText {
  readonly path: readonly string[];
  readonly place: Place;
  readonly shape: LawShape;
  readonly given:
    | { readonly kind: "constant"; readonly quantity: QuantityText }
    | {
        readonly kind: "formula";
        readonly formula: string;
        readonly unit: string;
        readonly range: RangeText;
        readonly source: string;
        readonly spread?: number;
      }
    | {
        readonly kind: "table";
        readonly temperatures: readonly QuantityText[];
        readonly values: readonly QuantityText[];
        readonly interpolation: "linear" | "logarithmic";
        readonly source: string;
        readonly spread?: number;
      };
}

/** A temperature range as written, both ends in kelvin. */
export interface RangeText {
  readonly from: number;
  readonly to: number;
}

/** Tagged entry as read: the word and the fields of its variant. */
export interface TaggedText {
  readonly word: string;
  readonly fields: Readonly<Record<string, unknown>>;
  readonly place: Place;
}

/** Tagged entry as evaluated. */
export interface TaggedValue {
  readonly word: string;
  readonly values: Readonly<Record<string, unknown>>;
}

type Optional<F extends Fields> = { [K in keyof F]: F[K] extends { optional: true } ? K : never }[keyof F];

/** What reading a shape gives: quantities and laws as text, not evaluated. */
export type ReadOf<S> = S extends QuantityShape
  ? QuantityText
  : S extends TextShape
    ? string
    : S extends WholeShape
      ? number
      : S extends ChoiceShape<infer W>
        ? W
        : S extends LawShape
          ? LawText
          : S extends ListShape<infer E>
            ? readonly ReadOf<E>[]
            : S extends MapShape<infer E>
              ? ReadonlyMap<string, ReadOf<E>>
              : S extends EitherShape<infer W, infer F>
                ? W | ReadRecord<F>
                : S extends RecordShape<infer F>
                  ? ReadRecord<F>
                  : S extends TaggedShape
                    ? TaggedText
                    : never;

export type ReadRecord<F extends Fields> = { readonly [K in Exclude<keyof F, Optional<F>>]: ReadOf<F[K]["shape"]> } & {
  readonly [K in Optional<F>]?: ReadOf<F[K]["shape"]>;
};

/** What evaluating a shape gives: quantities as numbers in SI, laws as laws. */
export type ValueOf<S> = S extends QuantityShape
  ? number
  : S extends TextShape
    ? string
    : S extends WholeShape
      ? number
      : S extends ChoiceShape<infer W>
        ? W
        : S extends LawShape
          ? Law
          : S extends ListShape<infer E>
            ? readonly ValueOf<E>[]
            : S extends MapShape<infer E>
              ? ReadonlyMap<string, ValueOf<E>>
              : S extends EitherShape<infer W, infer F>
                ? W | ValueRecord<F>
                : S extends RecordShape<infer F>
                  ? ValueRecord<F>
                  : S extends TaggedShape
                    ? TaggedValue
                    : never;

export type ValueRecord<F extends Fields> = { readonly [K in Exclude<keyof F, Optional<F>>]: ValueOf<F[K]["shape"]> } & {
  readonly [K in Optional<F>]?: ValueOf<F[K]["shape"]>;
};

export function quantity(dimension: DimensionName, rest: Omit<QuantityShape, "kind" | "dimension">): QuantityShape {
  return { kind: "quantity", dimension, ...rest };
}

export function record<F extends Fields>(fields: F): RecordShape<F> {
  return { kind: "record", fields };
}

export function list<E extends Shape>(each: E): ListShape<E> {
  return { kind: "list", each };
}

export function choice<const W extends string>(...words: readonly W[]): ChoiceShape<W> {
  return { kind: "choice", words };
}

export function either<const W extends string, F extends Fields>(words: readonly W[], fields: F): EitherShape<W, F> {
  return { kind: "either", words, fields };
}

export function mapOf<E extends Shape>(
  each: E,
  rest: { names: string; example: string; chosenElsewhere?: boolean },
): MapShape<E> {
  return { kind: "map", each, ...rest };
}

export function text(example: string): TextShape {
  return { kind: "text", example };
}

export function whole(rest: { least: number; most: number; example: string }): WholeShape {
  return { kind: "whole", ...rest };
}

export function law(dimension: DimensionName, example: string): LawShape {
  return { kind: "law", dimension, example };
}
