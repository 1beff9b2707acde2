/** Writing a design into the text of a folder. */
import { adoptDesign, type DesignValue, openChip } from "#chip";
import { readChipText, saveChipText } from "#node";
import type { Context } from "./context.ts";

/** Writes the values, checks the text that comes out, saves it, and says what changed. Throws InputError, with nothing written. */
export async function adoptInFolder(context: Context, folder: string, design: readonly DesignValue[]): Promise<void> {
  const read = await readChipText(folder);
  const chip = openChip(read.text, { file: read.path });
  const { text, changes } = adoptDesign(chip, read.text, design);
  openChip(text, { file: read.path });
  await saveChipText(folder, text, { expected: read.text });
  for (const { key, before, after } of changes) {
    context.print(`${key}: ${before} → ${after}`);
    const reading = chip.readings.substitutes.get(key);
    if (reading !== undefined) context.print(`As built, the reading still stands in for it: ${reading.text}.`);
  }
}
