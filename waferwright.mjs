#!/usr/bin/env node
/**
 * Starts Waferwright from a clone: `node waferwright.mjs predict examples/02-leafgate`.
 * Installs the packages and bundles the sources first when that is needed.
 */

import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { isFresh } from "./tools/freshness.mjs";
import { describeOldNode, makeReady } from "./tools/ready.mjs";

const root = dirname(fileURLToPath(import.meta.url));

async function start() {
  const old = describeOldNode(process.versions.node);
  if (old !== undefined) return old;
  if (!isFresh(root)) {
    const problem = makeReady();
    if (problem !== undefined) return problem;
    const { buildBundles } = await import("./tools/build.mjs");
    await buildBundles();
  }
  await import(pathToFileURL(join(root, "dist", "cli.js")).href);
  return undefined;
}

start().then((problem) => {
  if (problem === undefined) return;
  process.stderr.write(`${problem}\n`);
  process.exitCode = 1;
});
