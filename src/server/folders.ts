/**
 * The chip folders that are open at this server. A folder is opened by its path once; from then on it is spoken of by a number.
 * Its chip.yaml may be a link within the folder, never one that leads out: looked at anew each time, because a link can be changed.
 */
import { createHash } from "node:crypto";
import { basename, resolve } from "node:path";
import { errorAbout } from "#base";
import { chipFileName, titleOfChipText } from "#chip";
import { createChipFolder, findInside, readChipText, SaveError, saveChipText, sweepParts, watchFile } from "#node";

export interface OpenFolder {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly path: string;
}

export interface TextState {
  readonly text: string;
  /** Digest of the text. */
  readonly tag: string;
}

export type Saved = { readonly isSaved: true; readonly tag: string } | ({ readonly isSaved: false } & TextState);

export const tagOf = (text: string): string => createHash("sha256").update(text).digest("hex");

export class Folders {
  private readonly paths = new Map<string, string>();

  /** Opens a folder that holds a chip text. Throws InputError. */
  async open(path: string): Promise<OpenFolder> {
    const full = resolve(path);
    const text = await readText(full);
    // what a killed program left; a folder that cannot be written to can still be read
    await sweepParts(full).catch(() => []);
    const known = [...this.paths].find(([, other]) => other === full);
    const id = known?.[0] ?? String(this.paths.size + 1);
    this.paths.set(id, full);
    return entryOf(id, full, text);
  }

  /** Makes a new chip in a folder that holds none, and opens it. Throws SaveError. */
  async create(path: string, name: string): Promise<OpenFolder> {
    await createChipFolder(resolve(path), name === "" ? {} : { name });
    return this.open(path);
  }

  /** All open folders; one whose text cannot be read now goes by its name. */
  list(): Promise<readonly OpenFolder[]> {
    return Promise.all([...this.paths].map(async ([id, path]) => entryOf(id, path, await readText(path).catch(() => ""))));
  }

  has(id: string): boolean {
    return this.paths.has(id);
  }

  /** Throws InputError. */
  async read(id: string): Promise<TextState> {
    const text = await readText(this.pathOf(id));
    return { text, tag: tagOf(text) };
  }

  /** Saves over the text with that tag; what another program wrote meanwhile is handed back instead. Throws SaveError, InputError. */
  async save(id: string, { text, tag }: TextState): Promise<Saved> {
    const path = this.pathOf(id);
    const now = await this.read(id);
    if (now.tag !== tag) return { isSaved: false, ...now };
    try {
      await saveChipText(path, text, { expected: now.text });
    } catch (error) {
      // another save came in between: its text is handed back like any other
      if (error instanceof SaveError && error.failure === "changed on disk") return { isSaved: false, ...(await this.read(id)) };
      throw error;
    }
    return { isSaved: true, tag: tagOf(text) };
  }

  /** Tells each text that the file comes to rest with; what cannot be read is passed over. The answer ends it. */
  watch(id: string, listener: (state: TextState) => Promise<void>): () => void {
    const path = this.pathOf(id);
    return watchFile(resolve(path, chipFileName), async () => {
      const state = await this.read(id).catch(() => undefined);
      if (state !== undefined) await listener(state);
    });
  }

  private pathOf(id: string): string {
    const path = this.paths.get(id);
    if (path === undefined) throw new RangeError(`Cannot find the folder "${id}": it has not been opened`);
    return path;
  }
}

async function readText(folder: string): Promise<string> {
  if ((await findInside(folder, chipFileName)).found === "outside") {
    throw errorAbout(
      resolve(folder, chipFileName),
      `Cannot read the chip text: ${chipFileName} is a link that leads out of its folder. Put the file itself there.`,
    );
  }
  return (await readChipText(folder)).text;
}

const entryOf = (id: string, path: string, text: string): OpenFolder => ({
  id,
  name: basename(path),
  title: titleOfChipText(text) ?? basename(path),
  path,
});
