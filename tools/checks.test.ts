import { describe, expect, it } from "vitest";
import { checkColours } from "./check-colours.ts";
import { checkLicences, isAllowedLicence } from "./check-licences.ts";
import { checkSentences } from "./check-sentences.ts";
import { checkSize } from "./check-size.ts";
import { checkSources } from "./check-sources.ts";
import { checkTree } from "./fixture.ts";

describe("checkColours", () => {
  it("catches a literal colour in style, script and markup outside the token file, and lets tokens and fragments be", () => {
    const files = {
      "src/picture/tokens.ts": 'const stock = "#F4F1E9";\n',
      "src/web/a.css": "a { color: #fff; }\nb { color: var(--ink); background: rgb(0 0 0); }\n",
      "src/web/b.tsx": 'const fill = "white";\nconst face = "#chip"; const id = "url(#stipple)";\n',
    };
    expect(checkTree(files, checkColours)).toEqual([
      'src/web/a.css:1: Cannot write the colour "#fff" here: wanted a token of src/picture/tokens.ts, found a literal.',
      'src/web/a.css:2: Cannot write the colour "rgb(" here: wanted a token of src/picture/tokens.ts, found a literal.',
      'src/web/b.tsx:1: Cannot write the colour "white" here: wanted a token of src/picture/tokens.ts, found a literal.',
    ]);
  });
});

describe("checkSize", () => {
  it("catches a source of 501 lines and a test of 901, and lets tables be long", () => {
    const lines = (n: number): string => "\n".repeat(n);
    const files = {
      "src/base/a.ts": lines(501),
      "src/base/b.ts": lines(500),
      "src/base/a.test.ts": lines(901),
      "src/base/b.test.ts": lines(900),
      "src/base/c.table.ts": lines(2000),
    };
    expect(checkTree(files, checkSize)).toEqual([
      "src/base/a.test.ts:901: Cannot let a file grow so long: wanted at most 900 lines, found 901.",
      "src/base/a.ts:501: Cannot let a file grow so long: wanted at most 500 lines, found 501.",
    ]);
  });
});

describe("checkSentences", () => {
  it.each([
    ['throw new RangeError("size is wrong")', "it starts with a capital letter"],
    ['throw new TypeError("Cannot read this!")', "it has no exclamation mark"],
    ["throw new Error(\n  `Cannot read ${a}: invalid size`)", 'it says what was wanted and what was found instead of "invalid"'],
  ])("catches %s", (code, rule) => {
    const sentence = /["`](.*)["`]/.exec(code)?.[1];
    expect(checkTree({ "src/base/a.ts": `\n${code};\n` }, checkSentences)).toEqual([
      `src/base/a.ts:2: Cannot use the error sentence "${sentence}": ${rule}.`,
    ]);
  });

  it("accepts a plain sentence, one that starts with a value, and code inside a value", () => {
    const text = [
      'throw new TypeError("Cannot read beam.width: wanted a length, found a voltage");',
      `throw new TypeError(\`$${"{name}"} needs a length\`);`,
      `throw new TypeError(\`Cannot read $${"{a!}"}\`);`,
    ].join("\n");
    expect(checkTree({ "src/base/a.ts": text }, checkSentences)).toEqual([]);
  });
});

describe("checkSources", () => {
  const bibliography = "@comment{x}\n@article{good1999,\n title={T}}\n@book{ young-2002b ,\n}\n";

  it("accepts keys of the bibliography and links that lead somewhere", () => {
    const files = {
      "docs/references.bib": bibliography,
      "docs/physics/beam.md": "See [good1999, young-2002b], [above](../how-to/a.md#top), [web](https://example.org), `[x](y)`.\n",
      "docs/how-to/a.md": "# Top\n[m] and [0, 2000] are no keys.\n",
      "src/materials/silicon.ts":
        'const s = { key: "good1999", consulted: "read" };\nconst c = { key: "own sum", consulted: "computed" };\n',
    };
    expect(checkTree(files, checkSources)).toEqual([]);
  });

  it("catches a key, a link and a path that lead nowhere", () => {
    const files = {
      "docs/references.bib": bibliography,
      "docs/physics/beam.md": "\n[good1999; bad2001] and [b](missing.md)\n",
      "src/materials/silicon.ts": 'const s = { key: "bad1998", consulted: "read" };\n',
      "src/physics/a.ts": "/** Stiffness [bad1997]. */\n",
      "README.md": `Open ${"/home"}/someone/chip\n`,
    };
    expect(checkTree(files, checkSources)).toEqual([
      `README.md:1: Cannot keep "${"/home"}/someone": it is a path of one machine.`,
      'docs/physics/beam.md:2: Cannot find the source "bad2001" in docs/references.bib.',
      'docs/physics/beam.md:2: Cannot follow the link "missing.md": there is no such file.',
      'src/materials/silicon.ts:1: Cannot find the source "bad1998" in docs/references.bib.',
      'src/physics/a.ts:1: Cannot find the source "bad1997" in docs/references.bib.',
    ]);
  });
});

describe("checkLicences", () => {
  it.each([
    ["MIT", false, true],
    ["(MIT OR GPL-3.0-only)", false, true],
    ["MIT AND GPL-3.0-only", false, false],
    ["GPL-3.0-only OR (MIT AND ISC)", false, true],
    ["(GPL-3.0-only OR LGPL-3.0-only) AND MIT", false, false],
    ["MPL-2.0", true, true],
    ["MPL-2.0", false, false],
    ["none", true, false],
  ])("reads %s (development: %s) as %s", (expression, isDevelopment, verdict) => {
    expect(isAllowedLicence(expression, isDevelopment)).toBe(verdict);
  });

  it("catches a package inside a package and a package without a licence", () => {
    const files = {
      "package-lock.json": '{"packages":{"node_modules/@s/a":{"dev":true}}}',
      "node_modules/@s/a/package.json": '{"name":"@s/a","license":"MPL-2.0"}',
      "node_modules/@s/a/node_modules/b/package.json": '{"name":"b","license":"AGPL-3.0-only"}',
      "node_modules/c/package.json": '{"name":"c"}',
      "node_modules/d/package.json": '{"name":"d","licenses":[{"type":"GPL-2.0"},{"type":"MIT"}]}',
    };
    expect(checkTree(files, checkLicences)).toEqual([
      'node_modules/@s/a/node_modules/b/package.json:1: Cannot use b in what is given away: its licence is "AGPL-3.0-only".',
      'node_modules/c/package.json:1: Cannot use c in what is given away: its licence is "none".',
    ]);
  });
});
