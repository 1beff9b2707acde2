import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { meanTemperature } from "./field.ts";
import { createEquations } from "./frame-equations.ts";
import { createLayout } from "./frame-layout.ts";
import { linearExchange } from "./heat-exchange.ts";
import type { ElectricSource, ElectroThermalNetwork } from "./network.ts";
import { createRosenbrockStepper, takeRosenbrockStep } from "./rosenbrock-step.ts";
import { timeToReach } from "./time-to-reach.ts";
import { simulateTransient } from "./transient.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;
const linear = (value: number, slope: number): Law => ({
  ...everywhere,
  at: (T) => value * (1 + slope * (T - 300)),
  slopeAt: () => value * slope,
});
const T0 = 300;

/** A lump of capacity C, loss G and resistance R (1 + xi (T - T0)) behind the resistance Rs: one equation with a current that follows. */
const C = 1e-6;
const G = 1e-4;
const R = 100;
const xi = 2e-3;
const Rs = 40;
const V = 2;
const lump: ElectroThermalNetwork = {
  nTerminals: 2,
  junctions: [0, 1].map((terminal) => ({
    terminal,
    sinks: [{ conductance: G / 2, temperature: T0 }],
  })),
  branches: [
    // conducts so well that the ends stay within 1e-3 K of the middle, and no better or rounding would show
    {
      from: 0,
      to: 1,
      length: 1e-4,
      area: 1e-9,
      thermalConductivity: linear(1e7, 0),
      resistivity: linear(1e-5 * R, xi),
      heatCapacity: linear(1e13 * C, 0),
    },
  ],
};
const source: ElectricSource = { kind: "voltage", voltage: V, seriesResistance: Rs, plus: 0, minus: 1 };

/** Classical Runge-Kutta on the lump's own equation in steps that leave 1e-10 K. */
function exactLump(duration: number): number {
  let T = T0;
  const n = 4000;
  const h = duration / n;
  const f = (t: number): number => {
    const r = R * (1 + xi * (t - T0));
    return ((V * V * r) / (r + Rs) ** 2 - G * (t - T0)) / C;
  };
  for (let i = 0; i < n; i++) {
    const k1 = f(T);
    const k2 = f(T + 0.5 * h * k1);
    const k3 = f(T + 0.5 * h * k2);
    T += (h * (k1 + 2 * k2 + 2 * k3 + f(T + h * k3))) / 6;
  }
  return T;
}

describe("linear stages", () => {
  const layout = createLayout(lump, { sizes: [1], sources: [source], storesHeat: true });
  const equations = createEquations(lump, layout);
  const duration = 0.02;
  const exact = exactLump(duration);

  function run(nSteps: number) {
    const stepper = createRosenbrockStepper(equations);
    let x = new Float64Array(layout.nEntries).fill(T0, 0, layout.nTemperatures);
    const current = V / (R + Rs);
    x[layout.currentEntries[0]!] = current;
    x[layout.sourceEntry] = current;
    x[layout.potentialEntry] = R * current;
    let rates = new Float64Array(layout.nEntries).fill((R * current ** 2) / C, 0, layout.nTemperatures);
    let energy = 0;
    let out = 0;
    for (let i = 0; i < nSteps; i++) {
      const step = takeRosenbrockStep(stepper, x, { dt: duration / nSteps, beginRates: rates, sources: [source] })!;
      x = step.end as typeof x;
      rates = step.rates as typeof rates;
      energy += step.sourceEnergies[0]!;
      out += step.energyOut;
    }
    return { end: x[layout.junctionEntry]!, defect: energy - out - C * (x[layout.junctionEntry]! - T0), energy };
  }

  it("are of order 4", () => {
    const [coarse, fine, finest] = [run(8), run(16), run(64)];
    const ratio = (coarse.end - finest.end) / (fine.end - finest.end);
    // halving the steps divides the error by 16; at these sizes the ratio still moves
    expect(ratio).toBeGreaterThan(13);
    expect(ratio).toBeLessThan(20);
    // the middle of the lump is hotter than its ends by a few millionths of a kelvin
    expect(Math.abs(finest.end - exact)).toBeLessThan(1e-5);
  });

  it("balance the heat by their energies", () => {
    const [coarse, fine] = [run(8), run(32)];
    expect(Math.abs(fine.defect)).toBeLessThan(1e-5 * fine.energy);
    // Simpson's sum with a middle of order 3: the defect falls at least with the third power
    expect(Math.abs(coarse.defect)).toBeGreaterThan(50 * Math.abs(fine.defect));
  });
});

describe("a run with linear stages", () => {
  const bar: ElectroThermalNetwork = {
    nTerminals: 2,
    junctions: [
      { temperature: T0, terminal: 0 },
      { terminal: 1, leadResistance: 5, sinks: [{ conductance: 2e-5, temperature: T0 }] },
    ],
    branches: [
      {
        from: 0,
        to: 1,
        length: 800e-6,
        area: 240e-12,
        thermalConductivity: linear(100, -8e-4),
        resistivity: linear(1.5e-4, 1e-3),
        heatCapacity: linear(1.7e6, 4e-4),
        exchange: linearExchange(0.02, T0),
      },
    ],
  };
  const supply: ElectricSource = { kind: "voltage", voltage: 10, seriesResistance: 30, currentLimit: 0.018, plus: 0, minus: 1 };
  const phases = [
    { duration: 3e-3, sources: [supply] },
    { duration: 3e-3, sources: [] },
  ];
  const mean = ({
    fields,
  }: Parameters<Extract<Parameters<typeof simulateTransient>[1]["observers"][number], (...args: never) => number>>[0]) =>
    meanTemperature(fields[0]!);
  const strict = simulateTransient(bar, { start: T0, phases, observers: [mean], stepTolerance: 1e-4 });
  const quick = simulateTransient(bar, {
    start: T0,
    phases,
    observers: [{ value: mean, change: (view, towards) => mean(towards) - mean(view) }],
    stepTolerance: 1e-2,
    riseTolerance: 1e-3,
    energyTolerance: 1e-3,
    stages: "linear",
  });
  const rise = Math.max(...strict.observed[0]!) - T0;

  it("meets the strict run in a third of the steps or less", () => {
    expect(rise).toBeGreaterThan(50);
    expect(quick.times.length).toBeLessThan(strict.times.length / 3);
    for (const part of [0.3, 0.63, 0.9]) {
      const level = T0 + part * rise;
      const time = timeToReach(strict, 0, level)!;
      // steps are allowed a thousandth of the rise each, and their errors die out with the heat
      expect(Math.abs(timeToReach(quick, 0, level)! - time)).toBeLessThan(1e-3 * time);
    }
    expect(Math.abs(quick.final.junctionTemperatures[1]! - strict.final.junctionTemperatures[1]!)).toBeLessThan(1e-3 * rise);
  });

  it("finds the same limits and energies", () => {
    expect(strict.limitEvents.length).toBeGreaterThan(0);
    expect(quick.limitEvents.map(({ isLimited }) => isLimited)).toEqual(strict.limitEvents.map(({ isLimited }) => isLimited));
    strict.limitEvents.forEach(({ time }, k) => {
      expect(Math.abs(quick.limitEvents[k]!.time - time)).toBeLessThan(2e-3 * 3e-3);
    });
    const at = (history: typeof strict): number => Math.max(...history.sourceEnergies[0]!);
    expect(Math.abs(at(quick) / at(strict) - 1)).toBeLessThan(5e-4);
    expect(Math.max(...quick.energyDefects)).toBeLessThan(1e-3);
  });

  it("ends where it is told to", () => {
    const level = T0 + 0.5 * rise;
    const ended = simulateTransient(bar, { start: T0, phases, observers: [mean], until: { observer: 0, level } });
    const values = ended.observed[0]!;
    expect(values.at(-1)).toBeGreaterThanOrEqual(level);
    expect(values.at(-2)).toBeLessThan(level);
    const time = timeToReach(strict, 0, level)!;
    expect(Math.abs(timeToReach(ended, 0, level)! - time)).toBeLessThan(1e-4 * time);
  });
});
