/**
 * A property law in the text: a constant phrase, a formula of the temperature, or a table.
 *
 *   conductivity: 120 W/(m K) ± 5 %
 *   conductivity:
 *     formula: 1 / (3.0e-4 + 1.56e-5 * T + 1.65e-8 * T^2)     # T in kelvin, as a pure number
 *     unit: W/(m K)
 *     range: 250 K to 1000 K
 *     source: fit of our own four-point data
 */

import type { Node } from "yaml";
import {
  choice,
  describeDimension,
  dimensionNamed,
  type Expression,
  ExpressionError,
  type Fields,
  type LawShape,
  type LawText,
  list,
  namesIn,
  parseExpression,
  parseUnit,
  quantity,
  type ReadRecord,
  sameDimension,
  text,
  UnitError,
} from "#base";
import { placeOf } from "./parse.ts";
import { complain, pathText, type Reading } from "./reading.ts";

const rangeShape = quantity("temperature", { as: "temperature", example: "250 K to 1000 K", evidence: "assumed" });
const spreadShape = quantity("number", { example: "5 %", evidence: "assumed", least: 0, most: 1 });

export const formulaFields = {
  formula: {
    shape: text("1 / (3.0e-4 + 1.56e-5 * T)"),
    about: "Ordinary arithmetic of T, the temperature in kelvin as a pure number.",
  },
  unit: { shape: text("W/(m K)"), about: "Unit of the value that the formula gives." },
  range: { shape: rangeShape, about: "Temperatures over which the formula holds." },
  source: { shape: text("our own four-point data"), about: "Where the formula comes from." },
  spread: { shape: spreadShape, about: "One standard deviation, relative.", optional: true },
} as const satisfies Fields;

export function tableFields(shape: LawShape) {
  return {
    temperatures: {
      shape: list(quantity("temperature", { as: "temperature", example: "300 K", evidence: "assumed", above: 0 })),
      about: "Temperatures, rising.",
    },
    values: {
      shape: list(quantity(shape.dimension, { example: shape.example, evidence: "assumed" })),
      about: "Values at those temperatures; linear in between.",
    },
    interpolation: {
      shape: choice("linear", "logarithmic"),
      about: "How values between the rows are found: on straight lines, or on straight lines of the logarithms.",
      optional: true,
    },
    source: { shape: text("handbook table"), about: "Where the table comes from." },
    spread: { shape: spreadShape, about: "One standard deviation, relative.", optional: true },
  } as const satisfies Fields;
}

interface At {
  readonly reading: Reading;
  readonly path: readonly string[];
  readonly node: Node;
}

/** A spread of "5 %" as a number; it is written plainly, so nothing needs evaluating. */
function plainNumber(given: { phrase: { value: { kind: string } } } | undefined): number | undefined {
  const value = given?.phrase.value as { kind: string; amount?: { value: number } } | undefined;
  return value?.kind === "number" ? value.amount?.value : undefined;
}

function refuseSpread(at: At): undefined {
  return complain(at.reading, at.node, `Cannot read the spread of ${pathText(at.path)}: write a single number, for example 5 %.`);
}

/** The first unit written in a formula: "3/T" would be one over a tesla. */
function firstUnit(expression: Expression): string | undefined {
  switch (expression.kind) {
    case "number":
      return expression.unit === "" ? undefined : expression.unit;
    case "name":
      return undefined;
    case "negate":
      return firstUnit(expression.of);
    case "call":
      return expression.given.map(firstUnit).find((unit) => unit !== undefined);
    case "binary":
      return firstUnit(expression.left) ?? firstUnit(expression.right);
  }
}

/** Checks a formula and its unit and range; undefined where something is wrong (the problem is then noted). */
export function checkFormula(shape: LawShape, fields: ReadRecord<typeof formulaFields>, at: At): LawText | undefined {
  const { node } = at;
  const where = pathText(at.path);
  try {
    const formula = parseExpression(fields.formula);
    const unit = firstUnit(formula);
    if (unit !== undefined) {
      return complain(
        at.reading,
        node,
        `Cannot read ${where}: "${unit}" is read as a unit in its formula, but T and all numbers in a law are pure numbers. Leave units out and write blanks round operators, for example 3 / T or 2 * T.`,
      );
    }
    const stranger = namesIn(formula).find((name) => name !== "T");
    if (stranger !== undefined)
      return complain(
        at.reading,
        node,
        `Cannot read ${where}: the formula names "${stranger}"; only T, the temperature in kelvin, is known in a law.`,
      );
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    return complain(at.reading, node, `Cannot read the formula of ${where}: ${error.message}.`);
  }
  try {
    const unit = parseUnit(fields.unit);
    if (!sameDimension(unit.dimension, dimensionNamed(shape.dimension))) {
      return complain(
        at.reading,
        node,
        `Cannot read ${where}: its unit "${fields.unit}" is ${describeDimension(unit.dimension)}; expected ${describeDimension(dimensionNamed(shape.dimension))}.`,
      );
    }
  } catch (error) {
    if (!(error instanceof UnitError)) throw error;
    return complain(at.reading, node, `Cannot read the unit of ${where}: ${error.message}.`);
  }
  const from = fields.range.phrase.value;
  const to = fields.range.phrase.spread;
  if (
    from.kind !== "number" ||
    to?.kind !== "up to" ||
    to.amount.kind !== "number" ||
    !(from.amount.value < to.amount.amount.value) ||
    !(from.amount.value > 0)
  ) {
    return complain(
      at.reading,
      node,
      `Cannot read the range of ${where}: write a lower and an upper temperature, for example 250 K to 1000 K.`,
    );
  }
  const spread = plainNumber(fields.spread);
  if (fields.spread !== undefined && spread === undefined) return refuseSpread(at);
  return {
    path: at.path,
    place: placeOf(at.reading.parsed, node),
    shape,
    given: {
      kind: "formula",
      formula: fields.formula,
      unit: fields.unit,
      range: { from: from.amount.value, to: to.amount.amount.value },
      source: fields.source,
      ...(spread !== undefined && { spread }),
    },
  };
}

/** Checks a table; undefined where something is wrong (the problem is then noted). */
export function checkTable(shape: LawShape, fields: ReadRecord<ReturnType<typeof tableFields>>, at: At): LawText | undefined {
  const { node } = at;
  const { temperatures, values } = fields;
  if (temperatures.length !== values.length || temperatures.length < 2) {
    return complain(
      at.reading,
      node,
      `Cannot read ${pathText(at.path)}: ${temperatures.length} temperatures and ${values.length} values were given; a table needs the same number of both, at least two.`,
    );
  }
  const spread = plainNumber(fields.spread);
  if (fields.spread !== undefined && spread === undefined) return refuseSpread(at);
  return {
    path: at.path,
    place: placeOf(at.reading.parsed, node),
    shape,
    given: {
      kind: "table",
      temperatures,
      values,
      interpolation: fields.interpolation ?? "linear",
      source: fields.source,
      ...(spread !== undefined && { spread }),
    },
  };
}
