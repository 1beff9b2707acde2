/**
 * JSON Schema (draft 2020-12) of a chip text, from the same shapes that the reader uses, so that any editor can complete and check it.
 */
import { type Fields, functionNames, type Shape } from "#base";
import { formulaFields, tableFields } from "./law-text.ts";
import { describeQuantityShape, describeShape } from "./read.ts";

export type JsonSchema = { readonly [key: string]: unknown };

function ofFields(fields: Fields, extra: JsonSchema = {}): JsonSchema {
  const properties = Object.fromEntries(
    Object.entries(fields).map(([name, field]) => [name, { ...schemaOf(field.shape), description: field.about }]),
  );
  const required = Object.entries(fields).flatMap(([name, field]) => (field.optional === true ? [] : [name]));
  return { type: "object", additionalProperties: false, properties, ...(required.length > 0 && { required }), ...extra };
}

function schemaOf(shape: Shape): JsonSchema {
  switch (shape.kind) {
    case "quantity":
      return {
        type: ["string", "number"],
        title: describeQuantityShape(shape),
        examples: [shape.example],
        description: `${describeShape(shape)}. Sums may use names and ${functionNames.join(", ")}.`,
      };
    case "text":
      return { type: ["string", "number"], examples: [shape.example] };
    case "whole":
      return { type: "integer", minimum: shape.least, maximum: shape.most, examples: [Number(shape.example)] };
    case "choice":
      return { enum: [...shape.words] };
    case "law":
      return {
        anyOf: [{ type: ["string", "number"], examples: [shape.example] }, ofFields(formulaFields), ofFields(tableFields(shape))],
      };
    case "list":
      return { type: "array", items: schemaOf(shape.each) };
    case "map":
      return {
        type: "object",
        propertyNames: { pattern: "^\\p{L}[\\p{L}\\p{N} _-]*$", maxLength: 60 },
        additionalProperties: schemaOf(shape.each),
      };
    case "record":
      return ofFields(shape.fields);
    case "either":
      return { anyOf: [{ enum: [...shape.words] }, ofFields(shape.fields)] };
    case "tagged":
      return {
        oneOf: [...shape.variants].map(([word, variant]) =>
          ofFields({ [shape.tag]: { shape: { kind: "choice", words: [word] }, about: word }, ...variant.fields }),
        ),
      };
  }
}

/** The schema of a text whose top level has these fields. */
export function jsonSchemaOf(fields: Fields, title: string): JsonSchema {
  return { $schema: "https://json-schema.org/draft/2020-12/schema", title, ...ofFields(fields) };
}
