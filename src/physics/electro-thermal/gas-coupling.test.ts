import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { meanTemperature, temperatureAlong } from "./field.ts";
import { gasPairExchange, linearExchange, linearPairExchange, type PairExchange } from "./heat-exchange.ts";
import type { ElectroThermalNetwork, GasCoupling } from "./network.ts";
import { createElectroThermalModel, type SteadyState } from "./steady.ts";
import { simulateTransient } from "./transient.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;
const constant = (value: number): Law => ({ ...everywhere, at: () => value, slopeAt: () => 0 });
const gas: Law = {
  ...everywhere,
  at: (T) => 0.026 * (T / 300) ** 0.8,
  slopeAt: (T) => ((0.8 * 0.026) / 300) * (T / 300) ** -0.2,
};
const T0 = 300;
const length = 1e-3;
const area = 100e-12;
const k = 100;
const rho = 1e-4;
const heat = { thermalConductivity: constant(k), resistivity: constant(rho), heatCapacity: constant(1.6e6) };

/** Two bars between held ends, the first heated; the second may run the other way. */
function pair(options: { couplings: readonly GasCoupling[]; reversed?: boolean }): ElectroThermalNetwork {
  const { couplings, reversed = false } = options;
  return {
    nTerminals: 4,
    junctions: [0, 1, 2, 3].map((terminal) => ({ temperature: T0, terminal })),
    branches: [
      { from: 0, to: 1, length, area, ...heat },
      { from: reversed ? 3 : 2, to: reversed ? 2 : 3, length, area, ...heat },
    ],
    couplings,
  };
}
const facing = (exchange: PairExchange, spanB: readonly [number, number] = [0, 1]): GasCoupling => ({
  a: { branch: 0, span: [0, 1] },
  b: { branch: 1, span: spanB },
  exchange,
});
const sources = [{ kind: "current", current: 3e-3, plus: 0, minus: 1 }] as const;

function steady(network: ElectroThermalNetwork): SteadyState {
  const found = createElectroThermalModel(network).solve(sources);
  if (found.outcome !== "steady") throw new Error(found.reason);
  return found;
}

// Sum and difference of two equal bars part: S'' = -q/(k A), D'' - 2 g D/(k A) = -q/(k A). Closed form, derived here.
describe("hot bar beside a cold one", () => {
  const g = 0.05;
  const q = (3e-3 ** 2 * rho) / area;
  const m = Math.sqrt((2 * g) / (k * area));
  const sum = (x: number): number => (q * x * (length - x)) / (2 * k * area);
  const difference = (x: number): number => (q / (2 * g)) * (1 - Math.cosh(m * (x - length / 2)) / Math.cosh((m * length) / 2));

  it.each([false, true])("is as the closed form, running against each other: %s", (reversed) => {
    const state = steady(pair({ couplings: [facing(linearPairExchange(g), reversed ? [1, 0] : [0, 1])], reversed }));
    for (const s of [0.1, 0.37, 0.5, 0.8]) {
      const x = s * length;
      const hot = 0.5 * (sum(x) + difference(x));
      const cold = 0.5 * (sum(x) - difference(x));
      // spectral on a smooth field of 2.2 decay lengths; refinement goes to 1e-6 of the heat
      expect(Math.abs((temperatureAlong(state.fields[0]!, x) - T0) / hot - 1)).toBeLessThan(1e-7);
      expect(Math.abs((temperatureAlong(state.fields[1]!, reversed ? length - x : x) - T0) / cold - 1)).toBeLessThan(1e-7);
    }
    expect(state.energy.relativeDefect).toBeLessThan(1e-6);
  });

  it("comes to the same in time, its heat accounted for", () => {
    const network = pair({ couplings: [facing(gasPairExchange({ shapeFactor: 2, gasConductivity: gas }))] });
    const state = steady(network);
    const history = simulateTransient(network, {
      start: T0,
      phases: [{ duration: 0.1, sources }],
      observers: [({ fields }) => meanTemperature(fields[0]!), ({ fields }) => meanTemperature(fields[1]!)],
    });
    for (const b of [0, 1]) {
      // the tolerance of a step
      expect(Math.abs(history.observed[b]!.at(-1)! - meanTemperature(state.fields[b]!))).toBeLessThan(1e-3);
    }
    // constant heat capacity: Newton's tolerance alone is left
    expect(Math.max(...history.energyDefects)).toBeLessThan(1e-7);
  });
});

describe("facing stretches", () => {
  it("give what the branches cut at their ends give", () => {
    const g = 0.05;
    const couplings: readonly GasCoupling[] = [
      { a: { branch: 0, span: [0.25, 0.75] }, b: { branch: 1, span: [0.25, 0.75] }, exchange: linearPairExchange(g) },
    ];
    const whole = steady(pair({ couplings }));
    const cuts = [0, 0.25, 0.75, 1];
    const cut: ElectroThermalNetwork = {
      nTerminals: 4,
      junctions: [...[0, 1, 2, 3].map((terminal) => ({ temperature: T0, terminal })), {}, {}, {}, {}],
      branches: [0, 1].flatMap((b) => {
        const chain = [2 * b, 4 + 2 * b, 5 + 2 * b, 2 * b + 1];
        return [0, 1, 2].map((i) => ({
          from: chain[i]!,
          to: chain[i + 1]!,
          length: (cuts[i + 1]! - cuts[i]!) * length,
          area,
          ...heat,
        }));
      }),
      couplings: [{ a: { branch: 1, span: [0, 1] }, b: { branch: 4, span: [0, 1] }, exchange: linearPairExchange(g) }],
    };
    const parts = steady(cut);
    // the whole branch has a step of its heat inside an element until it is refined: to 1e-4 of the rise
    expect(
      Math.abs((temperatureAlong(whole.fields[0]!, length / 2) - T0) / (temperatureAlong(parts.fields[1]!, length / 4) - T0) - 1),
    ).toBeLessThan(1e-5);
    expect(
      Math.abs((temperatureAlong(whole.fields[1]!, length / 2) - T0) / (temperatureAlong(parts.fields[4]!, length / 4) - T0) - 1),
    ).toBeLessThan(1e-5);
  });

  it("warm a floating plate to the mean of what faces it", () => {
    const network: ElectroThermalNetwork = {
      ...pair({ couplings: [] }),
      junctions: [...pair({ couplings: [] }).junctions, {}],
      couplings: [
        { a: { branch: 0, span: [0, 1] }, b: { junction: 4 }, exchange: linearPairExchange(1e-4) },
        { a: { branch: 1, span: [0.2, 0.6] }, b: { junction: 4 }, exchange: linearPairExchange(1e-4) },
      ],
    };
    const state = steady(network);
    let part = 0;
    for (let i = 0; i < 1000; i++) part += temperatureAlong(state.fields[1]!, length * (0.2 + (0.4 * (i + 0.5)) / 1000)) / 1000;
    const mean = (meanTemperature(state.fields[0]!) + 0.4 * part) / 1.4;
    // midpoint rule of 1000 points
    expect(Math.abs(state.junctionTemperatures[4]! - mean)).toBeLessThan(1e-4);
    expect(state.energy.relativeDefect).toBeLessThan(1e-6);
  });

  it("pass on exactly what they take, whatever the spans and the law", () => {
    const place = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(place, place, place, place, fc.double({ min: 0.1, max: 5, noNaN: true }), (a0, a1, b0, b1, shapeFactor) => {
        fc.pre(Math.abs(a1 - a0) > 0.05 && Math.abs(b1 - b0) > 0.05);
        // nothing else takes heat from the second bar: its ends float
        const network: ElectroThermalNetwork = {
          nTerminals: 2,
          junctions: [{ temperature: T0, terminal: 0 }, { temperature: T0, terminal: 1 }, {}, {}],
          branches: [
            { from: 0, to: 1, length, area, ...heat },
            { from: 2, to: 3, length, area, ...heat, exchange: linearExchange(1e-3, T0) },
          ],
          couplings: [
            {
              a: { branch: 0, span: [a0, a1] },
              b: { branch: 1, span: [b0, b1] },
              exchange: gasPairExchange({ shapeFactor, gasConductivity: gas }),
            },
          ],
        };
        const found = createElectroThermalModel(network).solve(sources, { energyTarget: 1e-3 });
        if (found.outcome !== "steady") throw new Error(found.reason);
        const history = simulateTransient(network, {
          start: found,
          phases: [{ duration: 1e-4, sources }],
          observers: [],
          fewestElements: 1,
        });
        // as assembled nothing is lost, however coarse the mesh: what is left is Newton's tolerance
        expect(Math.max(...history.energyDefects)).toBeLessThan(1e-8);
      }),
      { seed: 11, numRuns: 15 },
    );
  });

  it("are refused where they are no stretch", () => {
    const bad = pair({
      couplings: [{ a: { branch: 0, span: [0.5, 0.5] }, b: { branch: 1, span: [0, 1] }, exchange: linearPairExchange(1) }],
    });
    expect(() => createElectroThermalModel(bad)).toThrow("wanted a span of two positions");
  });
});
