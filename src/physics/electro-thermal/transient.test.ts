import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { meanTemperature, temperatureAlong } from "./field.ts";
import { linearExchange } from "./heat-exchange.ts";
import type { ElectroThermalNetwork, VoltageSource } from "./network.ts";
import { embeddedWeights, stageCoefficients } from "./runge-kutta.table.ts";
import { createElectroThermalModel } from "./steady.ts";
import { timeToReach } from "./time-to-reach.ts";
import { simulateTransient } from "./transient.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;
const constant = (value: number): Law => ({ ...everywhere, at: () => value, slopeAt: () => 0 });
const T0 = 293.15;

function bar(options: { length: number; area: number; k: number; rho: number; loss: number }): ElectroThermalNetwork {
  const { length, area, k, rho, loss } = options;
  return {
    nTerminals: 2,
    junctions: [
      { temperature: T0, terminal: 0 },
      { temperature: T0, terminal: 1 },
    ],
    branches: [
      {
        from: 0,
        to: 1,
        length,
        area,
        thermalConductivity: constant(k),
        resistivity: constant(rho),
        heatCapacity: constant(2330 * 712),
        ...(loss > 0 && { exchange: linearExchange(loss, T0) }),
      },
    ],
  };
}

const drive = (voltage: number): VoltageSource => ({ kind: "voltage", voltage, seriesResistance: 0, plus: 0, minus: 1 });

describe("the Runge-Kutta method", () => {
  it("meets the conditions of order 4, and its companion those of order 3", () => {
    const A = stageCoefficients.map((row) => Array.from({ length: 5 }, (_, j) => row[j] ?? 0));
    const b = A[4]!;
    const c = A.map((row) => row.reduce((sum, a) => sum + a, 0));
    const dot = (x: readonly number[], y: readonly number[]): number => x.reduce((sum, value, i) => sum + value * y[i]!, 0);
    const Ac = A.map((row) => dot(row, c));
    const square = c.map((value) => value ** 2);
    const Ac2 = A.map((row) => dot(row, square));
    const AAc = A.map((row) => dot(row, Ac));
    for (const [weights, order] of [
      [b, 4],
      [embeddedWeights, 3],
    ] as const) {
      expect(dot(weights, [1, 1, 1, 1, 1])).toBeCloseTo(1, 13);
      expect(dot(weights, c)).toBeCloseTo(1 / 2, 13);
      expect(dot(weights, square)).toBeCloseTo(1 / 3, 13);
      expect(dot(weights, Ac)).toBeCloseTo(1 / 6, 13);
      if (order === 3) continue;
      expect(
        dot(
          weights,
          c.map((value) => value ** 3),
        ),
      ).toBeCloseTo(1 / 4, 13);
      expect(
        dot(
          weights,
          c.map((value, i) => value * Ac[i]!),
        ),
      ).toBeCloseTo(1 / 8, 13);
      expect(dot(weights, Ac2)).toBeCloseTo(1 / 12, 13);
      expect(dot(weights, AAc)).toBeCloseTo(1 / 24, 13);
    }
  });
});

// Series solution of the bar under a step of uniform heating (values to 1e-6).
describe("bar heated from time 0", () => {
  it.each([
    [{ length: 1000e-6, area: 320e-12, k: 120, rho: 1.5e-4, loss: 0 }, 1.380328e-3, 3.204893e-3, 1.444906e-3],
    [{ length: 300e-6, area: 10e-12, k: 50, rho: 2.2e-5, loss: 0 }, 0.298151e-3, 0.692257e-3, 0.3121e-3],
    [{ length: 1000e-6, area: 320e-12, k: 120, rho: 1.5e-4, loss: 0.1443792 }, 0.994751e-3, 2.315933e-3, 1.056611e-3],
  ])("case %#", (shape, t63, t90, middle63) => {
    const network = bar(shape);
    const sources = [drive(3)];
    const steady = createElectroThermalModel(network).solve(sources);
    if (steady.outcome !== "steady") throw new Error(steady.reason);
    const history = simulateTransient(network, {
      start: T0,
      phases: [{ duration: 5 * t90, sources }],
      observers: [({ fields }) => meanTemperature(fields[0]!), ({ fields }) => temperatureAlong(fields[0]!, shape.length / 2)],
    });
    const mean = meanTemperature(steady.fields[0]!) - T0;
    const peak = temperatureAlong(steady.fields[0]!, shape.length / 2) - T0;
    const reach = (observer: number, part: number, rise: number): number => timeToReach(history, observer, T0 + part * rise)!;
    const e = 1 - Math.exp(-1);
    // Steps allow 1e-3 K of about 60 K each.
    expect(Math.abs(reach(0, e, mean) / t63 - 1)).toBeLessThan(5e-5);
    expect(Math.abs(reach(0, 0.9, mean) / t90 - 1)).toBeLessThan(5e-5);
    expect(Math.abs(reach(1, e, peak) / middle63 - 1)).toBeLessThan(5e-5);
    // Constant properties: storage is exact in time, so only rounding and Newton's last step are left.
    expect(Math.max(...history.energyDefects)).toBeLessThan(1e-9);
  });

  it("grows slower with a heat capacity in the middle, cools back to the start, and keeps its energy with laws of temperature", () => {
    const plain = bar({ length: 1000e-6, area: 320e-12, k: 120, rho: 1.5e-4, loss: 0 });
    const heavy = (heatCapacity: number): ElectroThermalNetwork => {
      const half = {
        ...plain.branches[0]!,
        length: 500e-6,
        heatCapacity: { ...everywhere, at: (T: number) => 1e6 + 2e3 * T + 2 * T * T, slopeAt: (T: number) => 2e3 + 4 * T },
      };
      return {
        ...plain,
        junctions: [...plain.junctions, { heatCapacity }],
        branches: [
          { ...half, from: 0, to: 2 },
          { ...half, from: 2, to: 1 },
        ],
      };
    };
    const rise = (heatCapacity: number) =>
      simulateTransient(heavy(heatCapacity), {
        start: T0,
        phases: [
          { duration: 60e-3, sources: [drive(4)] },
          { duration: 100e-3, sources: [drive(0)] },
        ],
        observers: [({ junctionTemperatures }) => junctionTemperatures[2]!],
      });
    const light = rise(1e-12);
    const loaded = rise(2e-7);
    // The middle rises by V^2/(8 k rho) = 111.1 K.
    const level = T0 + 0.63 * 111.1;
    expect(timeToReach(loaded, 0, level)!).toBeGreaterThan(1.2 * timeToReach(light, 0, level)!);
    for (const history of [light, loaded]) {
      expect(Math.max(...history.observed[0]!) - T0).toBeCloseTo(111.111, 2);
      expect(history.observed[0]!.at(-1)! - T0).toBeLessThan(1e-2);
      // The error in time of steps of 1e-3 K in 111 K.
      expect(Math.max(...history.energyDefects)).toBeLessThan(1e-6);
    }
  });

  it("stays put at a steady state", () => {
    const network = bar({ length: 300e-6, area: 10e-12, k: 50, rho: 2.2e-5, loss: 0 });
    const sources = [drive(1)];
    const start = createElectroThermalModel(network).solve(sources);
    if (start.outcome !== "steady") throw new Error(start.reason);
    const history = simulateTransient(network, {
      start,
      phases: [{ duration: 1e-3, sources }],
      observers: [({ fields }) => meanTemperature(fields[0]!)],
    });
    expect(Math.abs(history.observed[0]!.at(-1)! - history.observed[0]![0]!)).toBeLessThan(1e-6);
  });
});
