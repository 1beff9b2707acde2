/** Where chips are kept when no server stands behind the page: folders of the disk where the browser lets a page write them, else this page. */
import { readChipFile } from "./chip-bytes.ts";
import type { ChipStore } from "./chip-store.ts";
import { type DiskFolder, diskStore } from "./disk-store.ts";
import { fileStore } from "./file-store.ts";

export interface WithoutServer {
  /** Chips that the page carries, by name. */
  readonly texts: ReadonlyMap<string, string>;
  /** A text for a new chip of this name. */
  readonly newText: (name: string) => string;
  /** The name that a text gives to its chip. */
  readonly titleOf: (text: string) => string | undefined;
}

/** The browser's own dialog for folders; not every browser has one. */
interface FolderPicker {
  showDirectoryPicker?(options: { id: string; mode: "readwrite" }): Promise<DiskFolder>;
}

function pickFile(): Promise<{ name: string; text: string } | undefined> {
  const input = document.createElement("input");
  input.type = "file";
  input.accept = ".yaml,.yml";
  return new Promise((resolve, reject) => {
    input.onchange = () => {
      const file = input.files?.[0];
      if (file === undefined) resolve(undefined);
      else readChipFile(file).then(({ text }) => resolve({ name: file.name, text }), reject);
    };
    input.oncancel = () => resolve(undefined);
    input.click();
  });
}

export function storeWithoutServer({ texts, newText, titleOf }: WithoutServer): ChipStore {
  const page = globalThis as FolderPicker;
  const besides = fileStore({ texts, pickFile, newText, titleOf });
  if (page.showDirectoryPicker === undefined) return besides;
  const pickFolder = (): Promise<DiskFolder> => page.showDirectoryPicker!({ id: "waferwright", mode: "readwrite" });
  return diskStore({ pickFolder, newText, titleOf, besides });
}
