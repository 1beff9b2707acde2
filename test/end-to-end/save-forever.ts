/**
 * The program that save-survives-kill.campaign.ts kills: saves two texts in turn until it dies. Arguments: folder, how to save.
 * "whole" saves as the program does; "plain" overwrites the file in place, to show that the test would see a torn file.
 */

import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { chipFileName } from "#chip";
import { replaceFile } from "#node";
import { longTexts } from "./long-texts.ts";

const [folder = ".", way = "whole"] = process.argv.slice(2);
const path = join(folder, chipFileName);
const save = way === "plain" ? writeFile : replaceFile;
for (let turn = 0; ; turn++) {
  await save(path, longTexts[turn % 2]!);
  if (turn === 1) process.stdout.write("saving\n");
}
