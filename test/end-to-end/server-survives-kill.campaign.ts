import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { campaign } from "#campaign";
import { chipFileName } from "#chip";
import { sweepParts } from "#node";
import { bundleProgram } from "./bundled-program.ts";
import { longTexts } from "./long-texts.ts";

/** Longest time from the first saves to the kill [ms]; a save over the line takes some ten, so the kill comes at any point of one. */
const longestWait = 80;

const folder = mkdtempSync(join(tmpdir(), "waferwright-kill-server-"));
const program = join(folder, "serve-forever.mjs");
const [chip, page] = [join(folder, "chip"), join(folder, "page")];

beforeAll(async () => {
  await bundleProgram("serve-forever", program);
  mkdirSync(chip);
  mkdirSync(page);
  writeFileSync(join(page, "index.html"), "<!doctype html>");
  writeFileSync(join(chip, chipFileName), longTexts[0]);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function start(): Promise<{ child: ChildProcess; address: string; headers: Record<string, string> }> {
  const child = spawn(process.execPath, [program, chip, page], { stdio: ["ignore", "pipe", "inherit"] });
  const line = await new Promise<string>((resolve) => child.stdout.once("data", (data: Buffer) => resolve(data.toString())));
  const { port, token } = JSON.parse(line) as { port: number; token: string };
  const headers = { authorization: `Bearer ${token}`, "content-type": "application/json" };
  return { child, address: `http://127.0.0.1:${port}/api/folders/1/text`, headers };
}

/** Saves two texts in turn over the line until the server is gone; the last text that it said was saved. */
async function saveUntilGone(
  address: string,
  at: { headers: Record<string, string>; onSaved: () => void },
): Promise<string | undefined> {
  let told: string | undefined;
  try {
    let { tag } = (await (await fetch(address, { headers: at.headers })).json()) as { tag: string };
    for (let turn = 0; ; turn++) {
      const text = longTexts[turn % 2]!;
      const response = await fetch(address, { method: "PUT", headers: at.headers, body: JSON.stringify({ text, tag }) });
      expect(response.status).toBe(200);
      ({ tag } = (await response.json()) as { tag: string });
      told = text;
      if (turn === 1) at.onSaved();
    }
  } catch (error) {
    if (error instanceof TypeError) return told;
    throw error;
  }
}

describe("a server that is killed while it saves", () => {
  const { nCases, seed } = campaign({ name: "server survives a kill", sample: 6, full: 100 });

  it("leaves a whole text, the last that it said was saved or the one after, and starts again over it", {
    timeout: 3_600_000,
  }, async () => {
    const random = xoroshiro128plus(seed);
    let nParts = 0;
    for (let k = 0; k < nCases; k++) {
      const { child, address, headers } = await start();
      const ended = new Promise((resolve) => child.once("exit", resolve));
      const saving = new Promise<string | undefined>((resolve) => {
        const onSaved = async (): Promise<void> => {
          await setTimeout(((random.next() >>> 0) / 2 ** 32) * longestWait);
          child.kill("SIGKILL");
        };
        resolve(saveUntilGone(address, { headers, onSaved: () => void onSaved() }));
      });
      const told = await saving;
      await ended;
      const text = readFileSync(join(chip, chipFileName), "utf8");
      expect(longTexts.includes(text), `kill ${k}`).toBe(true);
      expect(told).toBeDefined();
      nParts += (await sweepParts(chip, { youngest: 0 })).length;
      expect(readdirSync(chip)).toEqual([chipFileName]);
    }
    // kills that never came in the middle of a save would prove nothing: one in eight does here; a handful of them may all miss
    if (nCases >= 50) expect(nParts, "kills that met a part being written").toBeGreaterThan(0);
  });
});
