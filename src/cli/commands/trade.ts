/** trade: which step of which size would help most, what it costs, and which limit would give most if less were asked. */
import { errorAbout, formatNumber, formatQuantity, siUnitText } from "#base";
import { type LimitChange, type Relaxation, type Trade, type Trades, tradesInSteps } from "#chip";
import { replaceFile } from "#node";
import { openFolder } from "../context.ts";
import { finishStudy } from "../finish-study.ts";
import { inHundred } from "../region-words.ts";
import { shown, wrap } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

interface TradeCommandOptions {
  readonly drawn?: boolean;
  readonly at?: string;
  readonly of: readonly string[];
  readonly count: string;
  readonly csv?: string;
  readonly with: readonly string[];
}

/** The metric of a limit and its case, without the limit itself. */
const subjectOf = (label: string): string => label.slice(0, label.lastIndexOf(", "));

function changeWords({ limits }: Trades, { limit, before, after, marginBefore, marginAfter }: LimitChange): string {
  const { label, need, dimension } = limits[limit]!;
  const like = need.high ?? need.low ?? before;
  const to = Number.isFinite(after) ? formatQuantity(after, dimension, { like }) : "no value";
  const percent = (margin: number): string => (100 * margin).toFixed(0);
  return `${subjectOf(label)} ${formatQuantity(before, dimension, { like })} → ${to} (margin ${percent(marginBefore)} → ${percent(marginAfter)} %)`;
}

/** What it gives comes before what it costs. */
function tradeWords(found: Trades, { name, dimension, from, to, chance, changes }: Trade): string {
  const size = (value: number): string => formatQuantity(value, dimension, { like: from });
  const part = (word: string, of: readonly LimitChange[]): string =>
    of.length === 0
      ? ""
      : ` ${word} ${of
          .slice(0, 3)
          .map((change) => changeWords(found, change))
          .join("; ")}${of.length > 3 ? `; and ${of.length - 3} more` : ""}.`;
  const gives = changes.filter(({ marginBefore, marginAfter }) => marginAfter > marginBefore);
  const costs = changes.filter((change) => !gives.includes(change));
  const told = `${part("Gives:", gives)}${part("Costs:", costs)}`;
  return `${inHundred(chance)}: ${name} ${size(from)} → ${size(to)}.${told === "" ? " No margin moves by more than 1 %." : told}`;
}

function relaxationWords({ limits }: Trades, { limit, kind, from, to, chance }: Relaxation): string {
  const { requirement, label, dimension } = limits[limit]!;
  const value = (si: number): string => formatQuantity(si, dimension, { like: from });
  return `${inHundred(chance)}: ${requirement}, ${subjectOf(label)} ${kind} ${value(to)}, not ${value(from)}.`;
}

/** By how many per cent each metric moves when a size grows by one per cent. */
function sensitivityTable({ limits, sensitivities }: Trades): string {
  const cell = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const heads = ["size", "value", "unit", ...limits.map(({ label }) => `${subjectOf(label)} (% per %)`)];
  const rows = sensitivities.map(({ name, value, dimension, slopes }) => [
    name,
    formatNumber(value, 6).replace("\u2212", "-"),
    siUnitText(dimension),
    ...limits.map((limit, i) => {
      const relative = (slopes[i]! * value) / limit.value;
      return Number.isFinite(relative) ? relative.toPrecision(4) : "";
    }),
  ]);
  return [heads, ...rows].map((row) => `${row.map(cell).join(",")}\n`).join("");
}

export const registerTrade: RegisterCommand = (program, run) => {
  program
    .command("trade")
    .argument("<folder>", "folder with a chip.yaml")
    .option("--at <case>", "only limits at this operating case; all limits where left out")
    .option("--drawn", "on the as-drawn side; as built where left out")
    .option("--of <name>", "a quantity to step; may be repeated; every drawn size where left out", collect, [])
    .option("--count <number>", "steps to solve in full", "6")
    .option("--csv <file>", "write how every metric answers to every size to this file")
    .option("--with <change>", "another value for something else; may be repeated", collect, [])
    .description("rank what could be traded: one step of each size, and limits that ask for less")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright trade examples/01-one-bent-beam\n  waferwright trade my-chip --of "leg width" --of "legs length" --csv sensitivity.csv',
    )
    .action((folder: string, options: TradeCommandOptions) =>
      run(async (context) => {
        const count = Number(options.count);
        if (!Number.isInteger(count) || count < 1 || count > 100)
          throw errorAbout("--count", `A whole number from 1 to 100 is wanted, not "${options.count}".`);
        const chip = (await openFolder(folder)).with(options.with.map(parseOverride));
        const found = finishStudy(
          tradesInSteps(chip, {
            side: options.drawn === true ? "drawn" : "built",
            count,
            ...(options.at !== undefined && { caseName: options.at }),
            ...(options.of.length > 0 && { names: options.of }),
          }),
          context,
        );
        const print = (text: string, indent = ""): void => {
          for (const line of wrap(shown(text, context.style), 110 - indent.length)) context.print(`${indent}${line}`);
        };
        print(`All limits hold in ${inHundred(found.chance)}. Chances are to first order, with the doubt of the present design.`);
        context.print();
        context.print(context.style.bold("What you could trade"));
        if (found.trades.length === 0) context.print("  No step of a size moves any limit.");
        for (const trade of found.trades) print(tradeWords(found, trade), "  ");
        if (found.relaxations.length > 0) {
          context.print();
          context.print(context.style.bold("Or ask for less"));
          for (const relaxation of found.relaxations.slice(0, 5)) print(relaxationWords(found, relaxation), "  ");
        }
        if (options.csv === undefined) return;
        await replaceFile(options.csv, sensitivityTable(found));
        context.print();
        context.print(`wrote ${options.csv}`);
      }),
    );
};
