/** size: where a design may live over two quantities of the text, with the edge of every limit and the chance that all hold. */
import { errorAbout } from "#base";
import {
  type Chip,
  type DesignValue,
  openChip,
  pathKey,
  type Region,
  type RegionRequest,
  regionInSteps,
  regionPicture,
  regionSentences,
  regionTable,
} from "#chip";
import { readChipText, replaceFile } from "#node";
import { adoptInFolder } from "../adopt-design.ts";
import type { Context } from "../context.ts";
import { regionToJson } from "../region-files.ts";
import { shown, wrap } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

interface SizeOptions {
  readonly drawn?: boolean;
  readonly at?: string;
  readonly fine?: boolean;
  readonly with: readonly string[];
  readonly svg?: string;
  readonly csv?: string;
  readonly json?: boolean;
  readonly adopt?: readonly string[];
  readonly best?: boolean;
}

/** Works the region out step by step, telling how far it is. */
async function regionOf(chip: Chip, request: RegionRequest, context: Context): Promise<Region> {
  const steps = regionInSteps(chip, request);
  for (;;) {
    const step = await steps.next();
    if (step.done === true) {
      context.clearProgress();
      return step.value;
    }
    const { done, total, what } = step.value;
    context.progress(done, total, what);
  }
}

/** Two values as typed, in SI, once they prove to be of the right kind. Throws InputError. */
function designTyped(chip: Chip, names: readonly string[], values: readonly string[]): readonly DesignValue[] {
  if (values.length !== 2)
    throw errorAbout(
      "--adopt",
      `Two values are wanted, one for "${names[0]}" and one for "${names[1]}", found ${values.length}.`,
    );
  const tried = chip.with(names.map((name, i) => ({ name, value: values[i]! }))).side("drawn").scope;
  return names.map((name) => {
    // with() has found it
    const found = chip.addresses.find(name) as Extract<ReturnType<Chip["addresses"]["find"]>, { kind: "one" }>;
    return { key: pathKey(found.quantity.path), value: tried.amountOf(found.quantity).value };
  });
}

export const registerSize: RegisterCommand = (program, run) => {
  program
    .command("size")
    .argument("<folder>", "folder with a chip.yaml")
    .argument("<name>", 'first quantity to vary, for example "legs length"')
    .argument("<from>", 'its least value, for example "500 um"')
    .argument("<to>", "its greatest value")
    .argument("<other>", 'second quantity to vary, for example "leg width"')
    .argument("<otherFrom>", "its least value")
    .argument("<otherTo>", "its greatest value")
    .option("--at <case>", "only limits at this operating case; all limits where left out")
    .option("--drawn", "on the as-drawn side; as built where left out")
    .option("--fine", "halve the grid of designs once more, which takes longer")
    .option("--with <change>", "another value for something else; may be repeated", collect, [])
    .option("--svg <file>", "write the picture to this file")
    .option("--csv <file>", "write the edges and contours to this file")
    .option("--json", "print the region as data")
    .option("--best", "write the best design found into the text")
    .option("--adopt <values...>", 'only write these two values into the text, for example --adopt "620 um" "7.2 um"')
    .description("show where a design may live over two quantities, and adopt a design")
    .addHelpText(
      "after",
      '\nExamples:\n  waferwright size examples/01-one-bent-beam "legs length" "300 um" "800 um" "leg width" "4 um" "10 um" --svg region.svg\n  waferwright size my-chip "legs length" "500 um" "1 mm" "leg width" "4 um" "10 um" --at hold --best',
    )
    .action(
      (
        folder: string,
        name: string,
        from: string,
        to: string,
        other: string,
        otherFrom: string,
        otherTo: string,
        options: SizeOptions,
      ) =>
        run(async (context) => {
          const read = await readChipText(folder);
          const text = openChip(read.text, { file: read.path });
          if (options.adopt !== undefined) {
            await adoptInFolder(context, folder, designTyped(text, [name, other], options.adopt));
            return;
          }
          const about = {
            side: options.drawn === true ? ("drawn" as const) : ("built" as const),
            ...(options.at !== undefined && { caseName: options.at }),
          };
          const ranges = { x: { name, from, to }, y: { name: other, from: otherFrom, to: otherTo } };
          const region = await regionOf(
            text.with(options.with.map(parseOverride)),
            { ...ranges, ...about, halvings: options.fine === true ? 4 : 3 },
            context,
          );
          if (options.json === true) context.print(regionToJson(region));
          else
            for (const sentence of regionSentences(region))
              for (const line of wrap(shown(sentence, context.style), 110)) context.print(line);
          const write = async (file: string, content: string): Promise<void> => {
            await replaceFile(file, content);
            if (options.json !== true) context.print(`wrote ${file}`);
          };
          if (options.svg !== undefined)
            await write(options.svg, regionPicture(region, { chip: text.description.sections.chip }));
          if (options.csv !== undefined) await write(options.csv, regionTable(region));
          if (options.best !== true) return;
          if (region.best === undefined)
            throw errorAbout(read.path, "No design here has a chance to keep all limits, so that none was written.");
          const design = [
            { key: region.x.key, value: region.best.x },
            { key: region.y.key, value: region.best.y },
          ];
          await adoptInFolder(context, folder, design, about);
        }),
    );
};
