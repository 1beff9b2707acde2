/** What a chip text is on the disk, whoever reads it there: the program or the page. */

export const chipFileName = "chip.yaml";
/** Largest chip text [bytes]: a description by hand is a hundredth of it; measured values belong in tables beside it. */
export const largestChipText = 1_000_000;
