/**
 * The numbers that the examples' pages print, and what a hand calculation says of them. All examples are invented.
 * Printed numbers are held to half a unit of their last digit, where three digits are printed 0.5 % at most; they change when the
 * physics does, and the pages with them.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Chip, type MetricAt, metricRequest, openChip } from "#chip";

const opened = new Map<string, Chip>();

function example(name: string): Chip {
  const known = opened.get(name);
  if (known !== undefined) return known;
  const file = join(import.meta.dirname ?? "", "../../examples", name, "chip.yaml");
  const chip = openChip(readFileSync(file, "utf8"), { file: `examples/${name}/chip.yaml` });
  opened.set(name, chip);
  return chip;
}

function ask(chip: Chip, word: string, at: MetricAt = {}, side: "drawn" | "built" = "built"): number {
  return chip.side(side).valueOf(metricRequest(chip, word, at)).value;
}

type Printed = readonly [word: string, at: MetricAt, value: number, half: number];

const printed: Readonly<Record<string, readonly Printed[]>> = {
  "01-one-bent-beam": [
    ["steady travel", { caseName: "hold" }, 2.05e-6, 0.006e-6],
    ["supply current", { caseName: "hold" }, 9.64e-3, 0.006e-3],
    ["hottest silicon temperature", { caseName: "hold" }, 413.5, 0.06],
    ["share of heat to gas", { caseName: "hold" }, 0.349, 0.0006],
  ],
  "02-leafgate": [
    ["steady travel", { caseName: "hold" }, 8.6e-6, 0.006e-6],
    ["pad voltage for travel", { for: "10 um" }, 11.12, 0.006],
    ["supply current", { caseName: "hold" }, 33.8e-3, 0.06e-3],
    ["energy per exposure", { caseName: "exposure" }, 0.106, 0.0006],
    ["hottest silicon temperature", { caseName: "hold" }, 539, 0.6],
    ["anchor temperature", { caseName: "hold" }, 320.6, 0.06],
    ["time to open", { caseName: "exposure" }, 2.4e-3, 0.06e-3],
    ["first resonance", { caseName: "cold" }, 17.8e3, 60],
    ["side play", { caseName: "cold", where: "blade", for: "500 gn" }, 0.293e-6, 0.0006e-6],
    ["light when closed", { caseName: "hold" }, 0.01, 0.0006],
    ["light when open", { caseName: "hold" }, 0.231, 0.0006],
  ],
  "04-cascade": [
    ["motion along x", { caseName: "hold", where: "left primary inner" }, 2.07e-6, 0.006e-6],
    ["steady travel", { caseName: "hold" }, 19.4e-6, 0.06e-6],
    ["blocked force", { caseName: "hold" }, 0.94e-3, 0.006e-3],
    ["supply current", { caseName: "hold" }, 54.1e-3, 0.06e-3],
    ["hottest silicon temperature", { caseName: "hold" }, 424.2, 0.06],
    ["mean temperature", { caseName: "hold", where: "shuttle" }, 347.5, 0.06],
    ["peak beam stress", { caseName: "hold" }, 220e6, 0.6e6],
  ],
  "05-hot-and-cold-arm": [
    ["steady travel", { caseName: "open" }, 6.92e-6, 0.006e-6],
    ["supply current", { caseName: "open" }, 10.63e-3, 0.006e-3],
    ["cold resistance", {}, 777, 0.6],
    ["hottest silicon temperature", { caseName: "open" }, 626, 0.6],
    ["mean temperature", { caseName: "open", where: "hot arm" }, 550, 0.6],
    ["mean temperature", { caseName: "open", where: "cold arm" }, 476, 0.6],
    ["stiffness along y", { caseName: "cold", where: "tip" }, 14.5, 0.06],
    ["time to open", { caseName: "open" }, 0.8e-3, 0.006e-3],
  ],
  "06-bent-beam-gripper": [
    ["steady travel", { caseName: "open" }, 19.5e-6, 0.06e-6],
    ["motion along y", { caseName: "open", where: "drive top" }, 3.13e-6, 0.006e-6],
    ["motion along x", { caseName: "grip", where: "tip" }, 9.3e-6, 0.06e-6],
    ["temperature", { caseName: "open", where: "tip" }, 309.8, 0.06],
    ["mean temperature", { caseName: "open", where: "lever" }, 324, 0.6],
    ["shuttle temperature", { caseName: "open" }, 456, 0.6],
    ["supply current", { caseName: "open" }, 34.3e-3, 0.06e-3],
    ["hottest silicon temperature", { caseName: "open" }, 480, 0.6],
    ["first resonance", { caseName: "cold" }, 16.3e3, 60],
  ],
  "07-strain-pointer": [
    ["steady travel", { caseName: "a hundred ppm" }, 5.59e-6, 0.006e-6],
    ["rest position", {}, 1.1e-6, 0.06e-6],
    ["peak beam stress", { caseName: "five hundred ppm" }, 165e6, 0.6e6],
    ["sag under shock", { caseName: "as bonded", where: "tip plate", for: "100 gn" }, 0.67e-6, 0.006e-6],
  ],
};

describe.each(Object.entries(printed))("the page of %s", (name, rows) => {
  it.each(rows)("%s %o", (word, at, value, half) => {
    expect(Math.abs(ask(example(name), word, at) - value)).toBeLessThan(half);
  });
});

describe("by hand", () => {
  it("a cascade travels further than it is squeezed by the cotangent of the tilt, less what clamping takes", () => {
    const chip = example("04-cascade");
    const push = ask(chip, "motion along x", { caseName: "hold", where: "left primary inner" });
    const gain = ask(chip, "steady travel", { caseName: "hold" }) / push;
    // hinged rigid legs; clamped ones bow, and shorten under their own force: a fifth here
    const hinged = 1 / Math.tan((5 * Math.PI) / 180);
    expect(gain / hinged).toBeGreaterThan(0.75);
    expect(gain / hinged).toBeLessThan(1);
  });
  it("the arms of the seed gate resist as their squares in a row", () => {
    // link by middle lines: half of the cold arm, the gap and half of the hot arm
    const squares = 900 / 6 + (20 + 8 + 3) / 6 + 700 / 40 + 200 / 6;
    const resistance = (squares * 0.015e-2) / 40e-6 + 6;
    // 298 K instead of the 300 K of the resistivity, and corners
    expect(Math.abs(ask(example("05-hot-and-cold-arm"), "cold resistance") / resistance - 1)).toBeLessThan(0.01);
  });
  it.each([
    ["6 V", 2.4e-6, 14.5e-6, 32.5e-3, 448],
    ["7 V", 3.3e-6, 20e-6, 36.4e-3, 502],
  ])("the tweezers at %s move and warm as a model of rigid levers says", (volts, apex, tip, current, hottest) => {
    const chip = example("06-bent-beam-gripper").with([{ name: "open pads", value: volts }]);
    const at = { caseName: "open" };
    // the hand model has a pair alone with a mean gas loss, a load of 200 N/m for the levers, no step of temperature at the sides, and hinges without give
    expect(Math.abs(ask(chip, "motion along y", { ...at, where: "drive top" }) / apex - 1)).toBeLessThan(0.107);
    expect(Math.abs(ask(chip, "steady travel", at) / tip - 1)).toBeLessThan(0.15);
    expect(Math.abs(ask(chip, "supply current", at) / current - 1)).toBeLessThan(0.03);
    expect(Math.abs(ask(chip, "hottest silicon temperature", at) / hottest - 1)).toBeLessThan(0.03);
  });
  it("the strain pointer turns by what both beams shrink over their offset, less what their stiffness takes", () => {
    const chip = example("07-strain-pointer");
    const free = (2 * 1e-4 * 600e-6 * (800e-6 + 15e-6 + 8e-6)) / 16e-6;
    const share = ask(chip, "steady travel", { caseName: "a hundred ppm" }) / free;
    expect(share).toBeGreaterThan(0.85);
    expect(share).toBeLessThan(1);
    const thin = chip.with([{ name: "beam width", value: "3 um" }]);
    // thin beams bend as if they were free
    expect(ask(thin, "steady travel", { caseName: "a hundred ppm" }, "drawn") / free).toBeGreaterThan(0.97);
  });
});
