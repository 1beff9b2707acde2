import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parsePhrase } from "#base";
import { openChip } from "../predict/chip.ts";
import { handleOf, phraseWithNumber, stepDecimals } from "./handle.ts";

describe("numbers of the text that can be held", () => {
  test("a number is written anew in its place: unit, doubt and source stay", () => {
    expect(phraseWithNumber("6 um", "6.8")).toBe("6.8 um");
    expect(phraseWithNumber("assumed 10 ohm ± 4 ohm", "12")).toBe("assumed 12 ohm ± 4 ohm");
    expect(phraseWithNumber("-4 V", "-3.5")).toBe("-3.5 V");
    expect(phraseWithNumber("1.2e-2 ohm m", "1.3e-2")).toBe("1.3e-2 ohm m");
  });

  test("what is written anew reads as that number, whatever the number", () => {
    fc.assert(
      fc.property(fc.integer({ min: -99_999, max: 99_999 }), fc.integer({ min: 0, max: 4 }), (count, decimals) => {
        const digits = (count / 10 ** decimals).toFixed(decimals);
        const { value } = parsePhrase(phraseWithNumber("assumed -10 ohm ± 4 ohm", digits));
        const read = value.kind === "negate" && value.of.kind === "number" ? -value.of.amount.value : value;
        const found = typeof read === "number" ? read : read.kind === "number" ? read.amount.value : Number.NaN;
        expect(found + 0).toBe(Number(digits) + 0);
      }),
    );
  });

  test("a sum has no number of its own", () => {
    expect(() => phraseWithNumber("2 * leg width", "3")).toThrow(
      'Cannot write 3 into "2 * leg width": it holds no number of its own',
    );
  });

  test("a step is the last decimal written, one more where fewer than two digits are", () => {
    expect([..."6|6.8|10.20|0.5|250|0.012|3e-3".split("|")].map(stepDecimals)).toEqual([1, 1, 2, 2, 0, 3, 1]);
  });

  test("a width that names a parameter is held at the parameter", () => {
    const file = "examples/02-leafgate/chip.yaml";
    const chip = openChip(readFileSync(file, "utf8"), { file });
    const width = chip.addresses.all.find(({ path }) => path.join(" ") === "devices shutter parts drive legs width")!;
    expect(handleOf(chip, width)).toMatchObject({
      name: "leg width",
      digits: "6",
      unit: "um",
      decimals: 1,
      evidence: "drawn",
      whole: false,
    });
  });
});
