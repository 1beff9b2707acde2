/** brief: shows the requirements of a chip and what contradicts itself in them, and changes them in the text. */

import { errorAbout } from "#base";
import { type BriefEdit, type Chip, contradictionsOf, editBrief, openChip, type RequirementWords, subjectWords } from "#chip";
import { readChipText, saveChipText } from "#node";
import type { Context } from "../context.ts";
import { printFinding } from "../terminal/findings.ts";
import type { RegisterCommand } from "./command.ts";

interface Options extends RequirementWords {
  readonly to?: string;
  readonly limit?: string;
}

const actions = ["add", "add-limit", "rewrite", "rename", "remove"] as const;

function refuse(message: string): never {
  throw errorAbout("brief", message);
}

/** What was asked for. Throws InputError where it is not complete. */
function editOf(action: string, name: string | undefined, { to, limit, ...words }: Options): BriefEdit {
  if (name === undefined) return refuse(`Cannot ${action}: say the name of the requirement behind it.`);
  const number = limit === undefined ? {} : { limit: Number(limit) };
  switch (action) {
    case "add":
      return { make: "add", name, words };
    case "add-limit":
      return { make: "add limit", name, words };
    case "rewrite":
      if (Object.keys(words).length === 0) refuse('Nothing to rewrite: say what, for example --need "at least 11 um".');
      return { make: "rewrite", name, ...number, words };
    case "rename":
      return to === undefined ? refuse("Cannot rename: say the new name with --to.") : { make: "rename", name, to };
    case "remove":
      return { make: "remove", name, ...number };
    default:
      return refuse(`"${action}" is not known here. Allowed are ${actions.join(", ")}.`);
  }
}

function printBrief(context: Context, chip: Chip): void {
  for (const { name, limits, why, proof } of chip.requirements) {
    context.print(`  ${context.style.bold(name)}`);
    for (const { metric, text, ...limit } of limits)
      context.print(`    ${metric === undefined ? "no model proves it" : `${subjectWords({ ...limit, metric })}: ${text}`}`);
    if (why !== undefined) context.print(`    why: ${why}`);
    if (proof !== undefined) context.print(`    proof: ${proof}`);
  }
  if (chip.requirements.length === 0) context.print("  The brief is empty: nothing must hold yet.");
}

/** Prints what contradicts itself; an exit code of 1 where something cannot hold. */
export function printContradictions(context: Context, chip: Chip): void {
  for (const finding of contradictionsOf(chip)) {
    printFinding(context, finding);
    if (finding.severity === "error") context.exitCode = 1;
  }
}

export const registerBrief: RegisterCommand = (program, run) => {
  program
    .command("brief")
    .argument("<folder>", "folder with a chip.yaml")
    .argument("[action]", `what to do: ${actions.join(", ")}; without it the brief is shown`)
    .argument("[name]", "name of the requirement")
    .option("--of <metric>", "the metric that the limit is on, a word of waferwright metrics")
    .option("--need <limit>", 'the limit, for example "at least 11 um"')
    .option("--at <case>", "the operating case")
    .option("--for <value>", "a value that the metric needs")
    .option("--where <name>", "the point or part that the metric is about")
    .option("--device <name>", "which device, where there are several")
    .option("--why <reason>", "the reason")
    .option("--proof <words>", "how it will be proven, where no model can")
    .option("--to <name>", "the new name, when renaming")
    .option("--limit <number>", "which of several limits, from 1")
    .description("the requirements of a chip: show them, add, rewrite, rename and remove them; comments and order stay")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright brief my-chip\n  waferwright brief my-chip add travel --of "steady travel" --need "at least 10 um" --at hold\n  waferwright brief my-chip rewrite travel --need "at least 11 um"\n  waferwright brief my-chip rewrite travel --why ""\n  waferwright brief my-chip remove travel\n\nAn empty word takes its line away.',
    )
    .action((folder: string, action: string | undefined, name: string | undefined, options: Options) =>
      run(async (context) => {
        const read = await readChipText(folder);
        let chip = openChip(read.text, { file: read.path });
        if (action === undefined) printBrief(context, chip);
        else {
          const { text, sentence } = editBrief(read.text, { file: read.path, edit: editOf(action, name, options) });
          chip = openChip(text, { file: read.path });
          await saveChipText(folder, text, { expected: read.text });
          context.print(`${sentence}.`);
        }
        printContradictions(context, chip);
      }),
    );
};
