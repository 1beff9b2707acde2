/**
 * Replaces a file as a whole: whoever reads it, and whatever kills this program at whatever moment, finds the old content or the
 * new one, never a mixture. The new content goes to a part file in the same folder, onto the disk, and over the old file by a
 * rename. A part that a killed program left behind is named so that it is recognised and swept away later.
 * Main test: test/end-to-end/save-survives-kill.campaign.ts.
 */

import { randomBytes } from "node:crypto";
import { type FileHandle, open, readdir, realpath, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { renameWithPatience } from "./rename-retry.ts";
import { SaveError } from "./save-error.ts";

const onWindows = process.platform === "win32";
const partPattern = /^\..+\.(\d+)-[0-9a-f]{12}\.part$/;
const partsInUse = new Set<string>();
/** A part older than this [ms] belongs to nobody, even if its process number lives again. */
const longestSave = 24 * 3600 * 1000;

function codeOf(error: unknown): string {
  return (error as NodeJS.ErrnoException).code ?? "";
}

/** Path of the file that really holds the content: a link stays a link, what it points to is replaced. */
async function followLinks(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch (error) {
    if (codeOf(error) !== "ENOENT") throw error;
    return path;
  }
}

/** Access rights of the file to be replaced, undefined when there is none yet. */
async function readMode(target: string, path: string): Promise<number | undefined> {
  let found: Awaited<ReturnType<typeof stat>>;
  try {
    found = await stat(target);
  } catch (error) {
    if (codeOf(error) === "ENOENT") return undefined;
    throw error;
  }
  if (found.isDirectory()) throw new SaveError(path, "folder in the way", { found: "it is a folder, not a file" });
  // A rename would go over a read-only file without asking.
  if ((found.mode & 0o222) === 0) throw new SaveError(path, "read-only", { found: "it is read-only" });
  return found.mode & 0o7777;
}

/** Brings the new name onto the disk. Not every system can: the content is whole in either case. */
async function syncFolder(folder: string): Promise<void> {
  if (onWindows) return;
  let handle: FileHandle | undefined;
  try {
    handle = await open(folder, "r");
    await handle.sync();
  } catch (error) {
    if (!["EINVAL", "EPERM", "EACCES", "EISDIR", "ENOTSUP", "EBADF"].includes(codeOf(error))) throw error;
  } finally {
    await handle?.close();
  }
}

async function writePart(part: string, content: string | Uint8Array, mode: number | undefined): Promise<void> {
  const handle = await open(part, "wx");
  try {
    if (mode !== undefined && !onWindows) await handle.chmod(mode);
    await handle.writeFile(content);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function replaceTarget(path: string, content: string | Uint8Array): Promise<void> {
  const target = await followLinks(path);
  const mode = await readMode(target, path);
  const folder = dirname(target);
  const part = join(folder, `.${basename(target)}.${process.pid}-${randomBytes(6).toString("hex")}.part`);
  partsInUse.add(part);
  try {
    await writePart(part, content, mode);
    await renameWithPatience(part, target, { rename, wait: (time) => setTimeout(time), mayPass: onWindows });
  } catch (error) {
    await rm(part, { force: true }).catch(() => undefined);
    throw error;
  } finally {
    partsInUse.delete(part);
  }
  await syncFolder(folder);
}

const plainReasons: Readonly<Record<string, string>> = {
  ENOENT: "its folder does not exist",
  ENOTDIR: "its folder is a file",
  ENOSPC: "the disk is full",
  EDQUOT: "the disk quota is used up",
  EACCES: "access is denied",
  EPERM: "access is denied",
  EROFS: "the disk is read-only",
  EBUSY: "another program holds it",
  ENAMETOOLONG: "its name is too long",
  ELOOP: "it is a link that leads back to itself",
};

/** Replaces the content of a file, or creates it, as a whole or not at all. Keeps its access rights and links to it. */
export async function replaceFile(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await replaceTarget(path, content);
  } catch (error) {
    if (error instanceof SaveError) throw error;
    const found = plainReasons[codeOf(error)] ?? (error as Error).message;
    throw new SaveError(path, "refused by the system", { found, cause: error });
  }
}

function isRunning(processNumber: number): boolean {
  try {
    process.kill(processNumber, 0);
    return true;
  } catch (error) {
    // A process that may not be signalled does run.
    return codeOf(error) !== "ESRCH";
  }
}

/**
 * Removes the parts that killed programs left in a folder and returns their names. A part stays while its program runs, and while
 * it is younger than `youngest` [ms]: a program on another computer that shares the folder may be about to rename it.
 */
export async function sweepParts(folder: string, { youngest = 60_000 }: { youngest?: number } = {}): Promise<string[]> {
  const swept: string[] = [];
  for (const name of await readdir(folder)) {
    const processNumber = partPattern.exec(name)?.[1];
    const path = join(folder, name);
    if (processNumber === undefined || partsInUse.has(path)) continue;
    try {
      const age = Date.now() - (await stat(path)).mtimeMs;
      if (age < youngest || (age < longestSave && isRunning(Number(processNumber)))) continue;
      await rm(path);
    } catch (error) {
      if (codeOf(error) !== "ENOENT") throw error;
      continue;
    }
    swept.push(name);
  }
  return swept.sort();
}
