import fc from "fast-check";
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
  "thin gas": gasExchange({
    shapeFactor: 4.8,
    gasConductivity: gas,
    surfaces: { step: 3, reference: sink, freeMolecular: 7 },
    sinkTemperature: sink,
  }),
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

describe("gas that collides with its walls as much as with itself", () => {
  // steps of temperature as of `jump` metres of gas; k = 1, at the reference temperature, where nothing grows with sqrt(T)
  const even: Law = { ...gas, at: () => 1, slopeAt: () => 0 };
  const conductance = (shapeFactor: number, surfaces: { step: number; freeMolecular: number }): number =>
    gasExchange({
      shapeFactor,
      gasConductivity: even,
      surfaces: { ...surfaces, reference: sink },
      sinkTemperature: sink,
    }).lossSlopeAt(sink);

  it("between parallel walls the gap seems longer by both jump distances, at any pressure (Kennard 1938, from memory)", () => {
    const gap = 3e-6;
    for (const jump of [1e-9, 1e-7, 1e-6, 1e-5, 1e-3]) {
      const surfaces = { step: 2 * jump, freeMolecular: 2 * jump };
      expect(conductance(1 / gap, surfaces) / (1 / (gap + 2 * jump))).toBeCloseTo(1, 12);
    }
  });

  it("between coaxial cylinders: Kennard's jump at high pressure, Knudsen's limit at low (both from memory)", () => {
    const [r1, r2, a] = [1, 4, 0.9];
    const shape = (2 * Math.PI) / Math.log(r2 / r1);
    for (const jump of [1e-4, 1e-3]) {
      const kennard = (2 * Math.PI) / (Math.log(r2 / r1) + jump * (1 / r1 + 1 / r2));
      // k/jump = 2 a/(2 - a) f, f the heat that unhindered molecules carry per area
      const f = (2 - a) / (2 * a * jump);
      const knudsen = 2 * Math.PI * r1 * f * (1 / (1 / a + (r1 / r2) * (1 / a - 1)));
      const step = (jump * (1 / r1 + 1 / r2)) / (2 * Math.PI);
      // what is left is of second order in jump over radius
      expect(Math.abs(conductance(shape, { step, freeMolecular: 1 / knudsen }) / kennard - 1)).toBeLessThan(2 * jump ** 2);
    }
    const jump = 1e5;
    const knudsen = 2 * Math.PI * r1 * ((2 - a) / (2 * a * jump)) * (1 / (1 / a + (r1 / r2) * (1 / a - 1)));
    const step = (jump * (1 / r1 + 1 / r2)) / (2 * Math.PI);
    expect(conductance(shape, { step, freeMolecular: 1 / knudsen }) / knudsen).toBeCloseTo(1, 4);
  });

  it("never more than either limit, and more with every pressure, whatever the surfaces", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 20, noNaN: true }),
        fc.double({ min: 0.05, max: 20, noNaN: true }),
        (step, free) => {
          let last = 0;
          for (let pressure = 1e-4; pressure < 1e5; pressure *= 1.5) {
            const found = conductance(2, { step: step / pressure, freeMolecular: free / pressure });
            expect(found).toBeLessThanOrEqual(Math.min(2, pressure / free) * (1 + 1e-12));
            expect(found).toBeGreaterThan(last);
            last = found;
          }
        },
      ),
    );
  });
});
