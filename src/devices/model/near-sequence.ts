/**
 * A device run through the steps of a drive, to first order from the run of a neighbouring device.
 *
 * A level y = L is reached where the neighbour's own y lies short of it by the difference of the two there: y(t) = L - dy(t). Error: of the
 * second order in what differs, and a hundredth of the difference from the steps in time. Main test: test/verification/derivatives.test.ts.
 */
import {
  type FrameSolution,
  fieldsOnTrajectory,
  type LinearisedTransient,
  type NeighbourTransient,
  type Trajectory,
} from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import type { Loads } from "./drive.ts";
import { isMotion, type Motion } from "./mechanics.ts";
import { type SequenceStep, type SupplySeries, sourcesOfStep, supplySeries } from "./supply-series.ts";
import { meanOfLegs, motionAtMoment, motionNearMoment, travelOf } from "./travel-observer.ts";

export interface SequenceNeighbour {
  readonly parts: DeviceParts;
  readonly steps: readonly SequenceStep[];
  readonly loads: Loads;
  /** Left out: everything at ambient. */
  readonly start?: FrameSolution;
}

export interface NearHistory extends SupplySeries {
  /** First time that the travel reaches a level [m]; undefined where it does not. */
  timeOfTravel(level: number): number | undefined;
  /** First time that the mean of the legs reaches a level [K]. */
  timeOfMean(level: number): number | undefined;
  /** By which the travel at a time is more than that of the run in the middle, [m]. */
  travelDifference(time: number): number;
}

/** The run in the middle. */
interface OwnRun {
  readonly parts: DeviceParts;
  readonly loads: Loads;
  readonly times: Float64Array;
  readonly trajectory: Trajectory;
  readonly linearised: LinearisedTransient;
  /** Balances already found, by time. */
  readonly motions: Map<number, Motion>;
  timeOfTravel(level: number): number | undefined;
  timeOfMean(level: number): number | undefined;
}

/** Times this close, as a part of the whole run so far, have one difference. */
const sameTime = 1e-4;

export class NearSequence implements NearHistory {
  readonly current: Float64Array;
  readonly padVoltage: Float64Array;
  readonly supplyPower: Float64Array;
  readonly supplyEnergy: Float64Array;
  private readonly response: NeighbourTransient;

  constructor(
    private readonly own: OwnRun,
    private readonly neighbour: SequenceNeighbour,
  ) {
    const { parts, steps, start } = neighbour;
    this.response = own.linearised.respondTo({
      network: parts.heat.network,
      sources: steps.map(({ drive }) => sourcesOfStep(parts, drive)),
      start: start ?? parts.conditions.ambient,
    });
    const series = supplySeries(this.response, { steps, points: own.trajectory.points });
    this.current = series.current;
    this.padVoltage = series.padVoltage;
    this.supplyPower = series.supplyPower;
    this.supplyEnergy = series.supplyEnergy;
  }

  /** Balance of the run in the middle at a time, or very near it; found once for all neighbours. */
  private ownMotion(time: number): { readonly time: number; readonly motion: Motion } | undefined {
    const { motions, parts, trajectory, loads } = this.own;
    for (const [known, motion] of motions) if (Math.abs(known - time) <= sameTime * time) return { time: known, motion };
    const found = motionAtMoment(parts, fieldsOnTrajectory(trajectory, time), { loads, start: undefined });
    if (!isMotion(found)) return undefined;
    motions.set(time, found);
    return { time, motion: found };
  }

  travelDifference(time: number): number {
    const { parts, loads } = this.neighbour;
    const own = this.ownMotion(time);
    if (own === undefined || !parts.mechanics.isLike(own.motion)) return Number.NaN;
    const here = motionNearMoment(parts, this.response.fieldsAt(own.time), { loads, near: own.motion });
    return travelOf(parts, here) - travelOf(this.own.parts, own.motion);
  }

  timeOfTravel(level: number): number | undefined {
    const time = this.own.timeOfTravel(level);
    return time === undefined ? undefined : this.own.timeOfTravel(level - this.travelDifference(time));
  }

  timeOfMean(level: number): number | undefined {
    const time = this.own.timeOfMean(level);
    if (time === undefined) return undefined;
    const { parts, trajectory } = this.own;
    const here = meanOfLegs(this.neighbour.parts, this.response.fieldsAt(time));
    return this.own.timeOfMean(level - here + meanOfLegs(parts, fieldsOnTrajectory(trajectory, time)));
  }
}
