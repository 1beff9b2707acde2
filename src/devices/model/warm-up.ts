/**
 * When a place, a part or all silicon of a device has warmed to a temperature after switching on from cold; of a device that differs by
 * little from another one, to first order from its run. Main test: test/verification/heat-and-shapes.test.ts.
 */
import {
  fieldsOnTrajectory,
  type LinearisedTransient,
  lineariseTransient,
  type MomentaryFields,
  simulateTransient,
  type TransientHistory,
  timeToReach,
} from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Place } from "../drawing/part.ts";
import type { DeviceParts } from "./device-parts.ts";
import type { Fed } from "./drive.ts";
import { furthestOf } from "./law-limit.ts";
import { sourcesOfStep } from "./supply-series.ts";
import { meanOfPart, meanOfSilicon, temperatureThere } from "./temperature-results.ts";

/** What warms up: a place of the drawing, a part by its name, or all silicon that moves. */
export type WarmUpSubject = { readonly place: Place } | { readonly part: string } | "silicon";

/** Its temperature at a moment, [K]. */
export function temperatureOf(parts: DeviceParts, subject: WarmUpSubject): (moment: MomentaryFields) => number {
  if (subject === "silicon") return (moment) => meanOfSilicon(parts, moment);
  if ("part" in subject) return (moment) => meanOfPart(parts, moment, subject.part);
  const found = parts.heat.warmthAt(subject.place);
  if (found === undefined) throw new AssemblyError("the point lies on no part");
  return (moment) => temperatureThere(found, moment);
}

interface Run {
  readonly history: TransientHistory;
  linearised: LinearisedTransient | undefined;
}

/** Ten minutes are the end of patience, [s]. */
const longest = 600;
/** Part of the way to a level by which a run goes on beyond it, so that neighbours reach theirs within the run. */
const beyond = 0.01;
/** Error allowed in one step of time: as a part of the rise so far, and at least [K]. They leave 2e-4 of the times. */
const [riseTolerance, stepTolerance, energyTolerance] = [1e-3, 1e-2, 1e-3];

/** Runs of one device from cold under one drive, by what was asked about. */
export class WarmUps {
  private readonly runs = new Map<string, Run>();

  constructor(
    private readonly parts: DeviceParts,
    private readonly drive: Fed,
    /** Of a neighbouring device: times then follow to first order from its runs. */
    private readonly near: WarmUps | undefined,
  ) {}

  /** Until the subject reaches a level [K]; undefined where it does not in ten minutes. */
  timeTo(level: number, subject: WarmUpSubject): number | undefined {
    const { near, parts, drive } = this;
    const run = (near ?? this).runTo(level, subject);
    const time = timeToReach(run.history, 0, level);
    if (near === undefined || time === undefined) return time;
    run.linearised ??= lineariseTransient(run.history);
    const response = run.linearised.respondTo({
      network: parts.heat.network,
      sources: [sourcesOfStep(parts, drive)],
      start: parts.conditions.ambient,
    });
    // it is there where the neighbour lies short of the level by the difference of the two
    const here = temperatureOf(parts, subject)(response.fieldsAt(time));
    const there = temperatureOf(near.parts, subject)(fieldsOnTrajectory(run.history.trajectory, time));
    return timeToReach(run.history, 0, level - here + there);
  }

  private runTo(level: number, subject: WarmUpSubject): Run {
    const { parts, drive } = this;
    const key = JSON.stringify(subject);
    const known = this.runs.get(key);
    if (known !== undefined && timeToReach(known.history, 0, level) !== undefined) return known;
    const observe = temperatureOf(parts, subject);
    const { ambient } = parts.conditions;
    const history = simulateTransient(parts.heat.network, {
      start: ambient,
      phases: [{ duration: longest, sources: sourcesOfStep(parts, drive) }],
      observers: [{ value: observe, change: (view, towards) => observe(towards) - observe(view) }],
      stepTolerance,
      riseTolerance,
      energyTolerance,
      fewestElements: 1,
      stages: "linear",
      beyond: (view) => {
        const { temperature, limit } = furthestOf(parts, view);
        return temperature - limit;
      },
      until: { observer: 0, level: level + beyond * (level - ambient) },
    });
    const run = { history, linearised: undefined };
    this.runs.set(key, run);
    return run;
  }
}
