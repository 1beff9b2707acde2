/**
 * Cutting a line of arithmetic into numbers with their units, names and signs.
 * A number swallows the unit words that follow it; a name swallows blanks and hyphens.
 */
import { type Amount, exactAmount } from "./amount.ts";
import { dimensionless } from "./dimension.ts";
import { ExpressionError } from "./expression-error.ts";
import { combine, parseUnit, readUnitFactor, type Unit, UnitError, unknownUnitClause } from "./unit.ts";

export type Token =
  | { readonly kind: "number"; readonly amount: Amount; readonly unit: string; readonly text: string; readonly at: number }
  | { readonly kind: "name"; readonly text: string; readonly at: number }
  | { readonly kind: "sign"; readonly text: string; readonly at: number };

const numberPattern = /^(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?/;
const wordPattern = /^[\p{L}_][\p{L}\p{N}_-]*/u;
const signs = "+-*/^(),";

/** Cuts `text` into tokens. */
export function tokenize(text: string): readonly Token[] {
  const tokens: Token[] = [];
  let at = 0;
  while (at < text.length) {
    const rest = text.slice(at);
    const character = text[at]!;
    if (character === " " || character === "\t") {
      at++;
      continue;
    }
    const belowZero = isValueWanted(tokens.at(-1)) ? readBelowZero(text, at) : undefined;
    if (belowZero !== undefined) {
      tokens.push(belowZero);
      at += belowZero.text.length;
      continue;
    }
    const number = numberPattern.exec(rest);
    if (number !== null) {
      const token = readNumber(text, { at, digits: number[0] });
      tokens.push(token);
      at += token.text.length;
      continue;
    }
    const word = wordPattern.exec(rest);
    if (word !== null) {
      const name = readName(rest);
      tokens.push({ kind: "name", text: name.replace(/\s+/g, " "), at });
      at += name.length;
      continue;
    }
    const sign = character === "\u2212" ? "-" : character === "×" || character === "·" ? "*" : character;
    if (!signs.includes(sign)) throw new ExpressionError(`"${character}" has no meaning in a sum`, at);
    tokens.push({ kind: "sign", text: sign, at });
    at++;
  }
  return tokens;
}

/** Whether a value comes next, so that a minus belongs to it. */
function isValueWanted(before: Token | undefined): boolean {
  return before === undefined || (before.kind === "sign" && before.text !== ")");
}

/** A temperature below zero, "-40 °C", is one value: minus 40 °C would be no temperature at all. */
function readBelowZero(text: string, at: number): Token | undefined {
  const digits = /^[-\u2212]/.test(text.slice(at)) ? numberPattern.exec(text.slice(at + 1))?.[0] : undefined;
  if (digits === undefined) return undefined;
  const above = readNumber(text, { at: at + 1, digits });
  return above.amount.kind === "temperature" ? readNumber(text, { at, digits: `-${digits}` }) : undefined;
}

/** The longest run of words at the start of `rest`: a name may hold blanks. */
function readName(rest: string): string {
  let end = wordPattern.exec(rest)![0].length;
  for (;;) {
    const gap = /^[ \t]+/.exec(rest.slice(end));
    if (gap === null) return rest.slice(0, end);
    const after = end + gap[0].length;
    const word =
      wordPattern.exec(rest.slice(after)) ?? /^\d+(?![\d.]*\s*[A-Za-zµμ%°Ω])(?=\s|$|[-+*/^(),])/u.exec(rest.slice(after));
    if (word === null) return rest.slice(0, end);
    end = after + word[0].length;
  }
}

/** A number and the unit words behind it. */
function readNumber(text: string, start: { at: number; digits: string }): Token & { kind: "number" } {
  const { at, digits } = start;
  const value = Number(digits);
  if (!Number.isFinite(value)) throw new ExpressionError(`the number ${digits} is too large`, at);
  const after = text[at + digits.length];
  if (after === "," && /^\d/.test(text.slice(at + digits.length + 1))) {
    const whole = /^\d+,\d+/.exec(text.slice(at))?.[0] ?? digits;
    throw new ExpressionError(
      /,\d{3}$/.test(whole)
        ? `"${whole}" can be read in two ways: write ${whole.replace(",", ".")} with a decimal point, or ${whole.replace(",", "")} without a mark for thousands`
        : `"${whole}" can be read in two ways: write a decimal point, ${whole.replace(",", ".")}, and no mark for thousands`,
      at,
    );
  }
  if (after === "." || (after === "_" && /\d/.test(text[at + digits.length + 1] ?? ""))) {
    throw new ExpressionError(`"${digits}${after}" is not a number`, at);
  }
  const unit = readUnitBehind(text, at + digits.length);
  const length = (unit?.end ?? at + digits.length) - at;
  const kinded = unit === undefined ? exactAmount(value, dimensionless) : fromUnit(value, unit.unit);
  return {
    kind: "number",
    amount: kinded,
    unit: text.slice(at + digits.length, at + length).trim(),
    text: text.slice(at, at + length),
    at,
  };
}

function fromUnit(value: number, unit: Unit): Amount {
  // dividing by a whole power of ten keeps 10 um at 1e-5 exactly, where multiplying by 1e-6 does not
  const whole = Math.round(1 / unit.factor);
  const scaled = unit.factor < 1 && Math.abs(whole * unit.factor - 1) < 1e-12 ? value / whole : value * unit.factor;
  const amount = exactAmount(scaled + unit.offset, unit.dimension);
  return unit.offset === 0 ? amount : { ...amount, kind: "temperature" };
}

/**
 * The unit that follows a number at `start`, if any: words separated by single blanks ("ohm cm"), and "/" without blanks
 * followed by a word or a bracket ("W/(m K)", "/K", "1/K"). A "/" between blanks is left to the arithmetic.
 */
function readUnitBehind(text: string, start: number): { unit: Unit; end: number } | undefined {
  let end = start;
  let unit: Unit | undefined;
  let divided = false;
  for (;;) {
    const gap = /^ */.exec(text.slice(end))![0].length;
    const next = text[end + gap];
    if (unit !== undefined && gap === 0 && next === "/") {
      const below = readBelow(text, end + 1);
      if (below === undefined) break;
      unit = combine(unit, below.unit, -1);
      end = below.end;
      divided = true;
      continue;
    }
    const over = unit === undefined ? /^(?: +1)?\/(?! )/.exec(text.slice(end)) : null;
    if (over !== null) {
      const below = readBelow(text, end + over[0].length);
      if (below === undefined) return undefined;
      unit = {
        factor: 1 / below.unit.factor,
        dimension: below.unit.dimension.map((e) => -e) as unknown as Unit["dimension"],
        offset: 0,
      };
      end = below.end;
      divided = true;
      continue;
    }
    const factor =
      next === undefined || !/[A-Za-z\u00b5\u03bc\u03a9\u2126°%]/u.test(next) ? undefined : readUnitFactor(text.slice(end + gap));
    if (factor === undefined) break;
    if ("unknown" in factor) {
      if (unit === undefined && !/^(within|per|to|and|or)\b/.test(text.slice(end + gap)))
        throw new ExpressionError(unknownUnitClause(factor.unknown), end + gap);
      break;
    }
    if (/[\p{L}\p{N}_-]/u.test(text[end + gap + factor.length] ?? "") && unit !== undefined) break;
    if (divided) {
      throw new ExpressionError(
        `the unit "${text.slice(start, end + gap + factor.length).trim()}" can be read in two ways: put what stands under the bar in brackets, as in W/(m K)`,
        end + gap,
      );
    }
    unit = unit === undefined ? factor.unit : combine(unit, factor.unit, 1);
    end += gap + factor.length;
  }
  return unit === undefined ? undefined : { unit, end };
}

function readBelow(text: string, at: number): { unit: Unit; end: number } | undefined {
  if (text[at] === "(") {
    const close = text.indexOf(")", at);
    if (close < 0) return undefined;
    try {
      return { unit: parseUnit(text.slice(at + 1, close)), end: close + 1 };
    } catch (error) {
      if (error instanceof UnitError) return undefined;
      throw error;
    }
  }
  const factor = readUnitFactor(text.slice(at));
  if (factor === undefined || "unknown" in factor) return undefined;
  return { unit: factor.unit, end: at + factor.length };
}
