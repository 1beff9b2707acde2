/**
 * The history of a case with steps: what the supply gives, how warm the legs get and how far the device moves, moment by moment.
 * Main test: trace.test.ts.
 */
import { type Dimension, type DimensionName, dimensionNamed, type Finding } from "#base";
import type { SequenceHistory } from "#devices";
import type { Chip } from "./chip.ts";
import { chooseDevice, chooseSteppedCase, refuse } from "./choose.ts";

export interface TraceRequest {
  /** May be left out where there is one. */
  readonly device?: string | undefined;
  readonly caseName?: string | undefined;
  readonly side: "drawn" | "built";
}

/** One quantity over the moments of the trace. */
export interface TraceColumn {
  readonly name: string;
  readonly dimension: Dimension;
  /** [nTimes] SI; NaN where the device has no such quantity. */
  readonly values: Float64Array;
}

export interface Trace {
  readonly device: string;
  readonly caseName: string;
  /** [nTimes] s from switching on; the end of a step stands twice, before and after the switch. */
  readonly times: Float64Array;
  readonly columns: readonly TraceColumn[];
  /** What is to be said of it; where it ends before its steps do, why. */
  readonly findings: readonly Finding[];
}

type Series = {
  readonly [K in keyof SequenceHistory]: SequenceHistory[K] extends Float64Array ? K : never;
}[keyof SequenceHistory];

const columns: readonly (readonly [name: string, dimension: DimensionName, of: Series])[] = [
  ["current", "current", "current"],
  ["pad voltage", "voltage", "padVoltage"],
  ["supply power", "power", "supplyPower"],
  ["supply energy", "energy", "supplyEnergy"],
  ["travel", "length", "travel"],
  ["mean leg temperature", "temperature", "meanLegTemperature"],
];

export const traceColumns: readonly string[] = columns.map(([name]) => name);

/** Follows a device through the steps of a case, from cold, as far as its laws go. Throws InputError where there is no such case, or nothing stores heat. */
export function traceCase(chip: Chip, request: TraceRequest): Trace {
  const device = chooseDevice(chip, request.device);
  const caseName = chooseSteppedCase(chip, request.caseName);
  const results = chip.side(request.side).sequenceAt(device, caseName);
  const { history, findings } = results;
  if (history === undefined)
    throw refuse(chip, `Cannot follow ${device} through ${caseName}${"reason" in results ? `: ${results.reason}` : ""}.`);
  return {
    device,
    caseName,
    times: history.times,
    columns: columns.map(([name, dimension, of]) => ({ name, dimension: dimensionNamed(dimension), values: history[of] })),
    findings,
  };
}
