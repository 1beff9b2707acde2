/** What drives a device in one operating case, and the state it comes to. All in SI. */
import type { Finding } from "#base";
import type { FrameState, SteadyState } from "#physics";

export type DriveCase =
  | { readonly kind: "pads"; readonly voltage: number }
  | {
      readonly kind: "supply";
      readonly voltage: number;
      /** Series resistor between supply and pads, [ohm]. */
      readonly resistance: number;
      /** [A] */
      readonly currentLimit: number | undefined;
    }
  | { readonly kind: "current"; readonly current: number }
  /** Idealised: every beam warmer than ambient by this much, [K]. */
  | { readonly kind: "uniform rise"; readonly rise: number }
  /** Idealised: every beam wants to lengthen by this strain. */
  | { readonly kind: "uniform strain"; readonly strain: number };

/** Fields along one beam, for pictures and data. */
export interface BeamResult {
  readonly name: string;
  /** Ends as built and unheated, [x0, y0, x1, y1] m. */
  readonly ends: Float64Array;
  /** [m] */
  readonly width: number;
  /** Distance from the start, [n] m. */
  readonly positions: Float64Array;
  /** [n] K */
  readonly temperatures: Float64Array;
  /** [A] */
  readonly current: number;
  /** Axial force at its mean along the beam [N], positive in tension. */
  readonly axialForce: number;
  /** Largest stress along the beam, [Pa]. */
  readonly peakStress: number;
}

/** A steady state. A number that does not exist is NaN, and `absent` says why. */
export interface OperatingPoint {
  readonly padVoltage: number;
  readonly supplyVoltage: number;
  readonly current: number;
  readonly coldCurrent: number;
  readonly padPower: number;
  readonly supplyPower: number;
  readonly isCurrentLimited: boolean;
  readonly hottestTemperature: number;
  readonly hottestPlace: string;
  readonly meanLegTemperature: number;
  readonly shuttleTemperature: number;
  readonly anchorTemperature: number;
  readonly meanLegStrain: number;
  readonly hotResistance: number;
  readonly gasShare: number;
  /** Motion of the output point from its rest position along y, [m]. */
  readonly travel: number;
  readonly restPosition: number;
  readonly peakStress: number;
  readonly chanceOfBrokenRoot: number;
  /** Largest compressive force along a leg, [N]. */
  readonly axialForce: number;
  readonly hotStiffness: number;
  readonly blockedForce: number;
  /** After switching on from cold: until the mean of the legs has made 63 % and 90 % of its rise, [s]. */
  readonly warmUpTo63: number;
  readonly warmUpTo90: number;
  readonly beams: readonly BeamResult[];
  readonly energy: EnergyReport | undefined;
  readonly findings: readonly Finding[];
  /** Why a number does not exist, by its name above; "all" where nothing does. */
  readonly absent: ReadonlyMap<string, string>;
  readonly restart: RestartState;
}

/** What a neighbouring operating point may start from; of no meaning by itself. */
export interface RestartState {
  readonly steady: SteadyState | undefined;
  readonly hot: FrameState | undefined;
}

/** Where the heat goes, worked out from fluxes and losses, not from the equations that were solved. [W] */
export interface EnergyReport {
  readonly electricPower: number;
  readonly heatToAnchors: number;
  readonly heatToGas: number;
  readonly heatToLoad: number;
  /** Difference over the power. */
  readonly relativeDefect: number;
}
