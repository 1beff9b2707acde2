/** Why a file was not saved; the file on disk is then as it was before. */
export type SaveFailure = "changed on disk" | "folder in the way" | "read-only" | "unfit text" | "refused by the system";

/** A file that could not be saved. Its message is one plain sentence for the user. */
export class SaveError extends Error {
  override readonly name = "SaveError";
  readonly path: string;
  readonly failure: SaveFailure;

  constructor(path: string, failure: SaveFailure, detail: { found: string; cause?: unknown }) {
    super(`Cannot save ${path}: ${detail.found}`, { cause: detail.cause });
    this.path = path;
    this.failure = failure;
  }
}
