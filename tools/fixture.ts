/** Small trees of files for the tests of the checks. */

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Problem } from "./problem.ts";

/** Runs a check over a temporary tree of files (path from its root, content); gives its problems as "file:line: sentence". */
export function checkTree(files: Readonly<Record<string, string>>, check: (root: string) => Problem[]): string[] {
  const root = mkdtempSync(join(tmpdir(), "waferwright-tree-"));
  try {
    for (const [path, content] of Object.entries(files)) {
      mkdirSync(dirname(join(root, path)), { recursive: true });
      writeFileSync(join(root, path), content);
    }
    return check(root).map(({ file, line, message }) => `${file}:${line}: ${message}`);
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
}
