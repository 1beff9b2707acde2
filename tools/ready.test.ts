import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const ready = new URL("./ready.mjs", import.meta.url);

interface Ready {
  describeOldNode(version: string): string | undefined;
  fingerprintOf(folder: string): string;
  isReady(folder: string): boolean;
}
const { describeOldNode, fingerprintOf, isReady } = (await import(ready.href)) as Ready;

describe("ready", () => {
  it("refuses Node before 20 in one sentence and takes every later one", () => {
    expect(describeOldNode("18.20.4")).toMatch(/^Cannot run Waferwright: wanted Node 20 or newer, found Node 18\.20\.4\./);
    expect(describeOldNode("9.1.0")).toBeDefined();
    for (const version of ["20.0.0", "22.1.0", "100.0.0"]) expect(describeOldNode(version)).toBeUndefined();
  });

  it("is ready only while the mark fits the lock file, whatever its line ends", () => {
    const folder = mkdtempSync(join(tmpdir(), "waferwright-ready-"));
    try {
      writeFileSync(join(folder, "package-lock.json"), "{\n}\n");
      expect(isReady(folder)).toBe(false);
      mkdirSync(join(folder, "node_modules"));
      writeFileSync(join(folder, "node_modules", ".ready"), fingerprintOf(folder));
      expect(isReady(folder)).toBe(true);
      writeFileSync(join(folder, "package-lock.json"), "{\r\n}\r\n");
      expect(isReady(folder)).toBe(true);
      writeFileSync(join(folder, "package-lock.json"), "{}\n");
      expect(isReady(folder)).toBe(false);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it("passes arguments, output and exit code of the command on", () => {
    const program = "console.log(process.argv[1]); process.exitCode = 7";
    const run = spawnSync(process.execPath, [fileURLToPath(ready), "node", "-e", program, "a b"], { encoding: "utf8" });
    expect({ code: run.status, output: run.stdout }).toEqual({ code: 7, output: "a b\n" });
  });
});
