/**
 * A device in time: steps of a drive one after the other, heat followed as it flows, the frame in balance at every moment.
 *
 * The motion follows the temperatures at once: valid while they change slowly against the lowest resonance.
 */
import {
  type BranchField,
  type ElectricSource,
  type FrameSolution,
  type FrameState,
  meanTemperature,
  simulateTransient,
  type TransientHistory,
  timeToReach,
} from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import type { Fed } from "./drive.ts";
import { type Loads, sourcesOf } from "./drive.ts";
import { heatedStrains } from "./free-strains.ts";
import { isMotion } from "./mechanics.ts";

/** A stretch of time under one drive; without one the circuit is open. */
export interface SequenceStep {
  /** [s] */
  readonly duration: number;
  readonly drive: Fed | undefined;
}

export interface SequenceHistory {
  /** [nTimes] s, from 0; the end of a step stands twice, before and after the switch. */
  readonly times: Float64Array;
  /** Along the travel from rest, [nTimes] m; NaN without an output. */
  readonly travel: Float64Array;
  /** [nTimes] K */
  readonly meanLegTemperature: Float64Array;
  /** Between plus and minus, [nTimes] A and V. */
  readonly current: Float64Array;
  readonly padVoltage: Float64Array;
  /** From the supply, its resistor included, [nTimes] W. */
  readonly supplyPower: Float64Array;
  /** From the supply since the start, [nTimes] J. */
  readonly supplyEnergy: Float64Array;
  /** First time that the travel reaches a level [m], from rising or falling; undefined where it does not. */
  timeOfTravel(level: number): number | undefined;
  /** First time that the mean of the legs reaches a level, [K]. */
  timeOfMean(level: number): number | undefined;
  /** The end, to go on from. */
  readonly final: TransientHistory["final"];
}

/** Error allowed in one step of time, [K]. */
const stepTolerance = 1e-2;

function sourcesFor(parts: DeviceParts, drive: Fed | undefined): ElectricSource[] {
  if (drive === undefined) return [];
  const wired = new Set(
    parts.device.bodies.flatMap(({ part }) => (part.kind === "anchor" && part.wire !== undefined ? [part.wire] : [])),
  );
  return sourcesOf(drive, parts.heat.terminals, wired);
}

/** Voltage of the supply itself where it feeds through a resistor, [V]. */
function railVoltage(drive: Fed | undefined, padVoltage: number): number {
  return drive?.kind === "supply" ? drive.voltage : padVoltage;
}

/** Travel at the temperatures of a moment, from the frame's balance near the last one. */
class TravelObserver {
  private last: FrameState | undefined;

  constructor(
    private readonly parts: DeviceParts,
    private readonly loads: Loads,
  ) {}

  at(view: { readonly fields: readonly BranchField[]; readonly junctionTemperatures: Float64Array }): number {
    const { mechanics, device } = this.parts;
    const { output } = device.drawing;
    if (output === undefined) return Number.NaN;
    const found = mechanics.solve(mechanics.loadOf(heatedStrains(this.parts, view), this.loads), this.last);
    if (!isMotion(found)) return Number.NaN;
    this.last = found.state;
    const site = mechanics.siteAt(output.at, "the output");
    const now = mechanics.motionOf(found, site);
    const rest = mechanics.motionOf(mechanics.rest, site);
    return (now.x - rest.x) * Math.cos(output.direction) + (now.y - rest.y) * Math.sin(output.direction);
  }
}

/** True where every part knows how much heat it stores. */
export function storesHeat(parts: DeviceParts): boolean {
  return parts.heat.network.branches.every((branch) => branch.heatCapacity !== undefined);
}

/** Follows the device through the steps, from a steady state or from everything at ambient. */
export function runSequence(
  parts: DeviceParts,
  steps: readonly SequenceStep[],
  options: { readonly loads: Loads; readonly start?: FrameSolution | TransientHistory["final"] },
): SequenceHistory {
  const { conditions, heat, device } = parts;
  const legs = device.beams.flatMap((beam, index) => (beam.part.isLeg ? [heat.branchOfBeam[index]!] : []));
  const travel = new TravelObserver(parts, options.loads);
  const history = simulateTransient(heat.network, {
    start: options.start ?? conditions.ambient,
    phases: steps.map(({ duration, drive }) => ({ duration, sources: sourcesFor(parts, drive) })),
    observers: [
      (view) => travel.at(view),
      ({ fields }) => legs.reduce((sum, leg) => sum + meanTemperature(fields[leg]!), 0) / legs.length,
    ],
    stepTolerance,
  });
  const { times } = history;
  const nothing = new Float64Array(times.length);
  const current = history.sourceCurrents[0] ?? nothing;
  const padVoltage = history.sourceVoltages[0] ?? nothing;
  const ends = steps.map((_, i) => steps.slice(0, i + 1).reduce((sum, { duration }) => sum + duration, 0));
  let step = 0;
  const supplyPower = Float64Array.from(times, (time, i) => {
    // the second of two equal times belongs to the next step
    while (step + 1 < steps.length && (time > ends[step]! || (i > 0 && time === times[i - 1] && time >= ends[step]!))) step++;
    return railVoltage(steps[step]?.drive, padVoltage[i]!) * current[i]!;
  });
  const supplyEnergy = new Float64Array(times.length);
  for (let i = 1; i < times.length; i++)
    supplyEnergy[i] = supplyEnergy[i - 1]! + 0.5 * (supplyPower[i]! + supplyPower[i - 1]!) * (times[i]! - times[i - 1]!);
  return {
    times,
    travel: history.observed[0]!,
    meanLegTemperature: history.observed[1]!,
    current,
    padVoltage,
    supplyPower,
    supplyEnergy,
    timeOfTravel: (level) => timeToReach(history, 0, level),
    timeOfMean: (level) => timeToReach(history, 1, level),
    final: history.final,
  };
}
