/**
 * One pair of legs with a shuttle against plane finite elements: quadratic triangles of two general libraries that agree to 3e-8
 * (computed independently for these checks; mesh of 2 um, 55 692 unknowns). Tolerances are those that a beam model can be held to:
 * it has no current crowding at the shuttle and no give in shuttle and roots.
 */
import { describe, expect, it } from "vitest";
import { bareChip, metricOf } from "./chip-text.ts";

const film =
  "{ film: { formula: 0.0263 * ((T + 293.15) / 600)^0.8 / 10e-6, unit: W/(m^2 K), range: 250 K to 1000 K, source: power law of air over 10 um } }";

const materials = (varying: boolean): string =>
  varying
    ? `given:
  conductivity: { formula: 1 / (3.0e-4 + 1.56e-5 * T + 1.65e-8 * T^2), unit: W/(m K), range: 250 K to 1000 K, source: textbook fit }
  resistivity: { formula: 1.5e-4 * (1 + 1e-3 * (T - 293.15)), unit: ohm m, range: 250 K to 1000 K, source: round numbers }
  expansion: { formula: 3.725e-6 * (1 - exp(0 - 5.88e-3 * (T - 124))) + 5.548e-10 * T, unit: 1/K, range: 120 K to 1500 K, source: Okada and Tokumaru 1984 }
  young modulus: 169 GPa`
    : `given:
  conductivity: 120 W/(m K)
  resistivity: 1.5e-4 ohm m
  expansion: 3e-6/K
  young modulus: 169 GPa
  specific heat: 712 J/(kg K)
  density: 2330 kg/m^3`;

function chipAt(varying: boolean, loss: string, voltage: number) {
  return bareChip({
    materials: materials(varying),
    silicon: "material: given",
    thickness: "40 um",
    device: `is: bent-beam pair
legs: { length: 500 um / cos(3 deg), width: 8 um, tilt: 3 deg }
shuttle: { width: 30 um, height: 40 um }
anchors: ideal
heat loss: ${loss}`,
    cases: `on: { pads: ${voltage} V }`,
  });
}

describe("one pair of legs", () => {
  it.each([
    { name: "constant laws, vacuum", varying: false, loss: "none", V: 6, I: 12.6289, hottest: 543.15, apex: 4.2317 },
    { name: "constant laws, air gap", varying: false, loss: film, V: 6, I: 12.6289, hottest: 520.91, apex: 3.9111 },
    { name: "varying laws, vacuum", varying: true, loss: "none", V: 6, I: 10.9461, hottest: 546.118, apex: 4.0704 },
    { name: "varying laws, air gap", varying: true, loss: film, V: 6, I: 11.0924, hottest: 516.276, apex: 3.637 },
    { name: "varying laws, air gap", varying: true, loss: film, V: 3, I: 6.1238, hottest: 340.467, apex: 0.7446 },
  ])("$name, $V V", ({ varying, loss, V, I, hottest, apex }) => {
    const chip = chipAt(varying, loss, V);
    expect(Math.abs((metricOf(chip, "supply current") * 1e3) / I - 1)).toBeLessThan(0.01);
    expect(Math.abs((metricOf(chip, "hottest silicon temperature") - hottest) / (hottest - 293.15))).toBeLessThan(1e-3);
    expect(Math.abs((metricOf(chip, "steady travel") * 1e6) / apex - 1)).toBeLessThan(0.005);
  });
  it("stiffness and blocked force within what roots and shuttle give", () => {
    const chip = chipAt(true, film, 6);
    expect(Math.abs(metricOf(chip, "cold stiffness") / 635.34 - 1)).toBeLessThan(0.025);
    expect(Math.abs(metricOf(chip, "blocked force") / 2459e-6 - 1)).toBeLessThan(0.025);
    expect(Math.abs(metricOf(chip, "hot stiffness") / 833.8 - 1)).toBeLessThan(0.025);
  });
  it("warms in 1.7689 ms after a step of 4 V, constant laws, vacuum", () => {
    expect(Math.abs((metricOf(chipAt(false, "none", 4), "warm-up time to 63 %") * 1e3) / 1.7689 - 1)).toBeLessThan(0.005);
  });
  it("warms in 1.6264 ms over an air gap", () => {
    expect(Math.abs((metricOf(chipAt(false, film, 4), "warm-up time to 63 %") * 1e3) / 1.6264 - 1)).toBeLessThan(0.005);
  });
});
