/**
 * Ordinary arithmetic between quantities: reading and evaluating. Nothing is ever run as code.
 *
 *   sum     = product { ("+" | "-") product }
 *   product = power { ("*" | "/") power }
 *   power   = ["-" | "+"] atom [ "^" power ]
 *   atom    = number [unit] | name | function "(" sum { "," sum } ")" | "(" sum ")"
 *
 * Names may hold blanks and hyphens: a "-" without a blank before it belongs to the name. A unit follows its number.
 */

import {
  type Amount,
  addAmounts,
  describeAmount,
  divideAmounts,
  mapAmount,
  multiplyAmounts,
  negateAmount,
  pureNumber,
  raiseAmount,
  subtractAmounts,
} from "./amount.ts";
import { ArithmeticError } from "./arithmetic-error.ts";
import { type Dimension, dimensionless, dimensionNamed, raiseDimension, sameDimension } from "./dimension.ts";
import { DimensionError } from "./errors.ts";
import { ExpressionError } from "./expression-error.ts";
import { type Token, tokenize } from "./expression-tokens.ts";
import { nearestName } from "./nearest.ts";
import { unknownUnitClause } from "./unit.ts";

export type Expression =
  | {
      readonly kind: "number";
      readonly amount: Amount /** Unit as written; empty where there is none. */;
      readonly unit: string;
      readonly at: number;
    }
  | { readonly kind: "name"; readonly name: string; readonly at: number }
  | { readonly kind: "negate"; readonly of: Expression; readonly at: number }
  | {
      readonly kind: "binary";
      readonly sign: BinarySign;
      readonly left: Expression;
      readonly right: Expression;
      readonly at: number;
    }
  | { readonly kind: "call"; readonly name: FunctionName; readonly given: readonly Expression[]; readonly at: number };

type BinarySign = "+" | "-" | "*" | "/" | "^";

const angle = dimensionNamed("angle");

/** A function of one pure number or angle: value and derivative, and what it takes and gives. */
interface ScalarFunction {
  readonly takes: Dimension | "any";
  readonly gives: Dimension | "same" | "root";
  readonly of: (x: number) => number;
  readonly slope: (x: number) => number;
  readonly domain?: { readonly holds: (x: number) => boolean; readonly text: string };
}

const scalarFunctions = {
  sin: { takes: angle, gives: dimensionless, of: Math.sin, slope: Math.cos },
  cos: { takes: angle, gives: dimensionless, of: Math.cos, slope: (x: number) => -Math.sin(x) },
  tan: { takes: angle, gives: dimensionless, of: Math.tan, slope: (x: number) => 1 / Math.cos(x) ** 2 },
  asin: {
    takes: dimensionless,
    gives: angle,
    of: Math.asin,
    slope: (x: number) => 1 / Math.sqrt(1 - x * x),
    domain: { holds: (x: number) => Math.abs(x) <= 1, text: "a number between -1 and 1" },
  },
  acos: {
    takes: dimensionless,
    gives: angle,
    of: Math.acos,
    slope: (x: number) => -1 / Math.sqrt(1 - x * x),
    domain: { holds: (x: number) => Math.abs(x) <= 1, text: "a number between -1 and 1" },
  },
  atan: { takes: dimensionless, gives: angle, of: Math.atan, slope: (x: number) => 1 / (1 + x * x) },
  exp: { takes: dimensionless, gives: dimensionless, of: Math.exp, slope: Math.exp },
  ln: {
    takes: dimensionless,
    gives: dimensionless,
    of: Math.log,
    slope: (x: number) => 1 / x,
    domain: { holds: (x: number) => x > 0, text: "a number above zero" },
  },
  log10: {
    takes: dimensionless,
    gives: dimensionless,
    of: Math.log10,
    slope: (x: number) => 1 / (x * Math.LN10),
    domain: { holds: (x: number) => x > 0, text: "a number above zero" },
  },
  sqrt: {
    takes: "any",
    gives: "root",
    of: Math.sqrt,
    slope: (x: number) => 0.5 / Math.sqrt(x),
    domain: { holds: (x: number) => x >= 0, text: "nothing below zero" },
  },
  abs: { takes: "any", gives: "same", of: Math.abs, slope: (x: number) => Math.sign(x) },
} as const satisfies Record<string, ScalarFunction>;

type ScalarName = keyof typeof scalarFunctions;
type FunctionName = ScalarName | "min" | "max";

/** Names of the functions that arithmetic knows. */
export const functionNames: readonly string[] = [...Object.keys(scalarFunctions), "min", "max"];

/** Deepest nesting; a bracket counts twice, a sign or power once. */
const deepest = 60;
const tooDeep = "brackets and signs nest too deeply: split the sum with named parameters";

class ExpressionReader {
  private index = 0;
  private depth = 0;

  constructor(
    private readonly tokens: readonly Token[],
    private readonly end: number,
  ) {}

  readAll(): Expression {
    if (this.tokens.length === 0) throw new ExpressionError("nothing stands here; a value is wanted", this.end);
    const expression = this.readSum();
    const rest = this.tokens[this.index];
    if (rest !== undefined) {
      throw new ExpressionError(
        rest.kind === "sign" ? `"${rest.text}" is not expected here` : this.missingOperator(rest.text),
        rest.at,
      );
    }
    return expression;
  }

  /** A word behind a bare number was meant as a unit. */
  private missingOperator(next: string): string {
    const before = this.tokens[this.index - 1];
    return before?.kind === "number" && before.unit === "" && this.tokens[this.index]?.kind === "name"
      ? unknownUnitClause(next)
      : `an operator (+ - * / ^) is missing before "${next}"`;
  }

  private takeSign(...signs: readonly string[]): Token | undefined {
    const token = this.tokens[this.index];
    if (token?.kind !== "sign" || !signs.includes(token.text)) return undefined;
    this.index++;
    return token;
  }

  private readSum(): Expression {
    if (++this.depth > deepest) throw new ExpressionError(tooDeep, this.tokens[this.index]?.at ?? this.end);
    let left = this.readProduct();
    for (let sign = this.takeSign("+", "-"); sign !== undefined; sign = this.takeSign("+", "-")) {
      left = { kind: "binary", sign: sign.text as BinarySign, left, right: this.readProduct(), at: sign.at };
    }
    this.depth--;
    return left;
  }

  private readProduct(): Expression {
    let left = this.readPower();
    for (let sign = this.takeSign("*", "/"); sign !== undefined; sign = this.takeSign("*", "/")) {
      left = { kind: "binary", sign: sign.text as BinarySign, left, right: this.readPower(), at: sign.at };
    }
    return left;
  }

  private readPower(): Expression {
    if (++this.depth > deepest) throw new ExpressionError(tooDeep, this.tokens[this.index]?.at ?? this.end);
    const minus = this.takeSign("-");
    if (minus !== undefined) {
      const of = this.readPower();
      this.depth--;
      return { kind: "negate", of, at: minus.at };
    }
    this.takeSign("+");
    let left = this.readAtom();
    const sign = this.takeSign("^");
    if (sign !== undefined) left = { kind: "binary", sign: "^", left, right: this.readPower(), at: sign.at };
    this.depth--;
    return left;
  }

  private readAtom(): Expression {
    const token = this.tokens[this.index];
    if (token === undefined) throw new ExpressionError("a value is missing at the end", this.end);
    this.index++;
    if (token.kind === "number") return { kind: "number", amount: token.amount, unit: token.unit, at: token.at };
    if (token.kind === "name") return this.readNameOrCall(token);
    if (token.text === "(") {
      const inner = this.readSum();
      if (this.takeSign(")") === undefined) throw new ExpressionError("a bracket is not closed", token.at);
      return inner;
    }
    throw new ExpressionError(`a value is wanted before "${token.text}"`, token.at);
  }

  private readNameOrCall(token: Token): Expression {
    if (this.takeSign("(") === undefined) return { kind: "name", name: token.text, at: token.at };
    if (!functionNames.includes(token.text)) {
      const nearest = nearestName(token.text, functionNames);
      const hint = nearest === undefined ? `known are ${functionNames.join(", ")}` : `the nearest is "${nearest}"`;
      throw new ExpressionError(`"${token.text}" is not a function known here; ${hint}`, token.at);
    }
    const given = [this.readSum()];
    while (this.takeSign(",") !== undefined) given.push(this.readSum());
    if (this.takeSign(")") === undefined) throw new ExpressionError(`the bracket of ${token.text} is not closed`, token.at);
    const name = token.text as FunctionName;
    if (name !== "min" && name !== "max" && given.length !== 1) {
      throw new ExpressionError(`${name} takes one value, ${given.length} were given`, token.at);
    }
    return { kind: "call", name, given, at: token.at };
  }
}

/** Reads arithmetic. Throws ExpressionError with a clause and the offset in `text`. */
export function parseExpression(text: string): Expression {
  if (text.trim().length > 400)
    throw new ExpressionError("this sum is longer than 400 characters: split it with named parameters", 0);
  return new ExpressionReader(tokenize(text), text.length).readAll();
}

/** Every name that an expression refers to, in order, each once. `pi` is built in and not listed. */
export function namesIn(expression: Expression): readonly string[] {
  const found = new Set<string>();
  const visit = (node: Expression): void => {
    if (node.kind === "name" && node.name !== "pi") found.add(node.name);
    else if (node.kind === "negate") visit(node.of);
    else if (node.kind === "call") node.given.forEach(visit);
    else if (node.kind === "binary") {
      visit(node.left);
      visit(node.right);
    }
  };
  visit(expression);
  return [...found];
}

/** Evaluates arithmetic; `lookUp` gives the amount of a name or throws. Throws ExpressionError for what cannot be combined. */
export function evaluateExpression(expression: Expression, lookUp: (name: string, at: number) => Amount): Amount {
  try {
    const amount = evaluateNode(expression, lookUp);
    if (!Number.isFinite(amount.value)) throw new ArithmeticError("the result is too large for a number");
    for (const shift of amount.sensitivities.values()) {
      if (!Number.isFinite(shift))
        throw new ArithmeticError("the doubt of the result has no bound here, because the slope has none");
    }
    return amount;
  } catch (error) {
    if (error instanceof DimensionError || error instanceof ArithmeticError)
      throw new ExpressionError(error.message, expression.at);
    throw error;
  }
}

function evaluateNode(node: Expression, lookUp: (name: string, at: number) => Amount): Amount {
  switch (node.kind) {
    case "number":
      return node.amount;
    case "name":
      return node.name === "pi" ? pureNumber(Math.PI) : lookUp(node.name, node.at);
    case "negate":
      return negateAmount(evaluateExpression(node.of, lookUp));
    case "call":
      return evaluateCall(
        node.name,
        node.given.map((given) => evaluateExpression(given, lookUp)),
      );
    case "binary":
      return evaluateBinary(node.sign, evaluateExpression(node.left, lookUp), evaluateExpression(node.right, lookUp));
  }
}

function evaluateBinary(sign: BinarySign, left: Amount, right: Amount): Amount {
  switch (sign) {
    case "+":
      return addAmounts(left, right);
    case "-":
      return subtractAmounts(left, right);
    case "*":
      return multiplyAmounts(left, right);
    case "/":
      return divideAmounts(left, right);
    case "^":
      return raiseAmount(left, right);
  }
}

function evaluateCall(name: FunctionName, given: readonly Amount[]): Amount {
  const first = given[0];
  if (first === undefined) throw new DimensionError(`${name} needs a value`);
  if (name === "min" || name === "max") {
    return given.reduce((best, next) => {
      if (!sameDimension(best.dimension, next.dimension)) {
        throw new DimensionError(`${name} cannot compare ${describeAmount(best)} and ${describeAmount(next)}`);
      }
      if ((best.kind === "temperature" && next.kind === "rise") || (best.kind === "rise" && next.kind === "temperature")) {
        throw new DimensionError(`${name} cannot compare ${describeAmount(best)} and ${describeAmount(next)}`);
      }
      return (name === "min" ? next.value < best.value : next.value > best.value) ? next : best;
    });
  }
  const rule: ScalarFunction = scalarFunctions[name];
  // an angle may also be given as a pure number, in radians
  const fits =
    rule.takes === "any" ||
    sameDimension(first.dimension, rule.takes) ||
    (rule.takes === angle && sameDimension(first.dimension, dimensionless));
  if (!fits)
    throw new DimensionError(
      `${name} takes ${rule.takes === angle ? "an angle" : "a pure number"}, not ${describeAmount(first)}`,
    );
  if (rule.domain !== undefined && !rule.domain.holds(first.value)) {
    throw new ArithmeticError(`${name} takes ${rule.domain.text}, not ${first.value}`);
  }
  const dimension =
    rule.gives === "same" ? first.dimension : rule.gives === "root" ? raiseDimension(first.dimension, 0.5) : rule.gives;
  return mapAmount(first, { value: rule.of(first.value), derivative: rule.slope(first.value), dimension });
}
