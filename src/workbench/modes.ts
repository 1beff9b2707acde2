/** The lowest modes of the device in view about its operating point, to be looked at. Main test: modes.test.ts. */
import type { Chip } from "#chip";
import { type ModeView, viewModes } from "#devices";
import type { LiveQuestion } from "./question.ts";

const nModes = 6;

/** As built. Throws RangeError with a sentence where there is no state, or nothing has a mass. */
export function modesOf(chip: Chip, { device, caseName }: LiveQuestion): readonly ModeView[] {
  const side = chip.side("built");
  const point = side.pointAt(device, caseName);
  const reason = point.absent.get("all") ?? point.absent.get("mechanics");
  if (reason !== undefined) throw new RangeError(`Cannot find the modes of ${device} at ${caseName}: ${reason}.`);
  const modes = viewModes(side.modelAt(device, caseName), { point, count: nModes });
  if (modes.length === 0)
    throw new RangeError(`Cannot find the modes of ${device}: its material has no density. Give it one under materials.`);
  return modes;
}
