/** Chance that any root of the beams of a device breaks: every root by its own stress, all of one strength distribution. */
import { breakChanceOfRoots } from "#materials";
import type { BeamForces } from "#physics";
import type { DeviceParts } from "./device-parts.ts";

/** Undefined where a material has no strength. `forces` of the beams of the frame. */
export function breakChance({ device, conditions, frame }: DeviceParts, forces: readonly BeamForces[]): number | undefined {
  let whole = 1;
  for (const [index, beam] of device.beams.entries()) {
    const { strength } = conditions.materialAlong(beam.angle);
    if (strength === undefined) return undefined;
    for (const endStress of forces[frame.frameBeamOf[index]!]!.endStresses) {
      const stress = endStress * conditions.notchFactor;
      whole *= 1 - breakChanceOfRoots(strength, { stress, nRoots: 1 });
    }
  }
  return 1 - whole;
}
