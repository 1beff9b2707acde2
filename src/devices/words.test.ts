/** What every family and every part word says of itself and of its fields. */
import { describe, expect, it } from "vitest";
import {
  dimensionNamed,
  evaluateExpression,
  type Fields,
  parsePhrase,
  type QuantityShape,
  type Shape,
  sameDimension,
} from "#base";
import { partWords } from "./composition/words.ts";
import { families } from "./families/index.ts";

/** Every field below, with the words that lead to it. */
function* fieldsBelow(fields: Fields, path: string): Generator<readonly [path: string, about: string, shape: Shape]> {
  for (const [name, { about, shape }] of Object.entries(fields)) {
    const here = `${path}, ${name}`;
    yield [here, about, shape];
    if (shape.kind === "record" || shape.kind === "either") yield* fieldsBelow(shape.fields, here);
    if (shape.kind === "map" && shape.each.kind === "record") yield* fieldsBelow(shape.each.fields, here);
  }
}

const all = [
  ...families.flatMap((family) => [...fieldsBelow(family.fields, family.name)]),
  ...partWords.flatMap((word) => [...fieldsBelow(word.fields, word.name)]),
];

function checkExample(path: string, shape: QuantityShape): void {
  const { value, dimension } = evaluateExpression(parsePhrase(shape.example).value, (name) => {
    throw new Error(`the example of ${path} needs "${name}"`);
  });
  expect(sameDimension(dimension, dimensionNamed(shape.dimension)), path).toBe(true);
  if (shape.least !== undefined) expect(value, path).toBeGreaterThanOrEqual(shape.least);
  if (shape.above !== undefined) expect(value, path).toBeGreaterThan(shape.above);
  if (shape.most !== undefined) expect(value, path).toBeLessThanOrEqual(shape.most);
}

describe("every family and word", () => {
  it("has a name of its own and a sentence about it", () => {
    for (const list of [families, partWords]) {
      expect(new Set(list.map((entry) => entry.name)).size).toBe(list.length);
      for (const entry of list) expect(entry.about, entry.name).toMatch(/\.$/);
    }
  });

  it("has a sentence about every field", () => {
    expect(all.length).toBeGreaterThan(100);
    for (const [path, about] of all) expect(about, path).toMatch(/^["A-Z].*\.$/);
  });

  it("shows examples that work", () => {
    for (const [path, , shape] of all) if (shape.kind === "quantity") checkExample(path, shape);
  });
});
