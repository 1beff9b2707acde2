/**
 * Drives that take a device beyond what is known of its material: where it happens, against the closed form of a bar without side loss
 * whose resistivity rises linearly ([carslaw1959] FROM MEMORY: rise (1/cos b - 1)/xi in the middle, R = R0 tan(b)/b, b in
 * proportion to the current).
 */
import { describe, expect, it } from "vitest";
import { bar, bareChip, metricOf } from "./chip-text.ts";

const [k, rho, xi, T0] = [120, 1.5e-4, 1e-3, 293.15];
const [length, width, thickness] = [500e-6, 8e-6, 40e-6];
const area = width * thickness;
const perAmpere = (length / 2 / area) * Math.sqrt((rho * xi) / k);

const chipAt = (drive: string, highest: number) =>
  bareChip({
    materials: `plain:
  conductivity: ${k} W/(m K)
  resistivity: { formula: ${rho} * (1 + ${xi} * (T - ${T0})), unit: ohm m, range: 250 K to ${highest} K, source: invented round numbers }
  expansion: 3e-6/K
  young modulus: 169 GPa`,
    silicon: "material: plain",
    thickness: "40 um",
    device: bar("500 um", "8 um"),
    cases: `on: { ${drive} }`,
  });
const findingOf = (drive: string, highest: number) => chipAt(drive, highest).side("drawn").pointAt("one", "on").findings[0]!;

describe("a drive beyond what is known", () => {
  // where the middle comes to 1200 K
  const b = Math.acos(1 / (1 + xi * (1200 - T0)));
  const current = b / perAmpere;
  const voltage = ((rho * length) / area) * (Math.tan(b) / b) * current;

  it.each(["current: 60 mA", "current: -60 mA", "pads: 30 V", "pads: 900 V"])(
    "%s: tells where the part leaves the law",
    (drive) => {
      const { code, message } = findingOf(drive, 1200);
      expect(code).toBe("beyond-laws");
      const [, part, limit, volts, amperes] = /because (.+) comes to (\d+) K at ([−\d.]+) V on the pads and ([−\d.]+) mA/.exec(
        message,
      )!;
      expect([part, limit]).toEqual(["bar", "1200"]);
      // found to a thousandth of the drive from below, and told with three digits
      const sign = drive.includes("-") ? -1 : 1;
      const number = (text: string): number => sign * Number(text.replace("−", "-"));
      expect(Math.abs(number(volts!) / voltage - 1)).toBeLessThan(5e-3);
      expect(Math.abs(number(amperes!) / (current * 1e3) - 1)).toBeLessThan(5e-3);
    },
  );

  it("just below, numbers are told; just above none", () => {
    const below = chipAt(`current: ${0.995 * current} A`, 1200);
    expect(metricOf(below, "hottest silicon temperature")).toBeGreaterThan(1180);
    expect(metricOf(chipAt(`current: ${1.005 * current} A`, 1200), "hottest silicon temperature")).toBeNaN();
  });
});
