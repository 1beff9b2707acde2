/**
 * Where a drive takes a device beyond everything that is known of its materials: no number is told there, but where it happens.
 *
 * Up to where the material melts, numbers beyond the range of a law are told with a finding beside them (law-findings.ts). Beyond that, or
 * where no melting point is known beyond the laws of heat and current, nothing is left that could be true. Main test: test/verification/law-limits.test.ts.
 */
import { dimensionNamed, formatQuantity } from "#base";
import { extremeTemperature, type FrameSolution } from "#physics";
import type { BeamMaterial, Conditions } from "../conditions.ts";
import type { BuiltDevice } from "./built-device.ts";
import type { HeatNetwork } from "./heat-network.ts";
import { angleOfBranch, partOfBranch } from "./temperature-results.ts";

interface Model {
  readonly device: BuiltDevice;
  readonly heat: HeatNetwork;
  readonly conditions: Conditions;
}

/** The part that stands furthest beyond its limit, or nearest below it. */
export interface Furthest {
  readonly part: string;
  readonly material: string;
  /** [K] */
  readonly temperature: number;
  readonly limit: number;
}

/** Part of the drive to which the place of the overrun is found. */
const tolerance = 1e-3;
const mostTrials = 40;

/** Highest temperature [K] at which anything is told of a material. */
function limitOf({ conductivity, resistivity, temperatureLimits }: BeamMaterial): number {
  return Math.max(Math.min(conductivity.range.to, resistivity.range.to), temperatureLimits?.melt ?? 0);
}

/** A sentence without its end: which part leaves what is known in the course of a run, and when. */
export function tellOverrunInTime(model: Model, last: Pick<FrameSolution, "fields">, time: number): string {
  const { part, material, limit } = furthestOf(model, last);
  const when = formatQuantity(time, dimensionNamed("time"), { digits: 3 });
  return `${part} comes to ${limit.toFixed(0)} K after ${when}: nothing is told of ${material} beyond`;
}

export function furthestOf(model: Model, { fields }: Pick<FrameSolution, "fields">): Furthest {
  const { conditions } = model;
  let furthest: Furthest = { part: "", material: "", temperature: 0, limit: Number.POSITIVE_INFINITY };
  fields.forEach((field, branch) => {
    const material = conditions.materialAlong(angleOfBranch(model, branch));
    const limit = limitOf(material);
    const { temperature } = extremeTemperature(field, 1);
    if (furthest.part === "" || temperature - limit > furthest.temperature - furthest.limit)
      furthest = { part: partOfBranch(model, branch), material: material.name, temperature, limit };
  });
  return furthest;
}

/** Temperature [K] beyond which nothing is told of any part. */
export function hottestTold({ device, conditions }: Model): number {
  const angles = [...device.beams.map(({ angle }) => angle), ...device.bodies.map(({ slab }) => slab.turn)];
  return Math.max(...angles.map((angle) => limitOf(conditions.materialAlong(angle))));
}

/** The last state on the way up that is still told. `solveAt` gives the state at a part of the drive, undefined where there is none. */
function lastTold(
  model: Model,
  options: { readonly below: number; readonly solveAt: (fraction: number) => FrameSolution | undefined },
): { readonly state: FrameSolution; readonly fraction: number } | undefined {
  let [low, high] = [0, options.below];
  let found: { state: FrameSolution; fraction: number } | undefined;
  for (let trial = 0; trial < mostTrials && high - low > tolerance * high; trial++) {
    const fraction = (low + high) / 2;
    const state = options.solveAt(fraction);
    const furthest = state && furthestOf(model, state);
    if (state !== undefined && furthest !== undefined && furthest.temperature <= furthest.limit) {
      found = { state, fraction };
      low = fraction;
    } else high = fraction;
  }
  return found;
}

/** A sentence without its end: which part leaves what is known, at what voltage and current; or above what drive heat runs away. */
export function tellOverrun(
  model: Model,
  options: {
    /** Part of the drive that has been reached, and whether it is too hot there. */
    readonly below: number;
    readonly isTooHot: boolean;
    readonly solveAt: (fraction: number) => FrameSolution | undefined;
  },
): { readonly reason: string; readonly isBeyondLaws: boolean } {
  const last = lastTold(model, options);
  if (last === undefined) return { reason: "nothing is known of the device at any part of this drive", isBeyondLaws: true };
  const { part, material, temperature, limit } = furthestOf(model, last.state);
  const volts = formatQuantity(last.state.sourceVoltages[0]!, dimensionNamed("voltage"), { digits: 3 });
  const amperes = formatQuantity(last.state.sourceCurrents[0]!, dimensionNamed("current"), { digits: 3 });
  const at = `${volts} on the pads and ${amperes}`;
  // a run-away goes through all temperatures at nearly one drive: what was reached before it tells which of both it is
  const isBeyondLaws = options.isTooHot || last.fraction < options.below * (1 - 2 * tolerance);
  return isBeyondLaws
    ? { reason: `${part} comes to ${limit.toFixed(0)} K at ${at}: nothing is told of ${material} beyond`, isBeyondLaws }
    : {
        reason: `heat is lost more slowly than it is made above ${at}, where ${part} is at ${temperature.toFixed(0)} K`,
        isBeyondLaws,
      };
}
