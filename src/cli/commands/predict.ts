/** predict: what the chip will do, in sentences, rails and, with --json, data. */
import { errorAbout } from "#base";
import { buildLedger, type Chip, type Ledger, type Override, predictionToJson } from "#chip";
import { replaceFile } from "#node";
import { type Context, openFolder } from "../context.ts";
import { printFinding } from "../terminal/findings.ts";
import { railLines } from "../terminal/rails.ts";
import { closingLines, openingLines, sentenceRequests } from "../terminal/sentences.ts";
import type { RegisterCommand } from "./command.ts";

export interface PredictOptions {
  readonly at?: string;
  readonly device?: string;
  readonly with?: readonly string[];
  readonly json?: boolean;
  readonly out?: string;
  readonly samples?: number;
}

/** "leg width = 5.5 um" as a what-if. */
export function parseOverride(text: string): Override {
  const cut = text.indexOf("=");
  if (cut < 0)
    throw errorAbout("--with", `Cannot read "${text}": write a name, = and a value, for example --with "leg width = 5.5 um".`);
  return { name: text.slice(0, cut).trim(), value: text.slice(cut + 1).trim() };
}

/** Which device and case the sentences are about. */
export function chooseCase(chip: Chip, options: { at?: string; device?: string }): { device: string; caseName: string } {
  const device = options.device ?? chip.names.devices[0];
  const caseName = options.at ?? chip.names.steadyCases[0];
  const refuse = (message: string): never => {
    throw errorAbout(chip.description.file, message);
  };
  if (device === undefined || !chip.names.devices.includes(device))
    return refuse(`There is no device "${options.device ?? ""}"; the chip has ${chip.names.devices.join(", ") || "none"}.`);
  if (caseName === undefined || !chip.names.steadyCases.includes(caseName))
    return refuse(
      `There is no steady operating case "${options.at ?? ""}"; the chip has ${chip.names.steadyCases.join(", ") || "none"}.`,
    );
  return { device, caseName };
}

/** Sentences, rails and closing lines of a ledger. Sets the exit code. */
export function printLedger(context: Context, ledger: Ledger, at: { device: string; caseName: string }): void {
  const { style } = context;
  context.print();
  for (const line of openingLines(ledger, at, style)) context.print(line);
  context.print();
  if (ledger.rows.length > 0) {
    for (const line of railLines(ledger, style)) context.print(line);
    context.print();
    for (const line of closingLines(ledger, style)) context.print(line);
  }
  printFindings(context, ledger);
  setExitCode(context, ledger);
}

function printFindings(context: Context, ledger: Ledger): void {
  const shown = ledger.findings.filter((finding) => finding.severity !== "note");
  for (const finding of shown.slice(0, 5)) printFinding(context, finding);
  if (shown.length > 5) context.print(`            and ${shown.length - 5} more findings.`);
}

function setExitCode(context: Context, ledger: Ledger): void {
  const fails = ledger.rows.some((row) => row.built?.word === "fails" || row.measuredHolds === false);
  if (fails || ledger.findings.some((finding) => finding.severity === "error")) context.exitCode = 1;
}

export function collect(value: string, before: readonly string[]): readonly string[] {
  return [...before, value];
}

export const registerPredict: RegisterCommand = (program, run) => {
  program
    .command("predict")
    .argument("<folder>", "folder with a chip.yaml")
    .option("--at <case>", "operating case that the sentences are about (the first one otherwise)")
    .option("--device <name>", "device that the sentences are about")
    .option(
      "--with <change>",
      'try another value without changing the text, as in --with "leg width = 5.5 um"; may be repeated',
      collect,
      [],
    )
    .option(
      "--json",
      "data in place of sentences: every metric with SI value, unit, doubt, evidence and model, and the fields along each beam",
    )
    .option("-o, --out <file>", "write the data to this file")
    .description("what the chip will do, as drawn and as built, against its brief")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright predict examples/02-leafgate\n  waferwright predict examples/02-leafgate --at "full voltage" --with "leg width = 5.5 um"\n  waferwright predict examples/02-leafgate --json -o prediction.json',
    )
    .action((folder: string, options: PredictOptions) =>
      run(async (context) => {
        const chip = (await openFolder(folder)).with((options.with ?? []).map(parseOverride));
        const at = chooseCase(chip, options);
        const extra = sentenceRequests(at.device, at.caseName);
        const ledger = buildLedger(chip, {
          samples: 0,
          seed: 1,
          doubtAsDrawn: options.json === true || options.out !== undefined,
          extra,
          progress: context.progress,
        });
        context.clearProgress();
        if (options.json === true || options.out !== undefined) {
          const text = `${JSON.stringify(predictionToJson(ledger, extra), null, 2)}\n`;
          if (options.out === undefined) context.print(text.trimEnd());
          else {
            await replaceFile(options.out, text);
            context.print(`wrote ${options.out}`);
          }
          setExitCode(context, ledger);
          return;
        }
        printLedger(context, ledger, at);
      }),
    );
};
