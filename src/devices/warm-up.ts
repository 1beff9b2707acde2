/**
 * How long the legs take to warm after the drive is switched on from cold: the transient of the same network as the steady state.
 * Time runs until the share asked for is reached, in stretches that grow fourfold; ten minutes are the end of patience.
 */
import {
  type ElectricSource,
  type ElectroThermalNetwork,
  meanTemperature,
  type SteadyState,
  simulateTransient,
  timeToReach,
} from "#physics";

export interface WarmUpOptions {
  readonly source: ElectricSource;
  readonly steady: SteadyState;
  /** Branches whose mean temperature counts. */
  readonly legs: readonly number[];
  /** [K] */
  readonly ambient: number;
}

const firstStretch = 0.01;
const longest = 600;

/** Time [s] after which the mean of the legs has made `share` of its rise, or a reason why there is none. */
export function findWarmUpTime(
  network: ElectroThermalNetwork,
  share: number,
  options: WarmUpOptions,
): { time: number } | { reason: string } {
  const { source, steady, legs, ambient } = options;
  if (network.branches.some((branch) => branch.heatCapacity === undefined))
    return { reason: "the material has no specific heat or density" };
  if (steady.isLimited[0] === true) return { reason: "a supply at its current limit is not followed in time" };
  const mean = (fields: SteadyState["fields"]): number =>
    legs.reduce((sum, leg) => sum + meanTemperature(fields[leg]!), 0) / legs.length;
  const final = mean(steady.fields);
  // the limit is not met in the steady state; in the first moment it would only slow the rise
  const driven: ElectricSource =
    source.kind === "voltage"
      ? {
          kind: "voltage",
          voltage: source.voltage,
          seriesResistance: source.seriesResistance,
          plus: source.plus,
          minus: source.minus,
        }
      : source;
  const level = ambient + share * (final - ambient);
  for (let duration = firstStretch; duration <= longest; duration *= 4) {
    const history = simulateTransient(network, {
      start: ambient,
      phases: [{ duration, sources: [driven] }],
      observers: [({ fields }) => mean(fields)],
      stepTolerance: 1e-3,
    });
    const time = timeToReach(history, 0, level);
    if (time !== undefined) return { time };
  }
  return { reason: "the legs do not come to it within ten minutes" };
}
