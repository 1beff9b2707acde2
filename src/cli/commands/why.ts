/** why: how a number comes about, hop by hop; what moved it from as drawn to as built; what to change to bring it to its aim. */
import { ExpressionError, errorAbout, plainAmount, sameDimension } from "#base";
import { dimensionOf, type ExplanationWords, explain, explanationWords, type MetricRequest, metricRequest } from "#chip";
import { openFolder } from "../context.ts";
import { padEnd, padStart, type Style, shown, wrap } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

interface Options {
  readonly at?: string;
  readonly device?: string;
  readonly for?: string;
  readonly where?: string;
  readonly aim?: string;
  readonly count: string;
  readonly with: readonly string[];
  readonly json?: boolean;
}

/** A value typed for an aim, SI. */
function aimOf(text: string, request: MetricRequest): number {
  try {
    const amount = plainAmount(text);
    if (sameDimension(amount.dimension, dimensionOf(request.metric))) return amount.value;
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw errorAbout("--aim", `Cannot read the aim "${text}": ${error.message}.`);
  }
  throw errorAbout("--aim", `Cannot aim ${request.metric.word} at "${text}": that is another kind of quantity.`);
}

/** Columns as wide as what stands in them. */
function table(rows: readonly (readonly string[])[], style: Style): readonly string[] {
  const columns = rows[0]?.length ?? 0;
  const widths = Array.from({ length: columns }, (_, i) => Math.max(...rows.map((row) => [...shown(row[i]!, style)].length)));
  return rows.map((row) =>
    `    ${row.map((cell, i) => (i === 0 || i === columns - 1 ? padEnd : padStart)(shown(cell, style), widths[i]!)).join("  ")}`.trimEnd(),
  );
}

function linesOf(words: ExplanationWords, style: Style): readonly string[] {
  const last = words.hops.at(-1)!;
  const wrapped = (text: string): readonly string[] => wrap(shown(text, style), 100).map((line) => `  ${line}`);
  const moved =
    words.movers.length === 0
      ? ["", ...wrapped("Nothing moves it from as drawn to as built: no reading stands in, and edges lie where they are drawn.")]
      : [
          "",
          `  ${style.bold(shown(`What moves it from ${last.drawn} as drawn to ${last.built} as built`, style))}`,
          ...table(
            [
              ["", "as drawn", "as built", "alone", "so far", ""],
              ...words.movers.map(({ name, from, to, alone, after, source }) => [name, from, to, alone, after, source ?? ""]),
            ],
            style,
          ),
          ...(words.together === "" ? [] : wrapped(words.together)),
        ];
  const changes =
    words.aim === undefined
      ? []
      : [
          "",
          `  ${style.bold(shown(`To bring it to ${words.aim} as built, change one of these`, style))}`,
          ...(words.changes.length === 0
            ? wrapped("No drawn size and no drive of the case brings it there without being more than doubled or halved.")
            : table(
                words.changes.map(({ name, from, to, reached }) => [name, from, "→", to, `gives ${reached}`]),
                style,
              )),
        ];
  return [
    "",
    `  ${style.bold(shown(`${words.subject}: ${last.built} as built, ${last.drawn} as drawn`, style))}`,
    ...words.limits.flatMap(wrapped),
    "",
    ...table(
      [["", "as drawn", "as built", ""], ...words.hops.map(({ word, drawn, built, by }) => [word, drawn, built, by])],
      style,
    ),
    ...moved,
    ...changes,
  ];
}

function countOf(text: string): number {
  const count = Number(text);
  if (Number.isInteger(count) && count >= 0 && count <= 20) return count;
  throw errorAbout("--count", `Cannot try ${text} changes: write a whole number from 0 to 20.`);
}

export const registerWhy: RegisterCommand = (program, run) => {
  program
    .command("why")
    .argument("<folder>", "folder with a chip.yaml")
    .argument("<metric>", 'a word of waferwright metrics, for example "steady travel"')
    .option("--at <case>", "operating case (the first one otherwise)")
    .option("--device <name>", "which device, where there are several")
    .option("--for <value>", "a value that the metric needs")
    .option("--where <name>", "the point or part that the metric is about")
    .option("--aim <value>", "where the number is to come to; what the brief asks for otherwise")
    .option("--count <number>", "changes to work out in full", "5")
    .option("--with <change>", "try another value without changing the text; may be repeated", collect, [])
    .option("--json", "data in place of words, SI")
    .description("why a number is what it is, hop by hop, and what to change to bring it to its aim")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright why examples/02-leafgate "steady travel" --at hold\n  waferwright why examples/01-one-bent-beam "supply current" --aim "12 mA"',
    )
    .action((folder: string, word: string, options: Options) =>
      run(async (context) => {
        const chip = (await openFolder(folder)).with(options.with.map(parseOverride));
        const { at: caseName, device, for: argument, where } = options;
        const request = metricRequest(chip, word, { caseName, device, for: argument, where });
        const count = countOf(options.count);
        const aim = options.aim === undefined ? {} : { aim: aimOf(options.aim, request) };
        const found = explain(chip, request, { ...aim, count });
        if (options.json === true) {
          const { hops, movers, together, aim: wanted, changes, needs } = found;
          const data = {
            form: "waferwright explanation",
            version: 1,
            metric: request.metric.word,
            device: request.device,
            case: request.caseName,
            hops: hops.map(({ word: hop, by, drawn, built }) => ({ metric: hop, by, drawn, built })),
            movers: movers.map(({ dimension: _, alone, inTurn, ...rest }) => ({
              ...rest,
              alone: [...alone],
              inTurn: [...inTurn],
            })),
            together: [...together],
            limits: needs,
            aim: wanted,
            changes: changes.map(({ dimension: _, ...rest }) => rest),
          };
          context.print(JSON.stringify(data, null, 2));
          return;
        }
        for (const line of linesOf(explanationWords(found), context.style)) context.print(line);
      }),
    );
};
