import { spawn } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
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

/** Longest time from the first two saves to the kill [ms]; a save takes a few, so the kill comes at any point of one. */
const longestWait = 40;

const folder = mkdtempSync(join(tmpdir(), "waferwright-kill-"));
const program = join(folder, "save-forever.mjs");
const chip = mkdtempSync(join(folder, "chip-"));

beforeAll(() => bundleProgram("save-forever", program));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Starts the saving program, kills it after a time [ms] of saving, and waits for its end. */
async function killWhileSaving(way: string, time: number): Promise<void> {
  const child = spawn(process.execPath, [program, chip, way], { stdio: ["ignore", "pipe", "inherit"] });
  const ended = new Promise((resolve) => child.once("exit", resolve));
  const started = new Promise((resolve) => child.stdout.once("data", resolve));
  await Promise.race([started, ended]);
  expect(child.exitCode).toBeNull();
  await setTimeout(time);
  child.kill("SIGKILL");
  await ended;
}

function isWhole(): boolean {
  const text = readFileSync(join(chip, chipFileName), "utf8");
  return text === longTexts[0] || text === longTexts[1];
}

describe("a save that is killed", () => {
  const { nCases, seed } = campaign({ name: "save survives a kill", sample: 12, full: 200 });

  it("leaves the old text or the new one, and parts that are swept", async () => {
    const random = xoroshiro128plus(seed);
    let nParts = 0;
    for (let k = 0; k < nCases; k++) {
      await killWhileSaving("whole", ((random.next() >>> 0) / 2 ** 32) * longestWait);
      expect(isWhole(), `kill ${k}`).toBe(true);
      nParts += (await sweepParts(chip, { youngest: 0 })).length;
      expect(readdirSync(chip)).toEqual([chipFileName]);
    }
    // Almost all of the time goes into writing the part: kills that never met one would prove nothing.
    expect(nParts).toBeGreaterThan(nCases / 10);
  });

  it("would be seen torn if it were written in place", async () => {
    const random = xoroshiro128plus(seed);
    let nKills = 0;
    do {
      await killWhileSaving("plain", ((random.next() >>> 0) / 2 ** 32) * longestWait);
      nKills++;
    } while (isWhole() && nKills < 200);
    expect(isWhole()).toBe(false);
  });
});
