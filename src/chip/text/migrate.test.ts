import { describe, expect, it } from "vitest";
import { InputError } from "#base";
import { checkVersion, currentVersion, type Migration, migrateText, migrations, statedVersion } from "./migrate.ts";

const steps: readonly Migration[] = [
  { from: 2, about: "A width is called leg width.", apply: (text) => text.replace(/^width:/m, "leg width:") },
  { from: 1, about: "A size is called width.", apply: (text) => text.replace(/^size:/m, "width:") },
];

describe("migrateText", () => {
  const old = "# kept\r\nchip: A\r\nversion: 1   # first\r\nsize:   6 um  # wide\r\n";

  it("runs every step in the order of versions and keeps comments, blanks and line ends", () => {
    expect(migrateText(old, { migrations: steps, to: 3 })).toBe(
      "# kept\r\nchip: A\r\nversion: 3   # first\r\nleg width:   6 um  # wide\r\n",
    );
  });

  it("begins at the version of the text, and leaves a text of the last version alone", () => {
    expect(migrateText("version: 2\nsize: 1\nwidth: 2\n", { migrations: steps, to: 3 })).toBe(
      "version: 3\nsize: 1\nleg width: 2\n",
    );
    expect(migrateText("version: 3\nwidth: 2\n", { migrations: steps, to: 3 })).toBe("version: 3\nwidth: 2\n");
  });

  it("says which step is missing", () => {
    expect(() => migrateText(old, { migrations: steps, to: 4 })).toThrow(
      "Cannot bring a text of version 3 up to date: the step from 3 to 4 is missing",
    );
  });

  it("has every step up to the version that the program writes", () => {
    for (let version = 1; version < currentVersion; version++)
      expect(migrations.filter((step) => step.from === version).length).toBe(1);
  });
});

describe("checkVersion", () => {
  const refusal = (text: string): string => {
    try {
      checkVersion(text, "chip.yaml");
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
    return "";
  };

  it("refuses a newer text with the way out, at its place", () => {
    expect(refusal(`chip: A\nversion:  ${currentVersion + 1}\n`)).toBe(
      `chip.yaml:2:11: This text is of version ${currentVersion + 1}; this program knows versions up to ${currentVersion}. Use a newer program, or write version: ${currentVersion} if the text was made for it.`,
    );
  });

  it("refuses version 0", () => {
    expect(refusal("version: 0\n")).toBe(
      `chip.yaml:1:10: Version 0 never existed; the first is 1. Write version: ${currentVersion}.`,
    );
  });

  it.each(["chip: A\n", "version: soon\n", "version: 1.5\n", "version:\n", "  version: 9\n", "version: -1\n"])(
    "leaves %j to the reader of the shape",
    (text) => {
      expect(checkVersion(text, "chip.yaml")).toBe(text);
    },
  );

  it("takes the current version as it is", () => {
    const text = `version: ${currentVersion}   # now\n`;
    expect(checkVersion(text, "chip.yaml")).toBe(text);
    expect(statedVersion(text)).toBe(currentVersion);
    expect(statedVersion("version: 1234567\n")).toBeUndefined();
  });
});
