/** The operating point of a drive that comes to no steady state: no number exists, and the reason says why. */
import type { OperatingPoint } from "./operating-point.ts";

export function absentPoint(restPosition: number, reason: string): OperatingPoint {
  const none = Number.NaN;
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
    travel: none,
    restPosition,
    peakStress: none,
    chanceOfBrokenRoot: none,
    axialForce: none,
    hotStiffness: none,
    blockedForce: none,
    warmUpTo63: none,
    warmUpTo90: none,
    beams: [],
    energy: undefined,
    findings: [
      {
        code: "no-steady-state",
        severity: "error",
        where: "device",
        message: `There is no steady state: ${reason}. Lower the drive.`,
      },
    ],
    absent: new Map([["all", reason]]),
    restart: { steady: undefined, hot: undefined },
  };
}
