/**
 * Fins, heated bridges and their warm-up through the user's text.
 * Incropera & DeWitt, Fundamentals of Heat and Mass Transfer; Tai, Mastrangelo & Muller, J. Appl. Phys. 63 (1988) 1442; Carslaw & Jaeger,
 * Conduction of Heat in Solids: all from memory; numbers computed independently for these checks (closed forms, series).
 */
import { describe, expect, it } from "vitest";
import { type Chip, traceCase } from "#chip";
import { askMetric, bareChip, metricOf, plainMaterial } from "./chip-text.ts";

const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const ambient = 293.15;

describe("Incropera's pin fin, a tenth as long and a hundredth as large in section (m L = 0.70710678)", () => {
  // k = 200; the loss per length, 0.7854 W/(m K) for 50 W/(m^2 K) on a pin of 5 mm, is kept: m L is the same, all heat is a tenth
  const [L, perLength, area, k] = [5e-3, 50 * Math.PI * 5e-3, (Math.PI / 4) * 25e-8, 200];
  const fin = (leak: number): Chip =>
    bareChip({
      materials: plainMaterial({ E: "169 GPa", k: `${k} W/(m K)` }),
      silicon: "material: plain",
      thickness: "1 mm",
      // a heated arch of its own warms the base of the fin
      device: `is: composition
points:
  base: { x: 0 mm, y: 0 mm }
  tip: { x: 5 mm, y: 0 mm }
  left: { x: -2 mm, y: -1 mm }
  right: { x: -2 mm, y: 1 mm }
parts:
  one anchor: { is: anchor, at: left, width: 0.2 mm, height: 0.2 mm, heat: ideal, wire: plus }
  other anchor: { is: anchor, at: right, width: 0.2 mm, height: 0.2 mm, heat: ideal, wire: minus }
  one heater: { is: beam, from: left, to: base, width: 0.1 mm }
  other heater: { is: beam, from: right, to: base, width: 0.1 mm }
  fin: { is: beam, from: base, to: tip, width: ${area * 1e9} um }
  end: { is: lump, at: tip, heat leak: ${leak} W/K }
heat loss: { per length: ${perLength} W/(m K) }
roots: rigid`,
      cases: "on: { pads: 0.5 V }",
    });
  const excess = (chip: Chip, where: string): number => askMetric(chip, "temperature", { caseName: "on", where }) - ambient;
  const heatOf = (chip: Chip, leak: number): number =>
    perLength * L * (askMetric(chip, "mean temperature", { caseName: "on", where: "fin" }) - ambient) +
    leak * excess(chip, "tip");
  // 1e-3 is asked for; spectral elements leave 1e-6
  it("with an insulated tip", () => {
    const chip = fin(0);
    const base = excess(chip, "base");
    expect(base).toBeGreaterThan(1);
    expect(errorOf((80 * excess(chip, "tip")) / base, 63.46225454)).toBeLessThan(1e-6);
    expect(errorOf((80 * heatOf(chip, 0)) / base, 0.2705090885)).toBeLessThan(1e-6);
  });
  it("with a tip that loses heat to the gas", () => {
    // a tenth of h A of the whole pin, as the conductance k A/L is a tenth
    const leak = 50 * (Math.PI / 4) * 25e-6 * 0.1;
    const chip = fin(leak);
    const base = excess(chip, "base");
    expect(errorOf((80 * excess(chip, "tip")) / base, 62.78647028)).toBeLessThan(1e-6);
    expect(errorOf((80 * heatOf(chip, leak)) / base, 0.2753988927)).toBeLessThan(1e-6);
  });
});

describe("a film bridge, 400 x 10 x 2 um, between cool ends (k = 32, rho0 = 2e-5)", () => {
  const bridge = (rho: string, current: string): Chip =>
    bareChip({
      materials: plainMaterial({ E: "169 GPa", k: "32 W/(m K)", rho }),
      silicon: "material: plain",
      thickness: "2 um",
      device: "is: straight bar\nlength: 400 um\nwidth: 10 um\nanchors: ideal\nheat loss: none",
      cases: `on: { current: ${current} }`,
    });
  const linear = "{ formula: 2e-5 * (1 + 1.2e-3 * (T - 293.15)), unit: ohm m, range: 200 K to 5000 K, source: round numbers }";
  it("comes to J^2 rho L^2/(8 k) = 125 K at 2 mA", () => {
    const chip = bridge("2e-5 ohm m", "2 mA");
    expect(errorOf(metricOf(chip, "hottest silicon temperature") - ambient, 125)).toBeLessThan(1e-8);
    expect(errorOf(metricOf(chip, "mean leg temperature") - ambient, 250 / 3)).toBeLessThan(1e-8);
  });
  it.each([
    ["2 mA", 142.7952086, 0.8909270436],
    ["3 mA", 390.2453148, 1.570316914],
  ])("with a resistivity that rises: %s, %d K, %d V", (current, rise, voltage) => {
    const chip = bridge(linear, current);
    // 2e-3 is asked for
    expect(errorOf(metricOf(chip, "hottest silicon temperature") - ambient, rise)).toBeLessThan(1e-5);
    expect(errorOf(metricOf(chip, "pad voltage"), voltage)).toBeLessThan(1e-6);
  });
  it("runs away above 5.735737 mA, and gives no number there", () => {
    // sec(pi I/2 I_c) - 1 over xi: at 0.9 of that current 4500 K
    const chip = bridge(linear, "5.75 mA");
    expect(metricOf(chip, "hottest silicon temperature")).toBeNaN();
    expect(
      chip
        .side("drawn")
        .pointAt("one", "on")
        .findings.map(({ code }) => code),
    ).toContain("beyond-laws");
    expect(metricOf(bridge(linear, "4.9 mA"), "hottest silicon temperature")).toBeGreaterThan(2000);
  });
});

describe("warm-up of a bridge heated evenly", () => {
  // 1 mm of 100 W/(m K), 1e6 J/(m^3 K): a = 1e-4 m^2/s, L^2/a = 10 ms. The leg is its middle hundredth: its mean is 3e-5 below the centre
  const rows = [
    [0.02, 0.1592324337],
    [0.05, 0.3703863179],
    [0.1, 0.6153525143],
    [0.2, 0.8566368905],
  ] as const;
  const chip = bareChip({
    materials: plainMaterial({ E: "169 GPa", k: "100 W/(m K)", rho: "1e-4 ohm m", c: "500 J/(kg K)", density: "2000 kg/m^3" }),
    silicon: "material: plain",
    thickness: "10 um",
    device: `is: composition
points:
  left: { x: -510 um, y: 0 um }
  right: { x: 510 um, y: 0 um }
  before: { x: -5 um, y: 0 um }
  after: { x: 5 um, y: 0 um }
parts:
  left anchor: { is: anchor, at: left, width: 20 um, height: 20 um, heat: ideal, wire: plus }
  right anchor: { is: anchor, at: right, width: 20 um, height: 20 um, heat: ideal, wire: minus }
  left part: { is: beam, from: left, to: before, width: 10 um }
  centre: { is: beam, from: before, to: after, width: 10 um, role: leg }
  right part: { is: beam, from: after, to: right, width: 10 um }
heat loss: none
roots: rigid`,
    cases: rows.map(([fourier], i) => `t${i}: { steps: [{ for: ${10 * fourier} ms, current: 1 mA }] }`).join("\n"),
  });
  // J^2 rho L^2/(8 k) with J = 1e7 A/m^2
  const steady = (1e14 * 1e-4 * 1e-6) / 800;
  it.each(rows.map(([fourier, fraction], i) => ({ fourier, fraction, i })))(
    "a t/L^2 = $fourier: $fraction",
    ({ fraction, i }) => {
      const { columns } = traceCase(chip, { caseName: `t${i}`, side: "drawn" });
      const legs = columns.find(({ name }) => name === "mean leg temperature")!.values;
      // 5e-3 is asked for; steps in time allow 1e-3 K
      expect(errorOf((legs[legs.length - 1]! - ambient) / steady, fraction)).toBeLessThan(5e-4);
    },
  );
});
