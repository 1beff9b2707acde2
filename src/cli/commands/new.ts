/** new: a new chip folder, empty or from an example. */
import { existsSync } from "node:fs";
import { cp, readdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { errorAbout } from "#base";
import { createChipFolder } from "#node";
import type { RegisterCommand } from "./command.ts";

/** Folder with the examples that come with the program: beside the bundle, or beside the sources. */
export function examplesFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "examples", "02-leafgate")) && dirname(folder) !== folder) folder = dirname(folder);
  return join(folder, "examples");
}

export const registerNew: RegisterCommand = (program, run) => {
  program
    .command("new")
    .argument("<folder>", "folder to make")
    .option("--from <example>", "start from an example instead of an empty text: one-bent-beam, leafgate, straight-bar")
    .description("make a new chip folder, empty or from an example")
    .addHelpText("after", "\nExamples:\n  waferwright new my-chip --from leafgate\n  waferwright new my-chip")
    .action((folder: string, options: { from?: string }) =>
      run(async (context) => {
        if (existsSync(join(folder, "chip.yaml")))
          throw errorAbout(folder, "This folder holds a chip.yaml already; nothing was written. Choose another name.");
        if (options.from === undefined) {
          await createChipFolder(folder, {});
        } else {
          const examples = (await readdir(examplesFolder())).filter((entry) => /^\d\d-/.test(entry));
          const found = examples.find((entry) => entry === options.from || entry.slice(3) === options.from);
          if (found === undefined)
            throw errorAbout(
              folder,
              `There is no example "${options.from}"; there are ${examples.map((entry) => entry.slice(3)).join(", ")}.`,
            );
          await cp(join(examplesFolder(), found), folder, { recursive: true });
        }
        context.print(`wrote ${join(folder, "chip.yaml")}`);
      }),
    );
};
