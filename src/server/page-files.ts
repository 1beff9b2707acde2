/** The files of the built page, read once: a fixed list, so that no name from outside ever reaches the file system. */
import { readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";

export interface PageFile {
  readonly body: Uint8Array<ArrayBuffer>;
  readonly type: string;
}

const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".woff2": "font/woff2",
};

/** Files of a folder and its sub-folders, by their addresses; index.html also as "/". */
export function readPageFiles(folder: string): ReadonlyMap<string, PageFile> {
  const files = new Map<string, PageFile>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const type = types[extname(entry.name)];
    if (!entry.isFile() || type === undefined) continue;
    const path = join(entry.parentPath, entry.name);
    const address = `/${path.slice(folder.length + 1).replaceAll("\\", "/")}`;
    files.set(address, { body: new Uint8Array(readFileSync(path)), type });
  }
  const index = files.get("/index.html");
  if (index !== undefined) files.set("/", index);
  return files;
}
