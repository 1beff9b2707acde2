/**
 * Radiation and contact through the user's text.
 * Radiation: a long thin bar in vacuum, far from its ends, radiates all of its heat, e sigma p (T^4 - T0^4) = I^2 rho/A (Stefan and
 * Boltzmann; constant of CODATA 2018, from memory). Contact: a cantilever pressed on a stop, superposition of end load and reaction (Euler and
 * Bernoulli; common practice, no source).
 */
import { describe, expect, it } from "vitest";
import { type Chip, metricRequest } from "#chip";
import { askMetric, bar, bareChip, metricOf } from "./chip-text.ts";

describe("a long bar in vacuum", () => {
  const at = (emissivity: string): Chip =>
    bareChip({
      materials: "poor: { conductivity: 1 W/(m K), resistivity: 1e-5 ohm m, expansion: 3 ppm/K, young modulus: 160 GPa }",
      silicon: `material: poor\n${emissivity}`,
      thickness: "2 um",
      device: bar("5 mm", "3 um", "gas"),
      cases: "on: { current: 200 uA }",
    });
  it("radiates its heat as a grey body", () => {
    const emissivity = 0.6;
    const perLength = (200e-6 ** 2 * 1e-5) / 6e-12;
    const wanted = (perLength / (emissivity * 5.670374419e-8 * 2 * 5e-6) + 293.15 ** 4) ** 0.25;
    // forty decay lengths from end to end: the middle knows nothing of the ends
    expect(Math.abs(metricOf(at(`emissivity: ${emissivity}`), "hottest silicon temperature") / wanted - 1)).toBeLessThan(1e-6);
  });
  it("cooler where it radiates better, and counted only where the text says so", () => {
    const [black, grey, none] = ["emissivity: 1", "emissivity: 0.3", ""].map((text) =>
      metricOf(at(text), "hottest silicon temperature"),
    );
    expect(black).toBeLessThan(grey!);
    expect(grey).toBeGreaterThan(1.1 * black!);
    // what conducts alone, to the ends of 5 mm, would be far hotter than anything told
    expect(none).toBeNaN();
  });
});

describe("a long tapered bar in vacuum", () => {
  // so long and so poor a conductor that each place radiates what is set free there: I^2 rho/(w t) = e sigma 2 (w + t) (T^4 - T0^4)
  const [emissivity, t, current, T0] = [0.6, 2e-6, 200e-6, 293.15];
  const places = [0.2, 0.5, 0.8] as const;
  const chipWith = (share: number, [start, end]: readonly [number, number]): Chip =>
    bareChip({
      materials: "poor: { conductivity: 1 W/(m K), resistivity: 1e-5 ohm m, expansion: 3 ppm/K, young modulus: 160 GPa }",
      silicon: `material: poor\nemissivity: ${emissivity}`,
      thickness: "2 um",
      device: `is: composition
heat loss: gas
points: { left: { x: 0 mm, y: 0 mm }, right: { x: 20 mm, y: 0 mm } }
parts:
  one anchor: { is: anchor, at: left, width: 0.1 mm, height: 0.1 mm, heat: ideal, wire: plus }
  other anchor: { is: anchor, at: right, width: 0.1 mm, height: 0.1 mm, heat: ideal, wire: minus }
  arm: { is: beam, from: left, to: right, width: ${start} um, end width: ${end} um, joint at: ${100 * share} % }`,
      cases: "on: { current: 200 uA }",
    });
  it.each(places)("is as warm as its own width there lets it, at %d of its way", (share) => {
    for (const [widths, forth] of [
      [[3, 9], share],
      [[9, 3], 1 - share],
    ] as const) {
      const w = (3 + 6 * share) * 1e-6;
      const wanted = (current ** 2 * 1e-5) / (w * t) / (emissivity * 5.670374419e-8 * 2 * (w + t));
      const found = askMetric(chipWith(forth, widths), "temperature", { caseName: "on", where: "arm joint" });
      // conduction evens it out by (decay length/length)^2
      expect(Math.abs((found ** 4 - T0 ** 4) / wanted - 1)).toBeLessThan(2e-3);
    }
  });
  it("gives off all of its heat by radiation and at its ends", () => {
    const chip = chipWith(0.5, [3, 9]);
    const shares = ["share of heat radiated", "share of heat to the substrate"].map((word) => metricOf(chip, word));
    expect(shares[0]).toBeGreaterThan(0.9);
    expect(Math.abs(shares[0]! + shares[1]! - 1)).toBeLessThan(1e-4);
  });
});

describe("a cantilever in front of a stop", () => {
  const [E, w, t, l] = [160e9, 4e-6, 10e-6, 400e-6];
  const stiffness = (E * t * w ** 3) / (4 * l ** 3);
  const chip = bareChip({
    materials: "plain: { conductivity: 120 W/(m K), resistivity: 1.5e-4 ohm m, expansion: 3 ppm/K, young modulus: 160 GPa }",
    silicon: "material: plain",
    thickness: "10 um",
    device: `is: composition
heat loss: none
points: { root: { x: 0 um, y: 0 um }, tip: { x: 400 um, y: 0 um }, foot: { x: -50 um, y: 0 um } }
parts:
  base: { is: anchor, at: foot, width: 100 um, height: 40 um, heat: ideal }
  arm: { is: beam, from: root, to: tip, width: 4 um }
  wall: { is: stop, at: tip, direction: 90 deg, gap: 2 um }`,
    cases: `before: { uniform rise: 0 K, forces: { tip: { y: ${1.9e-6 * stiffness} N } } }
after: { uniform rise: 0 K, forces: { tip: { y: ${3e-6 * stiffness} N } } }
back: { uniform rise: 0 K, forces: { tip: { y: ${-3e-6 * stiffness} N } } }`,
  });
  const value = (word: string, caseName: string, where: string): number =>
    chip.side("drawn").valueOf(metricRequest(chip, word, { caseName, where })).value;
  it("moves freely up to it, and away from it", () => {
    // 1e-4: at 2 um of 400 um the tip already draws in
    expect(Math.abs(value("motion along y", "before", "tip") / 1.9e-6 - 1)).toBeLessThan(1e-4);
    expect(value("contact force", "before", "wall")).toBe(0);
    expect(Math.abs(value("motion along y", "back", "tip") / -3e-6 - 1)).toBeLessThan(1e-4);
  });
  it("stays there when pressed on, and the stop bears the rest of the load", () => {
    expect(Math.abs(value("motion along y", "after", "tip") - 2e-6)).toBeLessThan(1e-14);
    expect(Math.abs(value("contact force", "after", "wall") / (1e-6 * stiffness) - 1)).toBeLessThan(1e-3);
  });
  it("has no stiffness towards the stop, and that of the beam along it and where it is free", () => {
    const pressed = chip.side("drawn").valueOf(metricRequest(chip, "stiffness along y", { caseName: "after", where: "tip" }));
    expect(pressed.value).toBe(Number.POSITIVE_INFINITY);
    expect(pressed.reason).toBe("the point is pressed on its stop (wall) and gives no way along this direction");
    // at rest against the stop the beam is bent by 1 um of 400 um over what it was pressed to: EA/L is less by the bow, 3 EI/L^3 is not
    expect(Math.abs(value("stiffness along y", "before", "tip") / stiffness - 1)).toBeLessThan(1e-4);
    expect(Math.abs(value("stiffness along x", "after", "tip") / ((E * w * t) / l) - 1)).toBeLessThan(0.2);
  });
  it("rings as if the stop were away, bent as it is", () => {
    const ringing = (caseName: string): number => value("stiffness along z", caseName, "tip");
    expect(Math.abs(ringing("after") / ringing("before") - 1)).toBeLessThan(1e-3);
  });
});
