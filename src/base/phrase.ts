/**
 * A quantity as one phrase: evidence, value, doubt, source. Parts may be left out.
 *
 *   6 um
 *   6 um ± 0.3 um per wafer
 *   measured 4.8 um ± 0.1 um, microscope, die K11, 2026-11-20
 *   assumed 0.5 um ± 0.15 um, default of this etch
 *   6.45 ± 0.22 um                   (a bare value takes the unit of its spread, except per cent)
 *   0.010 to 0.020 ohm cm            (anything between is equally likely)
 *   10 um within 1 um                (a hard interval, equally likely inside)
 *   slit pitch / 2 - 2 um
 *
 * "±", "+-" and "+/-" give one standard deviation, as a quantity of the same kind or in per cent of the value.
 */

import type { Amount } from "./amount.ts";
import { type Expression, evaluateExpression, namesIn, parseExpression } from "./expression.ts";
import { ExpressionError } from "./expression-error.ts";
import { parseUnit, UnitError } from "./unit.ts";

export type EvidenceKind = "assumed" | "drawn" | "predicted" | "measured";
export type Scope = "per wafer" | "per die" | "per feature";

/** How far a value may be off. With kind "up to", `amount` is the upper end of an interval. */
export interface PhraseSpread {
  readonly kind: "standard deviation" | "half width" | "up to";
  readonly amount: Expression;
  /** True where `amount` is a share of the value: "± 3 %", unless the value is itself in per cent. */
  readonly relative: boolean;
}

export interface Phrase {
  readonly evidence?: EvidenceKind;
  /** The value; with a spread of kind "up to" it is the lower end. */
  readonly value: Expression;
  readonly spread?: PhraseSpread;
  readonly scope?: Scope;
  /** Doubt shared in full with every phrase that names the same cause. */
  readonly sharedCause?: string;
  /** ISO date of the evidence. */
  readonly date?: string;
  /** Where the value comes from, in the writer's words. */
  readonly source?: string;
}

const evidenceKinds: readonly EvidenceKind[] = ["assumed", "drawn", "predicted", "measured"];
const scopes: readonly Scope[] = ["per wafer", "per die", "per feature"];

/** Offsets at which `text` is cut by commas outside brackets. */
function splitAtCommas(text: string): readonly { text: string; at: number }[] {
  const parts: { text: string; at: number }[] = [];
  let depth = 0;
  let from = 0;
  for (let i = 0; i <= text.length; i++) {
    const c = text[i];
    if (c === "(") depth++;
    else if (c === ")") depth--;
    // a comma between digits is a decimal comma, which the number reader explains
    const decimal = c === "," && /\d/.test(text[i - 1] ?? "") && /\d/.test(text[i + 1] ?? "");
    if (i === text.length || (c === "," && depth <= 0 && !decimal)) {
      parts.push({ text: text.slice(from, i), at: from });
      from = i + 1;
    }
  }
  return parts;
}

/** Blanks stand in for what comes before, so that every offset in the expression points into the whole phrase. */
function parseAt(text: string, at: number): Expression {
  return parseExpression(" ".repeat(at) + text);
}

function checkDate(text: string, at: number): string {
  const [year, month, day] = text.split("-").map(Number) as [number, number, number];
  const longest = [
    31,
    year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28,
    31,
    30,
    31,
    30,
    31,
    31,
    30,
    31,
    30,
    31,
  ];
  const last = longest[month - 1];
  if (last === undefined || day < 1 || day > last)
    throw new ExpressionError(`${text} is not a day of the calendar (year-month-day)`, at);
  return [year, month, day].map((part, i) => String(part).padStart(i === 0 ? 4 : 2, "0")).join("-");
}

interface Remarks {
  date?: string;
  sharedCause?: string;
  source?: string;
}

function readRemarks(parts: readonly { text: string; at: number }[]): Remarks {
  const remarks: Remarks = {};
  const words: string[] = [];
  for (const part of parts) {
    const text = part.text.trim();
    const at = part.at + part.text.indexOf(text);
    if (text === "") throw new ExpressionError("nothing stands behind a comma", part.at);
    const shared = /^shared with(?:\s+(.*))?$/.exec(text);
    if (/^\d{4}-\d{1,2}-\d{1,2}$/.test(text)) {
      if (remarks.date !== undefined) throw new ExpressionError(`two dates are given, ${remarks.date} and ${text}`, at);
      remarks.date = checkDate(text, at);
    } else if (shared !== null) {
      if (shared[1] === undefined) throw new ExpressionError('"shared with" lacks the name of a cause', at);
      if (remarks.sharedCause !== undefined) throw new ExpressionError("two shared causes are given", at);
      remarks.sharedCause = shared[1];
    } else if (/^(?:±|\+-|\+\/-|within\s)/.test(text)) {
      throw new ExpressionError("a doubt stands before the first comma, as in 0.5 um ± 0.15 um, source", at);
    } else words.push(text);
  }
  if (words.length > 0) remarks.source = words.join(", ");
  return remarks;
}

/** The value before a spread. A bare number takes the unit behind the spread; but "1 ± 8 %" is 8 % of one. */
function valueBefore(body: string, cut: RegExpExecArray): string {
  const lower = body.slice(0, cut.index);
  if (!/^\s*[-+\u2212]?[\d.]+(?:[eE][-+]?\d+)?\s*$/.test(lower)) return lower;
  const unit = /^\s*[-+\u2212]?[\d.]+(?:[eE][-+]?\d+)?\s*(.*?)\s*$/.exec(body.slice(cut.index + cut[0].length))?.[1] ?? "";
  return isUnit(unit) && (unit !== "%" || cut[0].trim() === "to") ? `${lower.trimEnd()} ${unit}` : lower;
}

function isUnit(text: string): boolean {
  try {
    parseUnit(text);
    return true;
  } catch (error) {
    if (error instanceof UnitError) return false;
    throw error;
  }
}

function isPerCent(expression: Expression): boolean {
  return expression.kind === "number" && expression.unit === "%";
}

const spreadPattern = /\s*(±|\+\/-|\+-)\s*|\s+within\s+|\s+to\s+/;

/** Reads a phrase. Throws ExpressionError with a clause and the offset in `text`. */
export function parsePhrase(text: string): Phrase {
  const [head, ...rest] = splitAtCommas(text);
  let body = head!.text;
  let at = 0;
  const evidence = evidenceKinds.find((kind) => body.trimStart() === kind || body.trimStart().startsWith(`${kind} `));
  if (evidence !== undefined) {
    at = body.indexOf(evidence) + evidence.length;
    body = body.slice(at);
  }
  const remarks = readRemarks(rest);
  const trimmed = body.trimEnd();
  const scope = scopes.find((word) => trimmed.endsWith(` ${word}`));
  if (scope !== undefined) body = trimmed.slice(0, -scope.length);
  const cut = spreadPattern.exec(body);
  const value = parseAt(cut === null ? body : valueBefore(body, cut), at);
  const common = { ...(evidence && { evidence }), value, ...(scope && { scope }), ...remarks };
  if (cut === null) {
    if (scope !== undefined) throw new ExpressionError(`"${scope}" tells how a spread is shared, but no spread (±) is given`, at);
    return common;
  }
  const behind = cut.index + cut[0].length;
  const amount = parseAt(body.slice(behind), at + behind);
  const word = cut[0].trim();
  const kind = word === "within" ? "half width" : word === "to" ? "up to" : "standard deviation";
  const relative = kind !== "up to" && isPerCent(amount) && !isPerCent(value);
  return { ...common, spread: { kind, amount, relative } };
}

/** Amount of a text that holds numbers and units alone, such as "5 um". Throws ExpressionError for a name, or for what does not read. */
export function plainAmount(text: string): Amount {
  return evaluateExpression(parsePhrase(text).value, (name) => {
    throw new ExpressionError(`a plain value is wanted, not the name "${name}"`, 0);
  });
}

/** Whether `name` can stand in a sum and mean just that name: "gap to plate", "a - b" or "measured width" would be read otherwise. */
export function readsAsName(name: string): boolean {
  try {
    const phrase = parsePhrase(name);
    const inSum = parsePhrase(`1 * ${name} * 1`);
    const isLone = Object.keys(phrase).length === 1 && phrase.value.kind === "name" && phrase.value.name === name;
    return isLone && Object.keys(inSum).length === 1 && namesIn(inSum.value)[0] === name;
  } catch (error) {
    if (error instanceof ExpressionError) return false;
    throw error;
  }
}
