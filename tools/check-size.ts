/** Checks that no file has grown beyond what a reader takes in: 500 lines, 900 for a test; tables and generated files may be long. */

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { listFiles, type Problem, runCheck } from "./problem.ts";

const longestSource = 500;
const longestTest = 900;

/** Files of `root` with too many lines. */
export function checkSize(root: string): Problem[] {
  return listFiles(root, ["src", "test", "tools", "bench", "examples"], /\.(?:ts|tsx|mjs)$/).flatMap((file) => {
    if (/\.(?:table|generated)\.ts$/.test(file)) return [];
    const limit = /\.(?:test|campaign)\.ts$/.test(file) ? longestTest : longestSource;
    const nLines = readFileSync(join(root, file), "utf8").split("\n").length - 1;
    return nLines <= limit
      ? []
      : [{ file, line: limit + 1, message: `Cannot let a file grow so long: wanted at most ${limit} lines, found ${nLines}.` }];
  });
}

runCheck(import.meta.url, checkSize);
