/** One command of the terminal. Each stands in a file of its own and registers itself under its name. */
import type { Command } from "commander";
import type { Context } from "../context.ts";

/** Adds a command. `run` gets the context and may set its exit code; it throws InputError for what it cannot read. */
export type RegisterCommand = (
  program: Command,
  run: (work: (context: Context) => Promise<void> | void) => Promise<void>,
) => void;
