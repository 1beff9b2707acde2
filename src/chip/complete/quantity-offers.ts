/** What may be written next within a quantity: an example, the words of evidence, names and functions of a sum, the unit behind a number. */
import {
  dimensionNamed,
  type EvidenceKind,
  type Fields,
  functionNames,
  type LawShape,
  parsePhrase,
  parseUnit,
  type QuantityShape,
  type Shape,
  sameDimension,
  unitSymbols,
} from "#base";
import type { Named } from "./names.ts";
import type { Offer } from "./offer.ts";

const evidenceAbouts: ReadonlyMap<EvidenceKind, string> = new Map([
  ["measured", "Found with an instrument; say with which, where and when."],
  ["assumed", "Taken on trust; say from where."],
  ["predicted", "Worked out elsewhere; say how."],
  ["drawn", "As it stands on the drawing."],
]);

/** The unit of a plain number with a unit, as it is written. */
function unitIn(example: string): string | undefined {
  const { value } = parsePhrase(example);
  return value.kind === "number" && value.unit !== "" ? value.unit : undefined;
}

/** Units that stand in the examples of all shapes: what the trade writes. */
function exampleUnits(fields: Fields): ReadonlySet<string> {
  const units = new Set<string>();
  const visit = (shape: Shape): void => {
    switch (shape.kind) {
      case "quantity":
      case "law": {
        const unit = unitIn(shape.example);
        if (unit !== undefined) units.add(unit);
        return;
      }
      case "list":
      case "map":
        visit(shape.each);
        return;
      case "record":
      case "either":
        visitFields(shape.fields);
        return;
      case "tagged":
        for (const variant of shape.variants.values()) visitFields(variant.fields);
        return;
      default:
    }
  };
  const visitFields = (inner: Fields): void => {
    for (const { shape } of Object.values(inner)) visit(shape);
  };
  visitFields(fields);
  return units;
}

/** Prefixes that are offered; any other may be written as well. */
const usualPrefixes = ["n", "u", "m", "", "k", "M", "G"];

export class QuantityOffers {
  private readonly fromExamples: ReadonlySet<string>;

  constructor(top: Fields) {
    this.fromExamples = exampleUnits(top);
  }

  /** Units of the dimension of a shape, those of the examples first; of any, those of the examples alone. */
  private unitsOf(shape: QuantityShape | LawShape, isAny: boolean): readonly string[] {
    if (isAny) return [...this.fromExamples];
    const wanted = dimensionNamed(shape.dimension);
    const written = [...this.fromExamples].filter((unit) => sameDimension(parseUnit(unit).dimension, wanted));
    const own = unitIn(shape.example);
    const symbols = unitSymbols
      .filter(({ dimension }) => sameDimension(dimension, wanted))
      .flatMap(({ symbol, prefixable }) =>
        prefixable === true ? usualPrefixes.map((prefix) => `${prefix}${symbol}`) : [symbol],
      );
    return [...new Set([...(own === undefined ? [] : [own]), ...written, ...symbols])];
  }

  /**
   * What may follow what is written of a quantity up to the caret; `from` is where in it each offer begins. A parameter may be of any
   * dimension, whatever its shape says.
   */
  next(
    shape: QuantityShape | LawShape,
    written: string,
    { parameters, isAny }: { readonly parameters: readonly Named[]; readonly isAny: boolean },
  ): { readonly from: number; readonly offers: readonly Offer[] } {
    const number = /(?:^|[\s(±-])(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?(?<blank>\s*)(?<unit>[\p{L}%°][\p{L}\d%°/()^ ]*)?$/u.exec(
      written,
    );
    if (number !== null) {
      const { blank = "", unit = "" } = number.groups!;
      const before = blank === "" && unit === "" ? " " : "";
      const units = this.unitsOf(shape, isAny).map(
        (symbol): Offer => ({ kind: "unit", text: symbol, insert: `${before}${symbol}`, about: "unit" }),
      );
      return { from: written.length - unit.length, offers: units };
    }
    const word = /[\p{L}][\p{L}\p{N} _-]*$/u.exec(written)?.[0] ?? "";
    const from = written.length - word.length;
    const names = parameters.map(({ name, about }): Offer => ({ kind: "name", text: name, insert: name, about }));
    const functions = functionNames.map(
      (name): Offer => ({ kind: "word", text: name, insert: `${name}(`, about: "function in a sum" }),
    );
    if (from > 0) return { from, offers: [...names, ...functions] };
    const evidence = [...evidenceAbouts].map(([name, about]): Offer => ({ kind: "word", text: name, insert: `${name} `, about }));
    const example: Offer = { kind: "example", text: shape.example, insert: shape.example, about: "an example" };
    return { from, offers: [example, ...this.fitting(shape, names, parameters), ...evidence, ...functions] };
  }

  /** Names in their order, those of the wanted dimension first. */
  private fitting(shape: QuantityShape | LawShape, names: readonly Offer[], parameters: readonly Named[]): readonly Offer[] {
    const wanted = dimensionNamed(shape.dimension);
    const isFit = (i: number): boolean => {
      try {
        const unit = unitIn(parameters[i]!.about.replace(/^a parameter: /, ""));
        return unit !== undefined && sameDimension(parseUnit(unit).dimension, wanted);
      } catch {
        // what does not read yet is of no known dimension
        return false;
      }
    };
    return [...names.filter((_, i) => isFit(i)), ...names.filter((_, i) => !isFit(i))];
  }
}
