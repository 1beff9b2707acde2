import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parsePhrase } from "#base";
import { openChip, phraseWithNumber } from "#chip";
import { type BeamEnd, endsOf } from "./ends.ts";

const file = "examples/02-leafgate/chip.yaml";
const chip = openChip(readFileSync(file, "utf8"), { file });
const ends = endsOf(chip, "shutter");
const endOf = (part: string, end: BeamEnd["end"]): BeamEnd => ends.find((entry) => entry.part === part && entry.end === end)!;
const names = ({ numbers }: BeamEnd): readonly string[] => numbers.map(({ handle }) => handle.name);

describe("the ends of beams that numbers set", () => {
  test("a leg is held at its anchor by its length and its tilt", () => {
    for (const side of ["left", "right"]) {
      const outer = (["start", "end"] as const)
        .map((end) => endOf(`drive leg 3 ${side}`, end))
        .find((end) => names(end).includes("legs length"))!;
      expect([...names(outer)].sort()).toEqual(["legs length", "tilt"]);
    }
  });

  test("the ways are those of the leg: along it for its length, across it for its tilt", () => {
    const outer = ends.find((end) => end.part === "drive leg 3 right" && names(end).includes("legs length"))!;
    const moveBy = (name: string) => outer.numbers.find(({ handle }) => handle.name === name)!.move;
    // a leg of length L at a tilt t ends at L (cos t, -sin t) from its root; 1 um = 1e-6 m, 1 deg = pi/180
    const tilt = (2.5 * Math.PI) / 180;
    const [alongX, alongY] = moveBy("legs length");
    expect(alongX / 1e-6).toBeCloseTo(Math.cos(tilt), 6);
    expect(Math.abs(alongY) / 1e-6).toBeCloseTo(Math.sin(tilt), 6);
    const [acrossX, acrossY] = moveBy("tilt");
    const arc = (800e-6 * Math.PI) / 180;
    // a difference over 1e-3 of the tilt bends by 2e-5 of it
    expect(Math.abs(acrossY) / (arc * Math.cos(tilt))).toBeCloseTo(1, 4);
    expect(Math.abs(acrossX) / (arc * Math.sin(tilt))).toBeCloseTo(1, 3);
  });

  test("an end that was moved by its first number stands where the redrawn device has it", () => {
    for (const { part, end, numbers } of ends) {
      const [{ handle, move }] = numbers as [BeamEnd["numbers"][number]];
      const quantity = chip.addresses.at(handle.key)!;
      const step = 10 ** -handle.decimals;
      const changed = chip.withPhrase(
        quantity,
        parsePhrase(phraseWithNumber(quantity.text, String(Number(handle.digits) + step))),
      );
      const placeIn = (of: typeof chip): readonly [number, number] => {
        const beam = of
          .side("drawn")
          .assemblyOf("shutter")
          .parts.find((candidate) => candidate.name === part);
        if (beam?.kind !== "beam") throw new Error(`no beam ${part}`);
        const at = end === "start" ? 0 : beam.line.length - 2;
        return [beam.line[at]!, beam.line[at + 1]!];
      };
      const [before, after] = [placeIn(chip), placeIn(changed)];
      const way = Math.hypot(after[0] - before[0], after[1] - before[1]);
      // to first order: one step of an angle at 800 um is off by half its square
      expect(Math.hypot(after[0] - before[0] - move[0] * step, after[1] - before[1] - move[1] * step)).toBeLessThan(
        1e-3 * way + 1e-12,
      );
    }
  });

  test("numbers that only carry a beam, and pitches that would no longer fit, hold no end alone", () => {
    const all = new Set(ends.flatMap(({ numbers }) => numbers.map(({ handle }) => handle.key)));
    expect([...all].some((key) => key.endsWith("slits.pitch"))).toBe(false);
    expect(all.has("devices.shutter.points.middle of shuttle.y")).toBe(false);
  });
});
