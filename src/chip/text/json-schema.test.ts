import { describe, expect, it } from "vitest";
import { jsonSchemaOf } from "./json-schema.ts";
import { sampleFields } from "./text-sample.ts";

type Json = { readonly [key: string]: unknown };

const schema = jsonSchemaOf(sampleFields, "A chip text");

/** Every schema inside a schema, with its own path. JSON Schema draft 2020-12, core and validation vocabularies (from memory). */
function visit(node: Json, path: string, each: (node: Json, path: string) => void): void {
  each(node, path);
  for (const [name, child] of Object.entries((node.properties ?? {}) as Record<string, Json>))
    visit(child, `${path}/${name}`, each);
  for (const key of ["anyOf", "oneOf"])
    for (const [i, child] of ((node[key] ?? []) as readonly Json[]).entries()) visit(child, `${path}/${key}${i}`, each);
  for (const key of ["items", "additionalProperties"])
    if (typeof node[key] === "object") visit(node[key] as Json, `${path}/${key}`, each);
}

describe("JSON Schema of a text", () => {
  it("names its draft and uses keywords of that draft alone", () => {
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
    const known = new Set(
      "$schema title description type properties required additionalProperties propertyNames items anyOf oneOf enum examples minimum maximum".split(
        " ",
      ),
    );
    visit(schema, "", (node, path) => {
      for (const key of Object.keys(node)) expect(known.has(key), `${path}: ${key}`).toBe(true);
    });
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
  });

  it("describes every field in a sentence and allows no others", () => {
    let fields = 0;
    visit(schema, "", (node, path) => {
      if (node.properties === undefined) return;
      expect(node.type).toBe("object");
      expect(node.additionalProperties, path).toBe(false);
      for (const [name, field] of Object.entries(node.properties as Record<string, Json>)) {
        fields++;
        expect(field.description, `${path}/${name}`).toMatch(/\S/);
      }
      for (const name of (node.required ?? []) as readonly string[])
        expect(Object.hasOwn(node.properties as object, name)).toBe(true);
    });
    expect(fields).toBeGreaterThan(20);
  });

  it("requires what the reader requires", () => {
    expect(schema.required).toEqual(["chip", "version", "process"]);
  });

  it("keeps the kinds of the shapes", () => {
    const { properties } = schema as { properties: Record<string, Json> };
    expect(properties.version).toMatchObject({ type: "integer", minimum: 1, maximum: 1, examples: [1] });
    expect(properties.mount).toMatchObject({ enum: ["chuck", "package"] });
    expect(properties.points).toMatchObject({ type: "array" });
    expect(
      (properties.devices as { additionalProperties: { oneOf: Json[] } }).additionalProperties.oneOf.map(
        (o) => (o.properties as { is: Json }).is.enum,
      ),
    ).toEqual([["bar"], ["plate"]]);
  });

  it("allows the names that the reader allows", () => {
    const { propertyNames } = (
      schema as { properties: { parameters: { propertyNames: { pattern: string; maxLength: number } } } }
    ).properties.parameters;
    const pattern = new RegExp(propertyNames.pattern, "u");
    for (const name of ["leg width", "Länge", "far-plate", "a_2"]) expect(pattern.test(name)).toBe(true);
    for (const name of ["2 width", "_a", "a.b", ""]) expect(pattern.test(name)).toBe(false);
    expect(propertyNames.maxLength).toBe(60);
  });
});
