/** schema: writes the JSON Schema of a chip text, for editors. metrics: lists the vocabulary of metrics. */
import { describeDimension, dimensionNamed } from "#base";
import { chipSchema, type Metric, metrics, signWords } from "#chip";
import { replaceFile } from "#node";
import { padEnd } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";

export const registerSchema: RegisterCommand = (program, run) => {
  program
    .command("schema")
    .option("-o, --out <file>", "write to this file instead of the terminal")
    .description("the JSON Schema of a chip text, so that an editor completes and checks it")
    .addHelpText("after", "\nExample:\n  waferwright schema -o chip.schema.json")
    .action((options: { out?: string }) =>
      run(async (context) => {
        const text = `${JSON.stringify(chipSchema(), null, 2)}\n`;
        if (options.out === undefined) context.print(text.trimEnd());
        else {
          await replaceFile(options.out, text);
          context.print(`wrote ${options.out}`);
        }
      }),
    );
};

/** What must be said with the word, besides the case. */
function needsOf({ where, needs }: Metric): string[] {
  return [...(where === undefined ? [] : [`where: a ${where}`]), ...(needs === undefined ? [] : [`for: ${needs.about}`])];
}

export const registerMetrics: RegisterCommand = (program, run) => {
  program
    .command("metrics")
    .description("the words for what a requirement or a sweep may be of, and what each needs")
    .addHelpText(
      "after",
      '\nExample:\n  waferwright metrics\n\nWhat stands behind "where" and "for" goes into the brief under those words, and into a sweep as --where and --for.',
    )
    .action(() =>
      run((context) => {
        const width = Math.max(...metrics.map((metric) => metric.word.length));
        for (const metric of metrics) {
          const kind = describeDimension(dimensionNamed(metric.dimension)).replace(/^an? /, "");
          const stands = metric.stands === "device" ? ["at no case"] : [];
          const sign = signWords(metric);
          const signed = sign === undefined ? [] : [sign];
          const rest = [kind, ...signed, ...needsOf(metric), ...stands, ...(metric.computed ? [] : ["not yet computed"])];
          context.print(
            `  ${padEnd(context.style.bold(metric.word), width)}  ${metric.about} ${context.style.dim(`(${rest.join("; ")})`)}`,
          );
        }
      }),
    );
};
