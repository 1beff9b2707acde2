/** The brief from the command line: shown, changed in place, and what contradicts itself told. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { runProgram } from "./run-program.ts";

let folder = "";
const run = (...words: string[]) => runProgram(folder, words);
const text = (): string => readFileSync(join(folder, "pair", "chip.yaml"), "utf8");

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "waferwright-brief-"));
  await run("new", "pair", "--from", "one-bent-beam");
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it("shows, adds, rewrites, renames and removes; what cannot hold is a finding, what cannot be done leaves the text alone", async () => {
  const before = text();
  const shown = await run("brief", "pair");
  expect(shown.code).toBe(0);
  expect(shown.out).toContain("steady travel at hold: at least 2 um");

  const added = await run(
    "brief",
    "pair",
    "add",
    "short stroke",
    "--of",
    "steady travel",
    "--at",
    "hold",
    "--need",
    "at most 1 um",
  );
  expect(added.code).toBe(1);
  expect(added.out.replace(/\s+/g, " ")).toContain(
    '"travel" and "short stroke" cannot both hold: "at least 2 um" and "at most 1 um" for steady travel at hold.',
  );
  const ledger = await run("ledger", "pair", "--samples", "0");
  expect(ledger.out).toContain("cannot both hold");
  const rewritten = await run("brief", "pair", "rewrite", "short stroke", "--need", "at most 9 um");
  expect([rewritten.code, rewritten.out]).toEqual([0, "short stroke need at most 1 um → at most 9 um.\n"]);
  expect((await run("brief", "pair", "rename", "short stroke", "--to", "no further")).code).toBe(0);
  expect(text()).toBe(
    before.replace(
      "\n\nsurroundings",
      "\n  - name: no further\n    need: at most 9 um\n    of: steady travel\n    at: hold\n\nsurroundings",
    ),
  );
  expect((await run("brief", "pair", "remove", "no further")).code).toBe(0);
  expect(text()).toBe(before);

  for (const [words, sentence] of [
    [["remove", "none"], '"none" is not a requirement'],
    [["add", "x", "--of", "travle", "--need", "at most 1 um"], '"travle" is not a metric'],
    [["rewrite", "travel"], "Nothing to rewrite"],
    [["rename", "travel"], "say the new name with --to"],
    [["shorten", "travel"], "Allowed are add, add-limit, rewrite, rename, remove"],
    [["add"], "say the name of the requirement"],
  ] as const) {
    const { code, error } = await run("brief", "pair", ...words);
    expect([words, code]).toEqual([words, 2]);
    expect(error.replace(/\s+/g, " ")).toContain(sentence);
  }
  expect(text()).toBe(before);
}, 180_000);
