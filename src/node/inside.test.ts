import { mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { findInside } from "./inside.ts";

let root = "";
let folder = "";
beforeAll(() => {
  root = realpathSync(mkdtempSync(join(tmpdir(), "waferwright-inside-")));
  folder = join(root, "chip");
  mkdirSync(join(folder, "readings"), { recursive: true });
  mkdirSync(join(root, "chip-other"));
  for (const path of ["secret", "chip-other/secret", "chip/a.csv", "chip/readings/b.csv", "chip/.hidden"]) {
    writeFileSync(join(root, path), path);
  }
  symlinkSync(join(folder, "a.csv"), join(folder, "within.csv"));
  symlinkSync(join(root, "secret"), join(folder, "out.csv"));
  symlinkSync("../secret", join(folder, "relative-out.csv"));
  symlinkSync(root, join(folder, "up"));
  symlinkSync(join(root, "chip-other"), join(folder, "beside"));
  symlinkSync(join(folder, "round"), join(folder, "round"));
  symlinkSync(folder, join(root, "link-to-chip"));
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

describe("findInside", () => {
  it("finds files, in folders below and through links that stay inside", async () => {
    expect(await findInside(folder, "a.csv")).toEqual({ found: "file", path: join(folder, "a.csv") });
    expect(await findInside(folder, "readings/b.csv")).toEqual({ found: "file", path: join(folder, "readings", "b.csv") });
    expect(await findInside(folder, "within.csv")).toEqual({ found: "file", path: join(folder, "a.csv") });
    expect(await findInside(join(root, "link-to-chip"), "a.csv")).toEqual({ found: "file", path: join(folder, "a.csv") });
  });

  it.each(["none.csv", "readings", "a.csv/b", "none/b.csv", "x".repeat(5000)])("finds nothing under %s", async (name) => {
    expect(await findInside(folder, name)).toEqual({ found: "nothing" });
  });

  it.each([
    "../secret",
    "..",
    ".",
    "",
    "/etc/hostname",
    "readings/../../secret",
    "readings//b.csv",
    "readings\\..\\..\\secret",
    "C:secret",
    "a.csv:stream",
    "a.csv\u0000.png",
    ".hidden",
    "out.csv",
    "relative-out.csv",
    "up/secret",
    "up/chip/a.csv/../../secret",
    "beside/secret",
  ])("does not leave the folder for %j", async (name) => {
    expect(await findInside(folder, name)).toEqual({ found: "outside" });
  });

  it("follows a link to itself nowhere", async () => {
    await expect(findInside(folder, "round")).rejects.toThrow("ELOOP");
  });
});
