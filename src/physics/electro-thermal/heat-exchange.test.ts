import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { gasExchange, linearExchange, radiationExchange, sumExchange } from "./heat-exchange.ts";

const gas: Law = {
  at: (T) => 0.026 * (T / 300) ** 0.8,
  slopeAt: (T) => ((0.8 * 0.026) / 300) * (T / 300) ** -0.2,
  unit: "W/(m K)",
  range: { from: 200, to: 1500 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
};

const sink = 295;
const exchanges = {
  linear: linearExchange(0.2, sink),
  gas: gasExchange({ shapeFactor: 4.8, gasConductivity: gas, sinkTemperature: sink }),
  radiation: radiationExchange(0.7 * 96e-6, sink),
  sum: sumExchange([linearExchange(0.2, sink), radiationExchange(1e-4, sink)]),
};

describe("heat exchange", () => {
  for (const [name, exchange] of Object.entries(exchanges)) {
    it(`${name}: nothing at the sink temperature, slope as by differences, more when hotter`, () => {
      expect(exchange.lossAt(sink)).toBe(0);
      for (const T of [250, 300, 600, 1100]) {
        const h = 1e-3;
        const slope = (exchange.lossAt(T + h) - exchange.lossAt(T - h)) / (2 * h);
        // Central difference over 2 mK: rounding of the loss over 2e-3 K leaves about 1e-9.
        expect(Math.abs(exchange.lossSlopeAt(T) / slope - 1)).toBeLessThan(1e-8);
        expect(Math.sign(exchange.lossAt(T))).toBe(Math.sign(T - sink));
      }
    });
  }

  it("a black square metre at 300 K radiates 459.3 W into the cold", () => {
    // Stefan-Boltzmann law; 5.670374419e-8 x 300^4.
    expect(radiationExchange(1, 1e-3).lossAt(300)).toBeCloseTo(459.3003, 4);
  });
});
