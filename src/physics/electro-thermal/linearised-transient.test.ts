/** First-order answers along a run against central differences of strict runs of both neighbours. */
import { describe, expect, it } from "vitest";
import type { Law } from "#base";
import { meanTemperature } from "./field.ts";
import { linearExchange, radiationExchange, sumExchange } from "./heat-exchange.ts";
import { fieldsOnTrajectory, lineariseTransient } from "./linearised-transient.ts";
import type { ElectricSource, ElectroThermalNetwork } from "./network.ts";
import { simulateTransient } from "./transient.ts";
import type { TransientHistory, TransientView } from "./transient-history.ts";

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

/** What may differ, as factors or, for temperatures, kelvin. */
interface Numbers {
  readonly area: number;
  readonly conductivity: number;
  readonly resistivity: number;
  readonly capacity: number;
  readonly loss: number;
  readonly lead: number;
  readonly sink: number;
  readonly held: number;
  readonly voltage: number;
  readonly limit: number;
  readonly start: number;
}
const middle: Numbers = {
  area: 1,
  conductivity: 1,
  resistivity: 1,
  capacity: 1,
  loss: 1,
  lead: 1,
  sink: 1,
  held: 300,
  voltage: 1,
  limit: 1,
  start: 300,
};

/** Two legs from held anchors to a plate, one of them with a thermal chain; a lead; radiation. */
function frame(n: Numbers): ElectroThermalNetwork {
  const leg = {
    length: 700e-6,
    area: n.area * 240e-12,
    thermalConductivity: linear(n.conductivity * 100, -8e-4),
    resistivity: linear(n.resistivity * 1.5e-4, 1e-3),
    heatCapacity: linear(n.capacity * 1.7e6, 4e-4),
    exchange: sumExchange([linearExchange(n.loss * 0.02, 300), radiationExchange(60e-6, 300)]),
  };
  return {
    nTerminals: 2,
    junctions: [
      { temperature: n.held, terminal: 0, leadResistance: n.lead * 20 },
      { sinks: [{ chain: [{ resistance: n.sink * 2e3, capacitance: 1e-7 }], temperature: n.held }], terminal: 1 },
      { heatCapacity: n.capacity * 2e-7 },
    ],
    branches: [
      { ...leg, from: 0, to: 2 },
      { ...leg, from: 1, to: 2 },
    ],
  };
}

function sourcesOf(n: Numbers): ElectricSource[][] {
  const supply = (voltage: number): ElectricSource => ({
    kind: "voltage",
    voltage: n.voltage * voltage,
    seriesResistance: 30,
    currentLimit: n.limit * 0.0125,
    plus: 0,
    minus: 1,
  });
  return [[supply(15)], [supply(8)], []];
}
const durations = [4e-3, 6e-3, 5e-3];
const meanOf = ({ fields }: Pick<TransientView, "fields">): number => meanTemperature(fields[0]!);

function run(n: Numbers, isQuick: boolean): TransientHistory {
  return simulateTransient(frame(n), {
    start: n.start,
    phases: sourcesOf(n).map((sources, k) => ({ duration: durations[k]!, sources })),
    observers: [meanOf],
    ...(isQuick
      ? { stages: "linear", stepTolerance: 1e-2, riseTolerance: 1e-3, energyTolerance: 1e-3, fewestElements: 1 }
      : { stages: "linear", stepTolerance: 2e-4, energyTolerance: 1e-7, fewestElements: 1 }),
  });
}

const history = run(middle, true);
const linearised = lineariseTransient(history);
const moments = [1e-4, 1e-3, 3e-3, 4.5e-3, 8e-3, 10.3e-3, 12e-3, 14e-3];

describe("a linearised run", () => {
  it("passes from free to limited and back, so that every part is met", () => {
    expect(history.limitEvents.map(({ isLimited }) => isLimited)).toContain(false);
    expect(history.limitEvents.map(({ isLimited }) => isLimited)).toContain(true);
  });

  const steps: readonly (readonly [keyof Numbers, number])[] = [
    ["area", 0.0005],
    ["conductivity", 0.0005],
    ["resistivity", 0.0005],
    ["capacity", 0.0005],
    ["loss", 0.0025],
    ["lead", 0.0025],
    ["sink", 0.0025],
    ["held", 0.05],
    ["voltage", 0.0005],
    ["limit", 0.0005],
    ["start", 0.05],
  ];
  it.each(steps)("answers to another %s as two strict runs differ", (name, step) => {
    const moved = (part: number): Numbers => ({ ...middle, [name]: middle[name] + part * step });
    const [up, down] = [run(moved(1), false), run(moved(-1), false)];
    const small = 1e-3;
    const near = moved(small);
    const answer = linearised.respondTo({ network: frame(near), sources: sourcesOf(near), start: near.start });
    const differences = moments.map(
      (time) => (meanOf(fieldsOnTrajectory(up.trajectory, time)) - meanOf(fieldsOnTrajectory(down.trajectory, time))) / 2,
    );
    const answers = moments.map(
      (time) => (meanOf(answer.fieldsAt(time)) - meanOf(fieldsOnTrajectory(history.trajectory, time))) / small,
    );
    const largest = Math.max(...differences.map(Math.abs));
    expect(largest).toBeGreaterThan(0);
    answers.forEach((value, k) => {
      // order 2 on steps whose own error is a thousandth of the rise; most just after a source leaves its limit, where the difference turns
      expect(Math.abs(value - differences[k]!), `at ${moments[k]} s: ${value}, ${differences[k]}`).toBeLessThan(0.012 * largest);
    });
  });

  it("answers nothing where nothing differs", () => {
    const answer = linearised.respondTo({ network: frame(middle), sources: sourcesOf(middle), start: middle.start });
    expect(answer.sourceCurrents).toEqual(history.sourceCurrents);
    expect(answer.sourceVoltages).toEqual(history.sourceVoltages);
    expect(answer.fieldsAt(3e-3).junctionTemperatures).toEqual(fieldsOnTrajectory(history.trajectory, 3e-3).junctionTemperatures);
  });

  it("tells the currents of a neighbour", () => {
    const near = { ...middle, lead: 1 + 1e-5, voltage: 1 + 1e-6 };
    const answer = linearised.respondTo({ network: frame(near), sources: sourcesOf(near), start: near.start });
    const there = simulateTransient(frame(near), {
      start: near.start,
      phases: sourcesOf(near).map((sources, k) => ({ duration: durations[k]!, sources })),
      observers: [],
      stages: "linear",
      stepTolerance: 1e-2,
      riseTolerance: 1e-3,
      energyTolerance: 1e-3,
      fewestElements: 1,
    });
    // the first moment of every phase: currents follow at once
    const first = history.times.findIndex((time, k) => time === history.times[k - 1]);
    for (const k of [0, first]) {
      const change = there.sourceCurrents[0]![k]! - history.sourceCurrents[0]![k]!;
      const found = answer.sourceCurrents[0]![k]! - history.sourceCurrents[0]![k]!;
      expect(Math.abs(found - change)).toBeLessThan(0.02 * Math.abs(change) + 1e-12);
    }
  });
});
