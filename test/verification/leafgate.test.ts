/**
 * The Leafgate example (invented) row by row against a hand model written independently: finite volumes along the legs, stem and blade,
 * a shallow beam-column, one mean gas loss for all legs, a three-dimensional frame of slender beams for the modes (cold), rays for the
 * light. What each model leaves out explains the differences; where one is over 3 % its cause stands beside it and can be switched.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Chip, metricRequest, openChip } from "#chip";

const file = join(import.meta.dirname ?? "", "../../examples/02-leafgate/chip.yaml");
const text = readFileSync(file, "utf8");
const open = (change: (text: string) => string = (same) => same): Chip =>
  openChip(change(text), { file: "examples/02-leafgate/chip.yaml" });
const chip = open();

interface Asked {
  readonly at?: string;
  readonly for?: number;
  readonly where?: string;
}

function value(side: "drawn" | "built", word: string, asked: Asked = {}, of: Chip = chip): number {
  return of.side(side).valueOf(
    metricRequest(of, word, {
      caseName: asked.at,
      ...(asked.for !== undefined && { argument: asked.for }),
      ...(asked.where !== undefined && { where: asked.where }),
    }),
  ).value;
}

const shock = { at: "cold", for: 500 * 9.80665, where: "blade" };

/** Metric, what it is asked at, the hand model's number as drawn and as built, and how far apart they may be. */
const rows = [
  // the shuttle, the stem and half of the blade lengthen too, which adds 0.2 um to the travel: 2 %; heat crowds where the stem enters the
  // blade, which the hand model leaves out, and keeps the shuttle 2 K warmer: 0.3 %; every surface has its step of
  // temperature here, which takes 2 to 3 % off the gas loss: 0.8 %; the rest is the legs' own gas losses
  ["steady travel", { at: "hold" }, 10e-6, 8.19e-6, 0.06],
  ["steady travel", { at: "full voltage" }, 13.12e-6, 10.9e-6, 0.058],
  ["pad voltage for travel", { for: 10e-6 }, 10.2, 11.42, 0.033],
  ["supply current", { at: "hold" }, 46.84e-3, 34.4e-3, 0.02],
  ["pad power", { at: "hold" }, 477.7e-3, 0.351, 0.02],
  ["cold inrush current", { at: "full voltage" }, 67.7e-3, 48e-3, 0.02],
  ["supply power", { at: "hold through resistor" }, 564e-3, 412e-3, 0.03],
  ["anchor temperature", { at: "hold" }, 329, 321, 0.005],
  ["mean leg temperature", { at: "hold" }, 499.7, 456, 0.03],
  // each leg loses its own heat here, so that the inner legs are hotter than the mean of the hand model
  ["hottest silicon temperature", { at: "hold" }, 565.5, 514, 0.06],
  ["hottest silicon temperature", { at: "kick stuck on" }, 684, 611, 0.078],
  ["share of heat to gas", { at: "hold" }, 248.3 / 477.7, 0.53, 0.03],
  ["cold resistance", {}, 176.3, 249, 0.01],
  // the hand model's frame has no shear and other flexure anchors
  ["first resonance", { at: "cold" }, 18.6e3, 16.6e3, 0.1],
  ["peak root stress", { at: "hold" }, 105e6, 84e6, 0.2],
  ["light when closed", { at: "hold" }, 0.006, 0.0103, 0.06],
  ["light when open", { at: "hold" }, 0.231, 0.23, 0.02],
] as const satisfies readonly (readonly [string, Asked, number, number, number])[];

describe.each(["drawn", "built"] as const)("as %s, against the hand model", (side) => {
  it.each(rows)("%s %o", (word, asked, drawn, built, tolerance) => {
    const hand = side === "drawn" ? drawn : built;
    expect(Math.abs(value(side, word, asked) / hand - 1)).toBeLessThan(tolerance);
  });
  it("bond tension pulls it back by 0.35 um at rest", () => {
    // the stem and blade lengthen the lever by nothing, but they shrink by 20 ppm themselves: 0.02 um
    expect(Math.abs(value(side, "rest position") * 1e6 + 0.36)).toBeLessThan(0.03);
  });
  it("moves less than the hand model says under 500 g, which has no give between beams and blocks", () => {
    const hand = side === "drawn" ? [0.47e-6, 0.16e-6, 0.3e-3] : [0.6e-6, 0.29e-6, 0.4e-3];
    expect(value(side, "sag under shock", shock) / hand[0]!).toBeGreaterThan(0.7);
    expect(value(side, "sag under shock", shock) / hand[0]!).toBeLessThan(1.1);
    expect(Math.abs(value(side, "side play", shock) / hand[1]! - 1)).toBeLessThan(0.15);
    expect(value(side, "rotation under shock", shock)).toBeLessThan(hand[2]!);
  });
});

describe("in time", () => {
  it("the kick opens it in 2.3 ms, a plain step in 4.8 ms, and it is dark again after 2.1 ms", () => {
    expect(Math.abs(value("drawn", "time to open", { at: "exposure" }) / 2.33e-3 - 1)).toBeLessThan(0.05);
    expect(Math.abs(value("drawn", "time to open", { at: "hold" }) / 4.82e-3 - 1)).toBeLessThan(0.06);
    expect(Math.abs(value("drawn", "time to close", { at: "hold" }) / 2.1e-3 - 1)).toBeLessThan(0.17);
  });
  it("an exposure of 250 ms takes 0.143 J, and the kick 68 mA", () => {
    expect(Math.abs(value("drawn", "energy per exposure", { at: "exposure" }) / 0.143 - 1)).toBeLessThan(0.03);
    expect(Math.abs(value("drawn", "peak supply current", { at: "exposure" }) / 67.7e-3 - 1)).toBeLessThan(0.02);
  });
});

describe("causes of the differences, switched", () => {
  it("legs that lose heat as if alone are far cooler: neighbours shield each other", () => {
    const alone = open((given) =>
      given.replace("    heat loss: gas\n    trench", "    heat loss: gas\n    neighbours: apart\n    trench"),
    );
    expect(value("drawn", "mean leg temperature", { at: "hold" }, alone)).toBeLessThan(475);
  });
  it("with the mean loss for every leg and the hand model's conductivity, hottest place and travel of the shuttle itself agree to 3 %", () => {
    // doping takes 17 % off the conductivity at 300 K in the hand model, 18.8 % in the law used here: both are guesses
    const like = open((given) =>
      given
        .replace("    heat loss: gas\n    trench", "    heat loss: gas\n    neighbours: averaged\n    trench")
        .replace("conductivity factor: 1 ± 10 %", "conductivity factor: 1.022 ± 10 %"),
    );
    const hottest = value("drawn", "hottest silicon temperature", { at: "hold" }, like);
    expect(Math.abs(hottest / 565.5 - 1)).toBeLessThan(0.025);
    expect(hottest).toBeLessThan(value("drawn", "hottest silicon temperature", { at: "hold" }) - 15);
    // the blade rides on stem and rim, which lengthen as well; the shuttle's middle does not
    const shuttle = value("drawn", "motion along y", { at: "hold", where: "drive middle" }, like);
    // the steps of temperature at the sides of the legs take 1 % off the loss that both have otherwise
    expect(Math.abs(shuttle / 10.0e-6 - 1)).toBeLessThan(0.021);
  });
  it("the give of the roots is worth less than half a per cent of the travel", () => {
    const rigid = open((given) =>
      given.replace("    heat loss: gas\n    trench", "    heat loss: gas\n    roots: rigid\n    trench"),
    );
    const change = value("drawn", "steady travel", { at: "hold" }) / value("drawn", "steady travel", { at: "hold" }, rigid) - 1;
    expect(change).toBeGreaterThan(0);
    expect(change).toBeLessThan(0.005);
  });
});

it("closes its heat balance by fluxes to 1e-4 of the power or better in every case", () => {
  for (const name of chip.names.steadyCases)
    expect(chip.side("built").pointAt("shutter", name).energy!.relativeDefect).toBeLessThan(1e-4);
});
