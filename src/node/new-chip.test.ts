import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { newChipText } from "#chip";
import { createChipFolder } from "./new-chip.ts";

let root = "";
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "waferwright-new-"));
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

describe("createChipFolder", () => {
  it("makes the folders on the way, and names the chip by its folder unless told otherwise", async () => {
    await createChipFolder(join(root, "a", "my-chip"), {});
    expect(readFileSync(join(root, "a", "my-chip", "chip.yaml"), "utf8")).toBe(newChipText("my-chip"));
    await createChipFolder(join(root, "b"), { name: "Fine: chip" });
    expect(readFileSync(join(root, "b", "chip.yaml"), "utf8")).toBe(newChipText("Fine: chip"));
  });

  it("copies a chip with all of its files, and touches none that is there", async () => {
    mkdirSync(join(root, "from", "readings"), { recursive: true });
    writeFileSync(join(root, "from", "chip.yaml"), "chip: From\n");
    writeFileSync(join(root, "from", "readings", "a.csv"), "1,2\n");
    writeFileSync(join(root, "from", "notes.md"), "of the original\n");
    mkdirSync(join(root, "to"));
    writeFileSync(join(root, "to", "notes.md"), "mine\n");
    await createChipFolder(join(root, "to"), { from: join(root, "from") });
    const read = (name: string): string => readFileSync(join(root, "to", name), "utf8");
    expect([read("chip.yaml"), read("readings/a.csv"), read("notes.md")]).toEqual(["chip: From\n", "1,2\n", "mine\n"]);
  });

  it("refuses a folder that holds a chip, a file in the way, and a copy of nothing", async () => {
    writeFileSync(join(root, "chip.yaml"), "chip: Mine\n");
    await expect(createChipFolder(root, {})).rejects.toThrow(
      `Cannot save ${join(root, "chip.yaml")}: there is such a file already`,
    );
    expect(readFileSync(join(root, "chip.yaml"), "utf8")).toBe("chip: Mine\n");
    await expect(createChipFolder(join(root, "chip.yaml"), {})).rejects.toThrow("there is a file of this name");
    await expect(createChipFolder(join(root, "chip.yaml", "deeper"), {})).rejects.toThrow("there is a file of this name");
    await expect(createChipFolder(join(root, "copy"), { from: join(root, "none") })).rejects.toThrow("Cannot find this folder");
    expect(existsSync(join(root, "copy", "chip.yaml"))).toBe(false);
  });
});
