/** check: reads a chip text and says everything that is wrong with it. */
import { openFolder } from "../context.ts";
import type { RegisterCommand } from "./command.ts";

export const registerCheck: RegisterCommand = (program, run) => {
  program
    .command("check")
    .argument("<folder>", "folder with a chip.yaml")
    .description("read the chip text and say what is wrong with it, each with line and column")
    .addHelpText("after", "\nExample:\n  waferwright check examples/02-leafgate")
    .action((folder: string) =>
      run(async (context) => {
        const chip = await openFolder(folder);
        const { requirements, description, readings } = chip;
        const parts = [
          `${chip.names.devices.length} device${chip.names.devices.length === 1 ? "" : "s"}`,
          `${requirements.length} requirements`,
          `${chip.names.cases.length} operating cases`,
          `${description.quantities.length} quantities`,
        ];
        if (readings.substitutes.size + readings.metricReadings.length > 0)
          parts.push(`${readings.substitutes.size + readings.metricReadings.length} readings`);
        context.print(`${description.sections.chip} reads well: ${parts.join(", ")}.`);
        if (readings.files.length > 0) context.print(`Kept for later evaluation: ${readings.files.join(", ")}.`);
      }),
    );
};
