/** What moves with the temperatures of a moment: the travel of a device and the mean of its legs. */
import { type MomentaryFields, meanTemperature } from "#physics";
import type { DeviceParts } from "./device-parts.ts";
import type { Loads } from "./drive.ts";
import { heatedStrains } from "./free-strains.ts";
import { isMotion, type Motion, type NoMotion } from "./mechanics.ts";

/** Of the output from where it rests, [m]; NaN without one. */
export function travelOf({ mechanics, device }: DeviceParts, motion: Motion): number {
  const { output } = device.drawing;
  if (output === undefined) return Number.NaN;
  const site = mechanics.siteAt(output.at, "the output");
  const now = mechanics.motionOf(motion, site);
  const rest = mechanics.motionOf(mechanics.rest, site);
  return (now.x - rest.x) * Math.cos(output.direction) + (now.y - rest.y) * Math.sin(output.direction);
}

/** [K] */
export function meanOfLegs({ device, heat }: DeviceParts, { fields }: Pick<MomentaryFields, "fields">): number {
  let sum = 0;
  let count = 0;
  device.beams.forEach((beam, index) => {
    if (!beam.part.isLeg) return;
    sum += meanTemperature(fields[heat.branchOfBeam[index]!]!);
    count++;
  });
  return sum / count;
}

/** Balance of the frame at the temperatures of a moment. */
export function motionAtMoment(
  parts: DeviceParts,
  moment: MomentaryFields,
  at: { readonly loads: Loads; readonly start: Motion | undefined },
): Motion | NoMotion {
  const { mechanics } = parts;
  return mechanics.solve(mechanics.loadOf(heatedStrains(parts, moment), at.loads), at.start?.state);
}

/** The same to first order, from a balance nearby. */
export function motionNearMoment(
  parts: DeviceParts,
  moment: MomentaryFields,
  at: { readonly loads: Loads; readonly near: Motion },
): Motion {
  const { mechanics } = parts;
  return mechanics.estimate(mechanics.loadOf(heatedStrains(parts, moment), at.loads), at.near);
}

/** Travel at the temperatures of a moment, from the frame's balance near the last one. */
export class TravelObserver {
  private last: Motion | undefined;

  constructor(
    private readonly parts: DeviceParts,
    private readonly loads: Loads,
  ) {}

  value(moment: MomentaryFields): number {
    if (this.parts.device.drawing.output === undefined) return Number.NaN;
    const found = motionAtMoment(this.parts, moment, { loads: this.loads, start: this.last });
    if (!isMotion(found)) return Number.NaN;
    this.last = found;
    return travelOf(this.parts, found);
  }

  /** To first order, from the moment whose value was asked for last. */
  change(towards: MomentaryFields): number {
    const { parts, loads, last } = this;
    if (last === undefined) return Number.NaN;
    return travelOf(parts, motionNearMoment(parts, towards, { loads, near: last })) - travelOf(parts, last);
  }
}
