/** schema: writes the JSON Schema of a chip text, for editors. metrics: lists the vocabulary of metrics. */
import { describeDimension, dimensionNamed } from "#base";
import { chipSchema, metrics } from "#chip";
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

export const registerMetrics: RegisterCommand = (program, run) => {
  program
    .command("metrics")
    .description("the words for what a requirement may be of")
    .action(() =>
      run((context) => {
        const width = Math.max(...metrics.map((metric) => metric.word.length));
        for (const metric of metrics) {
          const kind = describeDimension(dimensionNamed(metric.dimension)).replace(/^an? /, "");
          context.print(
            `  ${padEnd(context.style.bold(metric.word), width)}  ${metric.about} ${context.style.dim(`(${kind}${metric.computed ? "" : "; not yet computed"})`)}`,
          );
        }
      }),
    );
};
