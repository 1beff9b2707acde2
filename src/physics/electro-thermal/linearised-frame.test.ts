import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { meanTemperature } from "./field.ts";
import { linearExchange } from "./heat-exchange.ts";
import { lineariseFrame } from "./linearised-frame.ts";
import type { ElectricSource, ElectroThermalNetwork } from "./network.ts";
import { createElectroThermalModel, type SteadyState } from "./steady.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;
const constant = (value: number): Law => ({ ...everywhere, at: () => value, slopeAt: () => 0 });
const T0 = 293.15;
const volumetric = 2330 * 712;

interface Bar {
  readonly length: number;
  readonly area: number;
  readonly k: number;
  readonly rho: number;
  readonly loss: number;
  readonly xi?: number;
  readonly ambient?: number;
}

function bar({ length, area, k, rho, loss, xi = 0, ambient = T0 }: Bar): ElectroThermalNetwork {
  return {
    nTerminals: 2,
    junctions: [
      { temperature: ambient, terminal: 0 },
      { temperature: ambient, terminal: 1 },
    ],
    branches: [
      {
        from: 0,
        to: 1,
        length,
        area,
        thermalConductivity: { ...everywhere, at: (T) => k * (300 / T), slopeAt: (T) => (-k * 300) / T ** 2 },
        resistivity: { ...everywhere, at: (T) => rho * (1 + xi * (T - T0)), slopeAt: () => rho * xi },
        heatCapacity: constant(volumetric),
        ...(loss > 0 && { exchange: linearExchange(loss, ambient) }),
      },
    ],
  };
}

const drive = (voltage: number): readonly ElectricSource[] => [
  { kind: "voltage", voltage, seriesResistance: 20, plus: 0, minus: 1 },
];
function steady(network: ElectroThermalNetwork, sources: readonly ElectricSource[], start?: SteadyState): SteadyState {
  const found = createElectroThermalModel(network).solve(sources, start === undefined ? {} : { start });
  if (found.outcome !== "steady") throw new Error(found.reason);
  return found;
}

describe("answer to a neighbouring network", () => {
  const base: Bar = { length: 500e-6, area: 320e-12, k: 120, rho: 1.5e-4, loss: 0.1, xi: 1e-3 };
  const state = steady(bar(base), drive(6));
  const frame = lineariseFrame(bar(base), { state, sources: drive(6) });
  const neighbours: readonly (readonly [string, (h: number) => { bar: Bar; voltage: number }])[] = [
    ["length", (h) => ({ bar: { ...base, length: base.length * (1 + h) }, voltage: 6 })],
    ["area", (h) => ({ bar: { ...base, area: base.area * (1 + h) }, voltage: 6 })],
    ["conductivity", (h) => ({ bar: { ...base, k: base.k * (1 + h) }, voltage: 6 })],
    ["resistivity", (h) => ({ bar: { ...base, rho: base.rho * (1 + h) }, voltage: 6 })],
    ["loss", (h) => ({ bar: { ...base, loss: base.loss * (1 + h) }, voltage: 6 })],
    ["ambient", (h) => ({ bar: { ...base, ambient: T0 * (1 + h / 10) }, voltage: 6 })],
    ["voltage", (h) => ({ bar: base, voltage: 6 * (1 + h) })],
  ];
  it.each(neighbours)("%s: misses the solved neighbour by the square of the step", (_name, of) => {
    const errors = [0.02, 0.01].map((h) => {
      const changed = of(h);
      const network = bar(changed.bar);
      const solved = steady(network, drive(changed.voltage), state);
      const answered = frame.respondTo(network, drive(changed.voltage));
      const change = solved.sourceCurrents[0]! / state.sourceCurrents[0]! - 1;
      expect(Math.abs(change)).toBeGreaterThan(1e-5);
      return [
        meanTemperature(answered.fields[0]!) - meanTemperature(solved.fields[0]!),
        (answered.sourceCurrents[0]! - solved.sourceCurrents[0]!) / state.sourceCurrents[0]!,
      ] as const;
    });
    for (const k of [0, 1] as const) {
      const [coarse, fine] = [Math.abs(errors[0]![k]), Math.abs(errors[1]![k])];
      // half the step, a quarter of the error; below 1e-9 (relative) and 1e-6 K only the tolerance of the solved states is left
      if (coarse > (k === 0 ? 1e-6 : 1e-9)) expect(Math.abs(coarse / fine - 4)).toBeLessThan(0.3);
    }
    expect(Math.abs(errors[1]![0])).toBeLessThan(0.05);
  });

  it("is the state itself for the network itself", () => {
    const answered = frame.respondTo(bar(base), drive(6));
    for (let i = 0; i < state.fields[0]!.temperatures.length; i++)
      expect(Math.abs(answered.fields[0]!.temperatures[i]! - state.fields[0]!.temperatures[i]!)).toBeLessThan(1e-12 * T0);
  });

  it("refuses a network of another shape", () => {
    const network = bar(base);
    expect(() => frame.respondTo({ ...network, branches: [...network.branches, ...network.branches] }, drive(6))).toThrow(
      "Cannot respond to a neighbour",
    );
  });
});

// Eigenvalues of the bar: 1/tau_n = n^2 pi^2 k/(c L^2) + G'/(c A); tau_1 as printed in the open checks (closed form, O7).
describe("decay of a cold bar", () => {
  it.each([
    [{ length: 1000e-6, area: 320e-12, k: 120, rho: 1.5e-4, loss: 0 }, 1.400732e-3],
    [{ length: 300e-6, area: 10e-12, k: 50, rho: 2.2e-5, loss: 0 }, 0.302558e-3],
    [{ length: 1000e-6, area: 320e-12, k: 120, rho: 1.5e-4, loss: 0.1443792 }, 1.014321e-3],
  ])("case %#: six time constants", (shape, tau1) => {
    const network = bar(shape);
    const even: ElectroThermalNetwork = {
      ...network,
      branches: [{ ...network.branches[0]!, thermalConductivity: constant(shape.k) }],
    };
    const half = { ...even.branches[0]!, length: shape.length / 2 };
    const split: ElectroThermalNetwork = {
      ...even,
      junctions: [...even.junctions, {}],
      branches: [
        { ...half, to: 2 },
        { ...half, from: 2 },
      ],
    };
    const sources = drive(0);
    const constants = lineariseFrame(split, { state: steady(split, sources), sources }).timeConstants(6);
    // printed digits
    expect(Math.abs(constants[0]! / tau1 - 1)).toBeLessThan(1e-6);
    constants.forEach((tau, n) => {
      const rate =
        (((n + 1) * Math.PI) ** 2 * shape.k) / (volumetric * shape.length ** 2) + shape.loss / (volumetric * shape.area);
      // two elements of degree 10 with the Lobatto mass: spectral, 2.5e-6 at the sixth half wave
      expect(Math.abs(tau * rate - 1)).toBeLessThan(n < 4 ? 1e-8 : 3e-6);
    });
  });

  // Mean of the bar under an even heat of frequency w: (1 - tanh q/q)/q^2 with q = (L/2) sqrt(i w c/k); derived here.
  it("follows its heat with the bandwidth of the diffusion equation", () => {
    const shape = { length: 1000e-6, area: 320e-12, k: 120, rho: 1.5e-4, loss: 0 };
    const network = bar(shape);
    const even: ElectroThermalNetwork = {
      ...network,
      branches: [{ ...network.branches[0]!, thermalConductivity: constant(shape.k) }],
    };
    const sources = [{ kind: "current", current: 1e-3, plus: 0, minus: 1 }] as const;
    const frame = lineariseFrame(even, { state: steady(even, sources), sources });
    const size = (f: number): number => {
      // q = p (1 + i)
      const p = (shape.length / 2) * Math.sqrt((Math.PI * f * volumetric) / shape.k);
      const below = Math.cosh(2 * p) + Math.cos(2 * p);
      const [tr, ti] = [Math.sinh(2 * p) / below, Math.sin(2 * p) / below];
      // tanh q / q, then (1 - that)/q^2 with q^2 = 2 i p^2
      const [ar, ai] = [(tr + ti) / (2 * p), (ti - tr) / (2 * p)];
      return Math.hypot(1 - ar, ai) / (2 * p * p);
    };
    const f = frame.bandwidth({ source: 0, branches: [0] });
    expect(Math.abs((3 * size(f)) / Math.SQRT1_2 - 1)).toBeLessThan(1e-7);
    // a little above that of the first mode alone, 113.6 Hz as printed in the open checks (O7)
    expect(f).toBeGreaterThan(113.6);
    expect(f).toBeLessThan(1.05 * 113.6);
  });
});

describe("decay of a lump behind a chain", () => {
  it("has the roots of its own impedance", () => {
    // A lump of capacity C on two parallel RC elements: C s + 1/Z(s) = 0, with Z = sum R/(1 + s R C_i); a quadratic in s.
    const chain = [
      { resistance: 300, capacitance: 1e-6 },
      { resistance: 150, capacitance: 1e-4 },
    ];
    const C = 2e-7;
    const network: ElectroThermalNetwork = {
      nTerminals: 2,
      junctions: [{ terminal: 0, heatCapacity: C, sinks: [{ chain, temperature: T0 }] }, { terminal: 1 }],
      branches: [{ from: 0, to: 1, length: 1e-4, area: 1e-9, thermalConductivity: constant(10), resistivity: constant(1e-5) }],
    };
    const sources = drive(0);
    const frame = lineariseFrame(network, { state: steady(network, sources), sources });
    const impedance = (rate: number): number =>
      chain.reduce((sum, { resistance: R, capacitance: Ci }) => sum + R / (1 - rate * R * Ci), 0);
    // three capacities in one loop of two elements: two independent temperatures beside the constraint of the loop
    const found = frame.timeConstants(3);
    expect(found).toHaveLength(2);
    const balance = (rate: number): number => C * rate * impedance(rate) - 1;
    // a root of the impedance lies within 1e-8 of each
    for (const tau of found) expect(balance((1 - 1e-8) / tau) * balance((1 + 1e-8) / tau)).toBeLessThan(0);
    expect(found[0]!).toBeGreaterThan(found[1]!);
  });
});
