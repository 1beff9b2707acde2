/** mask: the plates of the die as a stream file (GDSII) and as pictures (SVG), read back and compared before they count as written. */
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { SolveError } from "#base";
import { buildPlates, type DiePlates } from "#chip";
import { areaOf, squareMetresFromDbu } from "#geometry";
import { compareLibraries, formatGdsii, formatPlateSvg, parseGdsii } from "#mask";
import { replaceFile } from "#node";
import { paper } from "#picture";
import { openFolder } from "../context.ts";
import { wrap } from "../terminal/style.ts";
import type { RegisterCommand } from "./command.ts";

export interface MaskWriting {
  readonly files: readonly string[];
  readonly plates: DiePlates;
}

/** Writes the plates of a chip into a folder. The stream file is read back and must say the same. */
export async function writeMask(folder: string, out: string): Promise<MaskWriting> {
  const chip = await openFolder(folder);
  const plates = buildPlates(chip);
  const now = new Date();
  const date = {
    year: now.getFullYear(),
    month: now.getMonth() + 1,
    day: now.getDate(),
    hour: now.getHours(),
    minute: now.getMinutes(),
    second: now.getSeconds(),
  };
  const bytes = formatGdsii(plates.library, { date });
  const differences = compareLibraries(plates.library, parseGdsii(bytes).library);
  if (differences.length > 0) {
    throw new SolveError("The stream file does not read back as it was written", {
      method: "GDSII round trip",
      iterations: 1,
      residual: differences.length,
      target: 0,
      hint: "Please report this with the chip text.",
    });
  }
  await mkdir(out, { recursive: true });
  const name = plates.topCell.toLowerCase().replaceAll("_", "-");
  const files = [join(out, `${name}.gds`)];
  await replaceFile(files[0]!, bytes);
  for (const plate of plates.plates) {
    const file = join(out, `${name}-${plate.name}.svg`);
    await replaceFile(
      file,
      formatPlateSvg({
        title: `${chip.description.sections.chip}, ${plate.name} plate`,
        polygons: plate.drawn,
        outline: plates.outline,
        ink: paper.ink,
        glass: paper.sheet,
      }),
    );
    files.push(file);
  }
  return { files, plates };
}

export const registerMask: RegisterCommand = (program, run) => {
  program
    .command("mask")
    .argument("<folder>", "folder with a chip.yaml")
    .option("-o, --out <folder>", "folder to write to (mask inside the chip folder otherwise)")
    .description("draw the plates of the die: GDSII and SVG, read back and compared")
    .addHelpText("after", "\nExample:\n  waferwright mask examples/02-leafgate -o out")
    .action((folder: string, options: { out?: string }) =>
      run(async (context) => {
        const { files, plates } = await writeMask(folder, options.out ?? join(folder, "mask"));
        for (const plate of plates.plates) {
          const area = squareMetresFromDbu(areaOf(plate.drawn)) * 1e6;
          context.print(
            `  ${plate.name.padEnd(8)} layer ${String(plate.layer).padEnd(3)} ${String(plate.drawn.length).padStart(4)} outlines, ${area.toFixed(3)} mm²`,
          );
        }
        for (const finding of plates.findings) for (const line of wrap(finding.message, 100)) context.print(`  ${line}`);
        context.print(`wrote ${files.join(", ")}; the stream file reads back the same.`);
        if (plates.findings.some((finding) => finding.severity === "error")) context.exitCode = 1;
      }),
    );
};
