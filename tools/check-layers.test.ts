import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkLayers, findImports } from "./check-layers.ts";
import { checkTree } from "./fixture.ts";

const rules = JSON.parse(readFileSync(new URL("./layers.json", import.meta.url), "utf8"));
const check = (files: Record<string, string>): string[] => checkTree(files, (root) => checkLayers(root, rules));

describe("checkLayers", () => {
  it("accepts imports downward through faces, inner files, listed packages and the listed neighbour", () => {
    const problems = check({
      "src/base/index.ts": 'export { a } from "./a.ts";\n',
      "src/base/a.ts": 'import { uniformInt } from "pure-rand/distribution/uniformInt";\nexport const a = uniformInt;\n',
      "src/picture/index.ts": 'import { a } from "#base";\nexport const p = a;\n',
      "src/chip/index.ts": 'import { p } from "#picture";\nimport { parse } from "yaml";\nexport const c = [p, parse];\n',
      "src/base/a.test.ts": 'import { it } from "vitest";\nimport { c } from "#chip";\nimport { a } from "./a.ts";\nit(c, a);\n',
      "src/base/b.campaign.ts": 'import { campaign } from "#campaign";\ncampaign();\n',
    });
    expect(problems).toEqual([]);
  });

  it.each([
    [
      "an upward import",
      { "src/base/a.ts": 'export const a = 1;\nimport { c } from "#chip";\n' },
      'src/base/a.ts:2: Cannot import "#chip" (layer 5) from base (layer 0): modules import only from lower layers.',
    ],
    [
      "an upward import of types over several lines",
      { "src/mask/a.ts": 'import type {\n  D,\n} from "#devices";\n' },
      'src/mask/a.ts:3: Cannot import "#devices" (layer 4) from mask (layer 2): modules import only from lower layers.',
    ],
    [
      "an upward import inside a type",
      { "src/mask/a.ts": 'export type D = import("#devices").D;\n' },
      'src/mask/a.ts:1: Cannot import "#devices" (layer 4) from mask (layer 2): modules import only from lower layers.',
    ],
    [
      "an import from the same layer",
      { "src/geometry/a.ts": 'import { m } from "#numerics";\n' },
      'src/geometry/a.ts:1: Cannot import "#numerics" (layer 1) from geometry (layer 1): modules import only from lower layers.',
    ],
    [
      "one face importing another",
      { "src/cli/main.ts": 'import { l } from "#library";\n' },
      'src/cli/main.ts:1: Cannot import "#library" (layer 7) from cli (layer 7): modules import only from lower layers.',
    ],
    [
      "the neighbour exception taken the other way round",
      { "src/picture/a.ts": 'import { c } from "#chip";\n' },
      'src/picture/a.ts:1: Cannot import "#chip" (layer 5) from picture (layer 5): modules import only from lower layers.',
    ],
    [
      "an inner file of another module",
      { "src/mask/a.ts": 'import { a } from "#geometry/polygon.ts";\n' },
      'src/mask/a.ts:1: Cannot import "#geometry/polygon.ts": it is an inner file of module geometry; import from its face "#geometry".',
    ],
    [
      "a path that leaves the module",
      { "src/mask/a.ts": 'export { a } from "../geometry/polygon.ts";\n' },
      'src/mask/a.ts:1: Cannot import "../geometry/polygon.ts": the path leaves module mask; import from "#geometry".',
    ],
    [
      "a path that leaves the module, in a test",
      { "src/mask/a.test.ts": 'import { a } from "../geometry/polygon.ts";\n' },
      'src/mask/a.test.ts:1: Cannot import "../geometry/polygon.ts": the path leaves module mask; import from "#geometry".',
    ],
    [
      "a relative path without its ending",
      { "src/mask/a.ts": 'import { b } from "./b";\n' },
      'src/mask/a.ts:1: Cannot import "./b": a relative path ends in .ts or .tsx.',
    ],
    [
      "the own face from inside",
      { "src/mask/a.ts": 'import { b } from "#mask";\n' },
      'src/mask/a.ts:1: Cannot import "#mask" inside mask: import the file itself by a relative path.',
    ],
    [
      "a package that is not on the list",
      { "src/geometry/a.ts": 'import { parse } from "yaml";\n' },
      'src/geometry/a.ts:1: Cannot import "yaml" in geometry: layers.json does not allow this package there.',
    ],
    [
      "a scoped package that is not on the list",
      { "src/geometry/a.ts": 'import { parse } from "@some/thing/part";\n' },
      'src/geometry/a.ts:1: Cannot import "@some/thing/part" in geometry: layers.json does not allow this package there.',
    ],
    [
      "Node in a pure module",
      { "src/chip/a.ts": 'import { readFileSync } from "node:fs";\n' },
      'src/chip/a.ts:1: Cannot import "node:fs" in chip: layers.json does not allow this package there.',
    ],
    [
      "a test package outside tests",
      { "src/base/a.ts": 'import { it } from "vitest";\n' },
      'src/base/a.ts:1: Cannot import "vitest" in base: layers.json does not allow this package there.',
    ],
    [
      "a test imported by a source file",
      { "src/base/a.ts": 'import "./b.test.ts";\n' },
      'src/base/a.ts:1: Cannot import "./b.test.ts": it is a test.',
    ],
    [
      "the campaign face outside tests",
      { "src/base/a.ts": 'import { campaign } from "#campaign";\n' },
      'src/base/a.ts:1: Cannot import "#campaign" here: it is for tests.',
    ],
    [
      "an unknown face",
      { "src/base/a.ts": 'import "#void";\n' },
      'src/base/a.ts:1: Cannot import "#void": layers.json knows no module void.',
    ],
    [
      "an unknown module",
      { "src/void/a.ts": "export {};\n" },
      "src/void/a.ts:1: Cannot place this file: layers.json knows no module void.",
    ],
    ["export *", { "src/base/a.ts": 'export * from "./b.ts";\n' }, "src/base/a.ts:1: Cannot export *: name each export."],
    [
      "a default export",
      { "src/base/a.ts": "\nexport default 3;\n" },
      "src/base/a.ts:2: Cannot export a default: name the export.",
    ],
    [
      "an export as default",
      { "src/base/a.ts": "export { a as default };\n" },
      "src/base/a.ts:1: Cannot export a default: name the export.",
    ],
  ])("catches %s", (_, files, sentence) => {
    expect(check(files as Record<string, string>)).toEqual([sentence]);
  });

  it("catches a cycle of files, also through types, and names the shortest way round", () => {
    const problems = check({
      "src/base/a.ts": '\nimport { b } from "./b.ts";\n',
      "src/base/b.ts": 'import type { C } from "./c.ts";\n',
      "src/base/c.ts": 'export { a } from "./a.ts";\nimport { d } from "./d.ts";\n',
      "src/base/d.ts": 'import { b } from "./b.ts";\n',
    });
    expect(problems).toEqual([
      "src/base/a.ts:2: Cannot import in a circle: src/base/a.ts -> src/base/b.ts -> src/base/c.ts -> src/base/a.ts.",
    ]);
  });

  it("catches a file that imports itself, and two separate cycles", () => {
    const problems = check({
      "src/base/a.ts": 'import { a } from "./a.ts";\n',
      "src/mask/b.ts": 'import { c } from "./c.ts";\n',
      "src/mask/c.ts": 'import { b } from "./b.ts";\n',
    });
    expect(problems).toEqual([
      "src/base/a.ts:1: Cannot import in a circle: src/base/a.ts -> src/base/a.ts.",
      "src/mask/b.ts:1: Cannot import in a circle: src/mask/b.ts -> src/mask/c.ts -> src/mask/b.ts.",
    ]);
  });

  it("does not take words in comments and strings for imports", () => {
    const text =
      '/**\n * import { a } from "#chip";\n */\n// import "x";\nexport const a = "import";\nexport const b = Array.from("abc");\n';
    expect(findImports(text)).toEqual([]);
  });
});
