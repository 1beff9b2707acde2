/** The chance that all limits of the brief hold in a chip as it stands, to first order, with the values behind it. */
import type { Side } from "../evaluate/scope.ts";
import type { Chip } from "../predict/chip.ts";
import { type Estimate, estimateSide } from "../predict/estimate.ts";
import type { MetricRequest } from "../predict/side-model.ts";
import { sizeLimits } from "./design-space.ts";
import { JointChance } from "./joint-chance.ts";

export interface AllHold {
  readonly chance: number;
  /** One for each limit that a model computes, then one for each metric asked for besides. */
  readonly estimates: readonly Estimate[];
}

/** Points that stand for chance in a single design. */
export const nChanceSamples = 2048;

/** Works the chance out. Throws InputError where the brief has no limit, and what the models throw. */
export function allHold(
  chip: Chip,
  options: { readonly side: Side; readonly caseName?: string; readonly extra?: readonly MetricRequest[] },
): AllHold {
  const limits = sizeLimits(chip, options.caseName);
  const requests = [...limits.map(({ request }) => request), ...(options.extra ?? [])];
  const { causes, estimates } = estimateSide(chip, options.side, { requests, doubt: true });
  const joint = new JointChance([...causes.values()], nChanceSamples);
  const own = estimates.slice(0, limits.length);
  const shifts = Float64Array.from(own.flatMap((estimate) => [...joint.shiftsOf(estimate.shifts)]));
  const chance = joint.of(
    own.map(({ value }) => value),
    shifts,
    limits.map(({ need }) => need),
  );
  return { chance, estimates };
}
