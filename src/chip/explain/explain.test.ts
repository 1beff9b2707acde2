import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { openChip } from "../predict/chip.ts";
import { metricRequest } from "../predict/metric-request.ts";
import { explain } from "./explain.ts";

const chipOf = (name: string, edit: (text: string) => string = (text) => text) =>
  openChip(edit(readFileSync(`examples/${name}/chip.yaml`, "utf8")), { file: "chip.yaml" });

describe("why the travel of Leafgate is what it is", { timeout: 240_000 }, () => {
  const chip = chipOf("02-leafgate");
  const found = explain(chip, metricRequest(chip, "steady travel", { caseName: "hold" }), { count: 3 });
  const last = found.hops.length - 1;
  const { drawn, built } = found.hops[last]!;

  test("its hops go from the voltage to the travel, each as the prediction itself gives it", () => {
    expect(found.hops.map(({ word }) => word)).toEqual([
      "pad voltage",
      "hot resistance",
      "supply current",
      "pad power",
      "mean leg temperature",
      "mean leg strain",
      "steady travel",
    ]);
    for (const side of ["drawn", "built"] as const)
      for (const { word, ...hop } of found.hops) {
        const value = chip.side(side).valueOf(metricRequest(chip, word, { caseName: "hold" })).value;
        expect(Math.abs(hop[side] / value - 1), `${word} ${side}`).toBeLessThan(1e-6);
      }
    const [voltage, resistance, current, power] = found.hops;
    // Ohm's law and U I
    expect(voltage!.built / resistance!.built).toBeCloseTo(current!.built, 8);
    expect(voltage!.built * current!.built).toBeCloseTo(power!.built, 8);
  });

  test("its movers are the edges and the resistivity; in turn they make up the whole difference", () => {
    expect(found.movers.map(({ key }) => key)).toEqual(["edges", "process.silicon.resistivity"]);
    expect(1e6 * drawn).toBeCloseTo(10.57, 2);
    const [edges, resistivity] = found.movers;
    expect(edges!.to).toBeCloseTo(0.6e-6, 12);
    // worked out apart: the same text with the undercut read and the resistivity not
    const without = chipOf("02-leafgate", (text) => text.replace(/ {2}- of: silicon resistivity\n.*\n/, ""));
    const between = without.side("built").valueOf(metricRequest(without, "steady travel", { caseName: "hold" })).value;
    expect(Math.abs((drawn + edges!.inTurn[last]!) / between - 1)).toBeLessThan(1e-5);
    expect(1e6 * between).toBeCloseTo(9.737, 2);
    expect(1e6 * built).toBeCloseTo(8.6, 2);
    const inTurn = edges!.inTurn[last]! + resistivity!.inTurn[last]!;
    expect(inTurn / (built - drawn)).toBeCloseTo(1, 12);
    const alone = edges!.alone[last]! + resistivity!.alone[last]!;
    expect(alone + found.together[last]!).toBeCloseTo(built - drawn, 12);
    expect(Math.abs(found.together[last]! / (built - drawn))).toBeLessThan(0.2);
  });

  test("each change brings the travel to its aim when it is written into the text", () => {
    expect(found.needs).toEqual([{ requirement: "travel", text: "10 um within 1 um", holds: false }]);
    expect(found.aim).toBeCloseTo(10e-6, 12);
    expect(found.changes.length).toBe(3);
    for (const { key, to, reached } of found.changes) {
      expect(Math.abs(reached / found.aim! - 1)).toBeLessThan(1e-4);
      const quantity = chip.addresses.at(key)!;
      const unit = /[a-zA-Z]+$/.exec(quantity.text)![0];
      const perUnit: Record<string, number> = { um: 1e-6, mm: 1e-3, V: 1, deg: Math.PI / 180 };
      const tried = chip.with([{ name: key, value: `${to / perUnit[unit]!} ${unit}` }]);
      const value = tried.side("built").valueOf(metricRequest(tried, "steady travel", { caseName: "hold" })).value;
      expect(Math.abs(value / found.aim! - 1), key).toBeLessThan(2e-4);
    }
  });
});

describe("why a bar of constant properties is as warm as it is", { timeout: 60_000 }, () => {
  // Of a bar with fixed ends, constant conductivity k and resistivity rho (no rise with temperature), at a voltage U:
  // the mean rise is U^2 / (12 k rho), whatever its size; current U w t / (rho L). Carslaw and Jaeger, Conduction of Heat in Solids (chapter 4; section from memory).
  const text = readFileSync("examples/03-straight-bar/chip.yaml", "utf8")
    .replace("1.5e-4 * (1 + 1e-3 * (T - 293.15))", "1.5e-4")
    .replace("    low: { current: 5 mA }", "    low: { pads: 0.5 V }");
  const chip = openChip(`${text}\nreadings:\n  - of: bar length\n    found: measured 550 um, microscope, 2026-11-20\n`, {
    file: "chip.yaml",
  });
  const at = (word: string, aim?: number) =>
    explain(chip, metricRequest(chip, word, { caseName: "low" }), { count: 2, ...(aim !== undefined && { aim }) });

  test("its length moves the current by the closed form, and its warmth not at all", () => {
    const found = at("mean leg temperature");
    const [voltage, resistance, current, power, warmth] = found.hops;
    const area = 8e-6 * 40e-6;
    expect(voltage!.built).toBeCloseTo(0.5, 12);
    expect(resistance!.drawn / ((1.5e-4 * 500e-6) / area)).toBeCloseTo(1, 6);
    expect(current!.built / ((0.5 * area) / (1.5e-4 * 550e-6))).toBeCloseTo(1, 6);
    expect(power!.drawn / ((0.25 * area) / (1.5e-4 * 500e-6))).toBeCloseTo(1, 6);
    expect((warmth!.built - 293.15) / (0.25 / (12 * 120 * 1.5e-4))).toBeCloseTo(1, 3);
    expect(found.movers).toHaveLength(1);
    const [mover] = found.movers;
    expect(mover!.inTurn[2]! / ((0.5 * area * (1 / 550e-6 - 1 / 500e-6)) / 1.5e-4)).toBeCloseTo(1, 6);
    expect(Math.abs(mover!.inTurn[4]!)).toBeLessThan(1e-3);
    expect(Math.abs(found.together[2]!)).toBeLessThan(1e-12);
  });

  test("a wanted current is reached by the voltage or the width that the closed form asks for", () => {
    const wanted = (0.7 * 8e-6 * 40e-6) / (1.5e-4 * 550e-6);
    const changes = new Map(at("supply current", wanted).changes.map((change) => [change.name, change]));
    expect(changes.get("pads at low")!.to).toBeCloseTo(0.7, 3);
    expect(1e6 * changes.get("width")!.to).toBeCloseTo((8 * 0.7) / 0.5, 2);
  });
});
