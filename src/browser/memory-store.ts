/** Chips kept in this page alone, for builds that no server stands behind. */
import type { ChipStore, FolderEntry, TextState } from "./chip-store.ts";

export function memoryStore(texts: ReadonlyMap<string, string>): ChipStore {
  const states = new Map<string, TextState>([...texts].map(([id, text]) => [id, { text, tag: "0" }]));
  const entry = (id: string): FolderEntry => ({ id, name: id, title: id });
  const stateOf = (id: string): TextState => {
    const state = states.get(id);
    if (state === undefined) throw new RangeError(`Cannot read "${id}": no such chip is kept here`);
    return state;
  };
  return {
    kind: "memory",
    list: async () => [...states.keys()].map(entry),
    read: async (id) => stateOf(id),
    save: async (id, { text, tag }) => {
      const state = stateOf(id);
      if (state.tag !== tag) return { outcome: "changed elsewhere", ...state };
      const next = { text, tag: String(Number(tag) + 1) };
      states.set(id, next);
      return { outcome: "saved", tag: next.tag };
    },
    watch: () => () => {},
    open: async (path) => {
      throw new RangeError(`Cannot open ${path}: this page has no server behind it. Open the file instead.`);
    },
    create: async (_, name) => {
      states.set(name, { text: "", tag: "0" });
      return entry(name);
    },
  };
}
