import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { createElectroThermalModel } from "./steady.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;

/** Straight between points, as published tables are read. */
function table(points: readonly (readonly [number, number])[]): Law {
  const stretchAt = (T: number) => {
    let i = 0;
    while (i < points.length - 2 && T >= points[i + 1]![0]) i++;
    const [from, to] = [points[i]!, points[i + 1]!];
    return { slope: (to[1] - from[1]) / (to[0] - from[0]), from };
  };
  return {
    ...everywhere,
    at: (T) => {
      const { slope, from } = stretchAt(T);
      return from[1] + slope * (T - from[0]);
    },
    slopeAt: (T) => stretchAt(T).slope,
  };
}

// Silicon-like numbers with sharp kinks; manufactured here.
const leg = {
  length: 500e-6,
  area: 320e-12,
  thermalConductivity: table([
    [200, 200],
    [300, 148],
    [400, 99],
    [500, 76],
    [600, 62],
    [1000, 31],
  ]),
  resistivity: table([
    [200, 0.8e-4],
    [300, 1e-4],
    [450, 1.4e-4],
    [1000, 2.6e-4],
  ]),
};
const bar = {
  nTerminals: 2,
  junctions: [{ temperature: 300, terminal: 0 }, { temperature: 300, terminal: 1 }, {}],
  branches: [
    { from: 0, to: 2, ...leg },
    { from: 2, to: 1, ...leg },
  ],
};

describe("laws with kinks", () => {
  it.each([3, 5, 6])(
    "at %d V the heat of a bar balances to 1e-6 all the same, and its hottest point obeys the theorem",
    (voltage) => {
      const found = createElectroThermalModel(bar).solve([{ kind: "voltage", voltage, seriesResistance: 0, plus: 0, minus: 1 }]);
      if (found.outcome !== "steady") throw new Error(found.reason);
      expect(found.energy.relativeDefect).toBeLessThan(1e-6);
      // psi = integral of k rho = V^2/8 (Kohlrausch 1900, from memory); midpoint rule of 1e5 points
      const top = found.junctionTemperatures[2]!;
      let psi = 0;
      for (let i = 0; i < 1e5; i++) {
        const T = 300 + ((top - 300) * (i + 0.5)) / 1e5;
        psi += ((top - 300) / 1e5) * leg.thermalConductivity.at(T) * leg.resistivity.at(T);
      }
      // at the finest mesh a kink still sits inside an element
      expect(Math.abs(psi / (voltage ** 2 / 8) - 1)).toBeLessThan(1e-5);
    },
  );
});
