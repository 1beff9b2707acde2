/**
 * Bundles the command line, the library and the page into dist, packages included, so that the result runs by itself.
 * Each file is put in place by a rename: a program that starts meanwhile sees the old or the new one, never half of one.
 */

import { existsSync, mkdirSync, realpathSync, renameSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildPage } from "./build-page.mjs";
import { hashSources, markFresh } from "./freshness.mjs";

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Packages written for `require` (commander) ask for it at run time, and an ES module has none of its own. */
const banner = [
  'import { createRequire as createRequireOfBundle } from "node:module";',
  "const require = createRequireOfBundle(import.meta.url);",
].join("\n");

/** Builds dist/cli.js, dist/library.js and the page. */
export async function buildBundles() {
  const { build } = await import("esbuild");
  const hash = hashSources(root);
  const entries = { cli: "src/cli/main.ts", library: "src/library/index.ts" };
  const result = await build({
    absWorkingDir: root,
    entryPoints: Object.fromEntries(Object.entries(entries).filter(([, path]) => existsSync(join(root, path)))),
    outdir: "dist",
    bundle: true,
    write: false,
    platform: "node",
    format: "esm",
    target: "node20",
    keepNames: true,
    banner: { js: banner },
    logLevel: "warning",
  });
  mkdirSync(join(root, "dist"), { recursive: true });
  for (const { path, contents } of result.outputFiles) {
    const part = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
    writeFileSync(part, contents);
    renameSync(part, path);
  }
  await buildPage();
  markFresh(root, hash);
}

if (process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  await buildBundles();
}
