/**
 * Laws that a user writes: constants, formulas of T and tables, made into laws like the built-in ones.
 * A formula is evaluated as written; its slope comes from a central difference of the formula itself (relative error about 1e-9).
 */
import {
  dimensionNamed,
  type ExpansionLaw,
  type Expression,
  evaluateExpression,
  type Law,
  type LawText,
  parseExpression,
  parseUnit,
  pureNumber,
  siUnitText,
} from "#base";
import { constantLaw, expansionFromLaw, tableLaw } from "#materials";
import { EvaluationError, type Scope } from "./scope.ts";

/** Value of a formula at temperature T [K] as a bare number. */
function compileFormula(expression: Expression): (T: number) => number {
  switch (expression.kind) {
    case "number": {
      const { value } = expression.amount;
      return () => value;
    }
    case "name":
      return expression.name === "T" ? (T) => T : () => Math.PI;
    case "negate": {
      const of = compileFormula(expression.of);
      return (T) => -of(T);
    }
    case "call":
      return (T) => evaluateExpression(expression, () => pureNumber(T)).value;
    case "binary": {
      const left = compileFormula(expression.left);
      const right = compileFormula(expression.right);
      switch (expression.sign) {
        case "+":
          return (T) => left(T) + right(T);
        case "-":
          return (T) => left(T) - right(T);
        case "*":
          return (T) => left(T) * right(T);
        case "/":
          return (T) => left(T) / right(T);
        case "^":
          return (T) => left(T) ** right(T);
      }
    }
  }
}

/** A law from the text. */
export function lawFromText(law: LawText, scope: Scope): Law {
  const { given, shape } = law;
  const unit = siUnitText(dimensionNamed(shape.dimension));
  switch (given.kind) {
    case "constant": {
      const value = scope.valueOf(given.quantity);
      return constantLaw(value, {
        unit,
        range: { from: 0, to: 5000 },
        relativeSpread: 0,
        source: { key: given.quantity.phrase.source ?? "chip text", consulted: "given by the user" },
      });
    }
    case "formula": {
      const formula = compileFormula(parseExpression(given.formula));
      const { factor } = parseUnit(given.unit);
      const at = (T: number): number => factor * formula(T);
      return {
        at,
        slopeAt: (T) => (at(T + 1e-3) - at(T - 1e-3)) / 2e-3,
        unit,
        range: given.range,
        relativeSpread: given.spread ?? 0,
        source: { key: given.source, consulted: "given by the user" },
      };
    }
    case "table": {
      const temperatures = given.temperatures.map((T) => scope.valueOf(T));
      const fall = temperatures.findIndex((T, i) => i > 0 && !(T > temperatures[i - 1]!));
      if (fall > 0) {
        throw new EvaluationError(
          `Cannot read ${law.path.join(".")}: its temperatures must rise, but ${temperatures[fall]} K stands behind ${temperatures[fall - 1]} K. Write the rows in rising order.`,
          given.temperatures[fall]!.place,
        );
      }
      return tableLaw(
        temperatures,
        given.values.map((value) => scope.valueOf(value)),
        {
          unit,
          interpolation: given.interpolation,
          relativeSpread: given.spread ?? 0,
          source: { key: given.source, consulted: "given by the user" },
        },
      );
    }
  }
}

/** The same for expansion, whose integral is needed as well. */
export function expansionFromText(law: LawText, scope: Scope): ExpansionLaw {
  return expansionFromLaw(lawFromText(law, scope));
}
