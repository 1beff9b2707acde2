/**
 * One pair of legs with a shuttle against plane finite elements: quadratic triangles of two general libraries that agree to 3e-8
 * (computed independently for these checks; mesh of 2 um, 55 692 unknowns; invented round device). Beams know current crowding and the
 * give of the shuttle only as corrections at their ends; what these leave stands beside each tolerance.
 */
import { describe, expect, it } from "vitest";
import type { Chip } from "#chip";
import { askMetric, bareChip, metricOf } from "./chip-text.ts";
import { film, referenceMaterial } from "./reference-laws.ts";

const um = 1e-6;
const T0 = 293.15;
const volts = [1, 2, 3, 4, 5, 6] as const;

function chipOf(laws: "constant" | "varying", loss: string, expansion = 1): Chip {
  return bareChip({
    materials: referenceMaterial(laws, expansion),
    silicon: "material: given",
    thickness: "40 um",
    device: `is: bent-beam pair
legs: { length: 500 um / cos(3 deg), width: 8 um, tilt: 3 deg }
shuttle: { width: 30 um, height: 40 um }
anchors: ideal
heat loss: ${loss}`,
    cases: `cold: { uniform rise: 0 K }\n${volts.map((V) => `v${V}: { pads: ${V} V }`).join("\n")}`,
  });
}

const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

/** At 1 to 6 V: current [mA], heat through the gap [mW], highest and mean temperature of the legs [K], apex linear and large [um]. */
const cases = [
  {
    name: "constant laws, vacuum",
    laws: "constant",
    loss: "none",
    rows: [
      [2.1048, 0, 300.094, 297.751, 0.1263, 0.1261],
      [4.2096, 0, 320.928, 311.556, 0.5054, 0.5011],
      [6.3144, 0, 355.65, 334.563, 1.1371, 1.1157],
      [8.4193, 0, 404.261, 366.772, 2.0215, 1.9552],
      [10.5241, 0, 466.761, 408.185, 3.1586, 3.0009],
      [12.6289, 0, 543.15, 458.8, 4.5485, 4.2317],
    ],
    blocked: 2890.2,
    hot: 868.9,
    modes: [173.51, 201.05, 387.07, 575.36],
    stress: 69.48,
    tau: [1.7689, 1.9693],
  },
  {
    name: "constant laws, air gap",
    laws: "constant",
    loss: film,
    rows: [
      [2.1048, 0.1098, 299.597, 297.452, 0.1181, 0.1179],
      [4.2096, 0.4479, 318.894, 310.332, 0.4717, 0.4679],
      [6.3144, 1.0405, 350.913, 331.716, 1.0586, 1.04],
      [8.4193, 1.9294, 395.446, 361.48, 1.8756, 1.8183],
      [10.5241, 3.1701, 452.221, 399.465, 2.9181, 2.7828],
      [12.6289, 4.8294, 520.91, 445.479, 4.181, 3.9111],
    ],
    blocked: 2656.7,
    hot: 849.9,
    modes: [174.01, 199.75, 385.56, 575.91],
    stress: 64.37,
    tau: [1.6264, 1.824],
  },
  {
    name: "varying laws, vacuum",
    laws: "varying",
    loss: "none",
    rows: [
      [2.0974, 0, 298.434, 296.643, 0.0808, 0.0807],
      [4.1503, 0, 314.797, 307.359, 0.336, 0.3341],
      [6.1122, 0, 343.842, 326.023, 0.8047, 0.7939],
      [7.9339, 0, 388.508, 353.906, 1.5562, 1.5165],
      [9.5631, 0, 453.517, 392.91, 2.6947, 2.5787],
      [10.9461, 0, 546.118, 445.675, 4.3633, 4.0704],
    ],
    blocked: 2772.4,
    hot: 859.3,
    modes: [173.76, 200.41, 386.3, 575.64],
    stress: 66.93,
    tau: [1.6111, 1.8536],
  },
  {
    name: "varying laws, air gap",
    laws: "varying",
    loss: film,
    rows: [
      [2.0978, 0.0845, 298.139, 296.467, 0.0767, 0.0766],
      [4.1534, 0.3491, 313.506, 306.597, 0.3174, 0.3157],
      [6.1238, 0.8282, 340.467, 324.077, 0.7541, 0.7446],
      [7.9651, 1.5856, 381.115, 349.786, 1.4407, 1.4066],
      [9.6341, 2.723, 438.448, 384.878, 2.4508, 2.3543],
      [11.0924, 4.3899, 516.276, 430.634, 3.87, 3.637],
    ],
    blocked: 2459.0,
    hot: 833.8,
    modes: [174.44, 198.62, 384.32, 576.4],
    stress: 60.0,
    tau: [1.4743, 1.7021],
  },
] as const;

describe.each(cases)("one pair of legs, $name", ({ laws, loss, rows, blocked, hot, modes, stress, tau }) => {
  const chip = chipOf(laws, loss);
  const slightly = chipOf(laws, loss, 1e-3);

  it.each(volts)("%i V: current, temperatures, heat to the gap, travel", (V) => {
    const [I, toGap, hottest, legs, linear, large] = rows[V - 1]!;
    const at = `v${V}`;
    const mA = metricOf(chip, "supply current", at) * 1e3;
    // 1 % is asked for; without the crowding of current at the shuttle it were 0.6 %
    expect(errorOf(mA, I)).toBeLessThan(2e-4);
    // half a digit of what is printed, and 2e-4 of the rise
    const slack = (rise: number): number => 5e-4 + 2e-4 * rise;
    expect(Math.abs(metricOf(chip, "hottest silicon temperature", at) - hottest)).toBeLessThan(slack(hottest - T0));
    expect(Math.abs(metricOf(chip, "mean leg temperature", at) - legs)).toBeLessThan(slack(legs - T0));
    const mW = metricOf(chip, "share of heat to gas", at) * metricOf(chip, "pad power", at) * 1e3;
    expect(Math.abs(mW - toGap)).toBeLessThan(5e-5 + 2e-4 * toGap);
    // 0.5 % is asked for
    const moved = (of: Chip): number => metricOf(of, "steady travel", at) / um;
    expect(Math.abs(moved(chip) - large)).toBeLessThan(5e-5 + 1e-3 * large);
    // a thousandth of the strain leaves a thousandth of the 7 % of nonlinearity
    expect(Math.abs(moved(slightly) * 1e3 - linear)).toBeLessThan(5e-5 + 1e-3 * linear);
  });

  it("stiffness and blocked force: half a per cent stiffer, as nothing but the shuttle's way across gives", () => {
    // 2.5 % is asked for; a rigid shuttle were 1.8 % stiffer
    expect(errorOf(metricOf(chip, "cold stiffness"), 635.34)).toBeLessThan(0.005);
    expect(errorOf(metricOf(chip, "blocked force", "v6") / um, blocked)).toBeLessThan(0.005);
    expect(errorOf(metricOf(chip, "hot stiffness", "v6"), hot)).toBeLessThan(0.005);
  });

  it.each([1, 2, 3, 4])("mode %i in the plane, cold and hot", (which) => {
    const cold = [181.036, 181.512, 371.6, 583.84][which - 1]!;
    const found = (caseName: string): number => askMetric(chip, "resonance in the plane", { caseName, argument: which }) / 1e3;
    // 1 % is asked for; the shuttle's own bending is left out
    expect(errorOf(found("cold"), cold)).toBeLessThan(0.007);
    expect(errorOf(found("v6"), modes[which - 1]!)).toBeLessThan(0.007);
  });

  it("stress along the legs: the reference looks one width from their ends, where bending is 3 % less", () => {
    const found = metricOf(chip, "peak beam stress", "v6") / 1e6;
    expect(found / stress).toBeGreaterThan(1);
    expect(found / stress).toBeLessThan(1.03);
  });

  it("warms after a step of 4 V as fast as the reference in time: mean of the legs and of the shuttle", () => {
    const share = 1 - Math.exp(-1);
    // 0.5 % is asked for
    expect(errorOf(metricOf(chip, "warm-up time to 63 %", "v4") * 1e3, tau[0])).toBeLessThan(1e-3);
    // across its width the plate is taken as equally warm
    const shuttle = askMetric(chip, "warm-up time of a part", { caseName: "v4", where: "shuttle", argument: share });
    expect(errorOf(shuttle * 1e3, tau[1])).toBeLessThan(4e-3);
  });
});
