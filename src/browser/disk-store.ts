/**
 * Chip folders on the disk without a server: the person points at a folder, the browser reads and writes the chip.yaml in it (File System
 * Access). What is handed back is never guessed: a file that is not UTF-8 is refused, a byte-order mark is kept, and a file that holds
 * another text than the one a change was made from is not written over. The browser itself writes aside and renames.
 * Another program that writes in the moment between the look and the rename is not seen. Main test: chip-stores.test.ts.
 */
import { chipFileName } from "#chip";
import { type ChipBytes, encodeChip, readChipFile } from "./chip-bytes.ts";
import type { ChipStore, FolderEntry, SaveOutcome, TextState } from "./chip-store.ts";

/** What is used of a file's handle; that of the browser fits. */
export interface DiskFile {
  getFile(): Promise<File>;
  createWritable(): Promise<{
    write(bytes: Uint8Array<ArrayBuffer>): Promise<void>;
    close(): Promise<void>;
    abort(): Promise<void>;
  }>;
}

/** What is used of a folder's handle; that of the browser fits. */
export interface DiskFolder {
  readonly kind: "directory";
  readonly name: string;
  getFileHandle(name: string, options?: { create?: boolean }): Promise<DiskFile>;
  isSameEntry(other: DiskFolder): Promise<boolean>;
}

export interface DiskOptions {
  /** Lets the person point at a folder that may be written to. Called within a click. */
  readonly pickFolder: () => Promise<DiskFolder>;
  /** A text for a new chip of this name. */
  readonly newText: (name: string) => string;
  /** The name that a text gives to its chip. */
  readonly titleOf: (text: string) => string | undefined;
  /** Chips that are there besides, such as those the page carries. */
  readonly besides?: ChipStore;
  /** Time between two looks at a watched file [ms]. */
  readonly lookEvery?: number;
}

/** Sentences for what a browser refuses, by the names of its errors. */
const refusals: Readonly<Record<string, string>> = {
  AbortError: "No folder was chosen.",
  NotAllowedError: `The browser may not write ${chipFileName}: open the folder again and allow it.`,
  SecurityError: "The browser does not let this page open folders. Start the program and use its page.",
  NotFoundError: `Cannot find ${chipFileName} in this folder: it was moved, renamed or deleted.`,
  TypeMismatchError: `Cannot read ${chipFileName}: wanted a file, found a folder.`,
  NoModificationAllowedError: `Cannot save ${chipFileName}: another program holds it, or it is read-only.`,
  QuotaExceededError: `Cannot save ${chipFileName}: the disk is full.`,
};

const nameOf = (error: unknown): string => (error instanceof Error || error instanceof DOMException ? error.name : "");

const sentenceOf = (error: unknown): string =>
  refusals[nameOf(error)] ?? (error instanceof Error ? error.message : `Cannot use ${chipFileName}: the browser refused.`);

async function inWords<T>(work: Promise<T>): Promise<T> {
  return work.catch((error: unknown) => {
    throw new Error(sentenceOf(error), { cause: error });
  });
}

async function readHeld(folder: DiskFolder): Promise<ChipBytes> {
  return readChipFile(await (await folder.getFileHandle(chipFileName)).getFile());
}

async function writeHeld(folder: DiskFolder, content: ChipBytes): Promise<void> {
  const bytes = encodeChip(content);
  const writable = await (await folder.getFileHandle(chipFileName, { create: true })).createWritable();
  try {
    await writable.write(bytes);
    await writable.close();
  } catch (error) {
    await writable.abort().catch(() => undefined);
    throw error;
  }
}

async function tagOf(text: string): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function stateOf({ text }: ChipBytes): Promise<TextState> {
  return { text, tag: await tagOf(text) };
}

async function saveIfUnchanged(folder: DiskFolder, { text, tag }: TextState): Promise<SaveOutcome> {
  try {
    const now = await readHeld(folder);
    const state = await stateOf(now);
    if (state.tag !== tag) return { outcome: "changed elsewhere", ...state };
    await writeHeld(folder, { text, hasMark: now.hasMark });
    return { outcome: "saved", tag: await tagOf(text) };
  } catch (error) {
    return { outcome: "failed", reason: sentenceOf(error) };
  }
}

/**
 * Tells a text once its file has been the same in two looks; an empty file may be one that is being written, and must stay so for longer.
 * The first look tells as well: what changed before it would be missed.
 */
async function follow(
  folder: DiskFolder,
  at: { listener: (state: TextState) => void; lookEvery: number; ended: AbortSignal },
): Promise<void> {
  let [seen, told, nSame] = ["", "", 0];
  while (!at.ended.aborted) {
    const file = await folder.getFileHandle(chipFileName).then(
      (handle) => handle.getFile(),
      () => undefined,
    );
    const now = file === undefined ? "" : `${file.lastModified} ${file.size}`;
    nSame = now === seen ? nSame + 1 : 0;
    seen = now;
    if (file !== undefined && now !== told && nSame >= (file.size === 0 ? 3 : 1)) {
      const state = await readHeld(folder).then(stateOf, () => undefined);
      if (at.ended.aborted) return;
      told = now;
      if (state !== undefined) at.listener(state);
    }
    await new Promise((resolve) => setTimeout(resolve, at.lookEvery));
  }
}

interface Opened {
  readonly entry: FolderEntry;
  readonly folder: DiskFolder;
  /** The last save, which the next one waits for. */
  saving: Promise<unknown>;
}

export function diskStore({ pickFolder, newText, titleOf, besides, lookEvery = 250 }: DiskOptions): ChipStore {
  const opened = new Map<string, Opened>();
  const missing = (id: string): string => `Cannot find the folder "${id}": it has not been opened.`;

  const keep = async (folder: DiskFolder): Promise<FolderEntry> => {
    const { text } = await readHeld(folder);
    let id = `folder ${opened.size + 1}`;
    for (const [known, other] of opened) if (await folder.isSameEntry(other.folder)) id = known;
    const entry = { id, name: folder.name, title: titleOf(text) ?? folder.name };
    opened.set(id, { entry, folder, saving: opened.get(id)?.saving ?? Promise.resolve() });
    return entry;
  };

  return {
    kind: "disk",
    list: async () => [...[...opened.values()].map(({ entry }) => entry), ...((await besides?.list()) ?? [])],
    read: async (id) => {
      const found = opened.get(id);
      if (found !== undefined) return inWords(readHeld(found.folder).then(stateOf));
      if (besides === undefined) throw new RangeError(missing(id));
      return besides.read(id);
    },
    save: async (id, state) => {
      const found = opened.get(id);
      if (found === undefined) return besides?.save(id, state) ?? { outcome: "failed", reason: missing(id) };
      const saving = found.saving.then(() => saveIfUnchanged(found.folder, state));
      found.saving = saving;
      return saving;
    },
    watch: (id, listener) => {
      const found = opened.get(id);
      if (found === undefined) return besides?.watch(id, listener) ?? (() => undefined);
      const ended = new AbortController();
      void follow(found.folder, { listener, lookEvery, ended: ended.signal });
      return () => ended.abort();
    },
    open: async () => inWords(pickFolder().then(keep)),
    create: async (_, name) =>
      inWords(
        pickFolder().then(async (folder) => {
          const there = await folder.getFileHandle(chipFileName).catch((error: unknown) => {
            if (nameOf(error) !== "NotFoundError") throw error;
          });
          if (there !== undefined)
            throw new Error(`Cannot make a new chip here: the folder ${folder.name} holds a ${chipFileName} already.`);
          await writeHeld(folder, { text: newText(name === "" ? folder.name : name), hasMark: false });
          return keep(folder);
        }),
      ),
  };
}
