/**
 * What a transient is asked for and what it tells: phases, observers, and the record of every step.
 */
import type { BranchField } from "./field.ts";
import type { FrameEquations } from "./frame-equations.ts";
import type { FrameSolution } from "./frame-solution.ts";
import type { ElectricSource, ElectroThermalNetwork } from "./network.ts";

/** A stretch of time with constant sources; none at all is an open circuit. */
export interface TransientPhase {
  /** [s] */
  readonly duration: number;
  readonly sources: readonly ElectricSource[];
}

/** A snapshot handed to the observers. */
export interface TransientView {
  /** [s] */
  readonly time: number;
  readonly fields: readonly BranchField[];
  /** [K] */
  readonly junctionTemperatures: Float64Array;
  /** Inside the chains of sinks, in their order [K]. */
  readonly ladderTemperatures: Float64Array;
  /** Out of the plus pole of each source of the phase [A]. */
  readonly sourceCurrents: Float64Array;
  /** Between the poles [V]. */
  readonly sourceVoltages: Float64Array;
  /** [W] */
  readonly sourcePowers: Float64Array;
  /** Since time 0, by the place of the source in its phase [J]. */
  readonly sourceEnergies: Float64Array;
}

/**
 * A number to record, for example the mean temperature of a branch: a smooth function of the temperatures. Where its change to a state
 * close by is known to the first order for less than two more values cost, `change` gives it.
 */
export type Observer =
  | ((view: TransientView) => number)
  | {
      readonly value: (view: TransientView) => number;
      /** From `view`, whose value was asked for last, to `towards`. */
      readonly change: (view: TransientView, towards: TransientView) => number;
    };

export interface TransientOptions {
  /** A steady state or a snapshot of the same network, or one temperature for everything [K]. */
  readonly start: FrameSolution | TransientView | number;
  readonly phases: readonly TransientPhase[];
  readonly observers: readonly Observer[];
  /** Ends the run with the first step in which an observed number has reached a level. */
  readonly until?: { readonly observer: number; readonly level: number };
  /** By how much a state lies beyond what is known, [K]: the run stops in the last moment at which it is not above zero. */
  readonly beyond?: (view: TransientView) => number;
  /**
   * "iterated" where left out: right to any tolerance. "linear": the same equations by stages without iteration, several times faster
   * where 1e-4 of the rise will do.
   */
  readonly stages?: "iterated" | "linear";
  /** Part of all heat turned over so far that one step may lose or invent; 1e-7 where left out. */
  readonly energyTolerance?: number;
  /** Error allowed in one step [K]; 1e-3 where left out. */
  readonly stepTolerance?: number;
  /** The same as a part of the largest change of temperature so far, where that is more; 0 where left out. */
  readonly riseTolerance?: number;
  /** Fewest elements of the longest branch; 3 where left out (fields begin steep at the ends). */
  readonly fewestElements?: number;
}

/** A source that met its current limit, or left it. */
export interface LimitEvent {
  /** [s] */
  readonly time: number;
  readonly source: number;
  readonly isLimited: boolean;
}

export interface TransientHistory {
  /** [nTimes] s, from 0; the end of every phase is among them, and again as the beginning of the next. */
  readonly times: Float64Array;
  /** [nObservers][nTimes] */
  readonly observed: readonly Float64Array[];
  /** Rates of the observed numbers [1/s], for interpolation; [nObservers][nTimes]. */
  readonly rates: readonly Float64Array[];
  /** Power of all sources at the terminals [W]. */
  readonly powers: Float64Array;
  /** [nSources][nTimes] A, V, J: as in `TransientView`; 0 where a phase has fewer sources. */
  readonly sourceCurrents: readonly Float64Array[];
  readonly sourceVoltages: readonly Float64Array[];
  readonly sourceEnergies: readonly Float64Array[];
  /** [nSources][nTimes] A/s, V/s. */
  readonly sourceCurrentRates: readonly Float64Array[];
  readonly sourceVoltageRates: readonly Float64Array[];
  readonly limitEvents: readonly LimitEvent[];
  /**
   * Energy that came in, minus what left, minus what is stored, over all that came in and left, at the end of each step: [nTimes].
   * Flows are those of the stages, storage is the heat capacity integrated over temperature: an error in time shows here.
   */
  readonly energyDefects: Float64Array;
  readonly final: TransientView;
  /** True where the run stopped because it was about to go beyond what is known. */
  readonly isStopped: boolean;
  readonly trajectory: Trajectory;
}

/** A moment of a run, with what the equations need to go on from it. */
export interface TrajectoryPoint {
  /** [s] */
  readonly time: number;
  readonly phase: number;
  /** State by entries of the layout of the phase, and its rates per second. */
  readonly x: Float64Array;
  readonly rates: Float64Array;
  /** Sign of the current at which each source of the phase is held from here on, 0 where it is free. */
  readonly modes: Int8Array;
}

/** The path of a whole frame: one point per recorded time. */
export interface Trajectory {
  readonly network: ElectroThermalNetwork;
  readonly phases: readonly TransientPhase[];
  /** Equations of each phase. */
  readonly equations: readonly FrameEquations[];
  readonly points: readonly TrajectoryPoint[];
}
