/**
 * Checks the architecture of src: modules import downward only and only through faces, packages stay where they are allowed,
 * no import cycle between files, no `export *`, no default export. The rules are data in layers.json.
 * That the pure layers name neither Node nor DOM is proven by compiling tsconfig.pure.json.
 * Imports are found by their text: the formatter puts each statement at the start of a line.
 */

import { existsSync, readFileSync } from "node:fs";
import { posix } from "node:path";
import { findCycles } from "./import-cycles.ts";
import { lineAt, listFiles, type Problem, runCheck } from "./problem.ts";

interface Rules {
  /** Layer of each module; a module imports only from lower layers. */
  readonly layers: Readonly<Record<string, number>>;
  /** Modules of its own layer that a module may import all the same. */
  readonly sameLayer: Readonly<Record<string, readonly string[]>>;
  /** Third-party packages that a module may import; "node:" stands for all of Node's own. */
  readonly packages: Readonly<Record<string, readonly string[]>>;
  /** Packages that any test file may import. */
  readonly testPackages: readonly string[];
}

export interface Import {
  readonly specifier: string;
  readonly line: number;
}

const importPattern = /^[ \t]*(?:import|export)\b(?:[^;"']*?\bfrom)?\s*["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']/gm;
const testPattern = /\.(?:test|campaign)\.ts$/;

/** All imports of a file: statements, re-exports, types, and calls of import(). */
export function findImports(text: string): Import[] {
  const found: Import[] = [];
  for (const match of text.matchAll(importPattern)) {
    const specifier = match[1] ?? match[2];
    const line = lineAt(text, match.index + match[0].length - 1);
    const isComment = /^\s*(?:\*|\/\/|\/\*)/.test(text.split("\n", line)[line - 1] ?? "");
    if (specifier !== undefined && !isComment) found.push({ specifier, line });
  }
  return found;
}

function moduleOf(file: string): string {
  return file.split("/")[1] ?? "";
}

/** Name of the package that a specifier belongs to; "node:" for all of Node's own. */
function packageOf(specifier: string): string {
  if (specifier.startsWith("node:")) return "node:";
  return specifier
    .split("/")
    .slice(0, specifier.startsWith("@") ? 2 : 1)
    .join("/");
}

function checkFaceImport(file: string, face: string, rules: Rules): string | undefined {
  const own = moduleOf(file);
  const isTest = testPattern.test(file);
  if (face === "campaign") return isTest ? undefined : `Cannot import "#campaign" here: it is for tests.`;
  if (face.includes("/")) {
    const name = face.split("/")[0];
    return `Cannot import "#${face}": it is an inner file of module ${name}; import from its face "#${name}".`;
  }
  const layer = rules.layers[face];
  if (layer === undefined) return `Cannot import "#${face}": layers.json knows no module ${face}.`;
  if (isTest) return undefined;
  if (face === own) return `Cannot import "#${face}" inside ${own}: import the file itself by a relative path.`;
  const ownLayer = rules.layers[own] ?? -1;
  if (layer < ownLayer || (rules.sameLayer[own] ?? []).includes(face)) return undefined;
  return `Cannot import "#${face}" (layer ${layer}) from ${own} (layer ${ownLayer}): modules import only from lower layers.`;
}

function checkRelativeImport(file: string, specifier: string): string | undefined {
  const target = posix.join(posix.dirname(file), specifier);
  const own = moduleOf(file);
  if (!target.startsWith(`src/${own}/`)) {
    const other = target.startsWith("src/") ? `"#${moduleOf(target)}"` : "a face";
    return `Cannot import "${specifier}": the path leaves module ${own}; import from ${other}.`;
  }
  if (!/\.tsx?$/.test(specifier)) return `Cannot import "${specifier}": a relative path ends in .ts or .tsx.`;
  if (testPattern.test(target) && !testPattern.test(file)) return `Cannot import "${specifier}": it is a test.`;
  return undefined;
}

function checkPackageImport(file: string, specifier: string, rules: Rules): string | undefined {
  const name = packageOf(specifier);
  const own = moduleOf(file);
  if ((rules.packages[own] ?? []).includes(name)) return undefined;
  if (testPattern.test(file) && rules.testPackages.includes(name)) return undefined;
  return `Cannot import "${specifier}" in ${own}: layers.json does not allow this package there.`;
}

function checkImport(file: string, specifier: string, rules: Rules): string | undefined {
  if (specifier.startsWith("#")) return checkFaceImport(file, specifier.slice(1), rules);
  if (specifier.startsWith(".")) return checkRelativeImport(file, specifier);
  return checkPackageImport(file, specifier, rules);
}

/** Path from the root of the file that an import leads to, or undefined for a package. */
function targetOf(file: string, specifier: string): string | undefined {
  if (specifier.startsWith("#")) return `src/${specifier.slice(1)}/index.ts`;
  return specifier.startsWith(".") ? posix.join(posix.dirname(file), specifier) : undefined;
}

function checkExports(file: string, text: string): Problem[] {
  const problems: Problem[] = [];
  for (const match of text.matchAll(/^[ \t]*export\s+(?:type\s+)?\*/gm)) {
    problems.push({ file, line: lineAt(text, match.index), message: "Cannot export *: name each export." });
  }
  for (const match of text.matchAll(/^[ \t]*export\s+default\b|^[ \t]*export\s*\{[^}]*\bas\s+default\b/gm)) {
    problems.push({ file, line: lineAt(text, match.index), message: "Cannot export a default: name the export." });
  }
  return problems;
}

/** All violations in the src folder of `root`. */
export function checkLayers(root: string, rules: Rules): Problem[] {
  const problems: Problem[] = [];
  const graph = new Map<string, { target: string; line: number }[]>();
  for (const file of listFiles(root, ["src"], /\.tsx?$/)) {
    const text = readFileSync(posix.join(root, file), "utf8");
    const own = moduleOf(file);
    if (rules.layers[own] === undefined) {
      problems.push({ file, line: 1, message: `Cannot place this file: layers.json knows no module ${own}.` });
      continue;
    }
    const imports = findImports(text);
    for (const { specifier, line } of imports) {
      const message = checkImport(file, specifier, rules);
      if (message !== undefined) problems.push({ file, line, message });
    }
    problems.push(...checkExports(file, text));
    graph.set(
      file,
      imports.flatMap(({ specifier, line }) => {
        const target = targetOf(file, specifier);
        return target === undefined ? [] : [{ target, line }];
      }),
    );
  }
  for (const cycle of findCycles(graph)) {
    const message = `Cannot import in a circle: ${[...cycle.files, cycle.files[0]].join(" -> ")}.`;
    problems.push({ file: cycle.files[0] ?? "", line: cycle.line, message });
  }
  return problems;
}

runCheck(import.meta.url, (root) => {
  const path = posix.join(root, "tools/layers.json");
  if (!existsSync(path)) throw new Error(`Cannot check the layers: wanted ${path}, found nothing.`);
  return checkLayers(root, JSON.parse(readFileSync(path, "utf8")) as Rules);
});
