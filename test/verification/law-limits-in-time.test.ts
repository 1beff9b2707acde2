/**
 * Runs in time that take a device beyond what is known of its material, against the closed form of a bar without side loss whose constants
 * do not change: from cold under a constant current the middle rises as the series of the heat equation, [carslaw1959] FROM MEMORY:
 * T - T0 = q l^2/(8 k) (1 - sum over odd n of 32/(n pi)^3 (-1)^((n-1)/2) exp(-n^2 pi^2 a t/l^2)).
 */
import { describe, expect, it } from "vitest";
import { buildLedger, metricRequest, traceCase } from "#chip";
import { bar, bareChip, metricOf, vee } from "./chip-text.ts";

const [k, rho, density, specific, T0] = [120, 1.5e-4, 2330, 700, 293.15];
const [length, width, thickness] = [500e-6, 8e-6, 40e-6];
const highest = 600;
const current = 0.05;

const chipAt = (cases: string, thermal = "", device = bar("500 um", "8 um")) =>
  bareChip({
    materials: `plain:
  conductivity: ${k} W/(m K)
  resistivity: { formula: ${rho}${thermal}, unit: ohm m, range: 250 K to ${highest} K, source: invented round numbers }
  expansion: 3e-6/K
  young modulus: 169 GPa
  density: ${density} kg/m^3
  specific heat: ${specific} J/(kg K)`,
    silicon: "material: plain",
    thickness: "40 um",
    device,
    cases,
  });

const middleAt = (time: number): number => {
  const source = (current / (width * thickness)) ** 2 * rho;
  const decay = ((Math.PI / length) ** 2 * k) / (density * specific);
  let sum = 1;
  for (let n = 1; n < 60; n += 2) sum -= (32 / (n * Math.PI) ** 3) * (-1) ** ((n - 1) / 2) * Math.exp(-(n ** 2) * decay * time);
  return T0 + (source * length ** 2 * sum) / (8 * k);
};

/** When the middle comes to the end of the law, by halving [s]. */
function momentOf(temperature: number): number {
  let [low, high] = [0, 0.1];
  while (high - low > 1e-12) {
    const middle = (low + high) / 2;
    if (middleAt(middle) < temperature) low = middle;
    else high = middle;
  }
  return low;
}

const pulse = (ampere: number): string =>
  `pulse:\n  steps:\n    - { for: 0.02 ms }\n    - { for: 10 ms, current: ${ampere} A }\n    - { for: 10 ms }`;

describe("a run in time beyond what is known", () => {
  const chip = chipAt(pulse(current));
  const wanted = 0.02e-3 + momentOf(highest);

  it("tells which part leaves its laws, and when", () => {
    const side = chip.side("drawn");
    const results = side.sequenceAt("one", "pulse");
    expect(results).toMatchObject({ reason: expect.stringMatching(/^not computed, because bar comes to 600 K after /) });
    const [finding] = side.findings();
    expect(finding).toMatchObject({ code: "beyond-laws", severity: "error", where: "one, case pulse: device" });
    const [, time] = /comes to 600 K after ([\d.]+) µs/.exec(finding!.message)!;
    // within 0.05 K of the end, on a run that keeps 2e-4 of its times; told with three digits
    expect(Math.abs(Number(time) / (wanted * 1e6) - 1)).toBeLessThan(5e-3);
    expect(finding!.message).toMatch(/: nothing is told of plain beyond\. Lower the drive or shorten its step\.$/);
  });

  it("traces up to there, with nothing beyond", () => {
    const { times, columns, findings } = traceCase(chip, { side: "drawn" });
    expect(Math.abs(times.at(-1)! / wanted - 1)).toBeLessThan(1e-3);
    expect(findings).toHaveLength(1);
    // the mean over a bar is below its middle
    const means = columns.find(({ name }) => name === "mean leg temperature")!.values;
    expect(Math.max(...means)).toBeLessThan(highest);
    expect(Math.max(...means)).toBeGreaterThan(400);
  });

  it.each(["energy per exposure", "peak supply current"])("has no %s, and says why in its row", (word) => {
    const found = chip.side("drawn").valueOf(metricRequest(chip, word, { caseName: "pulse" }));
    expect(found).toEqual({ value: Number.NaN, reason: expect.stringContaining("bar comes to 600 K after") });
  });

  it("has no time to open of a leg that moves, and says why", () => {
    const moving = chipAt(pulse(current), "", vee({ length: "250 um", width: "8 um", tilt: "2 deg" }));
    const found = moving.side("drawn").valueOf(metricRequest(moving, "time to open", { caseName: "pulse" }));
    expect(found).toEqual({ value: Number.NaN, reason: expect.stringContaining("600 K after") });
  });

  it("goes on to the end a little below", () => {
    // the steady middle stands at T0 + j^2 rho l^2/(8 k)
    const steady = (Math.sqrt(((highest - 1 - T0) * 8 * k) / rho) / length) * width * thickness;
    const below = chipAt(pulse(steady));
    expect(metricOf(below, "peak supply current", "pulse")).toBeCloseTo(steady, 12);
    expect(traceCase(below, { side: "drawn" }).times.at(-1)).toBeCloseTo(20.02e-3, 12);
    expect(traceCase(below, { side: "drawn" }).findings).toEqual([]);
  });

  it("stops before heat runs away, at the end of the law and not in the solver", () => {
    // resistivity that rises: above the run-away current no state holds, but the run ends at the law
    const runaway = chipAt(pulse(0.2), ` * (1 + 3e-3 * (T - ${T0}))`);
    const results = runaway.side("drawn").sequenceAt("one", "pulse");
    expect(results).toMatchObject({ reason: expect.stringContaining("bar comes to 600 K after") });
  });

  it("is told in the ledger", () => {
    const extra = [metricRequest(chip, "energy per exposure", { caseName: "pulse" })];
    const ledger = buildLedger(chip, { samples: 0, seed: 1, doubtAsDrawn: false, extra });
    expect(ledger.findings.map(({ code }) => code)).toEqual(["beyond-laws"]);
  });
});
