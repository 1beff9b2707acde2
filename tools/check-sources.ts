/**
 * Checks what the texts point to: every bibliography key exists, every relative link of a Markdown file leads somewhere,
 * no path of one person's machine and no forbidden word is left in a text.
 * A key is written `[name1999]` or `[name-name-1999a]` in docs and comments, and `key: "name1999"` in a Source of src/materials.
 */

import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { lineAt, listFiles, type Problem, runCheck } from "./problem.ts";

const bibliography = "docs/references.bib";
const forbiddenWords: readonly string[] = [];

const bracketPattern = /\[([^\][\n]+)\](?![(:[])/g;
const keyPattern = /^@?([A-Za-z][A-Za-z-]*-?\d{4}[a-z0-9-]*)$/;
const linkPattern = /\]\(\s*<?([^)\s>]+)>?(?:\s+"[^"]*")?\s*\)/g;
const machinePathPattern = /(?<![\w.:/~])\/(?:home|root|Users)\/[\w.-]+|\b[A-Z]:\\Users\\/g;

/** Keys of all entries of a BibTeX text. */
export function findBibliographyKeys(text: string): Set<string> {
  return new Set(
    [...text.matchAll(/^\s*@(?!comment|string|preamble)\w+\s*\{\s*([^\s,]+)\s*,/gim)].map((match) => match[1] ?? ""),
  );
}

/** Blanks code in a Markdown text, keeping places: what stands in code is not a link. */
function blankCode(text: string): string {
  return text.replace(/^```[\s\S]*?^```|`[^`\n]*`/gm, (code) => code.replace(/[^\n]/g, " "));
}

function checkKeys(file: string, text: string, keys: ReadonlySet<string>): Problem[] {
  const used: { key: string; index: number }[] = [];
  for (const match of text.matchAll(bracketPattern)) {
    for (const part of (match[1] ?? "").split(/[,;]/)) {
      const key = keyPattern.exec(part.trim())?.[1];
      if (key !== undefined) used.push({ key, index: match.index });
    }
  }
  if (file.startsWith("src/materials/")) {
    for (const match of text.matchAll(/\bkey: "([^"]+)"(?:,\s*consulted: "([^"]+)")?/g)) {
      if (match[2] !== "computed" && match[2] !== "given by the user") used.push({ key: match[1] ?? "", index: match.index });
    }
  }
  return used
    .filter(({ key }) => !keys.has(key))
    .map(({ key, index }) => ({
      file,
      line: lineAt(text, index),
      message: `Cannot find the source "${key}" in ${bibliography}.`,
    }));
}

function checkLinks(root: string, file: string, text: string): Problem[] {
  const plain = blankCode(text);
  const problems: Problem[] = [];
  for (const match of plain.matchAll(linkPattern)) {
    const target = (match[1] ?? "").replace(/[#?].*$/, "");
    if (target === "" || /^[a-z][a-z0-9+.-]*:/i.test(target)) continue;
    if (existsSync(join(root, dirname(file), decodeURIComponent(target)))) continue;
    problems.push({
      file,
      line: lineAt(plain, match.index),
      message: `Cannot follow the link "${match[1]}": there is no such file.`,
    });
  }
  return problems;
}

function checkWords(file: string, text: string): Problem[] {
  const problems: Problem[] = [];
  for (const match of text.matchAll(machinePathPattern)) {
    problems.push({ file, line: lineAt(text, match.index), message: `Cannot keep "${match[0]}": it is a path of one machine.` });
  }
  for (const word of forbiddenWords) {
    for (const match of text.matchAll(new RegExp(`\\b${word}\\b`, "gi"))) {
      problems.push({ file, line: lineAt(text, match.index), message: `Cannot keep the word "${match[0]}".` });
    }
  }
  return problems;
}

/** Everything in the texts of `root` that points to nothing or to the wrong place. */
export function checkSources(root: string): Problem[] {
  const path = join(root, bibliography);
  const keys = existsSync(path) ? findBibliographyKeys(readFileSync(path, "utf8")) : new Set<string>();
  const problems: Problem[] = [];
  for (const file of listFiles(root, ["."], /\.(?:md|ts|mjs|yaml)$/)) {
    if (file.startsWith("tools/")) continue;
    const text = readFileSync(join(root, file), "utf8");
    const citesSources = /^docs\/.*\.md$/.test(file) || (/^src\/.*\.ts$/.test(file) && !/\.(?:test|campaign)\.ts$/.test(file));
    if (citesSources) problems.push(...checkKeys(file, text, keys));
    if (file.endsWith(".md")) problems.push(...checkLinks(root, file, text));
    problems.push(...checkWords(file, text));
  }
  return problems;
}

runCheck(import.meta.url, checkSources);
