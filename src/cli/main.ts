/** Entry of the command line: builds the commands, runs one, and turns what went wrong into a sentence and an exit code. */
import { Command, CommanderError } from "commander";
import { InputError, SolveError } from "#base";
import { SaveError } from "#node";
import { registerBest } from "./commands/best.ts";
import { registerBrief } from "./commands/brief.ts";
import { registerCheck } from "./commands/check.ts";
import type { RegisterCommand } from "./commands/command.ts";
import { registerDraw } from "./commands/draw.ts";
import { registerLedger } from "./commands/ledger.ts";
import { registerMask } from "./commands/mask.ts";
import { registerNew } from "./commands/new.ts";
import { registerPredict } from "./commands/predict.ts";
import { registerMetrics, registerSchema } from "./commands/schema.ts";
import { registerSet } from "./commands/set.ts";
import { registerSize } from "./commands/size.ts";
import { registerStart } from "./commands/start.ts";
import { registerSweep } from "./commands/sweep.ts";
import { registerTour } from "./commands/tour.ts";
import { registerTrace } from "./commands/trace.ts";
import { registerTrade } from "./commands/trade.ts";
import { registerWhy } from "./commands/why.ts";
import { type Context, createContext, printProblems } from "./context.ts";

const commands: readonly RegisterCommand[] = [
  registerNew,
  registerCheck,
  registerPredict,
  registerLedger,
  registerWhy,
  registerSweep,
  registerTrace,
  registerSize,
  registerTrade,
  registerBest,
  registerDraw,
  registerMask,
  registerSet,
  registerBrief,
  registerMetrics,
  registerSchema,
  registerStart,
  registerTour,
];

/** Tells what went wrong; answers the exit code. */
function tell(context: Context, error: unknown): number {
  context.clearProgress();
  if (error instanceof InputError) {
    printProblems(context, error);
    return 2;
  }
  if (error instanceof SaveError) {
    context.printError(error.message);
    return 2;
  }
  if (error instanceof SolveError) {
    context.printError(
      `${error.message} (${error.method}, ${error.iterations} steps, residual ${error.residual.toExponential(1)}, wanted ${error.target.toExponential(1)}). ${error.hint}`,
    );
    return 1;
  }
  if (error instanceof RangeError || (error instanceof Error && "code" in error)) {
    context.printError(`${error.message}.`);
    return 2;
  }
  throw error;
}

/** A negative quantity with a true minus sign, which the text reads alike: with a hyphen it would be taken for an option. */
function withMinusSign(word: string): string {
  return word.replace(/^-(?=[\d.])/, "\u2212");
}

/** Runs the program with the words after its name; answers the exit code. */
export async function runCommandLine(words: readonly string[]): Promise<number> {
  const program = new Command("waferwright");
  let exitCode = 0;
  program
    .description("From an idea to a microsystem chip that works on the probe station, from one description of the chip.")
    .option("--plain", "ASCII without colour")
    .showSuggestionAfterError(true)
    .exitOverride();
  const run = async (work: (context: Context) => Promise<void> | void): Promise<void> => {
    const plain = program.opts<{ plain?: boolean }>().plain === true;
    const context = createContext({ plain, color: process.stdout.isTTY === true && process.env.NO_COLOR === undefined });
    try {
      await work(context);
      exitCode = context.exitCode;
    } catch (error) {
      exitCode = tell(context, error);
    }
  };
  for (const register of commands) register(program, run);
  try {
    await program.parseAsync(words.map(withMinusSign), { from: "user" });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    return error.exitCode === 0 ? 0 : 2;
  }
  return exitCode;
}

// a reader that has seen enough ("| head") closes the pipe: that is no error of ours
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(0);
    throw error;
  });
}
process.exitCode = await runCommandLine(process.argv.slice(2));
