/** What every command of the terminal shares: where to write, how to stop, which code to end with. */
import type { InputError } from "#base";
import { type Chip, openChip } from "#chip";
import { readChipText } from "#node";
import { createStyle, type Style } from "./terminal/style.ts";

/** Exit codes: 0 fine, 1 findings, 2 bad input. */
export type ExitCode = 0 | 1 | 2;

export interface Context {
  readonly style: Style;
  print(line?: string): void;
  printError(line: string): void;
  /** Shows how far a long piece of work is. Ctrl-C ends the program at once: files are replaced whole, so nothing is half written. */
  progress(done: number, total: number, what: string): boolean;
  /** Removes the progress line. */
  clearProgress(): void;
  /** Code to end with, once the command is done. */
  exitCode: ExitCode;
}

export interface ContextOptions {
  readonly plain: boolean;
  readonly color: boolean;
}

/** Reads and opens the chip of a folder. Throws InputError. */
export async function openFolder(folder: string): Promise<Chip> {
  const read = await readChipText(folder);
  return openChip(read.text, { file: read.path });
}

export function createContext(options: ContextOptions): Context {
  const started = Date.now();
  let lastShown = 0;
  let visible = false;
  const clearProgress = (): void => {
    if (visible) process.stderr.write("\r\u001b[K");
    visible = false;
  };
  return {
    style: createStyle(options),
    print: (line = "") => void process.stdout.write(`${line}\n`),
    printError: (line) => void process.stderr.write(`${line}\n`),
    progress: (done, total, what) => {
      const now = Date.now();
      if (process.stderr.isTTY && now - started > 700 && now - lastShown > 100) {
        lastShown = now;
        visible = true;
        process.stderr.write(`\r\u001b[K  ${what}, ${done} of ${total}`);
      }
      return true;
    },
    clearProgress,
    exitCode: 0,
  };
}

/** Tells the problems of a text, one per line, each with its place. */
export function printProblems(context: Context, error: InputError): void {
  for (const { place, message } of error.problems) context.printError(`${place.file}:${place.line}:${place.column}: ${message}`);
}
