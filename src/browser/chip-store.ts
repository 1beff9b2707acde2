/** Where chip folders are kept, as the page sees it: behind a server, or in this browser alone. */

export interface FolderEntry {
  readonly id: string;
  readonly name: string;
  readonly title: string;
  readonly path?: string;
}

export interface TextState {
  readonly text: string;
  /** Says which state of the file this is. */
  readonly tag: string;
}

export type SaveOutcome =
  | { readonly outcome: "saved"; readonly tag: string }
  | { readonly outcome: "changed elsewhere"; readonly text: string; readonly tag: string }
  | { readonly outcome: "failed"; readonly reason: string };

export interface ChipStore {
  readonly kind: "server" | "memory" | "disk";
  list(): Promise<readonly FolderEntry[]>;
  read(id: string): Promise<TextState>;
  /** Saves over the state with that tag, and over no other. */
  save(id: string, state: TextState): Promise<SaveOutcome>;
  /** Tells of each change from outside; the answer ends it. */
  watch(id: string, listener: (state: TextState) => void): () => void;
  open(path: string): Promise<FolderEntry>;
  create(path: string, name: string): Promise<FolderEntry>;
}
