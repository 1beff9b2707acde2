/**
 * What is checked before a text is parsed at all, so that hostile or damaged files end in a sentence, never in a crash or a long wait.
 */
import type { TextProblem } from "#base";

/** Longest text that is read, in characters. Bulk data belong in CSV files beside the text. */
export const longestText = 1_000_000;

const deepestBrackets = 40;
const deepestIndent = 120;

const at = (file: string, line: number, column = 1): TextProblem["place"] => ({ file, line, column });

/** The first reason why a text cannot be taken, or undefined. */
export function findUnreadable(text: string, file: string): TextProblem | undefined {
  if (text.length > longestText) {
    return {
      place: at(file, 1),
      message: `This text is ${(text.length / 1e6).toFixed(1)} million characters long; at most 1 million are read. Keep tables and readings in CSV files and name them here.`,
    };
  }
  if (text.trim() === "")
    return { place: at(file, 1), message: 'This text is empty. Begin with a line such as "chip: Leafgate".' };
  const lines = text.split(/\r\n|\n|\r/);
  let depth = 0;
  for (const [index, line] of lines.entries()) {
    if (/^(<{7}|={7}|>{7}|\|{7})(\s|$)/.test(line)) {
      return {
        place: at(file, index + 1),
        message: `Two versions of this text were merged and not reconciled: "${line.slice(0, 20)}" is a merge mark. Keep the lines you want and delete the marks.`,
      };
    }
    if (/^%[A-Z]/.test(line)) {
      return {
        place: at(file, index + 1),
        message: "A directive (%) stands here. Directives are not used in a chip text; delete the line.",
      };
    }
    const control = /(?!\t)[\p{Cc}\ufffe\uffff]/u.exec(line);
    if (control !== null) {
      const code = control[0].charCodeAt(0).toString(16).padStart(4, "0").toUpperCase();
      return {
        place: at(file, index + 1, control.index + 1),
        message: `An invisible control character (U+${code}) stands here. Delete it; the file may be damaged or not be a text.`,
      };
    }
    const indent = /^ */.exec(line)![0].length;
    if (indent > deepestIndent) {
      return {
        place: at(file, index + 1, indent + 1),
        message: `This line is indented by ${indent} blanks; at most ${deepestIndent} are read.`,
      };
    }
    for (let column = 0; column < line.length; column++) {
      const character = line[column];
      if (character === "#" && (column === 0 || line[column - 1] === " ")) break;
      if (character === "[" || character === "{") depth++;
      else if (character === "]" || character === "}") depth--;
      if (depth > deepestBrackets) {
        return {
          place: at(file, index + 1, column + 1),
          message: `Brackets nest deeper than ${deepestBrackets} here. No part of a chip text needs that.`,
        };
      }
    }
  }
  return undefined;
}
