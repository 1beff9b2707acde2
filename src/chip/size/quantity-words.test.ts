import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { openChip } from "../predict/chip.ts";
import { axisOf } from "./design-space.ts";

const read = (example: string) =>
  openChip(readFileSync(new URL(`../../../examples/${example}/chip.yaml`, import.meta.url), "utf8"), { file: "chip.yaml" });

it.each([
  ["02-leafgate", "drive legs length", ["500 um", "900 um"], "length of legs of drive"],
  ["02-leafgate", "leg width", ["5 um", "7 um"], "leg width"],
  // a size that names a parameter is that parameter
  ["02-leafgate", "drive legs width", ["5 um", "7 um"], "leg width"],
  ["02-leafgate", "silicon thickness", ["30 um", "50 um"], "silicon thickness"],
  ["02-leafgate", "silicon resistivity", ["0.01 ohm cm", "0.02 ohm cm"], "resistivity of silicon"],
  ["02-leafgate", "hold pads", ["8 V", "11 V"], "pads at hold"],
  ["01-one-bent-beam", "legs length", ["300 um", "800 um"], "length of legs"],
])("%s: %s varies in words as it stands in the text", (example, name, [from, to], words) => {
  expect(axisOf(read(example), { name, from: from!, to: to! }).name).toBe(words);
});
