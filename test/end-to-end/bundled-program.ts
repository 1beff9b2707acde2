/** A program of these tests as one file that runs by itself, so that a process of its own can be killed. */
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

/** `name`: a file of this folder without its ending. */
export async function bundleProgram(name: string, outfile: string): Promise<void> {
  await build({
    entryPoints: [fileURLToPath(new URL(`./${name}.ts`, import.meta.url))],
    outfile,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20",
    // packages written for `require` ask for it at run time
    banner: { js: 'import { createRequire as make } from "node:module"; const require = make(import.meta.url);' },
  });
}
