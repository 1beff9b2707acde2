/** draw: a device seen from above, cold or at a case, with its motion exaggerated and its points named. */
import { join } from "node:path";
import { errorAbout } from "#base";
import { drawDevice } from "#chip";
import { replaceFile } from "#node";
import { amber, night, paper, type Tokens } from "#picture";
import { openFolder } from "../context.ts";
import type { RegisterCommand } from "./command.ts";
import { collect, parseOverride } from "./predict.ts";

const lights: Readonly<Record<string, Tokens>> = { paper, night, amber };

interface DrawOptions {
  readonly at?: string;
  readonly device?: string;
  readonly built?: boolean;
  readonly exaggerate: string;
  /** True where the option stands without names. */
  readonly points?: string | true;
  readonly light: string;
  readonly with: readonly string[];
  readonly out?: string;
}

function tokensOf(light: string): Tokens {
  const tokens = Object.hasOwn(lights, light) ? lights[light] : undefined;
  if (tokens !== undefined) return tokens;
  const message = `Cannot draw in the light "${light}": wanted one of ${Object.keys(lights).join(", ")}.`;
  throw errorAbout("--light", message);
}

function namesOf(points: string | true | undefined): "all" | readonly string[] {
  if (points === true) return "all";
  return points === undefined
    ? []
    : points
        .split(",")
        .map((name) => name.trim())
        .filter((name) => name !== "");
}

export const registerDraw: RegisterCommand = (program, run) => {
  program
    .command("draw")
    .argument("<folder>", "folder with a chip.yaml")
    .option("--at <case>", "steady case whose temperatures and motion are shown (cold and at rest otherwise)")
    .option("--device <name>", "device; needed only where there are several")
    .option("--built", "at the case as built")
    .option("--exaggerate <factor>", "factor on the motion", "1")
    .option("--points [names]", 'name the points of the device: all, or those given, as in --points "tip, drive top"')
    .option("--light <name>", "paper, night or amber", "paper")
    .option("--with <change>", "another value for something; may be repeated", collect, [])
    .option("-o, --out <file>", "write to this file (device.svg inside the chip folder otherwise)")
    .description("draw a device from above: its parts, temperatures, motion and points (SVG)")
    .addHelpText(
      "after",
      "\nExamples:\n  waferwright draw examples/02-leafgate --points -o shutter.svg\n  waferwright draw examples/02-leafgate --at hold --exaggerate 10 --light night -o hot.svg",
    )
    .action((folder: string, options: DrawOptions) =>
      run(async (context) => {
        const chip = (await openFolder(folder)).with(options.with.map(parseOverride));
        const svg = drawDevice(chip, {
          device: options.device,
          side: options.built === true ? "built" : "drawn",
          caseName: options.at,
          exaggeration: Number(options.exaggerate),
          points: namesOf(options.points),
          tokens: tokensOf(options.light),
        });
        const file = options.out ?? join(folder, "device.svg");
        await replaceFile(file, svg);
        context.print(`wrote ${file}`);
      }),
    );
};
