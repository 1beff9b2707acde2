/** The operating point of a drive that comes to no steady state, or to one of which nothing is known: the reason says which. */
import type { Finding } from "#base";
import type { OperatingPoint } from "./operating-point.ts";

/** `told` is worked out when somebody asks why: searches meet many such points and ask of none. */
export function absentPoint(
  restPosition: number,
  told: () => { readonly reason: string; readonly isBeyondLaws: boolean },
): OperatingPoint {
  const none = Number.NaN;
  let known: { code: string; sentence: string } | undefined;
  const why = (): { code: string; sentence: string } => {
    if (known === undefined) {
      const { reason, isBeyondLaws } = told();
      known = isBeyondLaws
        ? { code: "beyond-laws", sentence: `not computed, because ${reason}` }
        : { code: "no-steady-state", sentence: `there is no steady state: ${reason}` };
    }
    return known;
  };
  return {
    padVoltage: none,
    supplyVoltage: none,
    current: none,
    coldCurrent: none,
    padPower: none,
    supplyPower: none,
    isCurrentLimited: false,
    hottestTemperature: none,
    hottestPlace: "",
    meanLegTemperature: none,
    shuttleTemperature: none,
    anchorTemperature: none,
    meanLegStrain: none,
    hotResistance: none,
    gasShare: none,
    radiatedShare: none,
    substrateShare: none,
    travel: none,
    restPosition,
    peakStress: none,
    peakRootStress: none,
    chanceOfBrokenRoot: none,
    axialForce: none,
    hotStiffness: none,
    blockedForce: none,
    forceAtTravel: () => none,
    timeConstants: (count) => new Array<number>(count).fill(none),
    bandwidth: none,
    warmUpTo63: none,
    warmUpTo90: none,
    timeToOpen: none,
    timeToClose: none,
    beams: [],
    energy: undefined,
    discretisationError: none,
    get findings(): readonly Finding[] {
      const { code, sentence } = why();
      return [
        {
          code,
          severity: "error",
          where: "device",
          message: `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}. Lower the drive.`,
        },
      ];
    },
    get absent(): ReadonlyMap<string, string> {
      return new Map([["all", why().sentence]]);
    },
    criticalLoadFactor: none,
    loadFactor: none,
    statesOfBalance: none,
    bucklingFactorOutOfPlane: none,
    holdingAt: () => ({ x: none, y: none, turn: none }),
    motionAt: () => ({ x: none, y: none, turn: none }),
    temperatureAt: () => none,
    partNamed: () => ({
      meanTemperature: none,
      hottestTemperature: none,
      current: none,
      axialForce: none,
      peakStress: none,
      contactForce: none,
    }),
    stiffnessAt: () => none,
    stiffnessAlongZ: () => none,
    meanTemperature: none,
    warmUpOf: () => none,
    frequencies: (count) => new Array<number>(count).fill(none),
    qualityFactor: () => none,
    accelerationNoise: () => none,
    thermalMotionAt: () => none,
    gasOnPlate: () => ({ damping: none, stiffness: none }),
    underAcceleration: () => ({ x: none, y: none, z: none, turn: none }),
    plateUnderAcceleration: () => ({ x: none, y: none, z: none, turn: none }),
    light: { here: none, atRest: none, open: none },
    small: undefined,
    restart: { steady: undefined, motion: undefined, timing: undefined },
  };
}
