/**
 * Force against travel of a warm bent beam, and thermal time constants, through the user's text.
 * Forces: exact rod by shooting (computed independently for these checks; linear form Que et al. 2001, from memory). Time constants:
 * separation of variables in a uniform bar, tau_n = L^2/(n^2 pi^2 a) (Carslaw & Jaeger, from memory).
 */
import { describe, expect, it } from "vitest";
import { type Chip, metricRequest } from "#chip";
import { bar, bareChip } from "./chip-text.ts";

const value = (chip: Chip, word: string, argument?: number): number =>
  chip.side("drawn").valueOf(metricRequest(chip, word, { ...(argument !== undefined && { argument }) })).value;

describe("one pair of legs, 500 um at 0.1 rad, 6 x 20 um, 300 K warmer", () => {
  const chip = bareChip({
    materials: "plain: { conductivity: 120 W/(m K), resistivity: 1.5e-4 ohm m, expansion: 2.6 ppm/K, young modulus: 169 GPa }",
    silicon: "material: plain",
    thickness: "20 um",
    device:
      "is: bent-beam pair\nlegs: { length: 500 um, width: 6 um, tilt: 0.1 rad }\nshuttle: point\nanchors: ideal\nheat loss: none",
    cases: "on: { uniform rise: 300 K }",
  });
  it("pushes with 1.5495106 mN when held at 2 um", () => {
    // eight elements a leg leave 2e-5 of the motion, and half of that of the force
    expect(Math.abs(value(chip, "force at travel", 2e-6) / 1.5495106e-3 - 1)).toBeLessThan(1e-4);
  });
  it("pushes with nothing at its free travel", () => {
    const free = value(chip, "steady travel");
    expect(Math.abs(free / 3.6953346e-6 - 1)).toBeLessThan(1e-4);
    expect(Math.abs(value(chip, "force at travel", free))).toBeLessThan(1e-9);
  });
  it("pushes less the further it has gone", () => {
    const forces = [1.5e-6, 2e-6, 2.5e-6, 3e-6, 3.5e-6].map((travel) => value(chip, "force at travel", travel));
    for (let i = 1; i < forces.length; i++) expect(forces[i]).toBeLessThan(forces[i - 1]!);
  });
});

describe("a bar between cool anchors", () => {
  const chip = bareChip({
    materials:
      "plain: { conductivity: 120 W/(m K), resistivity: 1.5e-4 ohm m, expansion: 3 ppm/K, young modulus: 169 GPa, specific heat: 712 J/(kg K), density: 2330 kg/m^3 }",
    silicon: "material: plain",
    thickness: "40 um",
    device: bar("1000 um", "8 um"),
    cases: "on: { current: 1 mA }",
  });
  it.each([1, 2, 3])("time constant %d is L^2/(n^2 pi^2 a)", (n) => {
    const diffusivity = 120 / (2330 * 712);
    // spectral elements leave 1e-6 of the slowest, a little more of the faster ones
    expect(Math.abs((value(chip, "thermal time constant", n) * n ** 2 * Math.PI ** 2 * diffusivity) / 1e-6 - 1)).toBeLessThan(
      1e-4,
    );
  });
  it("follows its drive up to 118 Hz: the mean of all odd modes, a little above the slowest alone", () => {
    const slowest = 1 / (2 * Math.PI * 1.400732e-3);
    expect(value(chip, "thermal bandwidth") / slowest).toBeGreaterThan(1);
    expect(value(chip, "thermal bandwidth") / slowest).toBeLessThan(1.06);
  });
});
