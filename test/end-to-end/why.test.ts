/** Why a number is what it is, as a user asks: in words, as data, and with an aim of one's own. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { runProgram } from "./run-program.ts";

let folder = "";
const run = (...words: string[]) => runProgram(folder, words);

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "waferwright-why-"));
  await run("new", "gate", "--from", "leafgate");
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it("tells the hops, what moved them, and what to change; what it writes can be tried", async () => {
  const { code, out, error } = await run("why", "gate", "steady travel", "--at", "hold", "--count", "3");
  expect([code, error]).toEqual([0, ""]);
  const words = out.replace(/\s+/g, " ");
  expect(words).toMatch(/steady travel at hold: 8\.\d+ µm as built, 10\.57 µm as drawn/);
  expect(words).toContain("travel: 10 µm within 1 µm, does not hold as built");
  expect(words).toMatch(/supply current [\d.]+ mA [\d.]+ mA voltage over hot resistance/);
  expect(words).toMatch(/edges inside their target 0 µm 600\.0 nm −\d+ nm 9\.737 µm measured 1\.1 µm/);
  const change = /leg width ([\d.]+) µm → ([\d.]+) µm gives (10\.00|9\.999) µm/.exec(words);
  expect(change).not.toBeNull();
  const tried = await run("why", "gate", "steady travel", "--at", "hold", "--with", `leg width = ${change![2]} um`, "--json");
  const data = JSON.parse(tried.out) as { form: string; hops: { metric: string; built: number }[]; aim?: number };
  expect(data.form).toBe("waferwright explanation");
  expect(1e6 * data.hops.at(-1)!.built).toBeCloseTo(10, 1);
  expect(data.aim).toBeUndefined();
}, 120_000);

it("refuses with a sentence and exit code 2", async () => {
  for (const [words, sentence] of [
    [["steady travle"], '"steady travle" is not a metric'],
    [["steady travel", "--aim", "3 V"], 'Cannot aim steady travel at "3 V": that is another kind of quantity.'],
    [
      ["steady travel", "--aim", "leg width"],
      'Cannot read the aim "leg width": a plain value is wanted, not the name "leg width".',
    ],
    [["steady travel", "--count", "99"], "Cannot try 99 changes: write a whole number from 0 to 20."],
  ] as const) {
    const { code, error } = await run("why", "gate", ...words);
    expect([words, code]).toEqual([words, 2]);
    expect(error.replace(/\s+/g, " ")).toContain(sentence);
  }
}, 120_000);
