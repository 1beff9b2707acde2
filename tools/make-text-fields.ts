/**
 * Makes docs/how-to/fields-of-a-chip-text.md: every field of every section, family and part word, from the shapes that the reader uses.
 * `--check` proves that the file is fresh.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describeDimension, dimensionNamed, type Field, type Fields, law, type QuantityShape, type Shape } from "#base";
import { chipFields } from "../src/chip/description.ts";
import { metrics, signWords } from "../src/chip/metrics/vocabulary.table.ts";
import { formulaFields, tableFields } from "../src/chip/text/law-text.ts";
import { partWords } from "../src/devices/composition/words.ts";
import { families } from "../src/devices/families/index.ts";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const target = join(root, "docs/how-to/fields-of-a-chip-text.md");

const code = (text: string): string => `\`${text}\``;
const cell = (text: string): string => text.replaceAll("|", "\\|");

function kindOf(shape: QuantityShape): string {
  if (shape.dimension === "temperature") return shape.as === "rise" ? "a temperature rise" : "a temperature";
  return describeDimension(dimensionNamed(shape.dimension));
}

/** What may stand there, in a cell of a table. */
function wanted(shape: Shape): string {
  switch (shape.kind) {
    case "quantity":
      return `${kindOf(shape)}, ${code(shape.example)}`;
    case "text":
      return `words, ${code(shape.example)}`;
    case "whole":
      return `a whole number, ${shape.least} to ${shape.most}`;
    case "choice":
      return shape.words.map(code).join(" or ");
    case "law":
      return `${describeDimension(dimensionNamed(shape.dimension))} or a law, ${code(shape.example)}`;
    case "list":
      return inner(shape.each) === undefined ? `a list, each ${wanted(shape.each)}` : "a list, each entry as below";
    case "map":
      return `names, ${code(shape.example)}`;
    case "either":
      return `${shape.words.map(code).join(" or ")}, or a block`;
    case "record":
      return "a block";
    case "tagged":
      return `a block with ${code(shape.tag)}`;
  }
}

/** Fields of the block within a shape. */
function inner(shape: Shape): Fields | undefined {
  if (shape.kind === "record" || shape.kind === "either") return shape.fields;
  return shape.kind === "list" || shape.kind === "map" ? inner(shape.each) : undefined;
}

function tableOf(fields: Fields): string {
  const rows = Object.entries(fields).map(([name, field]: [string, Field]) => {
    const needed = field.optional === true ? "" : " *";
    return `| ${code(name)}${needed} | ${cell(wanted(field.shape))} | ${cell(field.about)} |`;
  });
  return ["| field | what stands there | what it is |", "|---|---|---|", ...rows].join("\n");
}

/** Where a block was described first, by its table. */
const described = new Map<string, string>();

/** The tables of the blocks within a block; those that were told before are referred to. */
function blocksWithin(title: string, fields: Fields): string[] {
  const references: string[] = [];
  const tables: string[] = [];
  for (const [name, field] of Object.entries(fields) as [string, Field][]) {
    const block = inner(field.shape);
    if (block === undefined) continue;
    const table = tableOf(block);
    const full = `${title}, ${name}`;
    const before = described.get(table);
    if (before !== undefined) {
      references.push(`${code(name)} as in ${before}`);
      continue;
    }
    described.set(table, full);
    tables.push(`**${full}**`, table, ...blocksWithin(full, block));
  }
  return [...(references.length === 0 ? [] : [`${references.join("; ")}.`]), ...tables];
}

function blocksOf(title: string, fields: Fields): string[] {
  return [tableOf(fields), ...blocksWithin(title, fields)];
}

function sectionPart(): string[] {
  const sections: Fields = chipFields;
  return Object.entries(sections).flatMap(([name, field]) => {
    const block = inner(field.shape);
    return block === undefined ? [] : [`### ${name}`, field.about, ...blocksOf(name, block)];
  });
}

interface Word {
  readonly name: string;
  readonly about: string;
  readonly fields: Fields;
  readonly placed?: boolean;
}

/** True where a part takes nothing that the family of its name does not take. */
function isFamily({ name, fields }: Word): boolean {
  const family = families.find((candidate) => candidate.name === name);
  return family !== undefined && Object.entries(fields).every(([field, { shape }]) => family.fields[field]?.shape === shape);
}

function familyPart(): string[] {
  return families.flatMap(({ name, about, fields }) => [`### ${name}`, about, ...blocksOf(name, fields)]);
}

function partPart(words: readonly Word[]): string[] {
  return words.flatMap((word) => {
    const placed =
      word.placed === true ? " Also `at` (the point where its own origin lies) and `turned` (an angle about it)." : "";
    // the heading of a family is there already
    const heading = families.some(({ name }) => name === word.name) ? `### ${word.name} as a part` : `### ${word.name}`;
    const own = Object.keys(word.fields).map(code).join(", ");
    return isFamily(word)
      ? [heading, `As the family of that name: ${own}.${placed}`]
      : [heading, `${word.about}${placed}`, ...blocksOf(word.name, word.fields)];
  });
}

function metricTable(): string {
  const rows = metrics.map((metric) => {
    const { word, dimension, about, stands, where, needs } = metric;
    const asked = [
      ...(stands === "case" ? ["`at`"] : []),
      ...(where === undefined ? [] : [`\`where\`: a ${where}`]),
      ...(needs === undefined ? [] : [`\`for\`: ${needs.about}`]),
    ];
    const kind = describeDimension(dimensionNamed(dimension)).replace(/^an? /, "");
    const sign = signWords(metric);
    return `| ${code(word)} | ${kind}${sign === undefined ? "" : `, ${sign}`} | ${asked.join(", ")} | ${cell(about)} |`;
  });
  return ["| metric | kind | asked with | what it is |", "|---|---|---|---|", ...rows].join("\n");
}

function make(): string {
  const sections: Fields = chipFields;
  const parts = [
    "# Fields of a chip text",
    "Made from the shapes that the reader uses, by `tools/make-text-fields.ts`: do not edit. [How to write a chip text](write-a-chip-text.md) explains; this page lists. A star marks a field that must be there. The example stands behind what is wanted.",
    "## The text",
    tableOf(sections),
    "## Sections",
    ...sectionPart(),
    "## Laws",
    "Where a law may stand: a constant, or one of these blocks.",
    "**A formula**",
    tableOf(formulaFields),
    "**A table**",
    tableOf(tableFields(law("thermal conductivity", "120 W/(m K)"))),
    "## Families",
    `What may stand behind \`is\` under devices: ${families.map(({ name }) => code(name)).join(", ")}.`,
    ...familyPart(),
    "## Parts of a composition",
    `What may stand behind \`is\` under the parts of a composition: ${partWords.map(({ name }) => code(name)).join(", ")}. [How to compose a device](compose-a-device.md) goes through an example.`,
    ...partPart(partWords),
    "## Metrics",
    "What a requirement may be `of`, and a sweep `--of`.",
    metricTable(),
  ];
  return `${parts.join("\n\n")}\n`;
}

const made = make();
if (process.argv.includes("--check")) {
  if (readFileSync(target, "utf8") !== made) {
    console.error("docs/how-to/fields-of-a-chip-text.md is not fresh: run node --import tsx tools/make-text-fields.ts");
    process.exitCode = 1;
  }
} else {
  writeFileSync(target, made);
}
