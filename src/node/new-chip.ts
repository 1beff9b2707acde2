/** Makes a chip folder: with a text to begin with, or as a copy of another chip folder. A chip that is there is never written over. */

import { cp, mkdir } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { newChipText } from "#chip";
import { readChipText, saveChipText } from "./chip-folder.ts";
import { SaveError } from "./save-error.ts";

export interface NewChipOptions {
  /** Name of the chip in its text; otherwise that of the folder. For a copy the text stays as it is. */
  readonly name?: string;
  /** Chip folder to copy. */
  readonly from?: string;
}

async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true });
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? "";
    const found = code === "EEXIST" || code === "ENOTDIR" ? "there is a file of this name" : (error as Error).message;
    throw new SaveError(folder, code === "EEXIST" ? "folder in the way" : "refused by the system", { found, cause: error });
  }
}

/** Makes the folder and its chip.yaml. Throws SaveError when there is one already or the system refuses, InputError when there is none to copy. */
export async function createChipFolder(folder: string, { name, from }: NewChipOptions): Promise<void> {
  await makeFolder(folder);
  const text = from === undefined ? newChipText(name ?? basename(resolve(folder))) : (await readChipText(from)).text;
  // The text goes first, and only where there is none: of two who make the same chip at once, one is refused before it copies.
  await saveChipText(folder, text, { expected: undefined });
  if (from !== undefined) await cp(from, folder, { recursive: true, force: false });
}
