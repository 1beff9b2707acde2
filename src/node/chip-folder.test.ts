import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { InputError } from "#base";
import { largestChipText } from "#chip";
import { readChipText, saveChipText } from "./chip-folder.ts";

let folder = "";
let path = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "waferwright-chip-"));
  path = join(folder, "chip.yaml");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function refusalOf(promise: Promise<unknown>): Promise<string> {
  const error = await promise.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(InputError);
  return (error as InputError).message;
}

describe("readChipText", () => {
  it("reads a text with its line ends, and a byte-order mark apart from it", async () => {
    writeFileSync(path, "name: µ\r\nlist:\n");
    expect(await readChipText(folder)).toEqual({ path, text: "name: µ\r\nlist:\n", hasByteOrderMark: false });
    writeFileSync(path, "\uFEFFname: µ\n");
    expect(await readChipText(folder)).toEqual({ path, text: "name: µ\n", hasByteOrderMark: true });
  });

  it("takes off one byte-order mark only: a second one belongs to the text", async () => {
    writeFileSync(path, "\uFEFF\uFEFFa");
    expect((await readChipText(folder)).text).toBe("\uFEFFa");
  });

  it("says what is missing", async () => {
    const missing = join(folder, "none");
    expect(await refusalOf(readChipText(missing))).toBe(`${missing}:1:1: Cannot find this folder: wanted a chip folder.`);
    expect(await refusalOf(readChipText(folder))).toBe(
      `${path}:1:1: Cannot find chip.yaml in this folder: wanted a chip folder.`,
    );
    writeFileSync(path, "name: a\n");
    expect(await refusalOf(readChipText(path))).toBe(`${path}:1:1: Cannot use a file here: wanted the folder that holds it.`);
  });

  it("refuses a folder of this name", async () => {
    mkdirSync(path);
    expect(await refusalOf(readChipText(folder))).toContain("Cannot read the chip text: wanted a file, found something else.");
  });

  it("takes a text of the largest size and refuses one byte more, however large, without reading it", async () => {
    writeFileSync(path, "#".repeat(largestChipText));
    expect((await readChipText(folder)).text.length).toBe(largestChipText);
    // 100 GB of nothing: reading it would take minutes and more memory than there is.
    truncateSync(path, 100e9);
    expect(await refusalOf(readChipText(folder))).toContain("wanted at most 1 MB, found 100000.00 MB");
    writeFileSync(path, "#".repeat(largestChipText + 1));
    expect(await refusalOf(readChipText(folder))).toContain("wanted at most 1 MB, found 1.00 MB");
  });

  it("refuses what is not UTF-8 with the byte and its line and column", async () => {
    // Latin-1: the byte 0xB5 is a micro sign there.
    writeFileSync(path, Buffer.concat([Buffer.from("a: 1\nµm: 5 "), Buffer.from([0xb5]), Buffer.from("m\n")]));
    expect(await refusalOf(readChipText(folder))).toBe(
      `${path}:2:7: Cannot read the chip text: wanted UTF-8, found 0xB5 at byte 12. Save the file as UTF-8.`,
    );
    writeFileSync(path, Buffer.from("\uFEFFname: a\n", "utf16le"));
    expect(await refusalOf(readChipText(folder))).toContain("wanted UTF-8, found UTF-16 (byte 0)");
  });
});

describe("saveChipText", () => {
  it("gives back every text that it saved, with or without byte-order mark", async () => {
    const text = fc.string({ unit: "grapheme", maxLength: 40 }).filter((t) => !t.startsWith("\uFEFF"));
    await fc.assert(
      fc.asyncProperty(text, text, fc.boolean(), async (before, after, hasByteOrderMark) => {
        writeFileSync(path, (hasByteOrderMark ? "\uFEFF" : "") + before);
        await saveChipText(folder, after, { expected: before });
        expect(await readChipText(folder)).toEqual({ path, text: after, hasByteOrderMark });
      }),
      { seed: 3, numRuns: 60 },
    );
    expect(readdirSync(folder)).toEqual(["chip.yaml"]);
  });

  it("creates a text where there is none, and only there", async () => {
    await saveChipText(folder, "name: a\n", { expected: undefined });
    expect(readFileSync(path, "utf8")).toBe("name: a\n");
    await expect(saveChipText(folder, "name: b\n", { expected: undefined })).rejects.toMatchObject({
      failure: "changed on disk",
      message: `Cannot save ${path}: there is such a file already`,
    });
    expect(readFileSync(path, "utf8")).toBe("name: a\n");
  });

  it("leaves a text alone that was changed or removed meanwhile", async () => {
    writeFileSync(path, "name: changed\n");
    await expect(saveChipText(folder, "name: new\n", { expected: "name: old\n" })).rejects.toMatchObject({
      failure: "changed on disk",
    });
    expect(readFileSync(path, "utf8")).toBe("name: changed\n");
    rmSync(path);
    await expect(saveChipText(folder, "name: new\n", { expected: "name: old\n" })).rejects.toThrow("it is no longer there");
    expect(readdirSync(folder)).toEqual([]);
  });

  it("lets one of two saves at the same time win and tells the other", async () => {
    writeFileSync(path, "0");
    const saves = await Promise.allSettled(["1", "2", "3"].map((text) => saveChipText(folder, text, { expected: "0" })));
    expect(saves.map((save) => save.status)).toEqual(["fulfilled", "rejected", "rejected"]);
    expect(readFileSync(path, "utf8")).toBe("1");
  });

  it.each([
    ["half a character", "a\uD800b"],
    ["a byte-order mark of its own", "\uFEFFname: a"],
    ["too much", "#".repeat(largestChipText + 1)],
  ])("refuses a text with %s, which could not be read back", async (_, text) => {
    writeFileSync(path, "old");
    await expect(saveChipText(folder, text, { expected: "old" })).rejects.toMatchObject({ failure: "unfit text" });
    expect(readFileSync(path, "utf8")).toBe("old");
  });
});
