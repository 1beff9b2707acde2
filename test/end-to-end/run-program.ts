/** The program as a process of its own, from the built bundle. */
import { execFile } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const launcher = join(dirname(dirname(dirname(fileURLToPath(import.meta.url)))), "waferwright.mjs");

export interface Outcome {
  readonly code: number;
  readonly out: string;
  readonly error: string;
}

/** Runs the program with these words in a folder. */
export function runProgram(folder: string, words: readonly string[]): Promise<Outcome> {
  return new Promise((resolve) => {
    execFile(process.execPath, [launcher, ...words], { cwd: folder, maxBuffer: 64e6 }, (error, out, errorText) => {
      resolve({ code: error === null ? 0 : Number(error.code ?? 1), out, error: errorText });
    });
  });
}
