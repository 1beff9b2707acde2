/**
 * Chips for browsers that cannot write files: the person picks a chip.yaml, it is kept in this page, and comes back to the disk as a copy
 * that is saved. Its kind is "memory", so that the page can say so. Main test: chip-stores.test.ts.
 */
import type { ChipStore, FolderEntry } from "./chip-store.ts";
import { memoryStore } from "./memory-store.ts";

export interface FileOptions {
  /** Chips that the page carries, by name. */
  readonly texts: ReadonlyMap<string, string>;
  /** Lets the person pick a file; undefined when none was picked. */
  readonly pickFile: () => Promise<{ readonly name: string; readonly text: string } | undefined>;
  /** A text for a new chip of this name. */
  readonly newText: (name: string) => string;
  /** The name that a text gives to its chip. */
  readonly titleOf: (text: string) => string | undefined;
}

export function fileStore({ texts, pickFile, newText, titleOf }: FileOptions): ChipStore {
  /** One store for each chip that came in, by its id. */
  const stores = new Map<string, ChipStore>();
  const add = (wanted: string, text: string): FolderEntry => {
    let id = wanted;
    for (let k = 2; stores.has(id); k++) id = `${wanted} (${k})`;
    stores.set(id, memoryStore(new Map([[id, text]])));
    return { id, name: id, title: id };
  };
  for (const [name, text] of texts) add(name, text);
  const storeOf = (id: string): ChipStore => {
    const store = stores.get(id);
    if (store === undefined) throw new RangeError(`Cannot find "${id}": no such chip is kept here`);
    return store;
  };
  return {
    kind: "memory",
    list: async () => (await Promise.all([...stores.values()].map((store) => store.list()))).flat(),
    read: async (id) => storeOf(id).read(id),
    save: async (id, state) => storeOf(id).save(id, state),
    watch: (id, listener) => storeOf(id).watch(id, listener),
    open: async () => {
      const picked = await pickFile();
      if (picked === undefined) throw new Error("No file was picked.");
      return add(titleOf(picked.text) ?? picked.name, picked.text);
    },
    create: async (_, name) => add(name === "" ? "New chip" : name, newText(name === "" ? "New chip" : name)),
  };
}
