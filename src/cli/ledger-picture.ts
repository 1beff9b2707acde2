/** The ledger as a picture of rails: the same rows and words as in the terminal. */
import { type Ledger, railRows } from "#chip";
import { railPicture } from "#picture";

/** SVG text of the whole ledger. */
export function ledgerPicture(ledger: Ledger): string {
  return railPicture({ title: `${ledger.chip.description.sections.chip}: what must hold`, rows: railRows(ledger) });
}
