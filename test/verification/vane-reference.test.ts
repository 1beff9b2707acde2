/**
 * Six pairs of legs that carry a vane with holes on an arm, composed in the text, against plane finite elements (quadratic triangles,
 * 135 008 unknowns, computed independently for these checks; invented round device). The vane is a fin of its own time.
 */
import { describe, expect, it } from "vitest";
import type { Chip } from "#chip";
import { askMetric, bareChip, metricOf } from "./chip-text.ts";
import { film, referenceMaterial } from "./reference-laws.ts";

const um = 1e-6;
const T0 = 293.15;

function chipOf(laws: "constant" | "varying", loss: string, expansion = 1): Chip {
  return bareChip({
    materials: referenceMaterial(laws, expansion),
    silicon: "material: given",
    thickness: "40 um",
    device: `is: composition
points:
  origin: { x: 0 um, y: 0 um }
  vane place: { from: bank top, x: 0 um, y: 350 um }
parts:
  bank:
    is: bent-beam bank
    at: origin
    legs: { pairs: 6, length: 500 um / cos(3 deg), width: 8 um, tilt: 3 deg, pitch: 20 um }
    shuttle: { width: 40 um, height: 140 um }
    anchors: ideal
  arm: { is: beam, from: bank top, to: vane bottom, width: 20 um }
  vane:
    is: plate
    at: vane place
    width: 300 um
    height: 300 um
    spine: y
    holes: { columns: 7, rows: 7, side: 10 um, pitch: 40 um }
output: { point: bank middle, direction: 90 deg, guided: yes }
heat loss: ${loss}`,
    cases: "cold: { uniform rise: 0 K }\nv2: { pads: 2 V }\nv4: { pads: 4 V }\nv6: { pads: 6 V }",
  });
}

const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

type Row = readonly [
  volts: number,
  current: number,
  toGap: number,
  hottest: number,
  all: number,
  legs: number,
  linear: number,
  large: number,
  vane: number,
];

interface Reference {
  readonly name: string;
  readonly laws: "constant" | "varying";
  readonly loss: string;
  readonly rows: readonly Row[];
  /** [uN] and [N/m], at 6 V. */
  readonly blocked: number;
  readonly hot: number;
  /** At 6 V, [kHz]. */
  readonly modes: readonly [number, number, number, number];
  /** To 63 % after a step of 4 V: legs, shuttle, all silicon [ms]. */
  readonly tau: readonly [number, number, number] | undefined;
}

/** Volts, current [mA], heat through the gap [mW]; highest temperature, mean of all, of the legs [K]; apex linear and large, vane [um]. */
const cases: readonly Reference[] = [
  {
    name: "constant laws, vacuum",
    laws: "constant",
    loss: "none",
    rows: [[6, 75.3472, 0, 543.15, 514.59, 458.324, 4.5995, 4.2762, 4.5912]],
    blocked: 17475.27,
    hot: 5210.88,
    modes: [27.8011, 111.3092, 263.4352, 267.916],
    tau: [2.1774, 3.0352, 17.633],
  },
  {
    name: "varying laws, vacuum",
    laws: "varying",
    loss: "none",
    rows: [
      [2, 24.7617, 0, 314.797, 312.278, 307.317, 0.3398, 0.3379, 0.3615],
      [4, 47.3358, 0, 388.508, 376.792, 353.711, 1.5743, 1.5337, 1.6482],
      [6, 65.3072, 0, 546.118, 512.109, 445.108, 4.4159, 4.1165, 4.4608],
    ],
    blocked: 16777.1,
    hot: 5154.19,
    modes: [27.8028, 110.7098, 263.5708, 268.0418],
    // as slow as with constant laws, where it is looked at
    tau: undefined,
  },
  {
    name: "varying laws, air gap",
    laws: "varying",
    loss: film,
    rows: [
      [2, 24.8089, 4.698, 311.424, 305.667, 305.419, 0.2924, 0.291, 0.3067],
      [4, 47.7685, 19.981, 370.92, 343.617, 344.267, 1.3043, 1.2763, 1.3446],
      [6, 67.0707, 49.1257, 485.976, 407.051, 415.392, 3.4236, 3.2395, 3.4105],
    ],
    blocked: 13007.03,
    hot: 4847.63,
    modes: [27.7955, 107.4069, 264.3394, 268.6633],
    tau: [1.432, 1.8614, 7.2978],
  },
];

describe.each(cases)("six pairs, arm and vane, $name", ({ laws, loss, rows, blocked, hot, modes, tau }) => {
  const chip = chipOf(laws, loss);
  const slightly = chipOf(laws, loss, 1e-3);

  it.each(rows)("%i V", (V, I, toGap, hottest, all, legs, linear, large, vane) => {
    const at = `v${V}`;
    const of = (word: string): number => metricOf(chip, word, at);
    // 1 % is asked for
    expect(errorOf(of("supply current") * 1e3, I)).toBeLessThan(2e-4);
    const slack = (rise: number, part: number): number => 5e-4 + part * rise;
    // in the air plates are taken as equally warm across their spines: the vane then cools by 0.07 % too much
    expect(Math.abs(of("hottest silicon temperature") - hottest)).toBeLessThan(slack(hottest - T0, 5e-4));
    expect(Math.abs(of("mean leg temperature") - legs)).toBeLessThan(slack(legs - T0, 5e-4));
    expect(Math.abs(of("mean silicon temperature") - all)).toBeLessThan(slack(all - T0, 1e-3));
    expect(Math.abs(of("share of heat to gas") * of("pad power") * 1e3 - toGap)).toBeLessThan(5e-5 + 1e-3 * toGap);
    const moved = (found: number, wanted: number): void => {
      expect(Math.abs(found / um - wanted)).toBeLessThan(5e-5 + 1e-3 * wanted);
    };
    moved(of("steady travel"), large);
    if (V === 6) moved(metricOf(slightly, "steady travel", at) * 1e3, linear);
    moved(askMetric(chip, "motion along y", { caseName: at, where: "vane middle" }), vane);
  });

  it("stiffness and blocked force", () => {
    // the shuttle gives along the legs as far as heat spreads in it; what it gives besides is left: a third of a per cent
    expect(errorOf(metricOf(chip, "cold stiffness"), 3798.87)).toBeLessThan(0.005);
    expect(errorOf(metricOf(chip, "blocked force", "v6") / um, blocked)).toBeLessThan(0.005);
    expect(errorOf(metricOf(chip, "hot stiffness", "v6"), hot)).toBeLessThan(0.005);
  });

  it.each([1, 2, 3, 4])("mode %i in the plane, cold and hot", (which) => {
    const cold = [27.7738, 95.1997, 266.4783, 273.6851][which - 1]!;
    const found = (caseName: string): number => askMetric(chip, "resonance in the plane", { caseName, argument: which }) / 1e3;
    // 3 % is asked for arm and vane: a rigid vane swings 1.3 % too fast on its arm; the others within 1 %
    const tolerance = which === 1 ? 0.015 : 0.01;
    expect(errorOf(found("cold"), cold)).toBeLessThan(tolerance);
    expect(errorOf(found("v6"), modes[which - 1]!)).toBeLessThan(tolerance);
  });

  it.skipIf(tau === undefined)("legs settle in milliseconds, the vane behind its arm several times slower", () => {
    const share = 1 - Math.exp(-1);
    // the reference steps by 0.25 ms: worth about half a per cent of the legs' two milliseconds
    expect(errorOf(metricOf(chip, "warm-up time to 63 %", "v4") * 1e3, tau![0])).toBeLessThan(0.01);
    // the shuttle's own heat is led to its middle line, and leaves for the arm from there: 1.4 %
    const at = { caseName: "v4", argument: share };
    expect(errorOf(askMetric(chip, "warm-up time of a part", { ...at, where: "bank shuttle" }) * 1e3, tau![1])).toBeLessThan(
      0.015,
    );
    expect(errorOf(askMetric(chip, "warm-up time of the silicon", at) * 1e3, tau![2])).toBeLessThan(4e-3);
  });
});
