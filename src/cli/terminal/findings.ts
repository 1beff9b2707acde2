/** A finding below its heading word. */
import type { Finding } from "#base";
import type { Context } from "../context.ts";
import { wrap } from "./style.ts";

export function printFinding(context: Context, { where, message }: Finding): void {
  for (const [i, line] of wrap(`${where}. ${message}`, 96).entries())
    context.print(`  ${i === 0 ? "Finding   " : "          "}${line}`);
}
