/**
 * Gas loss of a tall beam over a plane, through the user's text. Reference: capacitance of a rectangle above a plane by boundary
 * elements, 240 graded panels, converged to five digits (computed independently for these checks; the method was checked on a circle
 * over a plane).
 */
import { describe, expect, it } from "vitest";
import { findGas } from "#materials";
import { bar, bareChip, metricOf } from "./chip-text.ts";

const materials = `plain:
  conductivity: 120 W/(m K)
  resistivity: 1.5e-4 ohm m
  expansion: 3e-6/K
  young modulus: 169 GPa`;
const air = findGas("air")!;
const T0 = 298;

describe("shape factor of a lone leg", () => {
  it.each([
    [2, 2, 2, 3.961],
    [3, 3.5, 2, 4.9115],
    [10, 2.25, 2, 8.4826],
    [8, 40, 10, 4.8126],
    [8, 40, 5, 6.3814],
    [30, 40, 10, 7.2112],
    [100, 40, 10, 14.5435],
  ])("%f um wide, %f um thick, %f um above the plane: %f", (width, thickness, gap, factor) => {
    // heat resistance over that of the gas alone, at a pressure [Pa]
    const resistanceAt = (pressure: number): number => {
      const chip = bareChip({
        materials,
        silicon: "material: plain",
        thickness: `${thickness} um`,
        temperature: `${T0} K`,
        gas: `gas: air, pressure: ${pressure} Pa`,
        process: `gap under silicon: ${gap} um`,
        device: bar("2000 um", `${width} um`, "gas"),
        // a small voltage: the gas keeps its conductivity at 298 K
        cases: "on: { pads: 0.1 V }",
      });
      const rise = metricOf(chip, "mean leg temperature") - T0;
      const perLength = (metricOf(chip, "pad power") * metricOf(chip, "share of heat to gas")) / (rise * 2000e-6);
      return air.conductivity.at(T0) / perLength;
    };
    // what steps at the surfaces resist falls as 1/pressure: without them
    const alone = 2 * resistanceAt(1e6) - resistanceAt(5e5);
    // half a per cent is asked for; the quick setting of the boundary elements leaves 0.2 %
    expect(Math.abs(1 / (alone * factor) - 1)).toBeLessThan(5e-3);
  });
});
