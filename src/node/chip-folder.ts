/**
 * Reads and saves the text of a chip folder, chip.yaml, without ever losing what a person wrote: what cannot be read is refused
 * with its place, a byte-order mark and the line ends stay as they are, and a text that changed on disk is not saved over.
 * Main test: chip-folder.test.ts.
 */

import { readFile, stat } from "node:fs/promises";
import { join, resolve } from "node:path";
import { InputError } from "#base";
import { chipFileName, largestChipText } from "#chip";
import { replaceFile } from "./atomic-write.ts";
import { SaveError } from "./save-error.ts";
import { findBrokenUtf8 } from "./utf8.ts";

export interface ChipText {
  /** Path of the file. */
  readonly path: string;
  /** The text without its byte-order mark. */
  readonly text: string;
  /** The file starts with a byte-order mark; saving keeps it. */
  readonly hasByteOrderMark: boolean;
}

function refuse(path: string, message: string, { line = 1, column = 1 } = {}): InputError {
  return new InputError([{ place: { file: path, line, column }, message }]);
}

/** The place, as an editor shows it, of a byte that is not UTF-8. */
function refuseBrokenText(path: string, bytes: Uint8Array, offset: number): InputError {
  if (offset === 0 && (bytes[0] === 0xff || bytes[0] === 0xfe)) {
    return refuse(path, "Cannot read the chip text: wanted UTF-8, found UTF-16 (byte 0). Save the file as UTF-8.");
  }
  const before = new TextDecoder("utf-8").decode(bytes.subarray(0, offset)).split("\n");
  const byte = `0x${bytes[offset]!.toString(16).toUpperCase().padStart(2, "0")}`;
  return refuse(path, `Cannot read the chip text: wanted UTF-8, found ${byte} at byte ${offset}. Save the file as UTF-8.`, {
    line: before.length,
    column: (before[before.length - 1] ?? "").length + 1,
  });
}

function decodeChipText(path: string, bytes: Uint8Array): ChipText {
  if (bytes.length > largestChipText) throw refuseLargeText(path, bytes.length);
  const offset = findBrokenUtf8(bytes);
  if (offset !== -1) throw refuseBrokenText(path, bytes, offset);
  const hasByteOrderMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const text = new TextDecoder("utf-8", { ignoreBOM: true }).decode(hasByteOrderMark ? bytes.subarray(3) : bytes);
  return { path, text, hasByteOrderMark };
}

function refuseLargeText(path: string, size: number): InputError {
  const found = `${(size / 1e6).toFixed(2)} MB`;
  return refuse(
    path,
    `Cannot read the chip text: wanted at most ${largestChipText / 1e6} MB, found ${found}. Keep tables in CSV files.`,
  );
}

async function measureFile(folder: string, path: string): Promise<number> {
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => error);
  if (found instanceof Error) {
    if (found.code !== "ENOENT" && found.code !== "ENOTDIR") throw refuse(path, `Cannot read the chip text: ${found.message}.`);
    const folderFound = await stat(folder).catch(() => undefined);
    if (folderFound === undefined) throw refuse(folder, "Cannot find this folder: wanted a chip folder.");
    if (!folderFound.isDirectory()) throw refuse(folder, "Cannot use a file here: wanted the folder that holds it.");
    throw refuse(path, `Cannot find ${chipFileName} in this folder: wanted a chip folder.`);
  }
  // Anything but a file, a pipe for one, could keep the program waiting for ever.
  if (!found.isFile()) throw refuse(path, "Cannot read the chip text: wanted a file, found something else.");
  return found.size;
}

/** Reads the chip text of a folder. Throws an InputError, one plain sentence with its place, when there is none to be read. */
export async function readChipText(folder: string): Promise<ChipText> {
  const path = join(folder, chipFileName);
  const size = await measureFile(folder, path);
  if (size > largestChipText) throw refuseLargeText(path, size);
  const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) => {
    throw refuse(path, `Cannot read the chip text: ${error.code === "EACCES" ? "access is denied" : error.message}.`);
  });
  return decodeChipText(path, bytes);
}

/** Saves that wait for an earlier one of the same file, by full path. */
const lastSaves = new Map<string, Promise<void>>();

async function isMissing(path: string): Promise<boolean> {
  return stat(path).then(
    () => false,
    (error: NodeJS.ErrnoException) => error.code === "ENOENT",
  );
}

async function saveIfUnchanged(folder: string, text: string, expected: string | undefined): Promise<void> {
  const path = join(folder, chipFileName);
  let mark = "";
  if (await isMissing(path)) {
    if (expected !== undefined) throw new SaveError(path, "changed on disk", { found: "it is no longer there" });
  } else {
    const onDisk = await readChipText(folder);
    if (onDisk.text !== expected) {
      const found =
        expected === undefined ? "there is such a file already" : "it was changed by another program since it was read";
      throw new SaveError(path, "changed on disk", { found });
    }
    if (onDisk.hasByteOrderMark) mark = "\uFEFF";
  }
  const bytes = new TextEncoder().encode(mark + text);
  if (bytes.length > largestChipText) {
    throw new SaveError(path, "unfit text", { found: `the text is larger than ${largestChipText / 1e6} MB` });
  }
  if (decodeChipText(path, bytes).text !== text) {
    throw new SaveError(path, "unfit text", { found: "the text holds half a character or starts with a byte-order mark" });
  }
  await replaceFile(path, bytes);
}

/**
 * Saves a chip text if the file still holds `expected`, the text it was made from; `undefined` means that there is no file yet.
 * Otherwise throws a SaveError and leaves the file alone. A byte-order mark on disk is kept. Two saves from this program wait
 * for each other; another program that saves in the moment between the comparison and the rename is not seen.
 */
export async function saveChipText(folder: string, text: string, { expected }: { expected: string | undefined }): Promise<void> {
  const key = resolve(folder);
  const save = (lastSaves.get(key) ?? Promise.resolve()).then(() => saveIfUnchanged(folder, text, expected));
  const settled = save.catch(() => undefined);
  lastSaves.set(key, settled);
  await settled;
  if (lastSaves.get(key) === settled) lastSaves.delete(key);
  return save;
}
