/**
 * What a transient is asked for and what it tells: phases, observers, and the record of every step.
 */
import type { BranchField } from "./field.ts";
import type { FrameSolution } from "./frame-solution.ts";
import type { ElectricSource } from "./network.ts";

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

export interface TransientOptions {
  /** A steady state or a snapshot of the same network, or one temperature for everything [K]. */
  readonly start: FrameSolution | TransientView | number;
  readonly phases: readonly TransientPhase[];
  /** Numbers to record, for example the mean temperature of a branch. Smooth functions of the temperatures. */
  readonly observers: readonly ((view: TransientView) => number)[];
  /** Error allowed in one step [K]; 1e-3 where left out. */
  readonly stepTolerance?: number;
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
  readonly limitEvents: readonly LimitEvent[];
  /**
   * Energy that came in, minus what left, minus what is stored, over all that came in and left, at the end of each step: [nTimes].
   * Flows are those of the stages, storage is the heat capacity integrated over temperature: an error in time shows here.
   */
  readonly energyDefects: Float64Array;
  readonly final: TransientView;
}
