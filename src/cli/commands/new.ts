/** new: a new chip folder, empty or from an example. */
import { existsSync } from "node:fs";
import { cp, mkdir, readdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { InputError } from "#base";
import { replaceFile } from "#node";
import type { RegisterCommand } from "./command.ts";

/** Folder with the examples that come with the program: beside the bundle, or beside the sources. */
export function examplesFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "examples", "02-leafgate")) && dirname(folder) !== folder) folder = dirname(folder);
  return join(folder, "examples");
}

/** A text to begin with: everything that must be there, with values to replace. */
const emptyText = (name: string): string => `chip: ${name}
version: 1

brief: []

surroundings: { gas: air, pressure: 101 kPa, temperature: 298 K }

process:
  flow: silicon on glass, two plates
  silicon thickness: 40 um ± 1 um
  gap under silicon: 10 um ± 0.5 um
  undercut per edge: assumed 0.5 um ± 0.15 um, default of this etch
  bias per edge: 0.5 um
  silicon: { dopant: boron, resistivity: 0.0150 ohm cm ± 10 % }

parameters: {}

devices: {}

drive:
  cases: {}
`;

function refuse(file: string, message: string): InputError {
  return new InputError([{ place: { file, line: 1, column: 1 }, message }]);
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
          throw refuse(folder, "This folder holds a chip.yaml already; nothing was written. Choose another name.");
        if (options.from === undefined) {
          const name =
            folder
              .split(/[\\/]/)
              .filter((part) => part !== "")
              .at(-1) ?? "New chip";
          await mkdir(folder, { recursive: true });
          await replaceFile(join(folder, "chip.yaml"), emptyText(JSON.stringify(name)));
        } else {
          const examples = (await readdir(examplesFolder())).filter((entry) => /^\d\d-/.test(entry));
          const found = examples.find((entry) => entry === options.from || entry.slice(3) === options.from);
          if (found === undefined)
            throw refuse(
              folder,
              `There is no example "${options.from}"; there are ${examples.map((entry) => entry.slice(3)).join(", ")}.`,
            );
          await cp(join(examplesFolder(), found), folder, { recursive: true });
        }
        context.print(`wrote ${join(folder, "chip.yaml")}`);
      }),
    );
};
