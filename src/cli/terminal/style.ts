/** Weight and colour in the terminal. Colour only doubles what words and signs already say. */
import { styleText } from "node:util";

export interface Style {
  readonly plain: boolean;
  readonly color: boolean;
  bold(text: string): string;
  dim(text: string): string;
  fail(text: string): string;
  measured(text: string): string;
}

/** `plain` writes ASCII alone; `color` is for terminals that show it. */
export function createStyle(options: { readonly plain: boolean; readonly color: boolean }): Style {
  const paint = (format: Parameters<typeof styleText>[0]) => (text: string) =>
    options.color && !options.plain ? styleText(format, text) : text;
  return { ...options, bold: paint("bold"), dim: paint("dim"), fail: paint("red"), measured: paint("cyan") };
}

const ascii: readonly (readonly [RegExp, string])[] = [
  [/µ/g, "u"],
  [/Ω/g, "ohm"],
  [/±/g, "+-"],
  [/°/g, "deg "],
  [/²/g, "^2"],
  [/³/g, "^3"],
  [/−/g, "-"],
  [/→/g, "->"],
  [/ε/g, "eps"],
];

/** Text as it may be shown: plain style keeps to ASCII. */
export function shown(text: string, style: Style): string {
  if (!style.plain) return text;
  return ascii.reduce((result, [sign, word]) => result.replace(sign, word), text);
}

/** Width of a text on the screen, without its colour codes. */
export function widthOf(text: string): number {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: colour codes begin with the escape character
  return [...text.replace(/\u001b\[[0-9;]*m/g, "")].length;
}

export function padEnd(text: string, width: number): string {
  return text + " ".repeat(Math.max(0, width - widthOf(text)));
}

export function padStart(text: string, width: number): string {
  return " ".repeat(Math.max(0, width - widthOf(text))) + text;
}

/** Breaks a text at blanks into lines of at most `width`. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/)) {
    if (line !== "" && widthOf(line) + 1 + widthOf(word) > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  if (line !== "") lines.push(line);
  return lines;
}
