/** trace: the history of a case with steps, as a table (CSV) and as a plot (SVG). */
import { csvOf, displayScale, errorAbout, formatNumber, siUnitText } from "#base";
import { type Trace, type TraceColumn, traceCase, traceColumns } from "#chip";
import { replaceFile } from "#node";
import { linePlot } from "#picture";
import { type Context, openFolder } from "../context.ts";
import { padEnd, wrap } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

interface TraceOptions {
  readonly at?: string;
  readonly device?: string;
  readonly built?: boolean;
  readonly of: string;
  readonly with: readonly string[];
  readonly csv?: string;
  readonly svg?: string;
}

interface Range {
  readonly least: number;
  readonly most: number;
  readonly last: number;
}

function rangeOf(values: Float64Array): Range {
  const known = values.filter(Number.isFinite);
  return {
    least: known.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY),
    most: known.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY),
    last: known[known.length - 1] ?? Number.NaN,
  };
}

function scaleOf({ values, dimension }: Pick<TraceColumn, "values" | "dimension">): { text: string; factor: number } {
  const { least, most } = rangeOf(values);
  return displayScale(Math.max(Math.abs(least), Math.abs(most)), dimension);
}

const timeHead = (trace: Trace): string => `time of ${trace.caseName} (s)`;

function tableOf(trace: Trace): string {
  const heads = trace.columns.map(({ name, dimension }) => `${name} (${siUnitText(dimension)})`);
  return csvOf([timeHead(trace), ...heads], [trace.times, ...trace.columns.map(({ values }) => values)]);
}

function plotOf(trace: Trace, column: TraceColumn): string {
  const milliseconds = trace.times.map((time) => time * 1e3);
  const scale = scaleOf(column);
  return linePlot({
    title: `${column.name} of ${trace.device} in ${trace.caseName}`,
    x: { name: "time", unit: "ms" },
    y: { name: column.name, unit: scale.text },
    series: [{ label: column.name, kind: "as built", x: milliseconds, y: column.values.map((value) => value / scale.factor) }],
  });
}

function chooseColumn(trace: Trace, name: string): TraceColumn {
  const column = trace.columns.find((candidate) => candidate.name === name);
  if (column !== undefined) return column;
  const message = `Cannot plot "${name}": wanted one of ${traceColumns.join(", ")}.`;
  throw errorAbout("--of", message);
}

/** What each quantity did, in a line. */
function printRanges(context: Context, trace: Trace): void {
  const last = trace.times[trace.times.length - 1]!;
  context.print(`  ${trace.device}, ${trace.caseName}: ${trace.times.length} moments in ${formatNumber(last * 1e3, 4)} ms`);
  const width = Math.max(...trace.columns.map(({ name }) => name.length));
  for (const column of trace.columns) {
    const { least, most, last: end } = rangeOf(column.values);
    if (!Number.isFinite(least)) continue;
    const { text, factor } = scaleOf(column);
    // what rounding leaves of a zero is a zero
    const noise = 1e-9 * Math.max(Math.abs(least), Math.abs(most));
    const shown = (value: number): string => formatNumber(Math.abs(value) < noise ? 0 : value / factor, 4);
    context.print(`  ${padEnd(column.name, width)}  ${shown(least)} to ${shown(most)} ${text}, ${shown(end)} at the end`);
  }
}

export const registerTrace: RegisterCommand = (program, run) => {
  program
    .command("trace")
    .argument("<folder>", "folder with a chip.yaml")
    .option("--at <case>", "case with steps; needed only where there are several")
    .option("--device <name>", "device; needed only where there are several")
    .option("--built", "on the as-built side")
    .option("--of <quantity>", `what the plot shows: ${traceColumns.join(", ")}`, "travel")
    .option("--with <change>", "another value for something; may be repeated", collect, [])
    .option("--csv <file>", "write every quantity at every moment to this file")
    .option("--svg <file>", "write a plot to this file")
    .description("follow a case with steps in time: current, voltage, power, energy, travel, warmth")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright trace examples/02-leafgate --at exposure --csv exposure.csv --svg exposure.svg\n  waferwright trace examples/02-leafgate --of "supply power" --svg power.svg',
    )
    .action((folder: string, options: TraceOptions) =>
      run(async (context) => {
        const chip = (await openFolder(folder)).with(options.with.map(parseOverride));
        const side = options.built === true ? "built" : "drawn";
        const trace = traceCase(chip, { device: options.device, caseName: options.at, side });
        const column = chooseColumn(trace, options.of);
        if (options.csv !== undefined) {
          await replaceFile(options.csv, tableOf(trace));
          context.print(`wrote ${options.csv}`);
        }
        if (options.svg !== undefined) {
          await replaceFile(options.svg, plotOf(trace, column));
          context.print(`wrote ${options.svg}`);
        }
        printRanges(context, trace);
        for (const { message } of trace.findings) for (const line of wrap(message, 100)) context.print(`  ${line}`);
        if (trace.findings.some(({ severity }) => severity === "error")) context.exitCode = 1;
      }),
    );
};
