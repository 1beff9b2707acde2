import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { temperatureAlong } from "./field.ts";
import type { ElectricSource, ElectroThermalNetwork, VoltageSource } from "./network.ts";
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
const T0 = 300;

// A lump of resistance R0 (1 + xi (T - T0)), capacity C and loss G (T - T0).
const R0 = 100;
const xi = 2e-3;
const C = 1e-6;
const G = 1e-4;
const R = (T: number): number => R0 * (1 + xi * (T - T0));
const lump: ElectroThermalNetwork = {
  nTerminals: 2,
  junctions: [
    { terminal: 0, heatCapacity: C / 2, sinks: [{ conductance: G / 2, temperature: T0 }] },
    { terminal: 1, heatCapacity: C / 2, sinks: [{ conductance: G / 2, temperature: T0 }] },
  ],
  branches: [
    {
      from: 0,
      to: 1,
      length: 1e-4,
      area: 1e-9,
      // the middle is hotter than the ends by P L/(8 k A), about 3e-4 K
      thermalConductivity: constant(1e7),
      resistivity: { ...everywhere, at: (T) => 1e-5 * R(T), slopeAt: () => 1e-5 * R0 * xi },
    },
  ],
};
const voltage = (volts: number, extra: Partial<VoltageSource> = {}): VoltageSource => ({
  kind: "voltage",
  voltage: volts,
  seriesResistance: 0,
  plus: 0,
  minus: 1,
  ...extra,
});
const current = (amperes: number): ElectricSource => ({ kind: "current", current: amperes, plus: 0, minus: 1 });

/** Classical Runge-Kutta steps of a lump's own equation, far finer than what is checked. */
function integrate(power: (T: number) => number, options: { from: number; duration: number }): number {
  let T = options.from;
  const n = 20000;
  const h = options.duration / n;
  const f = (t: number): number => (power(t) - G * (t - T0)) / C;
  for (let i = 0; i < n; i++) {
    const k1 = f(T);
    const k2 = f(T + 0.5 * h * k1);
    const k3 = f(T + 0.5 * h * k2);
    const k4 = f(T + h * k3);
    T += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return T;
}

describe("a source with a current limit", () => {
  const limit = 0.05;
  const V = 6;
  const series = 5;
  const source = voltage(V, { seriesResistance: series, currentLimit: limit });
  // At the limit C dT/dt = I^2 R(T) - G (T - T0) is linear; the limit ends where R(T) + series = V/I.
  const rate = (limit * limit * R0 * xi - G) / C;
  const push = (limit * limit * R0) / C;
  const release = T0 + ((V / limit - series) / R0 - 1) / xi;
  const releaseTime = Math.log(1 + ((release - T0) * rate) / push) / rate;

  it("holds the current first and lets go at the known moment, within the phase", () => {
    const history = simulateTransient(lump, {
      start: T0,
      phases: [{ duration: 20e-3, sources: [source] }],
      observers: [({ junctionTemperatures }) => junctionTemperatures[0]!, ({ sourceCurrents }) => sourceCurrents[0]!],
    });
    expect(history.limitEvents.map(({ isLimited }) => isLimited)).toEqual([true, false]);
    expect(history.limitEvents[0]!.time).toBe(0);
    // the lump is even to 1e-5 of its rise
    expect(Math.abs(history.limitEvents[1]!.time / releaseTime - 1)).toBeLessThan(3e-5);
    history.times.forEach((time, i) => {
      const amperes = history.sourceCurrents[0]![i]!;
      if (time <= history.limitEvents[1]!.time) expect(Math.abs(amperes / limit - 1)).toBeLessThan(1e-7);
      else expect(amperes).toBeLessThan(limit);
      // the source's own line: V = v + R i where it is free
      const volts = history.sourceVoltages[0]![i]! + series * amperes;
      expect(volts).toBeLessThanOrEqual(V * (1 + 1e-7));
      if (time > history.limitEvents[1]!.time) expect(Math.abs(volts / V - 1)).toBeLessThan(1e-9);
    });
    const wanted = integrate((T) => (V / (R(T) + series)) ** 2 * R(T), { from: release, duration: 20e-3 - releaseTime });
    expect(Math.abs(history.observed[0]!.at(-1)! - wanted)).toBeLessThan(2e-5 * (wanted - T0) + 2e-3);
    expect(Math.max(...history.energyDefects)).toBeLessThan(1e-6);
    // energy so far is the power summed: C and the losses hold the same
    expect(history.sourceEnergies[0]!.at(-1)!).toBeGreaterThan(C * (wanted - T0));
  });

  it("meets the limit on the way where the resistance falls", () => {
    const falling: ElectroThermalNetwork = {
      ...lump,
      branches: [
        {
          ...lump.branches[0]!,
          resistivity: {
            ...everywhere,
            at: (T) => 1e-3 / (1 + 5e-3 * (T - T0)),
            slopeAt: (T) => -5e-6 / (1 + 5e-3 * (T - T0)) ** 2,
          },
        },
      ],
    };
    const history = simulateTransient(falling, {
      start: T0,
      phases: [{ duration: 5e-3, sources: [voltage(5, { currentLimit: 0.06 })] }],
      observers: [({ junctionTemperatures }) => junctionTemperatures[0]!],
    });
    // I = V/R = 0.05 (1 + 5e-3 rise) reaches 0.06 at a rise of 40 K; until then C dT/dt = 0.25 (1 + 5e-3 rise) - G rise
    const growth = (0.25 * 5e-3 - G) / C;
    const time = Math.log(1 + (40 * growth * C) / 0.25) / growth;
    expect(history.limitEvents).toHaveLength(1);
    expect(Math.abs(history.limitEvents[0]!.time / time - 1)).toBeLessThan(3e-5);
    expect(history.sourceCurrents[0]!.at(-1)).toBeCloseTo(0.06, 10);
  });
});

describe("a sequence of phases", () => {
  it("hits every change, cools with an open circuit, and drives the other way alike", () => {
    const history = simulateTransient(lump, {
      start: T0,
      phases: [
        { duration: 3e-3, sources: [current(0.03)] },
        { duration: 5e-3, sources: [] },
        { duration: 3e-3, sources: [current(0)] },
        { duration: 2e-3, sources: [voltage(-2)] },
      ],
      observers: [({ junctionTemperatures }) => junctionTemperatures[0]!, ({ sourceEnergies }) => sourceEnergies[0]!],
    });
    for (const time of [3e-3, 8e-3, 11e-3, 13e-3])
      expect(Array.from(history.times).some((t) => Math.abs(t - time) < 1e-17)).toBe(true);
    const at = (time: number): number =>
      history.observed[0]![Array.from(history.times).findIndex((t) => Math.abs(t - time) < 1e-17)]!;
    const heated = integrate((T) => 0.03 ** 2 * R(T), { from: T0, duration: 3e-3 });
    const cooled = T0 + (heated - T0) * Math.exp((-8e-3 * G) / C);
    const again = integrate((T) => 4 / R(T), { from: cooled, duration: 2e-3 });
    // the evenness of the lump, and steps of 1e-3 K
    expect(Math.abs(at(3e-3) - heated)).toBeLessThan(2e-3);
    expect(Math.abs(at(11e-3) - cooled)).toBeLessThan(3e-3);
    expect(Math.abs(at(13e-3) - again)).toBeLessThan(4e-3);
    expect(history.powers.every((power) => power > -1e-12)).toBe(true);
    // nothing came in while the circuit was open
    const energies = history.observed[1]!;
    const index = Array.from(history.times).findIndex((t) => Math.abs(t - 3e-3) < 1e-17);
    const later = Array.from(history.times).findIndex((t) => Math.abs(t - 11e-3) < 1e-17);
    expect(Math.abs(energies[later]! - energies[index]!)).toBeLessThan(1e-12 * energies[index]!);
  });

  it("goes on from a snapshot as if it had not stopped, chains included", () => {
    const network: ElectroThermalNetwork = {
      ...lump,
      junctions: lump.junctions.map((junction) => ({
        ...junction,
        sinks: [
          {
            chain: [
              { resistance: 3000, capacitance: 2e-7 },
              { resistance: 8000, capacitance: 1e-6 },
            ],
            temperature: T0,
          },
        ],
      })),
    };
    const sources = [current(0.02)];
    const observers = [({ junctionTemperatures }: { junctionTemperatures: Float64Array }) => junctionTemperatures[0]!];
    const whole = simulateTransient(network, { start: T0, phases: [{ duration: 4e-3, sources }], observers });
    const first = simulateTransient(network, { start: T0, phases: [{ duration: 2e-3, sources }], observers });
    const second = simulateTransient(network, { start: first.final, phases: [{ duration: 2e-3, sources }], observers });
    // two runs with steps of 1e-3 K each
    expect(Math.abs(whole.observed[0]!.at(-1)! - second.observed[0]!.at(-1)!)).toBeLessThan(2e-3);
  });

  it("adds up several sources on several terminals", () => {
    // A star of three equal arms: two sources lift two terminals against the third.
    const arm = {
      length: 300e-6,
      area: 40e-12,
      thermalConductivity: constant(100),
      resistivity: constant(1e-4),
      heatCapacity: constant(1.6e6),
    };
    const star: ElectroThermalNetwork = {
      nTerminals: 3,
      junctions: [{ temperature: T0, terminal: 0 }, { temperature: T0, terminal: 1 }, { temperature: T0, terminal: 2 }, {}],
      branches: [0, 1, 2].map((from) => ({ from, to: 3, ...arm })),
    };
    const sources: readonly ElectricSource[] = [
      { kind: "voltage", voltage: 2, seriesResistance: 10, plus: 0, minus: 2 },
      { kind: "current", current: 1e-3, plus: 1, minus: 2 },
    ];
    const history = simulateTransient(star, {
      start: T0,
      phases: [{ duration: 20e-3, sources }],
      observers: [({ fields }) => temperatureAlong(fields[2]!, 0)],
    });
    const Ra = (1e-4 * 300e-6) / 40e-12;
    // mesh equations: 2 = (10 + 2 Ra) i + Ra j, v1 = Ra i + 2 Ra j
    const i = (2 - Ra * 1e-3) / (10 + 2 * Ra);
    expect(history.sourceCurrents[0]!.at(-1)!).toBeCloseTo(i, 12);
    expect(history.sourceVoltages[1]!.at(-1)!).toBeCloseTo(Ra * i + 2 * Ra * 1e-3, 10);
    const powers = history.sourceCurrents.map((series, s) => series.at(-1)! * history.sourceVoltages[s]!.at(-1)!);
    expect(history.powers.at(-1)! / (powers[0]! + powers[1]!)).toBeCloseTo(1, 12);
    // constant resistances: energies are power times time
    history.sourceEnergies.forEach((series, s) => {
      expect(series.at(-1)! / (powers[s]! * 20e-3)).toBeCloseTo(1, 9);
    });
  });
});

describe("a chain behind a junction", () => {
  it("steps as its Foster elements do: sum of R (1 - exp(-t/(R C))) (definition of the form)", () => {
    // All heat of a constant current goes into the chain: the lump is without capacity of its own.
    const chain = [
      { resistance: 200, capacitance: 2e-6 },
      { resistance: 500, capacitance: 1e-4 },
      { resistance: 300, capacitance: 5e-2 },
    ];
    const network: ElectroThermalNetwork = {
      nTerminals: 2,
      junctions: [{ terminal: 0, sinks: [{ chain, temperature: T0 }] }, { terminal: 1 }],
      branches: [{ from: 0, to: 1, length: 1e-4, area: 1e-9, thermalConductivity: constant(1e3), resistivity: constant(1e-3) }],
    };
    const power = 0.02 ** 2 * 100;
    const sources = [current(0.02)];
    const history = simulateTransient(network, {
      start: T0,
      phases: [{ duration: 100, sources }],
      observers: [({ junctionTemperatures }) => junctionTemperatures[0]!],
    });
    history.times.forEach((time, i) => {
      const rise =
        power *
        chain.reduce(
          (sum, { resistance, capacitance }) => sum + resistance * (1 - Math.exp(-time / (resistance * capacitance))),
          0,
        );
      // errors of 1e-3 K a step, damped by the chain itself
      expect(Math.abs(history.observed[0]![i]! - T0 - rise)).toBeLessThan(2e-3);
    });
    // eight decades of time
    expect(history.times.length).toBeLessThan(150);
    // constant capacities: Newton's tolerance alone is left
    expect(Math.max(...history.energyDefects)).toBeLessThan(1e-7);
    const steady = createElectroThermalModel(network).solve(sources);
    if (steady.outcome !== "steady") throw new Error(steady.reason);
    expect(steady.junctionTemperatures[0]! - T0).toBeCloseTo(power * 1000, 8);
    // and it stays there, its inner temperatures being steady ones
    const rest = simulateTransient(network, {
      start: steady,
      phases: [{ duration: 10, sources }],
      observers: [({ junctionTemperatures }) => junctionTemperatures[0]!],
    });
    for (const T of rest.observed[0]!) expect(Math.abs(T - steady.junctionTemperatures[0]!)).toBeLessThan(1e-6);
  });
});

// Published and computed benchmarks of conduction in time.
describe("bars in time", () => {
  it("NAFEMS T3, 36.60 C published, 36.60311595 exact (series): by the answer to a step of the end and Duhamel's integral", () => {
    const bar: ElectroThermalNetwork = {
      nTerminals: 1,
      junctions: [{ temperature: T0, terminal: 0 }, { temperature: T0 + 100 }],
      branches: [
        {
          from: 0,
          to: 1,
          length: 0.1,
          area: 1e-4,
          thermalConductivity: constant(35),
          resistivity: undefined,
          heatCapacity: constant(440.5 * 7200),
        },
      ],
    };
    const history = simulateTransient(bar, {
      start: T0,
      phases: [{ duration: 32, sources: [] }],
      observers: [({ fields }) => (temperatureAlong(fields[0]!, 0.08) - T0) / 100],
      stepTolerance: 1e-4,
      fewestElements: 6,
    });
    const { times } = history;
    const values = history.observed[0]!;
    const slopes = history.rates[0]!;
    // T(32 s) = integral of the step's answer after (32 - t) times the rate of the end, 100 pi/40 cos(pi t/40); Simpson on each step
    const end = (t: number): number => 100 * (Math.PI / 40) * Math.cos((Math.PI * t) / 40);
    let sum = 0;
    for (let i = 1; i < times.length; i++) {
      const h = times[i]! - times[i - 1]!;
      const nParts = 64;
      const at = (s: number): number =>
        values[i - 1]! * (1 + 2 * s) * (1 - s) ** 2 +
        values[i]! * s * s * (3 - 2 * s) +
        h * (slopes[i - 1]! * s * (1 - s) ** 2 - slopes[i]! * s * s * (1 - s));
      for (let p = 0; p < nParts; p++) {
        const s = (p + 0.5) / nParts;
        sum += (h / nParts) * at(s) * end(32 - times[i - 1]! - s * h);
      }
    }
    expect(Math.abs(sum - 36.60311595)).toBeLessThan(1e-3);
    expect(Math.abs(sum - 36.6)).toBeLessThan(0.005);
  });

  it("bridge warming up: its middle at four Fourier numbers (series, D9)", () => {
    const length = 400e-6;
    const diffusivity = 32 / 1.6e6;
    const bridge: ElectroThermalNetwork = {
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
          area: 20e-12,
          thermalConductivity: constant(32),
          resistivity: constant(2e-5),
          heatCapacity: constant(1.6e6),
        },
      ],
    };
    const moments = [0.02, 0.05, 0.1, 0.2].map((Fo) => (Fo * length ** 2) / diffusivity);
    const history = simulateTransient(bridge, {
      start: T0,
      phases: moments.map((moment, i) => ({ duration: moment - (moments[i - 1] ?? 0), sources: [current(2e-3)] })),
      observers: [({ fields }) => (temperatureAlong(fields[0]!, length / 2) - T0) / 125],
    });
    [0.1592324337, 0.3703863179, 0.6153525143, 0.8566368905].forEach((wanted, i) => {
      const at = Array.from(history.times).findIndex((time) => Math.abs(time / moments[i]! - 1) < 1e-12);
      // steps of 1e-3 K of 125 K
      expect(Math.abs(history.observed[0]![at]! - wanted)).toBeLessThan(2e-5);
    });
    expect(timeToReach(history, 0, 0.6153525143)! / moments[2]!).toBeCloseTo(1, 4);
  });

  it("takes 100^(1/4) times the steps for a hundredth of the error", () => {
    // a lump at a held current grows exponentially: closed form
    const rate = (0.03 ** 2 * R0 * xi - G) / C;
    const exact = T0 + ((0.03 ** 2 * R0) / C / rate) * (Math.exp(rate * 10e-3) - 1);
    const runs = [1e-1, 1e-3, 1e-5].map((stepTolerance) => {
      const history = simulateTransient(lump, {
        start: T0,
        phases: [{ duration: 10e-3, sources: [current(0.03)] }],
        observers: [({ junctionTemperatures }) => junctionTemperatures[0]!],
        stepTolerance,
      });
      const error = Math.abs(history.observed[0]!.at(-1)! - exact);
      // the unevenness of the lump beside the steps
      expect(error).toBeLessThan(stepTolerance + 2e-3);
      return history.times.length - 1;
    });
    // the beginning of a phase costs a few steps more
    expect(runs[2]! / runs[1]!).toBeLessThan(3.7);
    expect(runs[2]! / runs[1]!).toBeGreaterThan(2);
  });
});
