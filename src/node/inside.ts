/**
 * Finds a file of a folder by a name that came from elsewhere, and never one outside: no way up, no absolute name, no hidden file,
 * no link that leads out. Main test: inside.test.ts.
 */

import { realpath, stat } from "node:fs/promises";
import { join, sep } from "node:path";

export type Inside =
  | { readonly found: "file"; readonly path: string }
  | { readonly found: "nothing" }
  /** The name, or a link on its way, leads out of the folder. */
  | { readonly found: "outside" };

/** A name in one part: what would mean something to a file system beyond a name (up, here, drive, stream) is refused. */
function isPlainPart(part: string): boolean {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  return part !== "" && !part.startsWith(".") && !/[\\:\u0000-\u001f]/.test(part);
}

async function realPathOf(path: string): Promise<string | undefined> {
  return realpath(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT" || error.code === "ENOTDIR" || error.code === "ENAMETOOLONG") return undefined;
    throw error;
  });
}

/** Looks for the file `name`, its parts joined by "/", in `folder`. The path answered is free of links. */
export async function findInside(folder: string, name: string): Promise<Inside> {
  if (!name.split("/").every(isPlainPart)) return { found: "outside" };
  const root = await realPathOf(folder);
  if (root === undefined) return { found: "nothing" };
  const path = await realPathOf(join(root, name));
  if (path === undefined) return { found: "nothing" };
  if (!path.startsWith(root.endsWith(sep) ? root : root + sep)) return { found: "outside" };
  return (await stat(path)).isFile() ? { found: "file", path } : { found: "nothing" };
}
