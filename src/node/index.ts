export { replaceFile, sweepParts } from "./atomic-write.ts";
export type { ChipText } from "./chip-folder.ts";
export { chipFileName, largestChipText, readChipText, saveChipText } from "./chip-folder.ts";
export type { SaveFailure } from "./save-error.ts";
export { SaveError } from "./save-error.ts";
