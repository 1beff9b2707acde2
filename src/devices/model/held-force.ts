/**
 * The force with which a device pushes on whoever holds its output: at rest (blocked) or at a travel.
 *
 * Error: that of the elements. Sources: with the functions. Main tests: test/verification/bent-beams.test.ts, force-and-time-constants.test.ts.
 */
import { type FrameLoad, findBlockedForce } from "#physics";
import type { Output } from "../drawing/part.ts";
import type { DeviceParts } from "./device-parts.ts";
import type { FreeStrains } from "./free-strains.ts";

const motionAt = { x: 0, y: 1, turn: 2 } as const;

/** Motions that a holder takes when it blocks the output: along the travel alone, or all of them. */
function heldMotions(output: Output): readonly ("x" | "y" | "turn")[] {
  if (output.guided) return ["x", "y", "turn"];
  if (Math.abs(Math.sin(output.direction)) < 1e-9) return ["x"];
  if (Math.abs(Math.cos(output.direction)) < 1e-9) return ["y"];
  return ["x", "y"];
}

/** Force along the travel on the holder at a travel from rest, [N], or why there is none; NaN without an output. */
export function forceHeldAt(
  parts: DeviceParts,
  load: FrameLoad,
  at: { readonly travel: number; readonly restPosition: number },
): number | { readonly reason: string } {
  const { output } = parts.device.drawing;
  if (output === undefined) return Number.NaN;
  const { mechanics } = parts;
  const site = mechanics.siteAt(output.at, "the output");
  const rest = mechanics.rest.state.motions;
  const along = { x: Math.cos(output.direction), y: Math.sin(output.direction), turn: 0 };
  const held = heldMotions(output).map((motion) => ({
    junction: site.junction,
    motion,
    value: rest[3 * site.junction + motionAt[motion]]! + along[motion] * at.travel,
  }));
  const found = findBlockedForce(mechanics.model, load, { held });
  if (found.reason !== undefined) return { reason: found.reason };
  const push = held.reduce((sum, { motion }, i) => sum + along[motion] * found.forces[i]!, 0);
  // at the output an idealised spring takes its part
  return push + parts.loadStiffness * (at.restPosition + at.travel);
}

/**
 * A straight leg between two clamps buckles at the strain pi^2 w^2 / (3 l^2) (Euler; Timoshenko & Gere, from memory). Beyond it the
 * bowed legs still balance, but the force no longer grows with the heat: a blocked force in the usual sense does not exist.
 */
export function straightLegsBuckle(parts: DeviceParts, strains: FreeStrains): string | undefined {
  const buckles = parts.device.beams.some((beam, index) => {
    if (!beam.part.isLeg || beam.line.length > 4) return false;
    const strain = strains.strains[parts.frame.frameBeamOf[index]!]!;
    const mean = typeof strain === "number" ? strain : strain.reduce((sum, value) => sum + value, 0) / strain.length;
    return mean > (Math.PI * Math.min(...beam.widths)) ** 2 / (3 * beam.length ** 2);
  });
  return buckles ? "held at rest, the straight legs would buckle at this strain" : undefined;
}
