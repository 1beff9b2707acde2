/** Writing a design into the text of a folder. */
import { adoptDesign, allHold, type DesignValue, inHundred, openChip, type Side } from "#chip";
import { readChipText, saveChipText } from "#node";
import type { Context } from "./context.ts";

/**
 * Writes the values, checks the text that comes out, saves it, and says what changed. Where a side is given, the new text is solved in
 * full, and its chance told. Throws InputError, with nothing written.
 */
export async function adoptInFolder(
  context: Context,
  folder: string,
  design: readonly DesignValue[],
  verify?: { readonly side: Side; readonly caseName?: string },
): Promise<void> {
  const read = await readChipText(folder);
  const chip = openChip(read.text, { file: read.path });
  const { text, changes } = adoptDesign(chip, read.text, design);
  const adopted = openChip(text, { file: read.path });
  await saveChipText(folder, text, { expected: read.text });
  for (const { key, before, after } of changes) {
    context.print(`${key}: ${before} → ${after}`);
    const reading = chip.readings.substitutes.get(key);
    if (reading !== undefined) context.print(`As built, the reading still stands in for it: ${reading.text}.`);
  }
  if (verify !== undefined)
    context.print(`The text as it stands now, solved in full: all limits hold in ${inHundred(allHold(adopted, verify).chance)}.`);
}
