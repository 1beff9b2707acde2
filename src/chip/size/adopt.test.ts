import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { openChip } from "../predict/chip.ts";
import { adoptDesign } from "./adopt.ts";

const text = readFileSync(new URL("../../../examples/02-leafgate/chip.yaml", import.meta.url), "utf8");
const chip = openChip(text, { file: "chip.yaml" });
const length = "devices.shutter.parts.drive.legs.length";

describe("adopting a design", () => {
  it("writes its values in the units of the text and leaves every other byte", () => {
    const adopted = adoptDesign(chip, text, [
      { key: length, value: 762.5e-6 },
      { key: "parameters.leg width", value: 7.7754e-6 },
    ]);
    expect(adopted.changes).toEqual([
      { key: length, before: "800 um", after: "762.5 um" },
      { key: "parameters.leg width", before: "6 um", after: "7.775 um" },
    ]);
    expect(adopted.text).toBe(
      text.replace("pairs: 6, length: 800 um", "pairs: 6, length: 762.5 um").replace("leg width: 6 um", "leg width: 7.775 um"),
    );
  });
  it.each([
    ["process.silicon thickness", 35e-6, "35 um ± 1 um"],
    ["process.undercut per edge", 0.75e-6, "assumed 0.75 um ± 0.15 um, default of this etch"],
    ["process.bond strain", 0, "assumed 0 ppm ± 70 ppm, silicon in tension after bonding"],
    ["process.bond strain", -1.23456e-4, "assumed -123.5 ppm ± 70 ppm, silicon in tension after bonding"],
    ["devices.shutter.parts.drive.legs.tilt", (3 * Math.PI) / 180, "3 deg"],
    ["surroundings.temperature", 310, "310 K"],
  ])("keeps spread, evidence and source of %s at %d", (key, value, after) => {
    expect(adoptDesign(chip, text, [{ key, value }]).changes[0]!.after).toBe(after);
  });
  it("minds that degrees Celsius have a zero of their own", () => {
    const celsius = text.replace("temperature: 298 K", "temperature: 25 degC");
    const adopted = adoptDesign(openChip(celsius, { file: "chip.yaml" }), celsius, [
      { key: "surroundings.temperature", value: 303.15 },
    ]);
    expect(adopted.changes[0]).toMatchObject({ before: "25 degC", after: "30 degC" });
  });
  it("does not write over what is worked out", () => {
    expect(() => adoptDesign(chip, text, [{ key: "devices.shutter.parts.drive.legs.width", value: 1e-6 }])).toThrow(
      'Cannot write a value for "devices.shutter.parts.drive.legs.width": the text has "leg width", which is worked out.',
    );
  });
});
