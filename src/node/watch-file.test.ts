import { appendFileSync, mkdirSync, mkdtempSync, renameSync, rmSync, truncateSync, unlinkSync, writeFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { watchFile } from "./watch-file.ts";

let root = "";
let path = "";
let seen: string[] = [];
let stop = (): void => undefined;
beforeEach(async () => {
  root = mkdtempSync(join(tmpdir(), "waferwright-watch-"));
  mkdirSync(join(root, "chip"));
  path = join(root, "chip", "chip.yaml");
  writeFileSync(path, "first");
  seen = [];
  stop = watchFile(
    path,
    async () => {
      seen.push(await readFile(path, "utf8").catch(() => "missing"));
    },
    { quiet: 40, patience: 300, pollEvery: 400 },
  );
  await setTimeout(50);
});
afterEach(() => {
  stop();
  rmSync(root, { recursive: true, force: true });
});

/** Waits for looks, then long enough for a look too many to show itself. */
async function looks(): Promise<string[]> {
  const end = Date.now() + 5000;
  while (seen.length === 0 && Date.now() < end) await setTimeout(10);
  await setTimeout(1000);
  return seen;
}

describe("watchFile", () => {
  it("sees a file that is replaced by a rename, again and again", async () => {
    for (const text of ["second", "third"]) {
      writeFileSync(join(root, "chip", ".chip.yaml.swp"), text);
      renameSync(join(root, "chip", ".chip.yaml.swp"), path);
      expect((await looks()).at(-1)).toBe(text);
    }
    expect(seen).toEqual(["second", "third"]);
  });

  it("asks for one look when a file is saved twice in a row", async () => {
    writeFileSync(path, "second");
    await setTimeout(15);
    writeFileSync(path, "third");
    expect(await looks()).toEqual(["third"]);
  });

  it("waits for the text of a file that is emptied first", async () => {
    truncateSync(path, 0);
    await setTimeout(150);
    writeFileSync(path, "second");
    expect(await looks()).toEqual(["second"]);
  });

  it("waits for a file that is moved away first", async () => {
    renameSync(path, `${path}~`);
    await setTimeout(150);
    writeFileSync(path, "second");
    expect(await looks()).toEqual(["second"]);
  });

  it("waits for the end of a file that is written in pieces", async () => {
    writeFileSync(path, "0");
    for (let k = 1; k < 20; k++) {
      await setTimeout(10);
      appendFileSync(path, ` ${k}`);
    }
    expect(await looks()).toEqual(["0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19"]);
  });

  it("looks when a file is gone for good", async () => {
    unlinkSync(path);
    expect(await looks()).toEqual(["missing"]);
  });

  it("does not look for other files of the folder", async () => {
    writeFileSync(join(root, "chip", ".chip.yaml.1-0123456789ab.part"), "part");
    writeFileSync(join(root, "chip", "chip.yaml~"), "copy");
    await setTimeout(800);
    expect(seen).toEqual([]);
  });

  it("sees a change after the whole folder was replaced", async () => {
    mkdirSync(join(root, "other"));
    writeFileSync(join(root, "other", "chip.yaml"), "second");
    renameSync(join(root, "chip"), join(root, "away"));
    renameSync(join(root, "other"), join(root, "chip"));
    expect((await looks()).at(-1)).toBe("second");
    seen.length = 0;
    writeFileSync(path, "third");
    expect((await looks()).at(-1)).toBe("third");
  });

  it("is silent once it is stopped", async () => {
    writeFileSync(path, "second");
    stop();
    await setTimeout(800);
    expect(seen).toEqual([]);
  });
});
