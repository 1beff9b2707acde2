/** What the checks of this folder have in common: where they look, and how they say what they found. */

import { readdirSync, realpathSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** One violation, told as a sentence with its place. */
export interface Problem {
  /** Path from the root of the repository, with forward slashes. */
  readonly file: string;
  /** Counted from 1. */
  readonly line: number;
  readonly message: string;
}

const notOurs = new Set(["node_modules", "dist", "coverage", ".git"]);

/** All files below `folders` of `root` whose name matches, as sorted paths from the root. A missing folder has none. */
export function listFiles(root: string, folders: readonly string[], namePattern: RegExp): string[] {
  const found: string[] = [];
  const visit = (folder: string): void => {
    let entries: { name: string; isDirectory(): boolean }[];
    try {
      entries = readdirSync(join(root, folder), { withFileTypes: true });
    } catch {
      return;
    }
    for (const entry of entries) {
      const path = folder === "." ? entry.name : `${folder}/${entry.name}`;
      if (entry.isDirectory() && !notOurs.has(entry.name)) visit(path);
      else if (!entry.isDirectory() && namePattern.test(entry.name)) found.push(path);
    }
  };
  for (const folder of folders) visit(folder);
  return found.sort();
}

/** Line number, from 1, of a place in a text. */
export function lineAt(text: string, offset: number): number {
  let line = 1;
  for (let at = text.indexOf("\n"); at !== -1 && at < offset; at = text.indexOf("\n", at + 1)) line++;
  return line;
}

/** Runs a check over this repository when its file is the program that was started: prints the problems, sets the exit code. */
export function runCheck(moduleUrl: string, check: (root: string) => Problem[]): void {
  const own = fileURLToPath(moduleUrl);
  if (process.argv[1] === undefined || realpathSync(process.argv[1]) !== own) return;
  const problems = check(fileURLToPath(new URL("..", moduleUrl)));
  for (const { file, line, message } of problems) console.log(`${file}:${line}: ${message}`);
  process.exitCode = problems.length === 0 ? 0 : 1;
}
