import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import type { CurvePlot } from "./curves.ts";
import { LiveChip } from "./live-chip.ts";
import { lastOf } from "./pieces.fixture.ts";

const file = "examples/02-leafgate/chip.yaml";
const text = readFileSync(file, "utf8");
const question = { held: [], device: "shutter", caseName: "hold", exaggeration: 1 };

describe("lines about the point where the device stands", { timeout: 60_000 }, () => {
  const live = LiveChip.open(text, file);
  let plots: readonly CurvePlot[];
  beforeAll(() => {
    plots = live.curves(question);
  });

  test("travel, current and warmth run along the drive of the case, and the case with steps in time", () => {
    expect(plots.map(({ title }) => title)).toEqual([
      "steady travel",
      "supply current",
      "hottest silicon temperature",
      "travel through exposure",
    ]);
    expect(plots[0]!.handle).toMatchObject({ key: "drive.cases.hold.pads", digits: "10.20", unit: "V" });
  });

  test("the line goes through the answer of now, to what a chord of its steps leaves out", () => {
    const frame = lastOf(live.frame(question));
    for (const plot of plots.slice(0, 3)) {
      const now = frame.answers.find(({ word }) => word === plot.metric)!.value / plot.y.factor;
      const { x, y } = plot.curves.find(({ kind }) => kind === "as built")!;
      const at = 10.2 * plot.perDigit;
      const i = x.findIndex((value) => value > at);
      const share = (at - x[i - 1]!) / (x[i]! - x[i - 1]!);
      // 40 chords of a line that bends like a square miss it by at most (1/40)^2/4 of its height
      expect(Math.abs(y[i - 1]! + share * (y[i]! - y[i - 1]!) - now)).toBeLessThan((Math.max(...y) / 40 ** 2 / 4) * 1.5);
    }
  });

  test("no drive, no motion: each line begins at rest and at the temperature of the room", () => {
    const [travel, current, hottest] = plots.map(({ curves }) => curves[1]!.y[0]!);
    expect(travel).toBeCloseTo(0, 9);
    expect(current).toBeCloseTo(0, 9);
    expect(hottest).toBeCloseTo(298, 6);
  });
});
