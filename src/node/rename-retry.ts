/**
 * Rename that waits for others to let go of a file. On Windows a virus scanner, an indexer or an editor may hold the target for
 * a moment, and the rename is refused; everywhere else a refusal is final.
 */

const passingCodes = new Set(["EPERM", "EACCES", "EBUSY"]);

export interface RenameMeans {
  readonly rename: (from: string, to: string) => Promise<void>;
  /** Waits for a time [ms]. */
  readonly wait: (time: number) => Promise<void>;
  /** True where a refusal may pass by itself. */
  readonly mayPass: boolean;
}

/** Renames `from` to `to`, trying again for about 2.5 s in all where a refusal may pass. */
export async function renameWithPatience(from: string, to: string, { rename, wait, mayPass }: RenameMeans): Promise<void> {
  const waits = mayPass ? [10, 20, 40, 80, 160, 320, 640, 1280] : [];
  for (const time of waits) {
    try {
      return await rename(from, to);
    } catch (error) {
      if (!passingCodes.has((error as NodeJS.ErrnoException).code ?? "")) throw error;
    }
    await wait(time);
  }
  return rename(from, to);
}
