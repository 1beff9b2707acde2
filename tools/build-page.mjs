/**
 * Builds the page into dist/page (any file server can serve it) and as one file, dist/waferwright.html, that opens from disk.
 * Everything the page needs is in there: script, workers, style, fonts. Nothing is fetched from elsewhere.
 */

import { cpSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const web = join(root, "src", "web");

/** Letters of each subset, as its package gives them; Source Code Pro is loaded for its latin letters alone. */
const ranges = {
  latin: "U+0000-00FF, U+0131, U+0152-0153, U+02BB-02BC, U+02C6, U+02DA, U+02DC, U+2000-206F, U+20AC, U+2122, U+2212",
  greek: "U+0370-03FF, U+2126",
};

/** Fonts of the page: their family, subset and file in the package of that family. */
const fonts = [
  ["Literata", "latin", "literata-latin-opsz-normal"],
  ["Literata", "greek", "literata-greek-opsz-normal"],
  ["Source Sans 3", "latin", "source-sans-3-latin-wght-normal"],
  ["Source Sans 3", "greek", "source-sans-3-greek-wght-normal"],
  ["Source Code Pro", undefined, "source-code-pro-latin-wght-normal"],
].map(([family, subset, file]) => {
  const packageName = family.toLowerCase().replaceAll(" ", "-");
  return {
    family,
    range: ranges[subset],
    name: `${packageName}-${subset ?? "latin"}`,
    path: join(root, "node_modules", "@fontsource-variable", packageName, "files", `${file}.woff2`),
  };
});

const fontFace = ({ family, range, name }) => `@font-face {
  font-family: "${family}";
  src: url("fonts/${name}.woff2") format("woff2");
  font-weight: 200 900;
  font-display: swap;${range === undefined ? "" : `\n  unicode-range: ${range};`}
}`;

/** Sheets of the page in the order in which they overrule each other. */
const sheets = ["base", "frame", "term", "words", "picture", "ledger", "views", "editor", "size", "narrow", "print"];

const common = {
  absWorkingDir: root,
  bundle: true,
  write: false,
  platform: "browser",
  target: "es2022",
  minify: true,
  legalComments: "none",
  jsx: "automatic",
  jsxImportSource: "preact",
  logLevel: "warning",
};

/** Chips the page carries, for when there is no folder to open. */
const builtInChips = () => ({ Leafgate: readFileSync(join(root, "examples", "02-leafgate", "chip.yaml"), "utf8") });

/** One bundle as text. */
async function bundle(build, entry, options = {}) {
  const result = await build({ ...common, entryPoints: [entry], format: "esm", ...options });
  return result.outputFiles[0].text;
}

/** The style of the page: the tokens of the house first, then what uses them. */
async function styleOf(build) {
  const script = await bundle(build, "src/web/style/token-style.ts", { minify: false });
  const { tokenStyle } = await import(`data:text/javascript;base64,${Buffer.from(script).toString("base64")}`);
  const written = sheets.map((name) => readFileSync(join(web, "style", `${name}.css`), "utf8"));
  const sheet = [tokenStyle(), ...fonts.map(fontFace), ...written].join("\n");
  const { code } = await (await import("esbuild")).transform(sheet, { loader: "css", minify: true });
  return code;
}

/** A text that can stand between script tags. */
const inScript = (text) => text.replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");

/** Everything in one file: the workers start from their text, the fonts stand in the style. */
function oneFile({ html, page, worker, style, first }) {
  const withFonts = fonts.reduce(
    (text, { name, path }) =>
      text.replaceAll(
        new RegExp(`url\\("?fonts/${name}\\.woff2"?\\)`, "g"),
        `url("data:font/woff2;base64,${readFileSync(path).toString("base64")}")`,
      ),
    style,
  );
  const parts = new Map([
    ['<script src="mode-first.js"></script>', `<script>${inScript(first)}</script>`],
    ['<link rel="stylesheet" href="page.css">', `<style>${withFonts}</style>`],
    [
      '<script type="module" src="page.js"></script>',
      `<script type="text/plain" id="worker">${inScript(worker)}</script>\n    <script type="module">${inScript(page)}</script>`,
    ],
  ]);
  let text = html.replace(/\s*<link rel="preload"[^>]*>/g, "");
  for (const [from, to] of parts) {
    if (!text.includes(from))
      throw new Error(`Cannot build the single file: wanted "${from}" in src/web/index.html, found none.`);
    text = text.replace(from, () => to);
  }
  return text;
}

/** Puts a whole file in place at once. */
function place(path, text) {
  const part = `${path}.${process.pid}.part`;
  writeFileSync(part, text);
  renameSync(part, path);
}

/** Builds dist/page and dist/waferwright.html. */
export async function buildPage() {
  const { build } = await import("esbuild");
  const [page, worker, workerAlone, style] = await Promise.all([
    bundle(build, "src/web/main.tsx", { define: { builtInChips: JSON.stringify(builtInChips()) } }),
    bundle(build, "src/web/worker.ts"),
    bundle(build, "src/web/worker.ts", { format: "iife" }),
    styleOf(build),
  ]);
  const html = readFileSync(join(web, "index.html"), "utf8");
  const first = readFileSync(join(web, "mode-first.js"), "utf8");
  const folder = join(root, "dist", "page");
  mkdirSync(join(folder, "fonts"), { recursive: true });
  for (const { name, path } of fonts) cpSync(path, join(folder, "fonts", `${name}.woff2`));
  place(join(folder, "page.js"), page);
  place(join(folder, "worker.js"), worker);
  place(join(folder, "page.css"), style);
  place(join(folder, "mode-first.js"), first);
  place(join(folder, "index.html"), html);
  rmSync(join(root, "dist", "waferwright.html"), { force: true });
  place(join(root, "dist", "waferwright.html"), oneFile({ html, page, worker: workerAlone, style, first }));
}
