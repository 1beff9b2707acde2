/**
 * Tells whether the bundles in dist still match the sources. Built-ins only: it must work without installed packages.
 * Contents are compared rather than times, so that a copy of the folder counts as fresh.
 */

import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const otherInputs = [
  "package.json",
  "package-lock.json",
  "examples/02-leafgate/chip.yaml",
  "tools/build.mjs",
  "tools/build-page.mjs",
];

function listSources(folder) {
  const found = [];
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) found.push(...listSources(path));
    else if (!/\.(test|campaign)\.tsx?$/.test(entry.name)) found.push(path);
  }
  return found;
}

/** Hash over the names and contents of everything that goes into the bundles. */
export function hashSources(root) {
  const hash = createHash("sha1");
  const paths = [...listSources(join(root, "src")).sort(), ...otherInputs.map((path) => join(root, path))];
  for (const path of paths) {
    const content = readFileSync(path);
    hash.update(`${path.slice(root.length)} ${content.length}\n`).update(content);
  }
  return hash.digest("hex");
}

/** True when dist was built from the sources as they are now. */
export function isFresh(root) {
  const mark = join(root, "dist", ".fresh");
  return existsSync(mark) && readFileSync(mark, "utf8") === hashSources(root);
}

/** Remembers that dist was built from sources with this hash. */
export function markFresh(root, hash) {
  writeFileSync(join(root, "dist", ".fresh"), hash);
}
