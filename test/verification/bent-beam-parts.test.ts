/**
 * A whole bent-beam actuator, heat and motion together, against two-dimensional finite elements (quadratic triangles, computed
 * independently with two general solvers that agree to 1e-7; invented round device), and a published student design.
 * Branches cannot see current crowding and the give of corners: the allowances are those differences.
 */

import { describe, expect, it } from "vitest";
import type { ExpansionLaw, Law } from "#base";
import {
  createElectroThermalModel,
  type ElectroThermalNetwork,
  extremeTemperature,
  type HeatExchange,
  meanTemperature,
  partMeansInto,
  type SteadyState,
  simulateTransient,
  timeToReach,
} from "#physics";
import { type FrameLoading, PlanarFrameModel } from "../judges/planar-frame/index.ts";

const everywhere = {
  unit: "",
  range: { from: 1, to: 1e5 },
  relativeSpread: 0,
  source: { key: "test", consulted: "given by the user" },
} as const;
const constant = (value: number): Law => ({ ...everywhere, at: () => value, slopeAt: () => 0 });
const um = 1e-6;
const T0 = 293.15;
const quadratic = (T: number): number => 3.0e-4 + 1.56e-5 * T + 1.65e-8 * T * T;
const okada = (T: number): number => 1e-6 * (3.725 * (T + Math.exp(-5.88e-3 * (T - 124)) / 5.88e-3) + 2.774e-4 * T * T);

interface Properties {
  readonly k: Law;
  readonly rho: Law;
  readonly capacity: Law;
  readonly expansion: ExpansionLaw;
}

const varying: Properties = {
  k: { ...everywhere, at: (T) => 1 / quadratic(T), slopeAt: (T) => -(1.56e-5 + 3.3e-8 * T) / quadratic(T) ** 2 },
  rho: { ...everywhere, at: (T) => 1.5e-4 * (1 + 1e-3 * (T - T0)), slopeAt: () => 1.5e-7 },
  capacity: {
    ...everywhere,
    at: (T) => (2330 / 0.0280855) * (22.81719 + 3.89951e-3 * T - 8.2885e-8 * T ** 2 + 4.2111e-11 * T ** 3 - 3.54063e5 / T ** 2),
    slopeAt: (T) => (2330 / 0.0280855) * (3.89951e-3 - 1.6577e-7 * T + 1.26333e-10 * T ** 2 + 7.08126e5 / T ** 3),
  },
  expansion: { ...constant(0), strainBetween: (from, to) => okada(to) - okada(from) },
};
const fixed: Properties = {
  k: constant(120),
  rho: constant(1.5e-4),
  capacity: constant(2330 * 712),
  expansion: { ...constant(3e-6), strainBetween: (from, to) => 3e-6 * (to - from) },
};

/** Film on the underside, per length of a branch of this width. */
function film(width: number): HeatExchange {
  const h = (T: number): number => (0.0263 * ((T + T0) / 600) ** 0.8) / 10e-6;
  return {
    lossAt: (T) => width * h(T) * (T - T0),
    lossSlopeAt: (T) => width * (h(T) + ((0.8 * h(T)) / (T + T0)) * (T - T0)),
    sinkTemperature: T0,
  };
}

const rise = 500 * um * Math.tan((3 * Math.PI) / 180);
/** Two legs of 8 um and two halves of a shuttle 30 um wide and 40 um high, 40 um thick. */
const parts = [
  { from: 0, to: 2, length: Math.hypot(500 * um, rise), width: 8 * um, nElements: 8 },
  { from: 1, to: 3, length: Math.hypot(500 * um, rise), width: 8 * um, nElements: 8 },
  { from: 2, to: 4, length: 15 * um, width: 40 * um, nElements: 1 },
  { from: 3, to: 4, length: 15 * um, width: 40 * um, nElements: 1 },
];

function heatNetwork(properties: Properties, hasFilm: boolean): ElectroThermalNetwork {
  return {
    nTerminals: 2,
    junctions: [{ temperature: T0, terminal: 0 }, { temperature: T0, terminal: 1 }, {}, {}, {}],
    branches: parts.map(({ from, to, length, width }) => ({
      from,
      to,
      length,
      area: width * 40 * um,
      thermalConductivity: properties.k,
      resistivity: properties.rho,
      heatCapacity: properties.capacity,
      ...(hasFilm && { exchange: film(width) }),
    })),
  };
}

const frame = new PlanarFrameModel({
  joints: [
    { x: 0, y: 0, fixed: true },
    { x: 1030 * um, y: 0, fixed: true },
    { x: 500 * um, y: rise, fixed: false },
    { x: 530 * um, y: rise, fixed: false },
    { x: 515 * um, y: rise, fixed: false },
  ],
  members: parts.map(({ from, to, width, nElements }) => ({
    from,
    to,
    width,
    thickness: 40 * um,
    youngsModulus: 169e9,
    shearModulus: 169e9 / 2.44,
    nElements,
  })),
});
const apex = { joint: 4, motion: 1 } as const;

/** Free strains at the temperatures found, times `scale`. */
function loading(state: SteadyState, properties: Properties, scale = 1): FrameLoading {
  const strains = parts.map(({ nElements }, b) => {
    const means = new Float64Array(nElements);
    partMeansInto(means, state.fields[b]!, { quantity: (T) => scale * properties.expansion.strainBetween(T0, T) });
    return means;
  });
  return { strains, loads: [], held: [] };
}

function drive(voltage: number) {
  return [{ kind: "voltage", voltage, seriesResistance: 0, plus: 0, minus: 1 }] as const;
}

function steady(properties: Properties, hasFilm: boolean, voltage: number): SteadyState {
  const found = createElectroThermalModel(heatNetwork(properties, hasFilm)).solve(drive(voltage));
  if (found.outcome !== "steady") throw new Error(found.reason);
  return found;
}

const near = (found: number, wanted: number, relative: number): void => {
  expect(Math.abs(found / wanted - 1)).toBeLessThan(relative);
};

describe("bent-beam actuator against two-dimensional finite elements", () => {
  it.each([
    ["constant, vacuum", fixed, false, 1, 2.1048, 300.094, 297.751, 0.1263, 0.1261],
    ["constant, vacuum", fixed, false, 6, 12.6289, 543.15, 458.8, 4.5485, 4.2317],
    ["constant, gap", fixed, true, 3, 6.3144, 350.913, 331.716, 1.0586, 1.04],
    ["constant, gap", fixed, true, 6, 12.6289, 520.91, 445.479, 4.181, 3.9111],
    ["varying, vacuum", varying, false, 4, 7.9339, 388.508, 353.906, 1.5562, 1.5165],
    ["varying, vacuum", varying, false, 6, 10.9461, 546.118, 445.675, 4.3633, 4.0704],
    ["varying, gap", varying, true, 2, 4.1534, 313.506, 306.597, 0.3174, 0.3157],
    ["varying, gap", varying, true, 4, 7.9651, 381.115, 349.786, 1.4407, 1.4066],
    ["varying, gap", varying, true, 6, 11.0924, 516.276, 430.634, 3.87, 3.637],
  ] as const)("%s", (_name, properties, hasFilm, voltage, current, hottest, mean, linear, large) => {
    const state = steady(properties, hasFilm, voltage);
    near(state.sourceCurrents[0]! * 1e3, current, 0.01);
    near(Math.max(...state.fields.map((field) => extremeTemperature(field, 1).temperature)) - T0, hottest - T0, 1e-3);
    near(meanTemperature(state.fields[0]!) - T0, mean - T0, 0.006);
    expect(state.energy.relativeDefect).toBeLessThan(1e-6);
    // A thousandth of the strain gives the linear answer to a thousandth of the 7 % of nonlinearity.
    near((frame.solve(loading(state, properties, 1e-3)).joints[13]! * 1e3) / um, linear, 0.005);
    near(frame.solve(loading(state, properties)).joints[13]! / um, large, 0.005);
  });

  it("has the cold and hot stiffness and the blocked force", () => {
    const load = loading(steady(varying, true, 6), varying);
    const rest = loading(steady(varying, true, 6), varying, 0);
    near(frame.stiffnessAt(frame.solve(rest), rest, apex), 635.34, 0.025);
    near(frame.stiffnessAt(frame.solve(load), load, apex), 833.8, 0.025);
    // Guided like the reference: a blocked single pair that may turn tips over sideways at half the strain.
    const held = frame.solve({ ...load, held: ([0, 1, 2] as const).map((motion) => ({ joint: 4, motion, value: 0 })) });
    near(-held.reactions[1]! * 1e6, 2459, 0.025);
  });

  it.each([
    ["constant, vacuum", fixed, false, 1.7689, 1.9693],
    ["constant, gap", fixed, true, 1.6264, 1.824],
    ["varying, vacuum", varying, false, 1.6111, 1.8536],
    ["varying, gap", varying, true, 1.4743, 1.7021],
  ] as const)("warms up as fast: %s", (_name, properties, hasFilm, legs, shuttle) => {
    const end = steady(properties, hasFilm, 4);
    const history = simulateTransient(heatNetwork(properties, hasFilm), {
      start: T0,
      phases: [{ duration: 10e-3, sources: drive(4) }],
      observers: [({ fields }) => meanTemperature(fields[0]!), ({ fields }) => meanTemperature(fields[2]!)],
    });
    const t63 = (observer: number, field: number): number =>
      timeToReach(history, observer, T0 + (1 - Math.exp(-1)) * (meanTemperature(end.fields[field]!) - T0))! * 1e3;
    near(t63(0, 0), legs, 0.005);
    near(t63(1, 2), shuttle, 0.005);
    expect(Math.max(...history.energyDefects)).toBeLessThan(1e-6);
  });
});

// A public student report printed a mean rise of 166.8 K for these inputs; no point can exceed V^2/(8 k rho) = 141.4 K.
describe("a design from a student report (read), computed rightly", () => {
  it("has the mean rise, power, resistance and travel that follow from its inputs", () => {
    const leg = { thermalConductivity: constant(156), resistivity: constant(51e-6) };
    const network: ElectroThermalNetwork = {
      nTerminals: 2,
      junctions: [{ temperature: T0, terminal: 0 }, { temperature: T0, terminal: 1 }, {}, {}, {}],
      branches: [
        { from: 0, to: 2, length: 176 * um, area: 100 * um ** 2, ...leg },
        { from: 1, to: 3, length: 176 * um, area: 100 * um ** 2, ...leg },
        { from: 2, to: 4, length: 10 * um, area: 200 * um ** 2, ...leg },
        { from: 3, to: 4, length: 10 * um, area: 200 * um ** 2, ...leg },
      ],
    };
    const state = createElectroThermalModel(network).solve(drive(3));
    if (state.outcome !== "steady") throw new Error(state.reason);
    near(extremeTemperature(state.fields[2]!, 1).temperature - T0, 141.402715, 1e-8);
    // Shuttle of the report: 20 um along the current, 10 um by 20 um across it. Five printed digits.
    near(meanTemperature(state.fields[0]!) - T0, 92.93, 3e-5);
    near(state.junctionTemperatures[2]! - T0, 141.295, 1e-4);
    near(state.energy.terminalPower * 1e3, 48.749, 3e-5);
    near(3 / state.sourceCurrents[0]!, 184.62, 3e-5);
  });
});
