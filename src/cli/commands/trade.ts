/** trade: which step of which size would help most, what it costs, and which limit would give most if less were asked. */
import { errorAbout } from "#base";
import { inHundred, relaxationWords, sensitivityTable, type Trade, type Trades, tradesInSteps, tradeWords } from "#chip";
import { replaceFile } from "#node";
import { openFolder } from "../context.ts";
import { finishStudy } from "../finish-study.ts";
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

/** What it gives comes before what it costs. */
function tradeSentence(found: Trades, trade: Trade): string {
  const { step, gives, costs } = tradeWords(found, trade);
  const part = (word: string, words: readonly string[]): string => (words.length === 0 ? "" : ` ${word} ${words.join("; ")}.`);
  const told = part("Gives:", gives) + part("Costs:", costs);
  return `${step}.${told === "" ? " No margin moves by more than 1 %." : told}`;
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
        for (const trade of found.trades) print(`${inHundred(trade.chance)}: ${tradeSentence(found, trade)}`, "  ");
        if (found.relaxations.length > 0) {
          context.print();
          context.print(context.style.bold("Or ask for less"));
          for (const relaxation of found.relaxations.slice(0, 5))
            print(`${inHundred(relaxation.chance)}: ${relaxationWords(found, relaxation)}.`, "  ");
        }
        if (options.csv === undefined) return;
        await replaceFile(options.csv, sensitivityTable(found));
        context.print();
        context.print(`wrote ${options.csv}`);
      }),
    );
};
