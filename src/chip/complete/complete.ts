/**
 * What may be written at a caret of a chip text: names of fields, words of choices, names defined in the text, units. From the same
 * shapes as the reader; the text need not parse at the caret. Main test: complete.test.ts.
 */
import type { Fields, Shape } from "#base";
import { families, partWords } from "#devices";
import { chipFields } from "../description.ts";
import { describeShape } from "../text/read.ts";
import { type Caret, findCaret } from "./caret.ts";
import { namesFor, parametersOf } from "./names.ts";
import { type Completion, fittingOffers, type Offer } from "./offer.ts";
import { QuantityOffers } from "./quantity-offers.ts";
import { fieldsWithin, findSpot, type Spot } from "./spot.ts";

const quantities = new QuantityOffers(chipFields);

const wordAbouts: ReadonlyMap<string, string> = new Map([...partWords, ...families].map(({ name, about }) => [name, about]));

/** An example of what stands behind a field, on one line. */
function exampleOf(shape: Shape): string | undefined {
  switch (shape.kind) {
    case "quantity":
    case "text":
    case "whole":
    case "law":
    case "map":
      return shape.example;
    case "choice":
    case "either":
      return shape.words.join(" or ");
    case "tagged":
      return `${shape.tag}: ${[...shape.variants.keys()].join(" or ")}`;
    case "list":
      return exampleOf(shape.each);
    case "record":
      return undefined;
  }
}

/** What is written for a field: its name, and room for what it takes. */
function insertOf(name: string, shape: Shape, at: { readonly caret: Caret; readonly indent: string }): string {
  if (at.caret.hasColon) return name;
  const opensBlock = shape.kind === "record" || shape.kind === "map" || shape.kind === "tagged" || shape.kind === "list";
  if (at.caret.inBrackets || !opensBlock) return `${name}: `;
  return `${name}:\n${at.indent}  ${shape.kind === "list" ? "- " : ""}`;
}

function fieldOffers(fields: Fields, beside: readonly string[], at: { readonly caret: Caret; readonly indent: string }): Offer[] {
  return Object.entries(fields)
    .filter(([name]) => !beside.includes(name))
    .map(([name, { about, shape }]) => {
      const example = exampleOf(shape);
      return { kind: "field", text: name, insert: insertOf(name, shape, at), about, ...(example !== undefined && { example }) };
    });
}

/** A phrase with a comma inside { } stands in quotes. */
const quoted = (text: string, { inBrackets }: Caret): string => (inBrackets && text.includes(",") ? `"${text}"` : text);

function words(found: readonly string[], caret: Caret): Offer[] {
  return found.map((word) => ({
    kind: "word",
    text: word,
    insert: quoted(word, caret),
    about: wordAbouts.get(word) ?? "one of the words that may stand here",
  }));
}

function valueOffers(spot: Spot, caret: Caret): Offer[] {
  const { shape } = spot;
  const named = namesFor(spot).map(
    ({ name, about }): Offer => ({ kind: "name", text: name, insert: quoted(name, caret), about }),
  );
  switch (shape.kind) {
    case "choice":
    case "either":
      return words(shape.words, caret);
    case "whole":
      return [{ kind: "example", text: shape.example, insert: shape.example, about: "an example" }];
    case "text":
      if (named.length > 0) return named;
      return [{ kind: "example", text: shape.example, insert: quoted(shape.example, caret), about: "an example" }];
    default:
      return [];
  }
}

function nameOffers(spot: Spot, at: { readonly caret: Caret; readonly indent: string }): Offer[] {
  const { shape, tag, beside } = spot;
  const fields = fieldsWithin(shape, tag);
  if (fields !== undefined) return fieldOffers(fields, beside, at);
  if (shape.kind !== "map") return [];
  const { each } = shape;
  const named = namesFor(spot).map(
    ({ name, about }): Offer => ({ kind: "name", text: name, insert: insertOf(name, each, at), about }),
  );
  if (named.length > 0 || at.caret.hasColon) return named;
  return [{ kind: "example", text: shape.example, insert: shape.example, about: `an example of ${shape.names}` }];
}

/**
 * What may be written at an offset (in UTF-16 units, 0 to the length) of a text, in any state of writing. Undefined where nothing is
 * known to belong: in a remark, in quotes, under a name that is not known. Throws RangeError for an offset outside the text.
 */
export function completeText(text: string, offset: number): Completion | undefined {
  if (!(Number.isInteger(offset) && offset >= 0 && offset <= text.length))
    throw new RangeError(`Cannot complete a text: wanted an offset from 0 to ${text.length}, for example 0; found ${offset}`);
  const caret = findCaret(text, offset);
  if (caret === undefined) return undefined;
  const spot = findSpot(text, caret, chipFields);
  if (spot === undefined) return undefined;
  const written = text.slice(caret.from, offset);
  const whole = text.slice(caret.from, caret.to);
  const { shape } = spot;
  if (spot.stands === "value" && (shape.kind === "quantity" || shape.kind === "law")) {
    const isAny = spot.path[0] === "parameters";
    const parameters = parametersOf(spot.root).filter(({ name }) => !isAny || name !== spot.path[1]);
    const { from, offers } = quantities.next(shape, written, { parameters, isAny });
    const part = written.slice(from);
    return {
      from: caret.from + from,
      to: offset,
      wanted: isAny ? `a value, for example ${shape.example}` : describeShape(shape),
      offers: fittingOffers(offers, part),
      isWhole: offers.some((offer) => offer.text === part),
    };
  }
  const indent = " ".repeat(caret.from - (text.slice(0, caret.from).lastIndexOf("\n") + 1));
  const offers = spot.stands === "name" ? nameOffers(spot, { caret, indent }) : valueOffers(spot, caret);
  return {
    from: caret.from,
    to: caret.to,
    wanted: spot.stands === "name" && shape.kind !== "map" ? "a field of this block" : describeShape(shape),
    offers: fittingOffers(offers, written),
    isWhole: spot.stands === "value" && offers.some((offer) => offer.text === whole),
  };
}
