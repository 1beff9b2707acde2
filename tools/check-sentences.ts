/**
 * Checks the sentences of thrown errors: they start with a capital letter (or a value put in), do not shout, and do not call a
 * thing "invalid" instead of saying what was wanted and what was found. Errors of other classes carry parts of sentences,
 * which the reader of a text completes with the place.
 */

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { lineAt, listFiles, type Problem, runCheck } from "./problem.ts";

const errorPattern = /\bnew (?:Type|Range|Solve)?Error\(\s*(["'`])((?:\\.|(?!\1)[^\\])*)\1/g;

/** What is wrong with one sentence, or undefined. */
export function describeBadSentence(sentence: string): string | undefined {
  // A value that is put in is code: its own "!" and words do not count.
  const words = sentence.replace(/\$\{[^}]*\}/g, "Value");
  if (!/^\p{Lu}/u.test(words)) return "it starts with a capital letter";
  if (words.includes("!")) return "it has no exclamation mark";
  if (/\binvalid\b/i.test(words)) return 'it says what was wanted and what was found instead of "invalid"';
  return undefined;
}

/** Error sentences in src that break the rules. */
export function checkSentences(root: string): Problem[] {
  const problems: Problem[] = [];
  for (const file of listFiles(root, ["src"], /\.tsx?$/)) {
    if (/\.(?:test|campaign)\.ts$/.test(file)) continue;
    const text = readFileSync(join(root, file), "utf8");
    for (const match of text.matchAll(errorPattern)) {
      const rule = describeBadSentence(match[2] ?? "");
      if (rule === undefined) continue;
      problems.push({ file, line: lineAt(text, match.index), message: `Cannot use the error sentence "${match[2]}": ${rule}.` });
    }
  }
  return problems;
}

runCheck(import.meta.url, checkSentences);
