/** Which device and case a question is about, where the user may leave them out, and the sentence where the choice does not fit. */
import { errorAbout, type InputError } from "#base";
import { unknownWord } from "../brief/requirements.ts";
import type { Chip } from "./chip.ts";

/** An error about the chip as a whole. */
export function refuse(chip: Chip, message: string): InputError {
  return errorAbout(chip.description.file, message);
}

/** The device of that name, or the only one. Throws InputError. */
export function chooseDevice(chip: Chip, name: string | undefined): string {
  const { devices } = chip.names;
  const device = name ?? (devices.length === 1 ? devices[0] : undefined);
  if (device === undefined) throw refuse(chip, `Say which device: ${devices.join(", ")}.`);
  if (!devices.includes(device)) throw refuse(chip, unknownWord("a device of this chip", device, devices));
  return device;
}

/** A case with one drive that holds, by its name. Throws InputError. */
export function chooseSteadyCase(chip: Chip, name: string): string {
  requireCase(chip, name);
  if (!chip.names.steadyCases.includes(name))
    throw refuse(chip, `The case "${name}" has steps: this needs a case that holds one drive${listed(chip.names.steadyCases)}.`);
  return name;
}

/** A case with steps: by its name, or the only one. Throws InputError. */
export function chooseSteppedCase(chip: Chip, name: string | undefined): string {
  const { cases, steadyCases } = chip.names;
  const stepped = cases.filter((candidate) => !steadyCases.includes(candidate));
  if (name !== undefined) requireCase(chip, name);
  const chosen = name ?? (stepped.length === 1 ? stepped[0] : undefined);
  if (chosen !== undefined && stepped.includes(chosen)) return chosen;
  throw refuse(
    chip,
    stepped.length === 0
      ? "No case of this chip has steps: a history needs one, for example exposure: { steps: [{ for: 5 ms, pads: 5 V }, { for: 20 ms }] }."
      : name === undefined
        ? `Say which case with steps: ${stepped.join(", ")}.`
        : `The case "${name}" has no steps: a history needs one that has${listed(stepped)}.`,
  );
}

/** Throws InputError where the chip has no such case. */
export function requireCase(chip: Chip, name: string): void {
  const { cases } = chip.names;
  if (!cases.includes(name)) throw refuse(chip, unknownWord("an operating case", name, cases));
}

function listed(names: readonly string[]): string {
  return names.length === 0 ? "" : `, such as ${names.join(", ")}`;
}
