/** The state that a device comes to in one operating case. All in SI. */
import type { Finding } from "#base";
import type { FilmForce, FrameSolution } from "#physics";
import type { Place } from "../drawing/part.ts";
import type { ElectricResults } from "./electric-results.ts";
import type { Motion, PlaceMotion } from "./mechanics.ts";
import type { MotionFamily, ShockMotion, SmallMotions } from "./small-motions.ts";
import type { TemperatureResults } from "./temperature-results.ts";
import type { TimedRuns } from "./timing.ts";
import type { WarmUpSubject } from "./warm-up.ts";

/** Fields along one beam, for pictures and data. */
export interface BeamResult {
  readonly name: string;
  /** Centre line as built and unheated, [n × 2] m. */
  readonly line: Float64Array;
  /** At the start and at the end, [m]. */
  readonly widths: readonly [start: number, end: number];
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

/** Results of one part: NaN where the part has no such quantity. */
export interface PartResult {
  readonly meanTemperature: number;
  readonly hottestTemperature: number;
  /** [A], from the start to the end of a beam. */
  readonly current: number;
  /** Mean along a beam [N], positive in tension. */
  readonly axialForce: number;
  /** Largest along a beam, without fillet concentration, [Pa]. */
  readonly peakStress: number;
  /** On a stop, [N]. */
  readonly contactForce: number;
}

/** A steady state. A number that does not exist is NaN, and `absent` says why. */
export interface OperatingPoint extends ElectricResults, TemperatureResults {
  /** Motion of the output point from its rest position along the travel, [m]. */
  readonly travel: number;
  readonly restPosition: number;
  readonly peakStress: number;
  /** The same with the notch factor of the silicon. */
  readonly peakRootStress: number;
  readonly chanceOfBrokenRoot: number;
  /** Largest compressive force along a leg, [N]. */
  readonly axialForce: number;
  readonly hotStiffness: number;
  readonly blockedForce: number;
  /** Force with which it pushes when held at a travel [m], [N]; NaN where the held legs buckle. */
  forceAtTravel(travel: number): number;
  /** The slowest thermal time constants, [s]; NaN where there are fewer or the parts store no heat. */
  timeConstants(count: number): readonly number[];
  /** Of the mean leg temperature against small changes of the drive, [Hz]. */
  readonly bandwidth: number;
  /** After switching on from cold: until the mean of the legs has made 63 % and 90 % of its rise, [s]. */
  readonly warmUpTo63: number;
  readonly warmUpTo90: number;
  /** Over all silicon that moves, [K]; NaN without a current. */
  readonly meanTemperature: number;
  /** After switching on from cold: until a place, or the mean over a part or all silicon, has made a share of its rise, [s]. */
  warmUpOf(subject: WarmUpSubject, share: number): number;
  /** After switching on from cold until the travel has come to 90 % of its steady value, [s]. */
  readonly timeToOpen: number;
  /** After switching off until less than 10 % of the open light passes; without a blade until the travel is back by 90 %, [s]. */
  readonly timeToClose: number;
  readonly beams: readonly BeamResult[];
  readonly findings: readonly Finding[];
  /** What the number of elements leaves of the motion, as a part of it. */
  readonly discretisationError: number;
  /** Why a number does not exist, by its name above; "all" where nothing does. */
  readonly absent: ReadonlyMap<string, string>;
  /** Motion of a place of the drawing from where it rests without drive and load. */
  motionAt(place: Place): PlaceMotion;
  /** [K] */
  temperatureAt(place: Place): number;
  partNamed(name: string): PartResult;
  /** Force per motion of a small push in the plane along a direction [rad], [N/m]. */
  stiffnessAt(place: Place, direction: number): number;
  /** Force along z per motion of a small push there, [N/m]. */
  stiffnessAlongZ(place: Place): number;
  /** Factor on the loads and strains of the case at which it first buckles or snaps. */
  readonly criticalLoadFactor: number;
  /** Part of the case that balances the state shown: 1 but for a case that follows to a turning point. */
  readonly loadFactor: number;
  /** States that balance the case on the way from rest and its branches. */
  readonly statesOfBalance: number;
  /** Factor on the forces in the beams at which it buckles out of its plane. */
  readonly bucklingFactorOutOfPlane: number;
  /** Force and moment of what holds a place [N], [N m]; 0 along motions that nothing holds. */
  holdingAt(place: Place): PlaceMotion;
  /** Frequencies of the lowest modes, in the plane and out of it or of one family, ascending, [Hz]; NaN where one is unstable. */
  frequencies(count: number, family?: MotionFamily): readonly number[];
  /** Of a mode counted from the lowest, by the gas alone; NaN where that is not known, see `absent`. */
  qualityFactor(count: number): number;
  /** Acceleration that the thermal noise of the lowest mode looks like in a band of this width [Hz], [m/s^2]. */
  accelerationNoise(bandwidth: number): number;
  /** Root mean square of the thermal motion of a place, [m]. */
  thermalMotionAt(place: Place, axis: "x" | "y" | "z"): number;
  /** Force of the gas on a plate that moves at a frequency [Hz]. */
  gasOnPlate(plate: string, at: { readonly frequency: number; readonly axis: "x" | "y" | "z" }): FilmForce;
  /** Further motion of a place when the die accelerates by this much more, [m/s^2]. */
  underAcceleration(change: readonly [x: number, y: number, z: number], place: Place): PlaceMotion & { readonly z: number };
  /** Greatest size of the same over the corners of a plate. */
  plateUnderAcceleration(change: readonly [x: number, y: number, z: number], plate: string): ShockMotion;
  /** Share of the light that the blade lets through here, and the most that it can; NaN without a blade. */
  readonly light: { readonly here: number; readonly atRest: number; readonly open: number };
  /** Small motion about the point; undefined where nothing is in balance. */
  readonly small: SmallMotions | undefined;
  readonly restart: RestartState;
}

/** What a neighbouring operating point may start from; of no meaning by itself. */
export interface RestartState {
  readonly steady: FrameSolution | undefined;
  readonly motion: Motion | undefined;
  readonly timing: TimedRuns | undefined;
}
