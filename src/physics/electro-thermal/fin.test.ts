import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { linearExchange, radiationExchange } from "./heat-exchange.ts";
import type { ElectroThermalNetwork } from "./network.ts";
import { createElectroThermalModel, type SteadyState } from "./steady.ts";

const constant = (value: number): Law => ({
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
  at: () => value,
  slopeAt: () => 0,
});

function steady(network: ElectroThermalNetwork): SteadyState {
  const found = createElectroThermalModel(network).solve([]);
  if (found.outcome !== "steady") throw new Error(found.reason);
  return found;
}

// Pin fin of a heat transfer textbook: d 5 mm, L 50 mm, k 200, h 50, base excess 80 K (closed form, D3 of the open benchmarks).
describe("pin fin", () => {
  const ambient = 293.15;
  const area = (Math.PI * 0.005 ** 2) / 4;
  const fin = (tip: number): ElectroThermalNetwork => ({
    nTerminals: 1,
    junctions: [{ temperature: ambient + 80, terminal: 0 }, tip > 0 ? { exchange: linearExchange(tip * area, ambient) } : {}],
    branches: [
      {
        from: 0,
        to: 1,
        length: 0.05,
        area,
        thermalConductivity: constant(200),
        resistivity: undefined,
        exchange: linearExchange(50 * Math.PI * 0.005, ambient),
      },
    ],
  });
  it.each([
    ["adiabatic", 0, 63.46225454, 2.705090885],
    ["convecting", 50, 62.78647028, 2.753988927],
  ])("%s tip", (_name, h, excess, heat) => {
    const state = steady(fin(h));
    // ten printed digits, spectral on 0.7 decay lengths
    expect(Math.abs((state.junctionTemperatures[1]! - ambient) / excess - 1)).toBeLessThan(1e-8);
    expect(Math.abs(-state.energy.heldHeat / heat - 1)).toBeLessThan(1e-8);
  });
});

// k A T'' = s (T^4 - T0^4) with s = sigma e P has the first integral (k A/2) T'^2 = s (T^5/5 - T0^4 T) + constant; T' = 0 at the tip.
describe("fin that radiates into wide grey surroundings", () => {
  it("takes from its base what the first integral says", () => {
    const [k, area, length, perimeter, T0, base] = [30, 1e-6, 0.02, 4e-3 * 0.7, 300, 1200];
    const state = steady({
      nTerminals: 1,
      junctions: [{ temperature: base, terminal: 0 }, {}],
      branches: [
        {
          from: 0,
          to: 1,
          length,
          area,
          thermalConductivity: constant(k),
          resistivity: undefined,
          exchange: radiationExchange(perimeter, T0),
        },
      ],
    });
    const tip = state.junctionTemperatures[1]!;
    // the fin must be neither even nor dead for the check to say anything
    expect(tip).toBeGreaterThan(1.1 * T0);
    expect(tip).toBeLessThan(0.9 * base);
    // Stefan-Boltzmann constant of the 2019 SI
    const s = 5.670374419e-8 * perimeter;
    const rise = s * ((base ** 5 - tip ** 5) / 5 - T0 ** 4 * (base - tip));
    const heat = Math.sqrt(2 * k * area * rise);
    // the balance is refined to 1e-6
    expect(Math.abs(-state.energy.heldHeat / heat - 1)).toBeLessThan(1e-6);
    expect(Math.abs(state.energy.sideHeat / heat - 1)).toBeLessThan(1e-6);
  });
});
