import { describe, expect, it } from "vitest";
import type { ExpansionLaw, Law } from "#base";
import { extremeTemperature, meanFreeStrain, meanTemperature } from "./field.ts";
import { linearExchange } from "./heat-exchange.ts";
import type { ElectroThermalBranch, ElectroThermalNetwork, ThermalJunction } from "./network.ts";
import { createElectroThermalModel, type SteadyState } from "./steady.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;
const constant = (value: number): Law => ({ ...everywhere, at: () => value, slopeAt: () => 0 });
const rising = (value: number, coefficient: number, T0: number): Law => ({
  ...everywhere,
  at: (T) => value * (1 + coefficient * (T - T0)),
  slopeAt: () => value * coefficient,
});
const siliconConductivity: Law = {
  ...everywhere,
  at: (T) => 1 / (3.0e-4 + 1.56e-5 * T + 1.65e-8 * T * T),
  slopeAt: (T) => -(1.56e-5 + 3.3e-8 * T) / (3.0e-4 + 1.56e-5 * T + 1.65e-8 * T * T) ** 2,
};
const okadaIntegral = (T: number): number => 1e-6 * (3.725 * (T + Math.exp(-5.88e-3 * (T - 124)) / 5.88e-3) + 2.774e-4 * T * T);
/** Okada & Tokumaru 1984. */
const okada: ExpansionLaw = {
  ...everywhere,
  at: (T) => 1e-6 * (3.725 * (1 - Math.exp(-5.88e-3 * (T - 124))) + 5.548e-4 * T),
  slopeAt: (T) => 1e-6 * (3.725 * 5.88e-3 * Math.exp(-5.88e-3 * (T - 124)) + 5.548e-4),
  strainBetween: (from, to) => okadaIntegral(to) - okadaIntegral(from),
};

const T0 = 293.15;
interface Material {
  readonly thermalConductivity: Law;
  readonly resistivity: Law;
}

/** A bar between two held ends. */
function bar(
  material: Material,
  options: { length: number; area: ElectroThermalBranch["area"]; T0?: number; loss?: number },
): ElectroThermalNetwork {
  const { length, area, loss } = options;
  const sink = options.T0 ?? T0;
  return {
    nTerminals: 2,
    junctions: [
      { temperature: sink, terminal: 0 },
      { temperature: sink, terminal: 1 },
    ],
    branches: [
      { from: 0, to: 1, length, area, ...material, ...(loss === undefined ? {} : { exchange: linearExchange(loss, sink) }) },
    ],
  };
}

/** Pairs of legs on both sides of a shuttle that is a spine of wide pieces. */
function chevron(material: Material, options: { pairs: number; shuttleArea: number }): ElectroThermalNetwork {
  const junctions: ThermalJunction[] = [];
  const branches: ElectroThermalBranch[] = [];
  for (let i = 0; i < options.pairs; i++) {
    const hub = junctions.push({}) - 1;
    const sides = [0, 1].map((terminal) => {
      const anchor = junctions.push({ temperature: T0, terminal }) - 1;
      const root = junctions.push({}) - 1;
      branches.push({ from: anchor, to: root, length: 500e-6, area: 320e-12, ...material });
      branches.push({ from: root, to: hub, length: 15e-6, area: options.shuttleArea, ...material });
      return root;
    });
    if (sides.length === 2 && i > 0)
      branches.push({ from: hub - 3, to: hub, length: 20e-6, area: options.shuttleArea, ...material });
  }
  return { nTerminals: 2, junctions, branches };
}

function steady(network: ElectroThermalNetwork, drive: { voltage: number } | { current: number }): SteadyState {
  const source =
    "voltage" in drive
      ? ({ kind: "voltage", voltage: drive.voltage, seriesResistance: 0, plus: 0, minus: 1 } as const)
      : ({ kind: "current", current: drive.current, plus: 0, minus: 1 } as const);
  const found = createElectroThermalModel(network).solve([source]);
  if (found.outcome !== "steady") throw new Error(found.reason);
  return found;
}

const hottest = (state: SteadyState): number =>
  Math.max(...state.fields.map((field) => extremeTemperature(field, 1).temperature));
/** Asserts a relative error. */
function close(found: number, wanted: number, relative: number): void {
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(relative * Math.abs(wanted));
}

const sets = [
  { name: "A", V: 1, k: 150, rho: 1e-4, rise: 1 / (8 * 150e-4) },
  { name: "B", V: 4, k: 120, rho: 1.5e-4, rise: 16 / (8 * 120 * 1.5e-4) },
  { name: "C", V: 0.1, k: 90, rho: 7e-8, rise: 0.01 / (8 * 90 * 7e-8) },
];

// Kohlrausch 1900, Diesselhorst 1900 (from memory): the largest rise is V^2/(8 k rho) whatever the shape.
describe("voltage and largest temperature, constant properties", () => {
  for (const set of sets) {
    const material = { thermalConductivity: constant(set.k), resistivity: constant(set.rho) };
    it(`set ${set.name}: bar`, () => {
      const state = steady(bar(material, { length: 500e-6, area: 320e-12 }), { voltage: set.V });
      // The field is a parabola, which the element holds exactly: only the printed digits limit.
      close(hottest(state) - T0, set.rise, 1e-8);
      close(meanTemperature(state.fields[0]!) - T0, (2 / 3) * set.rise, 1e-8);
      expect(state.energy.relativeDefect).toBeLessThan(1e-9);
    });
    it(`set ${set.name}: bar tapered ten to one`, () => {
      const state = steady(bar(material, { length: 500e-6, area: { from: 3200e-12, to: 320e-12 } }), { voltage: set.V });
      close(hottest(state) - T0, set.rise, 1e-6);
      expect(state.energy.relativeDefect).toBeLessThan(1e-6);
    });
    for (const [pairs, shuttleArea] of [
      [1, 1600e-12],
      [4, 1600e-12],
      [10, 1600e-12],
      [1, 40000e-12],
    ] as const) {
      it(`set ${set.name}: chevron of ${pairs} pairs, shuttle ${shuttleArea * 1e12} um2`, () => {
        const state = steady(chevron(material, { pairs, shuttleArea }), { voltage: set.V });
        close(hottest(state) - T0, set.rise, 1e-8);
        expect(state.energy.relativeDefect).toBeLessThan(1e-9);
      });
    }
  }
});

// Same theorem with k(T), rho(T): psi(Tmax) = V^2/8. Values computed by a two-point boundary-value solver, printed to 1e-6.
describe("voltage, current and temperature with laws of temperature", () => {
  const rows = [
    [1.5e-4, 1.0e-3, 1, 298.4342, 0.996498, 3.5148, 0.008885],
    [1.5e-4, 1.0e-3, 2, 314.7967, 0.985903, 14.2984, 0.036919],
    [1.5e-4, 1.0e-3, 3, 343.8419, 0.967972, 33.0876, 0.088373],
    [1.5e-4, 1.0e-3, 4, 388.5083, 0.942353, 61.1731, 0.170789],
    [1.5e-4, 1.0e-3, 5, 453.5173, 0.908686, 100.4901, 0.29547],
    [1.0e-4, 1.3e-3, 2, 325.979, 0.972715, 21.5771, 0.056473],
    [1.0e-4, 1.3e-3, 4, 442.4118, 0.891354, 93.7608, 0.273477],
  ] as const;
  for (const [rho0, tcr, V, Tmax, ratio, mean, strain] of rows) {
    it(`rho ${rho0}, ${V} V`, () => {
      const network = bar(
        { thermalConductivity: siliconConductivity, resistivity: rising(rho0, tcr, T0) },
        { length: 500e-6, area: 320e-12 },
      );
      const state = steady(network, { voltage: V });
      const R0 = (rho0 * 500e-6) / 320e-12;
      // Half a digit of the printed values, and 5e-6 of the rise for one element of degree 10.
      expect(Math.abs(hottest(state) - Tmax)).toBeLessThan(6e-5 + 5e-6 * (Tmax - T0));
      expect(Math.abs((state.sourceCurrents[0]! * R0) / V - ratio)).toBeLessThan(1e-6);
      expect(Math.abs(meanTemperature(state.fields[0]!) - T0 - mean)).toBeLessThan(6e-5 + 1e-6 * mean);
      expect(Math.abs(1e3 * meanFreeStrain(state.fields[0]!, okada, { stressFreeTemperature: T0 }) - strain)).toBeLessThan(6e-7);
      expect(state.energy.relativeDefect).toBeLessThan(1e-6);
    });
  }

  // k rho = L T: Tmax = sqrt(T0^2 + V^2/4L).
  it.each([
    [0.05, 340.02],
    [0.1, 438.7],
    [0.2, 706.99],
    [0.3, 1006.05],
  ])("metal of constant Lorenz number at %f V", (V, Tmax) => {
    const resistivity = rising(5e-8, 1 / 300, 300);
    const thermalConductivity: Law = {
      ...everywhere,
      at: (T) => (2.44e-8 * T) / resistivity.at(T),
      slopeAt: (T) => 2.44e-8 / resistivity.at(T) - (2.44e-8 * T * resistivity.slopeAt(T)) / resistivity.at(T) ** 2,
    };
    const state = steady(bar({ thermalConductivity, resistivity }, { length: 500e-6, area: 20e-12, T0: 300 }), { voltage: V });
    close(hottest(state), Math.sqrt(300 ** 2 + V ** 2 / (4 * 2.44e-8)), 1e-8);
    expect(Math.abs(hottest(state) - Tmax)).toBeLessThan(6e-3);
  });
});

// R/R0 = tan(b)/b with b = (L/2)(I/A) sqrt(rho0 xi/k); run-away at b = pi/2 (closed form, values to 1e-7).
describe("bar at constant current", () => {
  const long = bar(
    { thermalConductivity: constant(120), resistivity: rising(1.5e-4, 1e-3, T0) },
    { length: 500e-6, area: 320e-12 },
  );
  const thin = bar(
    { thermalConductivity: constant(50), resistivity: rising(2.2e-5, 1.2e-3, T0) },
    { length: 300e-6, area: 10e-12 },
  );
  it.each([
    [long, 5e-3, 235.876573, 9.61313, 6.40671],
    [long, 10e-3, 240.52316, 39.39846, 26.23215],
    [long, 15e-3, 248.775675, 92.4304, 61.44288],
    [thin, 2e-3, 789.149485, 246.58795, 163.06753],
    [thin, 3e-3, 1072.649496, 796.28476, 521.02209],
  ])("case %#", (network, current, R, peak, mean) => {
    const state = steady(network, { current });
    close(state.sourceVoltages[0]! / current, R, 1e-8);
    // Printed digits of the smallest value.
    close(hottest(state) - T0, peak, 5e-7);
    close(meanTemperature(state.fields[0]!) - T0, mean, 8e-7);
    expect(state.energy.relativeDefect).toBeLessThan(1e-6);
  });

  it.each([
    [long, 56.8689e-3],
    [thin, 4.5573e-3],
  ])("finds no steady state above the run-away current, case %#", (network, critical) => {
    const model = createElectroThermalModel(network);
    // 1.01 I_c and 3.5 I_c: Newton's equations have solutions there, all of them unphysical.
    for (const factor of [1.01, 3.5]) {
      const found = model.solve([{ kind: "current", current: factor * critical, plus: 0, minus: 1 }]);
      if (found.outcome === "steady") throw new Error("a steady state above run-away");
      // The temperature grows without limit as the drive nears I_c, so bounded Newton steps give up a little before it.
      close(found.reachedFraction * factor, 1, 2e-3);
      expect(found.failedFraction).toBeGreaterThan(found.reachedFraction);
    }
    expect(model.solve([{ kind: "current", current: 0.99 * critical, plus: 0, minus: 1 }]).outcome).toBe("steady");
  });

  it.each([
    [long, 56.8689e-3],
    [thin, 4.5573e-3],
  ])(
    "is the same in a row, each from the one before, as each from cold, up to the run-away current, case %#",
    (network, critical) => {
      const model = createElectroThermalModel(network);
      let last: SteadyState | undefined;
      // small steps and large ones: the tangent at hand holds for the first, not for the others
      for (const factor of [0.5, 0.5005, 0.501, 0.6, 0.9, 0.9, 0.99]) {
        const drive = { kind: "current", current: factor * critical, plus: 0, minus: 1 } as const;
        const found = model.solve([drive], last === undefined ? {} : { start: last });
        if (found.outcome !== "steady") throw new Error(found.reason);
        // a state is found to 1e-8 K of rises from 20 K on; next to the run-away a current moves the temperature seven times as far
        close(hottest(found) - T0, hottest(steady(network, drive)) - T0, 1e-9);
        last = found;
      }
      for (const factor of [1.01, 3.5]) {
        const beyond = model.solve([{ kind: "current", current: factor * critical, plus: 0, minus: 1 }], { start: last! });
        expect(beyond.outcome).toBe("no steady state");
      }
    },
  );
});

// Bar with loss to the substrate: hyperbolic cosine (closed form).
describe("bar with side loss", () => {
  it.each([
    [1000e-6, 320e-12, 120, 1.5e-4, 0.1443792, 10e-3, 46.875e-3, 109.36615, 74.01582, 0.772025],
    [600e-6, 10.5e-12, 40, 2e-5, 0.1473444, 4e-3, 18.285714e-3, 205.33562, 170.02759, 0.177961],
  ])("length %f", (length, area, k, rho, loss, current, power, peak, mean, share) => {
    const state = steady(bar({ thermalConductivity: constant(k), resistivity: constant(rho) }, { length, area, loss }), {
      current,
    });
    close(state.energy.terminalPower, power, 1e-7);
    // Six printed digits.
    close(hottest(state) - T0, peak, 1e-7);
    close(meanTemperature(state.fields[0]!) - T0, mean, 1e-7);
    close(state.energy.heldHeat / state.energy.terminalPower, share, 3e-6);
    expect(state.energy.relativeDefect).toBeLessThan(1e-6);
  });
});
