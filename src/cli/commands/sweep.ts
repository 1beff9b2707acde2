/** sweep: one quantity taken through a range; metrics as a table (CSV) and as a plot (SVG). */
import { csvOf, displayScale, errorAbout, formatNumber, siUnitText } from "#base";
import { type Chip, findMetric, type MetricRequest, metricRequest, runSweep, type Sweep, subjectWords } from "#chip";
import { replaceFile } from "#node";
import { linePlot } from "#picture";
import { openFolder } from "../context.ts";
import { padStart } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

function unitOf(sweep: Sweep, column: number): { text: string; factor: number } {
  const dimension = column < 0 ? sweep.dimension : sweep.dimensions[column]!;
  const n = sweep.metrics.length;
  let largest = 0;
  for (let i = 0; i < sweep.values.length; i++) {
    const value = column < 0 ? sweep.values[i]! : sweep.results[i * n + column]!;
    if (Number.isFinite(value)) largest = Math.max(largest, Math.abs(value));
  }
  return displayScale(largest, dimension);
}

/** What was asked, in words; a value belongs only to metrics that need one. */
const askedWords = (asked: MetricRequest, argument: string | undefined): string =>
  subjectWords(asked, asked.metric.needs === undefined ? undefined : argument);

/** The table as CSV, all in SI, units in the heading. */
function tableOf(sweep: Sweep, argument: string | undefined): string {
  const units = [sweep.dimension, ...sweep.dimensions].map(siUnitText);
  const heads = [sweep.name, ...sweep.metrics.map((request) => askedWords(request, argument))];
  const n = sweep.metrics.length;
  const columns = sweep.metrics.map((_, m) => Float64Array.from(sweep.values, (_value, i) => sweep.results[i * n + m]!));
  return csvOf(
    heads.map((head, i) => `${head} (${units[i]})`),
    [sweep.values, ...columns],
  );
}

/** Requests for the words given: a place and a value go to those that need one. */
function requestsFor(chip: Chip, options: SweepOptions): MetricRequest[] {
  const words = options.of.length > 0 ? options.of : ["steady travel"];
  const found = words.map((word) => findMetric(word));
  for (const [option, given, isNeeded] of [
    ["--where", options.where, found.some((metric) => metric?.where !== undefined)],
    ["--for", options.for, found.some((metric) => metric?.needs !== undefined)],
  ] as const) {
    if (given === undefined || isNeeded || found.includes(undefined)) continue;
    const message = `${option} ${given} is of no use here: none of ${words.join(", ")} needs it. The command "metrics" lists what each needs.`;
    throw errorAbout(option, message);
  }
  return words.map((word, i) =>
    metricRequest(chip, word, {
      caseName: options.at,
      device: options.device,
      where: found[i]?.where === undefined ? undefined : options.where,
      for: found[i]?.needs === undefined ? undefined : options.for,
    }),
  );
}

export const registerSweep: RegisterCommand = (program, run) => {
  program
    .command("sweep")
    .argument("<folder>", "folder with a chip.yaml")
    .argument("<name>", 'the quantity to vary, for example "leg width" or "hold pads"')
    .argument("<from>", 'first value, for example "5 um"')
    .argument("<to>", 'last value, for example "8 um"')
    .option("--steps <count>", "number of values", "25")
    .option("--of <metric>", "metric to read; may be repeated", collect, [])
    .option("--where <name>", "point or part that the metrics are about, where they are about one")
    .option("--for <value>", 'value that the metrics need, for example "500 gn"')
    .option("--at <case>", "operating case")
    .option("--device <name>", "device")
    .option("--built", "on the as-built side")
    .option("--with <change>", "another value for something else; may be repeated", collect, [])
    .option("--csv <file>", "write the table to this file")
    .option("--svg <file>", "write a plot of the first metric to this file")
    .description("vary one quantity and read metrics")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright sweep examples/02-leafgate "leg width" "5 um" "8 um" --of "steady travel" --at hold\n  waferwright sweep examples/02-leafgate "hold pads" "2 V" "12 V" --of "steady travel" --of "supply current" --csv iv.csv --svg travel.svg\n  waferwright sweep examples/02-leafgate "flexure width" "4 um" "8 um" --of "sag under shock" --where blade --for "500 gn" --at cold',
    )
    .action((folder: string, name: string, from: string, to: string, options: SweepOptions) =>
      run(async (context) => {
        const chip = (await openFolder(folder)).with(options.with.map(parseOverride));
        const metrics = requestsFor(chip, options);
        const sweep = runSweep(chip, {
          name,
          from,
          to,
          steps: Number(options.steps),
          metrics,
          side: options.built === true ? "built" : "drawn",
          progress: context.progress,
        });
        context.clearProgress();
        await writeSweep(sweep, options, (line) => context.print(line));
      }),
    );
};

interface SweepOptions {
  readonly steps: string;
  readonly of: readonly string[];
  readonly where?: string;
  readonly for?: string;
  readonly at?: string;
  readonly device?: string;
  readonly built?: boolean;
  readonly with: readonly string[];
  readonly csv?: string;
  readonly svg?: string;
}

async function writeSweep(sweep: Sweep, options: SweepOptions, print: (line: string) => void): Promise<void> {
  const units = [unitOf(sweep, -1), ...sweep.metrics.map((_, i) => unitOf(sweep, i))];
  const n = sweep.metrics.length;
  if (options.csv !== undefined) {
    await replaceFile(options.csv, tableOf(sweep, options.for));
    print(`wrote ${options.csv}`);
  }
  if (options.svg !== undefined) {
    await replaceFile(options.svg, plotOf(sweep, units));
    print(`wrote ${options.svg}`);
  }
  for (const reason of sweep.reasons) print(`Some points have no answer: ${reason}`);
  if (options.csv !== undefined || options.svg !== undefined) return;
  const heads = [
    `${sweep.name}, ${units[0]!.text}`,
    ...sweep.metrics.map((request, i) => `${request.metric.word}, ${units[i + 1]!.text || "1"}`),
  ];
  print(heads.map((head) => padStart(head, Math.max(14, head.length))).join("  "));
  for (let i = 0; i < sweep.values.length; i++) {
    const cells = [
      sweep.values[i]! / units[0]!.factor,
      ...sweep.metrics.map((_, m) => sweep.results[i * n + m]! / units[m + 1]!.factor),
    ];
    print(
      cells
        .map((cell, c) =>
          padStart(Number.isFinite(cell) ? formatNumber(cell, 5) : "does not exist", Math.max(14, heads[c]!.length)),
        )
        .join("  "),
    );
  }
}

function plotOf(sweep: Sweep, units: readonly { text: string; factor: number }[]): string {
  const n = sweep.metrics.length;
  const [across, up] = [units[0]!, units[1]!];
  const word = sweep.metrics[0]!.metric.word;
  const x = sweep.values.map((value) => value / across.factor);
  const y = Float64Array.from(sweep.values, (_, i) => sweep.results[i * n]! / up.factor);
  return linePlot({
    title: `${word} against ${sweep.name}`,
    x: { name: sweep.name, unit: across.text },
    y: { name: word, unit: up.text },
    series: [{ label: word, kind: "as built", x, y }],
  });
}
