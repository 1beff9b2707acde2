/** The value of a metric of the vocabulary at an operating point. */
import type { OperatingPoint } from "#devices";

const ofPoint: Readonly<Record<string, (point: OperatingPoint) => number>> = {
  "steady travel": (point) => point.travel,
  "supply current": (point) => Math.abs(point.current),
  "cold inrush current": (point) => Math.abs(point.coldCurrent),
  "pad voltage": (point) => Math.abs(point.padVoltage),
  "pad power": (point) => point.padPower,
  "supply power": (point) => point.supplyPower,
  "hottest silicon temperature": (point) => point.hottestTemperature,
  "mean leg temperature": (point) => point.meanLegTemperature,
  "shuttle temperature": (point) => point.shuttleTemperature,
  "anchor temperature": (point) => point.anchorTemperature,
  "mean leg strain": (point) => point.meanLegStrain,
  "hot resistance": (point) => point.hotResistance,
  "share of heat to gas": (point) => point.gasShare,
  "peak beam stress": (point) => point.peakStress,
  "chance of a broken root": (point) => point.chanceOfBrokenRoot,
  "axial force per leg": (point) => point.axialForce,
  "hot stiffness": (point) => point.hotStiffness,
  "blocked force": (point) => point.blockedForce,
  "warm-up time to 63 %": (point) => point.warmUpTo63,
  "warm-up time to 90 %": (point) => point.warmUpTo90,
};

const absentKeys: Readonly<Record<string, string>> = {
  "blocked force": "blockedForce",
  "warm-up time to 63 %": "warm-up",
  "warm-up time to 90 %": "warm-up",
  "chance of a broken root": "chanceOfBrokenRoot",
  "hot resistance": "hotResistance",
  "share of heat to gas": "gasShare",
};

export interface MetricValue {
  /** SI; NaN where it does not exist. */
  readonly value: number;
  /** Why it does not exist. */
  readonly reason?: string;
}

export function readPointMetric(word: string, point: OperatingPoint): MetricValue {
  const read = Object.hasOwn(ofPoint, word) ? ofPoint[word] : undefined;
  if (read === undefined) throw new RangeError(`Cannot read the metric "${word}" from an operating point`);
  const value = read(point);
  const reason = point.absent.get(absentKeys[word] ?? word) ?? point.absent.get("all");
  return Number.isFinite(value) || reason === undefined ? { value } : { value, reason };
}
