/** The history of a case against what is known of it: Ohm's law at the start, the metrics of the same run. */
import { describe, expect, it } from "vitest";
import { openChip } from "./chip.ts";
import { metricRequest } from "./metric-request.ts";
import { traceCase, traceColumns } from "./trace.ts";

const text = (steps: string): string => `chip: trace
version: 1
surroundings: { gas: vacuum, temperature: 300 K }
materials:
  stuff:
    conductivity: 100 W/(m K)
    resistivity: 1e-4 ohm m
    expansion: 3 ppm/K
    young modulus: 160 GPa
    density: 2330 kg/m^3
    specific heat: 700 J/(kg K)
process: { flow: idealised, silicon thickness: 20 um, silicon: { material: stuff } }
devices:
  pusher:
    is: bent-beam pair
    legs: { length: 500 um, width: 5 um, tilt: 3 deg }
    shuttle: { width: 20 um, height: 30 um }
    anchors: ideal
    heat loss: none
drive:
  cases:
    hold: { pads: 1 V }
    ${steps}
`;

const chip = openChip(text("pulse: { steps: [{ for: 5 ms, supply: 2 V, through: 100 ohm }, { for: 3 ms }] }"), {
  file: "trace.yaml",
});

describe("traceCase", () => {
  const trace = traceCase(chip, { side: "drawn" });
  const column = (name: string): Float64Array => trace.columns.find((entry) => entry.name === name)!.values;
  it("has every column at every moment, from 0 to the end of the last step", () => {
    expect(trace.columns.map(({ name }) => name)).toEqual(traceColumns);
    for (const { values } of trace.columns) expect(values).toHaveLength(trace.times.length);
    expect(trace.times[0]).toBe(0);
    expect(trace.times[trace.times.length - 1]).toBeCloseTo(8e-3, 12);
  });
  it("starts with Ohm's law of the cold device behind its resistor, and rests at the end", () => {
    const cold = chip.side("drawn").valueOf(metricRequest(chip, "cold resistance", {})).value;
    expect(column("current")[0]).toBeCloseTo(2 / (100 + cold), 8);
    expect(column("pad voltage")[0]).toBeCloseTo((2 * cold) / (100 + cold), 6);
    expect(column("current")[trace.times.length - 1]).toBe(0);
    expect(column("mean leg temperature")[0]).toBeCloseTo(300, 9);
  });
  it("adds up to the metrics of the same run", () => {
    const ask = (word: string): number => chip.side("drawn").valueOf(metricRequest(chip, word, { caseName: "pulse" })).value;
    const energy = column("supply energy");
    expect(energy[energy.length - 1]).toBe(ask("energy per exposure"));
    expect(Math.max(...column("current"))).toBe(ask("peak supply current"));
  });
  it.each([
    [{ caseName: "hold" }, 'The case "hold" has no steps'],
    [{ caseName: "puls" }, 'The nearest is "pulse"'],
  ])("refuses %o", (at, sentence) => {
    expect(() => traceCase(chip, { side: "drawn", ...at })).toThrow(sentence);
  });
  it("says what a case with steps looks like where there is none", () => {
    const steady = openChip(text("cold: { pads: 0 V }"), { file: "trace.yaml" });
    expect(() => traceCase(steady, { side: "drawn" })).toThrow("No case of this chip has steps");
  });
});

describe("metricRequest", () => {
  it("reads what a metric needs as a user writes it", () => {
    expect(metricRequest(chip, "pad voltage for travel", { for: "2 um" }).argument).toBeCloseTo(2e-6, 12);
    expect(metricRequest(chip, "resonance", { for: "2", caseName: "hold" }).argument).toBe(2);
    expect(metricRequest(chip, "stiffness along y", { where: "top", caseName: "hold" }).where).toBe("top");
  });
  it.each([
    ["pad voltage for travel", {}, "needs the travel"],
    ["pad voltage for travel", { for: "2 V" }, 'needs the travel, a length, found "2 V"'],
    ["pad voltage for travel", { for: "leg width" }, "a plain value is wanted"],
    ["steady travel", { for: "2 um" }, 'needs nothing under "for"'],
    ["steady travel", { where: "top" }, "takes no place"],
    ["stiffness along y", {}, 'needs the name of a point under "where"'],
    ["stiffness along y", { where: "topp" }, 'The nearest is "top"'],
  ])("refuses %s with %o", (word, at, sentence) => {
    expect(() => metricRequest(chip, word, { caseName: word.startsWith("pad") ? undefined : "hold", ...at })).toThrow(sentence);
  });
});
