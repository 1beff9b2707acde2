/**
 * A device in time: steps of a drive one after the other, heat followed as it flows, the frame in balance at every moment.
 *
 * The motion follows the temperatures at once: valid while they change slowly against the lowest resonance.
 */
import type { Finding } from "#base";
import { type FrameSolution, type LinearisedTransient, lineariseTransient, simulateTransient, timeToReach } from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import type { Loads } from "./drive.ts";
import { findOutsideLaws } from "./law-findings.ts";
import { furthestOf, tellOverrunInTime } from "./law-limit.ts";
import type { Motion } from "./mechanics.ts";
import { type NearHistory, NearSequence, type SequenceNeighbour } from "./near-sequence.ts";
import { type SequenceStep, type SupplySeries, sourcesOfStep, supplySeries } from "./supply-series.ts";
import { meanOfLegs, TravelObserver } from "./travel-observer.ts";

export interface SequenceHistory extends SupplySeries {
  /** [nTimes] s, from 0; the end of a step stands twice, before and after the switch. */
  readonly times: Float64Array;
  /** Along the travel from rest, [nTimes] m; NaN without an output. */
  readonly travel: Float64Array;
  /** [nTimes] K */
  readonly meanLegTemperature: Float64Array;
  /** Why the run ends before its steps do, without the end of the sentence; undefined where it does not. */
  readonly stopped: string | undefined;
  /** What is to be said of the hottest moment. */
  readonly findings: readonly Finding[];
  /** First time that the travel reaches a level [m], from rising or falling; undefined where it does not. */
  timeOfTravel(level: number): number | undefined;
  /** First time that the mean of the legs reaches a level, [K]. */
  timeOfMean(level: number): number | undefined;
  /** The same for a device that differs by little, to first order. Same durations, same kinds of drives. */
  near(neighbour: SequenceNeighbour): NearHistory;
}

/**
 * Error allowed in one step of time, as a part of the temperature rise so far, and at least [K]; heat that one step may lose. They leave
 * 2e-4 of the times and less of travel and energy, against runs a hundred times stricter.
 */
const riseTolerance = 1e-3;
const stepTolerance = 1e-2;
const energyTolerance = 1e-3;

/** Places of the observed numbers. */
const observerOf = { travel: 0, mean: 1 } as const;

/** True where every part knows how much heat it stores. */
export function storesHeat(parts: DeviceParts): boolean {
  return parts.heat.network.branches.every((branch) => branch.heatCapacity !== undefined);
}

/** Follows the device through the steps, from a steady state or from everything at ambient. */
export function runSequence(
  parts: DeviceParts,
  steps: readonly SequenceStep[],
  options: {
    readonly loads: Loads;
    readonly start?: FrameSolution;
    /** Ends the run with the first step in which this is reached. */
    readonly until?: { readonly of: keyof typeof observerOf; readonly level: number };
  },
): SequenceHistory {
  const { conditions, heat } = parts;
  const travel = new TravelObserver(parts, options.loads);
  let hottest: { readonly temperature: number; readonly fields: FrameSolution["fields"] } = { temperature: 0, fields: [] };
  const history = simulateTransient(heat.network, {
    start: options.start ?? conditions.ambient,
    phases: steps.map(({ duration, drive }) => ({ duration, sources: sourcesOfStep(parts, drive) })),
    observers: [
      { value: (view) => travel.value(view), change: (_, towards) => travel.change(towards) },
      {
        value: (view) => meanOfLegs(parts, view),
        change: (view, towards) => meanOfLegs(parts, towards) - meanOfLegs(parts, view),
      },
    ],
    stepTolerance,
    riseTolerance,
    energyTolerance,
    fewestElements: 1,
    stages: "linear",
    beyond: (view) => {
      const { temperature, limit } = furthestOf(parts, view);
      if (temperature > hottest.temperature && temperature <= limit) hottest = { temperature, fields: view.fields };
      return temperature - limit;
    },
    ...(options.until !== undefined && {
      until: { observer: observerOf[options.until.of], level: options.until.level },
    }),
  });
  const { times, trajectory } = history;
  let linearised: LinearisedTransient | undefined;
  const own = {
    times,
    stopped: history.isStopped ? tellOverrunInTime(parts, history.final, times[times.length - 1]!) : undefined,
    findings: findOutsideLaws(parts, hottest),
    travel: history.observed[observerOf.travel]!,
    meanLegTemperature: history.observed[observerOf.mean]!,
    timeOfTravel: (level: number) => timeToReach(history, observerOf.travel, level),
    timeOfMean: (level: number) => timeToReach(history, observerOf.mean, level),
  };
  const motions = new Map<number, Motion>();
  return {
    ...own,
    ...supplySeries(history, { steps, points: trajectory.points }),
    near: (neighbour) => {
      linearised ??= lineariseTransient(history);
      return new NearSequence({ ...own, parts, loads: options.loads, trajectory, motions, linearised }, neighbour);
    },
  };
}
