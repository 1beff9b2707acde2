import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { findSteadyStates, traceCharacteristic } from "./characteristic.ts";
import type { ElectroThermalNetwork, VoltageSource } from "./network.ts";
import { createElectroThermalModel } from "./steady.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;
const constant = (value: number): Law => ({ ...everywhere, at: () => value, slopeAt: () => 0 });
const T0 = 300;

// A lump of R = R0 exp(B/T) that loses G (T - T0): V^2 = G (T - T0) R(T). V turns where T^2 - B T + B T0 = 0. Manufactured here.
const B = 1400;
const G = 1e-3;
const R0 = 20;
const capacity = 1e-6;
const resistance = (T: number): number => R0 * Math.exp(B / T);
const lump: ElectroThermalNetwork = {
  nTerminals: 2,
  junctions: [
    { terminal: 0, sinks: [{ conductance: G / 2, temperature: T0 }], heatCapacity: capacity / 2 },
    { terminal: 1, sinks: [{ conductance: G / 2, temperature: T0 }], heatCapacity: capacity / 2 },
  ],
  branches: [
    {
      from: 0,
      to: 1,
      length: 1e-3,
      area: 1e-6,
      // the ends differ from the middle by 1e-7 of the rise: k A/L is 1e6 G
      thermalConductivity: constant(1e6),
      resistivity: { ...everywhere, at: (T) => 1e-3 * resistance(T), slopeAt: (T) => (-1e-3 * B * resistance(T)) / T ** 2 },
    },
  ],
};
const voltageAt = (T: number): number => Math.sqrt(G * (T - T0) * resistance(T));
const turns = [-1, 1].map((sense) => (B + sense * Math.sqrt(B * B - 4 * B * T0)) / 2);
const source = (voltage: number, seriesResistance = 0): VoltageSource => ({
  kind: "voltage",
  voltage,
  seriesResistance,
  plus: 0,
  minus: 1,
});

describe("characteristic of a thermistor", () => {
  it("follows the S-curve through both turns", () => {
    const curve = traceCharacteristic(lump, { sources: [source(1)], hottest: 1600, largestFraction: 100 });
    expect(curve.endedBy).toBe("hottest");
    expect(curve.branchPoints).toHaveLength(0);
    for (const { hottestTemperature: T, sourceVoltages, sourceCurrents, hasColdSign, isTurn } of curve.points) {
      if (T < T0 + 1) continue;
      // uniform to 1e-7 of the rise, sampled law to 1e-8
      expect(Math.abs(sourceVoltages[0]! / voltageAt(T) - 1)).toBeLessThan(1e-6);
      expect(Math.abs(sourceCurrents[0]! / (voltageAt(T) / resistance(T)) - 1)).toBeLessThan(1e-6);
      if (!isTurn) expect(hasColdSign).toBe(T < turns[0]! || T > turns[1]!);
    }
    const found = curve.points.filter(({ isTurn }) => isTurn);
    expect(found).toHaveLength(2);
    found.forEach(({ fraction, hottestTemperature }, k) => {
      expect(Math.abs(fraction / voltageAt(turns[k]!) - 1)).toBeLessThan(1e-6);
      // at a turn the temperature is known only to the root of the voltage
      expect(Math.abs(hottestTemperature - turns[k]!)).toBeLessThan(0.05);
    });
  });

  it("has three states between the turns, the middle one growing at its known rate", () => {
    const voltage = 0.5 * (voltageAt(turns[0]!) + voltageAt(turns[1]!));
    const { states } = findSteadyStates(lump, { sources: [source(voltage)], hottest: 1800, largestFraction: 10 });
    const ranges = [T0, ...turns, 1800];
    expect(states.map(({ isStable }) => isStable)).toEqual([true, false, true]);
    states.forEach(({ state, slowestRate }, k) => {
      let [low, high] = [ranges[k]!, ranges[k + 1]!];
      for (let i = 0; i < 60; i++) {
        const middle = 0.5 * (low + high);
        if ((voltageAt(middle) - voltage) * (voltageAt(low) - voltage) > 0 || (low === T0 && voltageAt(middle) < voltage))
          low = middle;
        else high = middle;
      }
      const T = 0.5 * (low + high);
      // 1e-7 of the voltage, ten times as much of the rise so near the turns
      expect(Math.abs(state.junctionTemperatures[0]! - T)).toBeLessThan(5e-4);
      const rate = (G - ((voltage * voltage) / resistance(T)) * (B / T ** 2)) / capacity;
      // the frame's one slow mode
      expect(Math.abs(slowestRate / rate - 1)).toBeLessThan(1e-5);
      expect(state.energy.relativeDefect).toBeLessThan(1e-6);
    });
    // the plain solver finds the stable ones alone
    const cold = createElectroThermalModel(lump).solve([source(voltage)]);
    if (cold.outcome !== "steady") throw new Error(cold.reason);
    expect(Math.abs(cold.junctionTemperatures[0]! - states[0]!.state.junctionTemperatures[0]!)).toBeLessThan(1e-4);
  });

  it("has one state where a series resistance is large, and keeps a current limit", () => {
    const voltage = 1.05 * voltageAt(turns[0]!);
    const hot = findSteadyStates(lump, { sources: [source(voltage)], hottest: 2800, largestFraction: 10 });
    expect(hot.states.filter(({ isStable }) => isStable)).toHaveLength(1);
    const limit = 2 * (voltageAt(turns[0]!) / resistance(turns[0]!));
    const limited = findSteadyStates(lump, {
      sources: [{ ...source(voltage), currentLimit: limit }],
      hottest: 2800,
      largestFraction: 10,
    });
    expect(limited.states).toHaveLength(1);
    const [{ state, isStable }] = limited.states as [(typeof limited.states)[number]];
    expect(isStable).toBe(true);
    expect(state.isLimited).toEqual([true]);
    expect(state.sourceCurrents[0]).toBeCloseTo(limit, 12);
    expect(state.sourceVoltages[0]!).toBeLessThan(voltage);
    const resisted = findSteadyStates(lump, {
      sources: [source(voltage, 5 * resistance(turns[0]!))],
      hottest: 2800,
      largestFraction: 10,
    });
    expect(resisted.states).toHaveLength(1);
  });
});

// O4 and D8 of the closed forms: dT_max = (1/cos b - 1)/xi, b proportional to the current, run-away at b = pi/2.
describe("bar at constant current with a rising resistivity", () => {
  it.each([
    ["560 ohm silicon", 500e-6, 320e-12, 120, 1.5e-4, 1e-3, 56.8689e-3, 293.15],
    ["bridge", 400e-6, 20e-12, 32, 2e-5, 1.2e-3, 5.73573721e-3, 300],
  ])("%s: follows the closed form towards run-away, which it never passes", (_name, length, area, k, rho, xi, critical, T) => {
    const bar: ElectroThermalNetwork = {
      nTerminals: 2,
      junctions: [
        { temperature: T, terminal: 0 },
        { temperature: T, terminal: 1 },
      ],
      branches: [
        {
          from: 0,
          to: 1,
          length,
          area,
          thermalConductivity: constant(k),
          resistivity: { ...everywhere, at: (t) => rho * (1 + xi * (t - T)), slopeAt: () => rho * xi },
        },
      ],
    };
    const sources = [{ kind: "current", current: critical, plus: 0, minus: 1 }] as const;
    const { points, endedBy } = traceCharacteristic(bar, { sources, hottest: 1e5, largestFraction: 1.5 });
    expect(endedBy).toBe("hottest");
    expect(points.every(({ hasColdSign, isTurn }) => hasColdSign && !isTurn)).toBe(true);
    for (const { fraction, hottestTemperature } of points) {
      const b = (fraction * Math.PI) / 2;
      // the printed critical current has six digits or more; near run-away its error is multiplied by tan b
      const wanted = Math.acos(1 / (1 + xi * (hottestTemperature - T)));
      expect(Math.abs(b - wanted)).toBeLessThan(3e-6);
    }
    const last = points.at(-1)!;
    // 1e5 K of rise: cos b = 1/(1 + xi 1e5)
    expect(1 - last.fraction).toBeLessThan(0.01);
    expect(
      findSteadyStates(bar, { sources: [{ ...sources[0], current: 1.01 * critical }], hottest: 1e5, largestFraction: 2 }).states,
    ).toHaveLength(0);
  });
});

// Each lump alone has a voltage that falls with its current beyond the first turn: there one may take current from the other.
describe("two thermistors side by side at one current", () => {
  it("tell the branch point where one begins to take all", () => {
    const twin: ElectroThermalNetwork = {
      nTerminals: 2,
      junctions: [...lump.junctions, ...lump.junctions],
      branches: [...lump.branches, ...lump.branches.map((branch) => ({ ...branch, from: 2, to: 3 }))],
    };
    const sources = [{ kind: "current", current: 1, plus: 0, minus: 1 }] as const;
    const curve = traceCharacteristic(twin, { sources, hottest: 900, largestFraction: 100 });
    expect(curve.endedBy).toBe("hottest");
    expect(curve.points.some(({ isTurn }) => isTurn)).toBe(false);
    expect(curve.branchPoints).toHaveLength(1);
    const [{ from, to }] = curve.branchPoints as [(typeof curve.branchPoints)[number]];
    const current = (2 * voltageAt(turns[0]!)) / resistance(turns[0]!);
    expect(from).toBeLessThan(current);
    expect(to).toBeGreaterThan(current);
  });
});
