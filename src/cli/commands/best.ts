/** best: the surest design over a few quantities, or the least or most of a metric with every limit held, or the front of two. */
import { type Dimension, errorAbout, formatQuantity } from "#base";
import {
  type Aim,
  type BestDesign,
  bestInSteps,
  type Chip,
  dimensionOf,
  frontInSteps,
  inHundred,
  metricRequest,
  type RangeOf,
} from "#chip";
import { adoptInFolder } from "../adopt-design.ts";
import { openFolder } from "../context.ts";
import { finishStudy } from "../finish-study.ts";
import { shown, wrap } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

interface BestCommandOptions {
  readonly vary: readonly string[];
  readonly least: readonly string[];
  readonly most: readonly string[];
  readonly at: readonly string[];
  readonly device?: string;
  readonly surety: string;
  readonly starts: string;
  readonly points: string;
  readonly drawn?: boolean;
  readonly with: readonly string[];
  readonly adopt?: boolean;
}

/** "leg width: 4 um to 10 um". */
function rangeOf(text: string): RangeOf {
  const found = /^\s*(.+?)\s*:\s*(.+?)\s+to\s+(.+?)\s*$/.exec(text);
  if (found === null)
    throw errorAbout(
      "--vary",
      `"${text}" is not a range: write a name, a colon and two values, for example "leg width: 4 um to 10 um".`,
    );
  return { name: found[1]!, from: found[2]!, to: found[3]! };
}

/** A whole number within limits, as typed for an option. Throws InputError. */
function wholeNumber(option: string, text: string, [least, most]: readonly [number, number]): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < least || number > most)
    throw errorAbout(option, `A whole number from ${least} to ${most} is wanted, not "${text}".`);
  return number;
}

/** Aims in the order least, most; one case stands for both, or each has its own. */
function aimsOf(chip: Chip, { least, most, at, device }: BestCommandOptions): readonly Aim[] {
  const wanted = [...least.map((word) => ["least", word] as const), ...most.map((word) => ["most", word] as const)];
  if (wanted.length > 2) throw errorAbout("--least", `At most two aims can be followed at once, found ${wanted.length}.`);
  if (at.length > Math.max(1, wanted.length))
    throw errorAbout("--at", `There are ${at.length} cases for ${wanted.length === 1 ? "one aim" : `${wanted.length} aims`}.`);
  return wanted.map(([way, word], k) => ({
    way,
    request: metricRequest(chip, word, { caseName: at[k] ?? at[0], device }),
  }));
}

const value = (si: number, dimension: Dimension): string => formatQuantity(si, dimension, { like: si });

function designWords({ axes }: Pick<BestDesign, "axes">, x: ArrayLike<number>): string {
  return axes.map(({ name, dimension, high }, j) => `${name} ${formatQuantity(x[j]!, dimension, { like: high })}`).join(", ");
}

function bestSentences(found: BestDesign, aim: Aim | undefined): readonly string[] {
  const before = Number.isFinite(found.chanceBefore) ? ` The text as it stands: ${inHundred(found.chanceBefore)}.` : "";
  const nearest = [...found.limits].sort((a, b) => a.surety - b.surety).slice(0, 4);
  return [
    ...(aim === undefined
      ? []
      : [
          `${aim.way === "least" ? "Least" : "Most"} ${aim.request.metric.word}: ${value(found.aim, dimensionOf(aim.request.metric))}.`,
        ]),
    `${designWords(found, found.x)}, solved in full: all limits hold in ${inHundred(found.chance)}.${before}`,
    ...nearest.map(({ label, surety }) =>
      surety < 0
        ? `  ${label}: broken by ${(-surety).toFixed(1)} standard deviations.`
        : `  ${label}: ${surety.toFixed(1)} standard deviations clear.`,
    ),
    ...(found.converged
      ? []
      : [`The search ended after ${found.nDesigns} designs without arriving: the design is the best met so far.`]),
  ];
}

export const registerBest: RegisterCommand = (program, run) => {
  program
    .command("best")
    .argument("<folder>", "folder with a chip.yaml")
    .option("--vary <range>", 'a quantity and its range, for example "leg width: 4 um to 10 um"; may be repeated', collect, [])
    .option(
      "--least <metric>",
      "make this metric as small as the limits let it be; a second aim gives the front of both",
      collect,
      [],
    )
    .option("--most <metric>", "make this metric as large as the limits let it be", collect, [])
    .option("--at <case>", "operating case of the metric; a second one for the second metric", collect, [])
    .option("--device <name>", "device of those metrics")
    .option("--surety <number>", "standard deviations by which every limit must hold while an aim is followed", "1.645")
    .option("--starts <count>", "designs to search from: the present one, the middle, then scattered ones", "2")
    .option("--points <count>", "points of a front", "7")
    .option("--drawn", "on the as-drawn side; as built where left out")
    .option("--with <change>", "another value for something else; may be repeated", collect, [])
    .option("--adopt", "write the design found into the text")
    .description("find the surest design, or the best in a metric, or the front of two metrics")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright best examples/01-one-bent-beam --vary "legs length: 300 um to 800 um" --vary "leg width: 4 um to 10 um"\n  waferwright best my-chip --vary "leg width: 4 um to 10 um" --least "supply power" --at hold --adopt\n  waferwright best my-chip --vary "legs length: 400 um to 800 um" --vary "leg width: 5 um to 10 um" --least "supply power" --most "steady travel" --at hold',
    )
    .action((folder: string, options: BestCommandOptions) =>
      run(async (context) => {
        const surety = Number(options.surety);
        if (options.surety.trim() === "" || !Number.isFinite(surety))
          throw errorAbout("--surety", `"${options.surety}" is not a number: write for example 1.645.`);
        const count = wholeNumber("--points", options.points, [2, 50]);
        const starts = wholeNumber("--starts", options.starts, [1, 100]);
        const chip = (await openFolder(folder)).with(options.with.map(parseOverride));
        const aims = aimsOf(chip, options);
        const side = options.drawn === true ? ("drawn" as const) : ("built" as const);
        const study = { vary: options.vary.map(rangeOf), side, surety };
        const print = (text: string): void => {
          const indent = /^ */.exec(text)![0];
          for (const line of wrap(shown(text.trim(), context.style), 110 - indent.length)) context.print(`${indent}${line}`);
        };
        const [first, second] = aims;
        if (first !== undefined && second !== undefined) {
          if (options.adopt === true) throw errorAbout("--adopt", "A front has many designs: follow one aim, or use set.");
          const front = finishStudy(frontInSteps(chip, { ...study, aims: [first, second], count }), context);
          const words = aims.map(({ request: { metric } }) => metric.word);
          print(`${front.points.length} designs, from the best in ${words[0]} to the best in ${words[1]}, every limit held:`);
          for (const { x, values } of front.points) {
            const reached = aims.map(({ request: { metric } }, k) => `${metric.word} ${value(values[k]!, dimensionOf(metric))}`);
            print(`  ${reached.join(", ")}: ${designWords(front, x)}`);
          }
          return;
        }
        const found = finishStudy(bestInSteps(chip, { ...study, starts, ...(first !== undefined && { aim: first }) }), context);
        for (const sentence of bestSentences(found, first)) print(sentence);
        if (options.adopt !== true) return;
        const design = found.axes.map(({ key }, j) => ({ key, value: found.x[j]! }));
        await adoptInFolder(context, folder, design, { side });
      }),
    );
};
