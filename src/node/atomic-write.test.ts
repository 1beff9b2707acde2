import { spawnSync } from "node:child_process";
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { replaceFile, sweepParts } from "./atomic-write.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "waferwright-write-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const onWindows = process.platform === "win32";

describe("replaceFile", () => {
  it("creates a file, replaces it by text and by bytes, and leaves nothing else behind", async () => {
    const path = join(folder, "a.txt");
    await replaceFile(path, "first µ");
    expect(readFileSync(path, "utf8")).toBe("first µ");
    await replaceFile(path, Uint8Array.of(0, 255, 10));
    expect([...readFileSync(path)]).toEqual([0, 255, 10]);
    expect(readdirSync(folder)).toEqual(["a.txt"]);
  });

  it.skipIf(onWindows)("keeps the access rights, whatever the mask of the process", async () => {
    const path = join(folder, "a.sh");
    writeFileSync(path, "old");
    chmodSync(path, 0o757);
    await replaceFile(path, "new");
    expect(statSync(path).mode & 0o7777).toBe(0o757);
  });

  it.skipIf(onWindows)("replaces what a link points to and keeps the link", async () => {
    mkdirSync(join(folder, "real"));
    writeFileSync(join(folder, "real", "a.txt"), "old");
    symlinkSync(join("real", "a.txt"), join(folder, "link.txt"));
    await replaceFile(join(folder, "link.txt"), "new");
    expect(readFileSync(join(folder, "real", "a.txt"), "utf8")).toBe("new");
    expect(readdirSync(folder).sort()).toEqual(["link.txt", "real"]);
  });

  it("refuses to go over a folder", async () => {
    const path = join(folder, "sub");
    mkdirSync(path);
    await expect(replaceFile(path, "x")).rejects.toMatchObject({
      name: "SaveError",
      failure: "folder in the way",
      message: `Cannot save ${path}: it is a folder, not a file`,
    });
    expect(readdirSync(folder)).toEqual(["sub"]);
  });

  it("refuses to go over a read-only file", async () => {
    const path = join(folder, "a.txt");
    writeFileSync(path, "old", { mode: 0o444 });
    await expect(replaceFile(path, "new")).rejects.toMatchObject({ failure: "read-only" });
    expect(readFileSync(path, "utf8")).toBe("old");
    chmodSync(path, 0o644);
  });

  it("says in plain words that the folder is missing", async () => {
    const path = join(folder, "missing", "a.txt");
    await expect(replaceFile(path, "x")).rejects.toThrow(`Cannot save ${path}: its folder does not exist`);
  });

  it.runIf(process.platform === "linux")("keeps the old content and removes the part when the disk refuses", async () => {
    // A limit on file size, set in a shell, stands in for a full disk: the write of the part fails half way.
    const path = join(folder, "a.txt");
    writeFileSync(path, "old");
    const program = [
      `import { replaceFile } from ${JSON.stringify(new URL("./atomic-write.ts", import.meta.url).href)};`,
      'process.on("SIGXFSZ", () => {});',
      `await replaceFile(${JSON.stringify(path)}, "x".repeat(100_000)).then(() => console.log("saved"), (e) => console.log(e.name + ": " + e.failure));`,
    ].join("\n");
    writeFileSync(join(folder, "save.mts"), program);
    const command = `ulimit -f 20; exec "${process.execPath}" --import tsx "${join(folder, "save.mts")}"`;
    const env = { ...process.env, TSX_DISABLE_CACHE: "1" };
    const run = spawnSync("sh", ["-c", command], { encoding: "utf8", env });
    expect(run.stdout.trim()).toBe("SaveError: refused by the system");
    expect(readFileSync(path, "utf8")).toBe("old");
    expect(readdirSync(folder).sort()).toEqual(["a.txt", "save.mts"]);
  });
});

describe("sweepParts", () => {
  /** Number of a process that has ended. */
  const ended = spawnSync(process.execPath, ["-e", ""]).pid;
  const random = "0123456789ab";

  it("removes the parts of ended programs and nothing else", async () => {
    const stale = `.chip.yaml.${ended}-${random}.part`;
    const others = [
      `.chip.yaml.${process.ppid}-${random}.part`,
      "chip.yaml",
      `.chip.yaml.${ended}.part`,
      `chip.yaml.${ended}-${random}.part`,
    ];
    for (const name of [stale, ...others]) writeFileSync(join(folder, name), "x");
    expect(await sweepParts(folder, { youngest: 0 })).toEqual([stale]);
    expect(readdirSync(folder).sort()).toEqual([...others].sort());
  });

  it("leaves a young part alone, and takes a very old one even if its process number lives", async () => {
    const young = `.chip.yaml.${ended}-${random}.part`;
    const old = `.chip.yaml.${process.ppid}-${random}.part`;
    for (const name of [young, old]) writeFileSync(join(folder, name), "x");
    const twoDaysAgo = Date.now() / 1000 - 2 * 24 * 3600;
    utimesSync(join(folder, old), twoDaysAgo, twoDaysAgo);
    expect(await sweepParts(folder)).toEqual([old]);
  });
});
