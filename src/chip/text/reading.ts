/**
 * What every part of the reader shares: the reading in progress, the way it notes a problem, and the written text of a scalar.
 */

import { isScalar, type Node, type Scalar } from "yaml";
import type { QuantityText, TextProblem } from "#base";
import type { ParsedText } from "./parse.ts";

/** A reading in progress: where the text is and what was found wrong so far. */
export interface Reading {
  readonly parsed: ParsedText;
  readonly problems: TextProblem[];
  /** Every quantity read, in the order of the text. */
  readonly quantities: QuantityText[];
}

export function pathText(path: readonly string[]): string {
  return path.join(".");
}

/** Notes a problem at a node (and, inside its text, at an offset). Always answers undefined. */
export function complain(reading: Reading, node: Node | null | undefined, message: string, offset = 0): undefined {
  const start = node?.range?.[0] ?? 0;
  // a quoted text begins one character after its quote
  const quoted = isScalar(node) && (node.type === "QUOTE_DOUBLE" || node.type === "QUOTE_SINGLE") ? 1 : 0;
  reading.problems.push({ place: reading.parsed.placeAt(start + quoted + offset), message });
  return undefined;
}

/** The text of a scalar as it was written, without quotes. */
export function writtenText(scalar: Scalar): string {
  return typeof scalar.value === "string" ? scalar.value : (scalar.source ?? String(scalar.value));
}
