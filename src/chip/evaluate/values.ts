/**
 * From what was read to values in SI: quantities become numbers, laws become laws, everything else stays.
 */
import type {
  Fields,
  Law,
  LawText,
  QuantityText,
  ReadRecord,
  Shape,
  TaggedShape,
  TaggedText,
  TaggedValue,
  ValueRecord,
} from "#base";
import { lawFromText } from "./own-law.ts";
import type { Scope } from "./scope.ts";

/** Evaluates a record that was read by `fields`. Throws EvaluationError. */
export function evaluateRecord<F extends Fields>(
  fields: F,
  read: ReadRecord<F> | Readonly<Record<string, unknown>>,
  scope: Scope,
): ValueRecord<F> {
  const values: Record<string, unknown> = {};
  for (const [name, field] of Object.entries(fields)) {
    const given = (read as Readonly<Record<string, unknown>>)[name];
    if (given !== undefined) values[name] = evaluateAny(field.shape, given, scope);
  }
  return values as ValueRecord<F>;
}

function evaluateAny(shape: Shape, given: unknown, scope: Scope): unknown {
  switch (shape.kind) {
    case "quantity":
      return scope.valueOf(given as QuantityText);
    case "law":
      return evaluateLaw(given as LawText, scope);
    case "record":
      return evaluateRecord(shape.fields, given as Readonly<Record<string, unknown>>, scope);
    case "either":
      return typeof given === "string" ? given : evaluateRecord(shape.fields, given as Readonly<Record<string, unknown>>, scope);
    case "list":
      return (given as readonly unknown[]).map((entry) => evaluateAny(shape.each, entry, scope));
    case "map":
      return new Map(
        [...(given as ReadonlyMap<string, unknown>)].map(([name, entry]) => [name, evaluateAny(shape.each, entry, scope)]),
      );
    case "tagged":
      return evaluateTagged(shape, given as TaggedText, scope);
    default:
      return given;
  }
}

function evaluateTagged(shape: TaggedShape, given: TaggedText, scope: Scope): TaggedValue {
  const variant = shape.variants.get(given.word);
  if (variant === undefined) throw new RangeError(`Cannot evaluate an entry: wanted a known word, found "${given.word}"`);
  return { word: given.word, values: evaluateRecord(variant.fields, given.fields, scope) };
}

function evaluateLaw(given: LawText, scope: Scope): Law {
  return lawFromText(given, scope);
}
