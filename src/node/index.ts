export { replaceFile, sweepParts } from "./atomic-write.ts";
export type { ChipText } from "./chip-folder.ts";
export { readChipText, saveChipText } from "./chip-folder.ts";
export { findInside } from "./inside.ts";
export { createChipFolder } from "./new-chip.ts";
export type { SaveFailure } from "./save-error.ts";
export { SaveError } from "./save-error.ts";
export { watchFile } from "./watch-file.ts";
