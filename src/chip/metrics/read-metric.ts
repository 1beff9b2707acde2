/** The value of a metric of the vocabulary at an operating point. */
import type { OperatingPoint, Place, SequenceNumbers } from "#devices";
import { FreeMotionError } from "#physics";

/** What a metric asks about besides the point itself. */
export interface MetricSubject {
  /** SI value under "for". */
  readonly argument: number | undefined;
  /** Named point of the device, where the metric is about one. */
  readonly place: Place | undefined;
  /** Name of a part, where the metric is about one. */
  readonly part: string | undefined;
}

type Read = (point: OperatingPoint, subject: MetricSubject) => number;

const shock = (axis: 0 | 1 | 2, size: number): readonly [number, number, number] => [
  axis === 0 ? size : 0,
  axis === 1 ? size : 0,
  axis === 2 ? size : 0,
];

const modeOf = (point: OperatingPoint, which: number, family: "in plane" | "out of plane"): number =>
  point.frequencies(Math.round(which), family)[Math.round(which) - 1]!;

const ofPoint: Readonly<Record<string, Read>> = {
  "steady travel": (point) => point.travel,
  "supply current": (point) => point.current,
  "cold inrush current": (point) => point.coldCurrent,
  "pad voltage": (point) => point.padVoltage,
  "pad power": (point) => point.padPower,
  "supply power": (point) => point.supplyPower,
  "hottest silicon temperature": (point) => point.hottestTemperature,
  "mean silicon temperature": (point) => point.meanTemperature,
  "mean leg temperature": (point) => point.meanLegTemperature,
  "shuttle temperature": (point) => point.shuttleTemperature,
  "anchor temperature": (point) => point.anchorTemperature,
  "mean leg strain": (point) => point.meanLegStrain,
  "hot resistance": (point) => point.hotResistance,
  "share of heat to gas": (point) => point.gasShare,
  "share of heat radiated": (point) => point.radiatedShare,
  "share of heat to the substrate": (point) => point.substrateShare,
  "peak beam stress": (point) => point.peakStress,
  "peak root stress": (point) => point.peakRootStress,
  "chance of a broken root": (point) => point.chanceOfBrokenRoot,
  "axial force per leg": (point) => point.axialForce,
  "hot stiffness": (point) => point.hotStiffness,
  "blocked force": (point) => point.blockedForce,
  "force at travel": (point, { argument }) => point.forceAtTravel(argument!),
  "thermal time constant": (point, { argument }) => point.timeConstants(Math.round(argument!))[Math.round(argument!) - 1]!,
  "thermal bandwidth": (point) => point.bandwidth,
  "warm-up time to 63 %": (point) => point.warmUpTo63,
  "warm-up time to 90 %": (point) => point.warmUpTo90,
  "warm-up time at a point": (point, { argument, place }) => point.warmUpOf({ place: place! }, argument!),
  "warm-up time of a part": (point, { argument, part }) => point.warmUpOf({ part: part! }, argument!),
  "warm-up time of the silicon": (point, { argument }) => point.warmUpOf("silicon", argument!),
  "first resonance": (point) => point.frequencies(1)[0]!,
  resonance: (point, { argument }) => point.frequencies(Math.round(argument!))[Math.round(argument!) - 1]!,
  "quality factor": (point, { argument }) => point.qualityFactor(Math.round(argument!)),
  "acceleration noise": (point, { argument }) => point.accelerationNoise(argument!),
  "thermal motion along x": (point, { place }) => point.thermalMotionAt(place!, "x"),
  "thermal motion along y": (point, { place }) => point.thermalMotionAt(place!, "y"),
  "thermal motion along z": (point, { place }) => point.thermalMotionAt(place!, "z"),
  "gas damping along x": (point, { argument, part }) => point.gasOnPlate(part!, { frequency: argument!, axis: "x" }).damping,
  "gas damping along y": (point, { argument, part }) => point.gasOnPlate(part!, { frequency: argument!, axis: "y" }).damping,
  "gas damping along z": (point, { argument, part }) => point.gasOnPlate(part!, { frequency: argument!, axis: "z" }).damping,
  "gas stiffness along z": (point, { argument, part }) => point.gasOnPlate(part!, { frequency: argument!, axis: "z" }).stiffness,
  "resonance in the plane": (point, { argument }) => modeOf(point, argument!, "in plane"),
  "resonance out of the plane": (point, { argument }) => modeOf(point, argument!, "out of plane"),
  "sag under shock": (point, { argument, part }) => point.plateUnderAcceleration(shock(2, argument!), part!).z,
  "side play": (point, { argument, part }) => point.plateUnderAcceleration(shock(0, argument!), part!).x,
  "rotation under shock": (point, { argument, part }) =>
    Math.max(
      point.plateUnderAcceleration(shock(0, argument!), part!).turn,
      point.plateUnderAcceleration(shock(1, argument!), part!).turn,
    ),
  "critical load factor": (point) => point.criticalLoadFactor,
  "load factor": (point) => point.loadFactor,
  "states of balance": (point) => point.statesOfBalance,
  "buckling factor out of plane": (point) => point.bucklingFactorOutOfPlane,
  "time to open": (point) => point.timeToOpen,
  "time to close": (point) => point.timeToClose,
  "light when closed": (point) => point.light.atRest / point.light.open,
  "light when open": (point) => point.light.here,
  "motion along x": (point, { place }) => point.motionAt(place!).x,
  "motion along y": (point, { place }) => point.motionAt(place!).y,
  turn: (point, { place }) => point.motionAt(place!).turn,
  "holding force along x": (point, { place }) => point.holdingAt(place!).x,
  "holding force along y": (point, { place }) => point.holdingAt(place!).y,
  "holding moment": (point, { place }) => point.holdingAt(place!).turn,
  temperature: (point, { place }) => point.temperatureAt(place!),
  "stiffness along x": (point, { place }) => point.stiffnessAt(place!, 0),
  "stiffness along y": (point, { place }) => point.stiffnessAt(place!, Math.PI / 2),
  "stiffness along z": (point, { place }) => point.stiffnessAlongZ(place!),
  "mean temperature": (point, { part }) => point.partNamed(part!).meanTemperature,
  "highest temperature": (point, { part }) => point.partNamed(part!).hottestTemperature,
  "current through": (point, { part }) => point.partNamed(part!).current,
  "axial force": (point, { part }) => point.partNamed(part!).axialForce,
  "contact force": (point, { part }) => point.partNamed(part!).contactForce,
  stress: (point, { part }) => point.partNamed(part!).peakStress,
};

const absentKeys: Readonly<Record<string, string>> = {
  "critical load factor": "criticalLoadFactor",
  "quality factor": "gas damping",
  "acceleration noise": "gas damping",
  "gas damping along x": "gas damping",
  "gas damping along y": "gas damping",
  "gas damping along z": "gas damping",
  "gas stiffness along z": "gas damping",
  "buckling factor out of plane": "bucklingFactorOutOfPlane",
  "blocked force": "blockedForce",
  "hot stiffness": "stiffness",
  "stiffness along x": "stiffness",
  "stiffness along y": "stiffness",
  "warm-up time to 63 %": "warm-up",
  "warm-up time to 90 %": "warm-up",
  "warm-up time at a point": "warm-up",
  "warm-up time of a part": "warm-up",
  "warm-up time of the silicon": "warm-up",
  "chance of a broken root": "chanceOfBrokenRoot",
  "hot resistance": "hotResistance",
  "share of heat to gas": "share",
  "share of heat radiated": "share",
  "share of heat to the substrate": "share",
};

export interface MetricValue {
  /** SI; NaN where it does not exist. */
  readonly value: number;
  /** Why it does not exist. */
  readonly reason?: string;
}

const ofSequence: Readonly<Record<string, (results: SequenceNumbers) => number>> = {
  "energy per exposure": ({ energy }) => energy,
  "peak supply current": ({ peakCurrent }) => peakCurrent,
  "time to open": ({ timeToOpen }) => timeToOpen,
};

/** Metrics that stand at cases with steps. */
export function readSequenceMetric(word: string, results: SequenceNumbers | { readonly reason: string }): MetricValue {
  const read = Object.hasOwn(ofSequence, word) ? ofSequence[word] : undefined;
  if (read === undefined) return { value: Number.NaN, reason: "the case has steps: this metric stands at a steady case" };
  if ("reason" in results) return { value: Number.NaN, reason: results.reason };
  return { value: read(results) };
}

/** The reason in place of the value where something is free to move that the metric needs held, such as out of the plane. */
function valueOrReason(read: Read, point: OperatingPoint, subject: MetricSubject): number | string {
  try {
    return read(point, subject);
  } catch (error) {
    if (error instanceof FreeMotionError) return error.reason;
    throw error;
  }
}

export function readPointMetric(word: string, point: OperatingPoint, subject: MetricSubject): MetricValue {
  const read = Object.hasOwn(ofPoint, word) ? ofPoint[word] : undefined;
  if (read === undefined && Object.hasOwn(ofSequence, word))
    return { value: Number.NaN, reason: "this metric stands at a case with steps" };
  if (read === undefined) throw new RangeError(`Cannot read the metric "${word}" from an operating point`);
  const value = valueOrReason(read, point, subject);
  if (typeof value === "string") return { value: Number.NaN, reason: value };
  if (Number.isFinite(value)) return { value };
  const reason = ["all", absentKeys[word] ?? word, "mechanics"].map((key) => point.absent.get(key)).find(Boolean);
  return reason === undefined ? { value } : { value, reason };
}
