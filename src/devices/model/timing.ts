/** How long a device takes to open and to close, and what an exposure costs. */
import type { FrameSolution } from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import { type Fed, type Loads, noLoads } from "./drive.ts";
import { runSequence, type SequenceHistory, type SequenceStep, storesHeat } from "./sequence.ts";

/** A time, or why there is none. */
export type Timed = { readonly time: number } | { readonly reason: string };

/** Stretches that grow until the answer is in, [s]: ten minutes are the end of patience. */
const firstStretch = 0.01;
const longest = 600;

const noStorage: Timed = { reason: "the material has no specific heat or density" };

/** Runs on in stretches until `find` has an answer. */
function untilFound(
  parts: DeviceParts,
  drive: Fed | undefined,
  options: {
    readonly loads: Loads;
    readonly start?: FrameSolution;
    readonly find: (history: SequenceHistory) => number | undefined;
    readonly otherwise: string;
  },
): Timed {
  if (!storesHeat(parts)) return noStorage;
  const { loads, find, otherwise } = options;
  let start: FrameSolution | SequenceHistory["final"] | undefined = options.start;
  let before = 0;
  for (let duration = firstStretch; before + duration <= longest; duration *= 4) {
    const history = runSequence(parts, [{ duration, drive }], { loads, ...(start !== undefined && { start }) });
    const time = find(history);
    if (time !== undefined) return { time: before + time };
    before += duration;
    start = history.final;
  }
  return { reason: otherwise };
}

/** After switching on from cold, until the mean of the legs reaches a temperature [K]. */
export function timeToWarm(parts: DeviceParts, drive: Fed, level: number): Timed {
  return untilFound(parts, drive, {
    loads: noLoads,
    find: (history) => history.timeOfMean(level),
    otherwise: "the legs do not come to it within ten minutes",
  });
}

/** After switching on from cold, until the travel reaches a level [m]. */
export function timeToTravel(parts: DeviceParts, drive: Fed, at: { readonly level: number; readonly loads: Loads }): Timed {
  return untilFound(parts, drive, {
    loads: at.loads,
    find: (history) => history.timeOfTravel(at.level),
    otherwise: "the travel does not come to it within ten minutes",
  });
}

/** After switching off from a steady state, until the travel has fallen to a level [m]. */
export function timeToReturn(
  parts: DeviceParts,
  steady: FrameSolution,
  at: { readonly level: number; readonly loads: Loads },
): Timed {
  return untilFound(parts, undefined, {
    loads: at.loads,
    start: steady,
    find: (history) => history.timeOfTravel(at.level),
    otherwise: "the travel does not fall to it within ten minutes",
  });
}

/** What one run through a sequence comes to. */
export interface SequenceResults {
  /** From the supply, [J]. */
  readonly energy: number;
  /** Largest from the supply, [A]. */
  readonly peakCurrent: number;
  readonly peakTravel: number;
  /** At the end of the last step with a drive, [m]. */
  readonly travelHeld: number;
  /** From the start until the travel first reaches 90 % of that, [s]. */
  readonly timeToOpen: number;
  readonly history: SequenceHistory;
}

export function sequenceResults(
  parts: DeviceParts,
  steps: readonly SequenceStep[],
  loads: Loads,
): SequenceResults | { readonly reason: string } {
  if (!storesHeat(parts)) return { reason: "the material has no specific heat or density" };
  const history = runSequence(parts, steps, { loads });
  const { travel, times, supplyEnergy, current } = history;
  let lastDriven = -1;
  steps.forEach((step, index) => {
    if (step.drive !== undefined) lastDriven = index;
  });
  const held = steps.slice(0, lastDriven + 1).reduce((sum, { duration }) => sum + duration, 0);
  let at = 0;
  while (at + 1 < times.length && times[at + 1]! <= held * (1 + 1e-12)) at++;
  const travelHeld = travel[at]!;
  return {
    energy: supplyEnergy[supplyEnergy.length - 1]!,
    peakCurrent: current.reduce((most, value) => Math.max(most, Math.abs(value)), 0),
    peakTravel: travel.reduce((most, value) => Math.max(most, value), 0),
    travelHeld,
    timeToOpen: history.timeOfTravel(0.9 * travelHeld) ?? Number.NaN,
    history,
  };
}
