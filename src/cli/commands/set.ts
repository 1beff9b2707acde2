/** set: changes one value in the chip text and leaves everything else as it stands. */

import { InputError } from "#base";
import { openChip, pathKey, replaceValue } from "#chip";
import { readChipText, saveChipText } from "#node";
import type { RegisterCommand } from "./command.ts";

export const registerSet: RegisterCommand = (program, run) => {
  program
    .command("set")
    .argument("<folder>", "folder with a chip.yaml")
    .argument("<name>", 'a quantity of the text, for example "leg width"')
    .argument("<value>", 'its new value, for example "5.5 um"')
    .description("change one value in the chip text; comments, order and spacing stay")
    .addHelpText("after", '\nExample:\n  waferwright set my-chip "leg width" "5.5 um"')
    .action((folder: string, name: string, given: string) =>
      run(async (context) => {
        // into the text goes what was typed: the command line had put a true minus sign
        const value = given.replace(/^\u2212/, "-");
        const read = await readChipText(folder);
        const chip = openChip(read.text, { file: read.path });
        const found = chip.addresses.find(name);
        if (found.kind !== "one")
          throw new InputError([
            {
              place: { file: read.path, line: 1, column: 1 },
              message: `Cannot set "${name}": ${chip.addresses.explain(name, found)}`,
            },
          ]);
        const before = found.quantity.text;
        const text = replaceValue(read.text, { file: read.path, path: found.quantity.path, value });
        openChip(text, { file: read.path });
        await saveChipText(folder, text, { expected: read.text });
        context.print(`${pathKey(found.quantity.path)}: ${before} → ${value}`);
        const reading = chip.readings.substitutes.get(pathKey(found.quantity.path));
        if (reading !== undefined) context.print(`As built, the reading still stands in for it: ${reading.text}.`);
        if (found.quantity.phrase.spread !== undefined && !/±|\+-|\+\/-|within/.test(value)) {
          context.print("Its doubt is gone with the old value; write it again to keep it, as in 38 um ± 1 um.");
        }
      }),
    );
};
