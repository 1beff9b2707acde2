/** tour: the main job once through on the Leafgate example: prediction, ledger, mask. */
import { join } from "node:path";
import { buildLedger } from "#chip";
import { openFolder } from "../context.ts";
import { sentenceRequests } from "../terminal/sentences.ts";
import type { RegisterCommand } from "./command.ts";
import { writeMask } from "./mask.ts";
import { examplesFolder } from "./new.ts";
import { chooseCase, printLedger } from "./predict.ts";

export const registerTour: RegisterCommand = (program, run) => {
  program
    .command("tour")
    .argument("[folder]", "folder with a chip.yaml; the Leafgate example otherwise")
    .option("-o, --out <folder>", "folder for the mask", "out")
    .description("the main job once through: prediction, ledger, mask")
    .action((folder: string | undefined, options: { out: string }) =>
      run(async (context) => {
        const chosen = folder ?? join(examplesFolder(), "02-leafgate");
        const chip = await openFolder(chosen);
        const at = chooseCase(chip, {});
        const ledger = buildLedger(chip, {
          samples: 0,
          seed: 1,
          doubtAsDrawn: false,
          extra: sentenceRequests(at.device, at.caseName),
          progress: context.progress,
        });
        context.clearProgress();
        printLedger(context, ledger, at);
        const { files } = await writeMask(chosen, options.out);
        context.print(`  ${"Wrote".padEnd(10)}${files.join(", ")}`);
        context.print(
          `  ${"Next".padEnd(10)}node waferwright.mjs new my-chip --from leafgate; then change leg width in my-chip/chip.yaml`,
        );
        // a requirement that fails is the story of the demo, not a failure of the demonstration
        context.exitCode = 0;
      }),
    );
};
