/** ledger: the requirements in full, with sampled chances and every number behind them. */
import { formatQuantity, InputError } from "#base";
import { buildLedger, type Ledger, type LedgerLimit, type LedgerRow, limitWords, predictionToJson } from "#chip";
import { replaceFile } from "#node";
import { type Context, openFolder } from "../context.ts";
import { ledgerPicture } from "../ledger-picture.ts";
import { railLines } from "../terminal/rails.ts";
import { doubtOf, sentenceRequests } from "../terminal/sentences.ts";
import { shown, wrap } from "../terminal/style.ts";
import { printContradictions } from "./brief.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

function sideText(name: string, prediction: LedgerLimit["drawn"], limit: LedgerLimit): string[] {
  if (prediction === undefined) return [];
  const { estimate, margin, sampled } = prediction;
  if (!Number.isFinite(estimate.value))
    return [`${name}: does not exist${estimate.reason === undefined ? "" : `, ${estimate.reason}`}.`];
  const like = limit.need?.high ?? limit.need?.low ?? estimate.value;
  const value = formatQuantity(estimate.value, limit.dimension, { sigma: estimate.sigma, like });
  const spread =
    sampled === undefined
      ? ""
      : `; sampled mean ${formatQuantity(sampled.mean, limit.dimension, { like })}, 5 to 95 % ${formatQuantity(sampled.low, limit.dimension, { like })} to ${formatQuantity(sampled.high, limit.dimension, { like })}`;
  return [`${name}: ${value}, margin ${(100 * margin).toFixed(0)} %${spread}.`];
}

function measuredText(limit: LedgerLimit): string[] {
  const { measured } = limit;
  if (measured === undefined) return [];
  const value = formatQuantity(measured.value, limit.dimension, {
    sigma: measured.sigma,
    like: limit.need?.high ?? limit.need?.low ?? measured.value,
  });
  return [
    `measured: ${value}, margin ${(100 * measured.margin).toFixed(0)} %${measured.source === undefined ? "" : `, ${measured.source}`}${measured.date === undefined ? "" : `, ${measured.date}`}.`,
  ];
}

function rowLines(row: LedgerRow, ledger: Ledger): string[] {
  const { requirement } = row;
  const lines = requirement.why === undefined ? [] : [`why: ${requirement.why}`];
  for (const limit of row.limits) {
    const what = limit.limit.metric?.word ?? "no model";
    lines.push(
      `${what}${limit.limit.caseName === undefined ? "" : ` at ${limit.limit.caseName}`}: ${limitWords(limit) || "proven by test alone"}`,
    );
    lines.push(...sideText("as drawn", limit.drawn, limit), ...sideText("as built", limit.built, limit), ...measuredText(limit));
  }
  if (row.built !== undefined && row.drawn !== undefined) {
    const { built, drawn } = row;
    const counted =
      built.sampled === undefined
        ? ""
        : ` (linear estimate ${Math.round(100 * built.firstOrder)}${built.disagree ? ", which differs: the model bends, trust the samples" : ""})`;
    lines.push(
      `chance: as drawn ${Math.round(100 * drawn.shown)} in 100, as built ${Math.round(100 * built.shown)} in 100${counted}: ${built.word}.`,
    );
  }
  const doubt = doubtOf(row, ledger);
  if (doubt !== undefined) lines.push(doubt);
  if (row.status === "no model")
    lines.push(`no model can prove this${requirement.proof === undefined ? "" : `; planned proof: ${requirement.proof}`}.`);
  if (row.status === "not yet computed") lines.push("not yet computed by a model of this program.");
  return lines;
}

function printFull(context: Context, ledger: Ledger): void {
  const { style } = context;
  context.print();
  for (const line of railLines(ledger, style)) context.print(line);
  for (const row of ledger.rows) {
    context.print();
    context.print(`  ${style.bold(shown(row.requirement.name, style))}`);
    for (const text of rowLines(row, ledger)) for (const line of wrap(shown(text, style), 100)) context.print(`    ${line}`);
  }
  printContradictions(context, ledger.chip);
  if (ledger.assumed.length > 0) {
    context.print();
    context.print(`  ${style.bold("Still assumed")}, by the largest part it has in any row`);
    for (const { cause, share } of ledger.assumed.slice(0, 12))
      context.print(
        `    ${String(Math.round(100 * share)).padStart(3)} %  ${shown(ledger.chip.addresses.shortest(cause.name), style)}`,
      );
  }
  context.print();
  context.print(
    `  ${ledger.nSamples > 0 ? `Chances counted in ${ledger.nSamples} samples of the full model a side.` : "Chances to first order."}`,
  );
}

export const registerLedger: RegisterCommand = (program, run) => {
  program
    .command("ledger")
    .argument("<folder>", "folder with a chip.yaml")
    .option("--samples <count>", "samples of the full model for each side; 0 for the linear estimate alone", "400")
    .option("--seed <number>", "seed of the samples", "1")
    .option("--with <change>", "try another value without changing the text; may be repeated", collect, [])
    .option("--json", "data in place of words")
    .option("--svg <file>", "write the rails as a picture to this file")
    .description("every requirement with its limit, predictions, measurement, chance, doubt and margin")
    .addHelpText("after", "\nExample:\n  waferwright ledger examples/02-leafgate --samples 1000")
    .action((folder: string, options: { samples: string; seed: string; with: readonly string[]; json?: boolean; svg?: string }) =>
      run(async (context) => {
        const samples = Number(options.samples);
        const seed = Number(options.seed);
        if (!Number.isInteger(samples) || samples < 0 || samples > 100_000 || !Number.isInteger(seed)) {
          throw new InputError([
            {
              place: { file: "--samples", line: 1, column: 1 },
              message: `Cannot take ${options.samples} samples with seed ${options.seed}: write whole numbers, at most 100000 samples.`,
            },
          ]);
        }
        const chip = (await openFolder(folder)).with(options.with.map(parseOverride));
        const extra =
          options.json === true
            ? chip.names.devices.flatMap((device) =>
                chip.names.steadyCases.flatMap((caseName) => sentenceRequests(device, caseName)),
              )
            : [];
        const ledger = buildLedger(chip, { samples, extra, seed, doubtAsDrawn: true, progress: context.progress });
        context.clearProgress();
        if (options.svg !== undefined) {
          await replaceFile(options.svg, ledgerPicture(ledger));
          context.print(`wrote ${options.svg}`);
        }
        if (options.json === true) context.print(JSON.stringify(predictionToJson(ledger, extra), null, 2));
        else printFull(context, ledger);
        if (
          ledger.rows.some((row) => row.built?.word === "fails" || row.measuredHolds === false) ||
          ledger.findings.some((finding) => finding.severity === "error")
        )
          context.exitCode = 1;
      }),
    );
};
