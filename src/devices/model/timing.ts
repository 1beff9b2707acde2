/** How long a device takes to open and to close, and what an exposure costs. */
import type { Finding } from "#base";
import type { FrameSolution } from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import type { Fed, Loads } from "./drive.ts";
import { runSequence, type SequenceHistory, storesHeat } from "./sequence.ts";
import type { SequenceStep } from "./supply-series.ts";
import { type WarmUpSubject, WarmUps } from "./warm-up.ts";

/** A time, or why there is none. */
export type Timed = { readonly time: number } | { readonly reason: string };

/** Ten minutes are the end of patience, [s]. */
const longest = 600;
/** Part of the way to a level by which a run goes on beyond it, so that neighbours reach theirs within the run. */
const beyond = 0.01;

const noStorage = { reason: "the material has no specific heat or density: give both under materials" } as const;

/** What a steady state is switched on to or off from. */
export interface TimedCase {
  readonly parts: DeviceParts;
  readonly drive: Fed;
  readonly steady: FrameSolution;
  readonly loads: Loads;
  /** The same of a neighbouring device: runs then follow to first order from its runs. */
  readonly near: TimedRuns | undefined;
}

interface Wanted {
  readonly switched: "on" | "off";
  readonly of: "travel" | "mean";
  readonly level: number;
  /** Level where the run begins. */
  readonly from: number;
}

/** Runs after switching on from cold and off from a steady state, made as they are asked for. */
export class TimedRuns {
  private readonly histories = { on: [] as SequenceHistory[], off: [] as SequenceHistory[] };
  private readonly estimated = new Map<SequenceHistory, ReturnType<SequenceHistory["near"]>>();

  private readonly warmUps: WarmUps;

  constructor(private readonly source: TimedCase) {
    this.warmUps = new WarmUps(source.parts, source.drive, source.near?.warmUps);
  }

  /** After switching on from cold, until the mean of the legs reaches a temperature [K]. */
  toWarm(level: number): Timed {
    const from = this.source.parts.conditions.ambient;
    return this.time({ switched: "on", of: "mean", level, from }, "the legs do not come to it within ten minutes");
  }

  /** After switching on from cold, until a place, a part or all silicon reaches a temperature [K]. */
  toReach(level: number, subject: WarmUpSubject): Timed {
    if (!storesHeat(this.source.parts)) return noStorage;
    const time = this.warmUps.timeTo(level, subject);
    return time === undefined ? { reason: "it does not come to that temperature within ten minutes" } : { time };
  }

  /** After switching on from cold, until the travel reaches a level [m]. */
  toTravel(level: number): Timed {
    return this.time({ switched: "on", of: "travel", level, from: 0 }, "the travel does not come to it within ten minutes");
  }

  /** After switching off, until the travel has fallen from where it stood to a level, [m]. */
  toReturn(level: number, from: number): Timed {
    return this.time({ switched: "off", of: "travel", level, from }, "the travel does not fall to it within ten minutes");
  }

  private time(wanted: Wanted, otherwise: string): Timed {
    const { parts, near, drive, steady, loads } = this.source;
    if (!storesHeat(parts)) return noStorage;
    const { switched, of, level } = wanted;
    const history = near === undefined ? this.historyFor(wanted) : near.historyFor(wanted);
    let run: Pick<SequenceHistory, "timeOfTravel" | "timeOfMean"> = history;
    if (near !== undefined) {
      const known = this.estimated.get(history);
      const steps = [{ duration: longest, drive: switched === "on" ? drive : undefined }];
      run = known ?? history.near({ parts, steps, loads, ...(switched === "off" && { start: steady }) });
      if (known === undefined) this.estimated.set(history, run as ReturnType<SequenceHistory["near"]>);
    }
    const time = of === "travel" ? run.timeOfTravel(level) : run.timeOfMean(level);
    if (time !== undefined) return { time };
    return { reason: history.stopped === undefined ? otherwise : `not computed, because ${history.stopped}` };
  }

  /** A run that comes to a level, or to the end of patience. */
  historyFor({ switched, of, level, from }: Wanted): SequenceHistory {
    const { parts, drive, steady, loads } = this.source;
    const known = this.histories[switched].find(
      (history) => (of === "travel" ? history.timeOfTravel(level) : history.timeOfMean(level)) !== undefined,
    );
    if (known !== undefined) return known;
    const history = runSequence(parts, [{ duration: longest, drive: switched === "on" ? drive : undefined }], {
      loads,
      until: { of, level: level + beyond * (level - from) },
      ...(switched === "off" && { start: steady }),
    });
    this.histories[switched].push(history);
    return history;
  }
}

/** Numbers of one run through a sequence. */
export interface SequenceNumbers {
  /** From the supply, [J]. */
  readonly energy: number;
  /** Largest from the supply, [A]. */
  readonly peakCurrent: number;
  /** At the end of the last step with a drive, [m]. */
  readonly travelHeld: number;
  /** From the start until the travel first reaches 90 % of that, [s]. */
  readonly timeToOpen: number;
}

/** What one run through a sequence comes to. */
export interface SequenceResults extends SequenceNumbers {
  readonly steps: readonly SequenceStep[];
  readonly history: SequenceHistory;
  readonly findings: readonly Finding[];
}

/** Why a run comes to no numbers; what there is of it where it ended on the way. */
export interface AbsentSequence {
  readonly reason: string;
  readonly history: SequenceHistory | undefined;
  readonly findings: readonly Finding[];
}

const largestOf = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const openPart = 0.9;

/** Index of the moment at which the last step with a drive ends. */
function heldMoment(steps: readonly SequenceStep[], times: Float64Array): number {
  const lastDriven = steps.reduce((last, { drive }, index) => (drive === undefined ? last : index), -1);
  const held = steps.slice(0, lastDriven + 1).reduce((sum, { duration }) => sum + duration, 0);
  let at = 0;
  while (at + 1 < times.length && times[at + 1]! <= held * (1 + 1e-12)) at++;
  return at;
}

export function sequenceResults(
  parts: DeviceParts,
  steps: readonly SequenceStep[],
  loads: Loads,
): SequenceResults | AbsentSequence {
  if (!storesHeat(parts)) return { ...noStorage, history: undefined, findings: [] };
  const history = runSequence(parts, steps, { loads });
  if (history.stopped !== undefined) return stoppedSequence(history, history.stopped);
  const { travel, times, supplyEnergy, current } = history;
  const travelHeld = travel[heldMoment(steps, times)]!;
  return {
    steps,
    energy: supplyEnergy[supplyEnergy.length - 1]!,
    peakCurrent: largestOf(current),
    travelHeld,
    timeToOpen: history.timeOfTravel(openPart * travelHeld) ?? Number.NaN,
    history,
    findings: history.findings,
  };
}

function stoppedSequence(history: SequenceHistory, stopped: string): AbsentSequence {
  const reason = `not computed, because ${stopped}`;
  const finding: Finding = {
    code: "beyond-laws",
    severity: "error",
    where: "device",
    message: `The run ends early: ${stopped}. Lower the drive or shorten its step.`,
  };
  return { reason, history, findings: [...history.findings, finding] };
}

/** The same to first order, from the results of a device that differs by little. Other durations are run anew. */
export function sequenceNumbersNear(
  parts: DeviceParts,
  steps: readonly SequenceStep[],
  at: { readonly loads: Loads; readonly near: SequenceResults },
): SequenceNumbers | { readonly reason: string } {
  const { loads, near } = at;
  const isSame =
    steps.length === near.steps.length &&
    steps.every(({ duration, drive }, k) => duration === near.steps[k]!.duration && drive?.kind === near.steps[k]!.drive?.kind);
  if (!isSame) return sequenceResults(parts, steps, loads);
  const { times } = near.history;
  const history = near.history.near({ parts, steps, loads });
  const travelHeld = near.travelHeld + history.travelDifference(times[heldMoment(steps, times)]!);
  return {
    energy: history.supplyEnergy[history.supplyEnergy.length - 1]!,
    peakCurrent: largestOf(history.current),
    travelHeld,
    timeToOpen: history.timeOfTravel(openPart * travelHeld) ?? Number.NaN,
  };
}
