/** Metrics that a device, a part or a case cannot have: refused where they are asked, and told in the row of a ledger that has no number. */
import { describe, expect, it } from "vitest";
import { buildLedger } from "../ledger/ledger.ts";
import { metrics } from "../metrics/vocabulary.table.ts";
import { openChip } from "./chip.ts";
import { metricRequest } from "./metric-request.ts";

const text = (brief: string): string => `chip: bar
version: 1
brief:
  - { name: row, ${brief} }
surroundings: { gas: vacuum, temperature: 300 K }
process:
  flow: idealised
  silicon thickness: 40 um
  silicon: { dopant: boron, resistivity: 0.015 ohm cm }
devices:
  one: { is: straight bar, length: 500 um, width: 10 um, anchors: ideal, heat loss: none }
drive:
  cases:
    on: { pads: 1 V }
    warm: { uniform rise: 100 K }
    pulse: { steps: [{ for: 1 ms, pads: 1 V }] }
`;
const open = (brief: string) => openChip(text(brief), { file: "chip.yaml" });
const sound = open("of: pad voltage, at: on, need: at least 0 V");

describe("a metric that a straight bar cannot have", () => {
  const output =
    "steady travel is of the output of a device, and devices.one has none. A composition states one under output; motion along y of a point needs none.";
  it.each([
    ["of: steady travel, at: on, need: at least 1 um", `4:22 Cannot read the requirement "row": ${output}`],
    [
      "of: light when open, at: on, need: at least 0.5",
      '4:22 Cannot read the requirement "row": light when open is of a device with slits over slits, and devices.one has no light stated. A composition with a slit blade states it under light.',
    ],
    [
      "of: contact force, at: on, need: at most 1 uN, where: bar",
      '4:72 Cannot read the requirement "row": "bar" is a beam: contact force is of a stop, and the device has none.',
    ],
    [
      "of: temperature, at: on, need: at most 400 K, where: middel",
      '4:71 Cannot read the requirement "row": "middel" is not a point of the device. Known are anchor left, anchor right.',
    ],
  ])("%s is refused with line and sentence", (brief, sentence) => {
    let problems: readonly string[] = [];
    try {
      open(brief);
    } catch (error) {
      problems = (error as { problems: { place: { line: number; column: number }; message: string }[] }).problems.map(
        ({ place, message }) => `${place.line}:${place.column} ${message}`,
      );
    }
    expect(problems).toEqual([sentence]);
  });

  it("is refused in a sweep too", () => {
    expect(() => metricRequest(sound, "steady travel", { caseName: "on" })).toThrow(output);
    expect(() => metricRequest(sound, "stress", { caseName: "on", where: "anchor left" })).toThrow(
      '"anchor left" is an anchor: stress is of a beam, such as bar.',
    );
  });

  it("has a reason in place of a number, whatever is asked, where and in which case", () => {
    const side = sound.side("drawn");
    const { points, parts } = side.deviceModel("one").parts.device.drawing;
    let absent = 0;
    for (const metric of metrics) {
      const places =
        metric.where === "point" ? [...points.keys()] : metric.where === "part" ? parts.map(({ name }) => name) : [undefined];
      for (const caseName of metric.stands === "device" ? [undefined] : ["on", "warm", "pulse"]) {
        for (const where of places) {
          const found = side.valueOf({ metric, device: "one", caseName, argument: metric.needs && 1, where });
          if (Number.isFinite(found.value)) continue;
          absent++;
          expect(found.reason, `${metric.word} ${where} ${caseName}`).toMatch(/^[^A-Z].{9,}[^.]$/);
        }
      }
    }
    expect(absent).toBeGreaterThan(100);
  });

  it("says so in the row of a case that has no heat", () => {
    const ledger = buildLedger(open("of: thermal bandwidth, at: warm, need: at least 1 kHz"), {
      samples: 0,
      seed: 1,
      doubtAsDrawn: false,
    });
    expect(ledger.rows[0]!.limits[0]!.built!.estimate.reason).toBe(
      "no current warms the device in this case: nothing is known of its heat",
    );
    expect(ledger.rows[0]!.built!.word).toBe("fails");
  });
});
