/** Heading of the ledger: its legend, the only one of the program, and what happened last. */
import type { ComponentChildren } from "preact";
import { LedgerNews } from "./ledger-news.tsx";

export function LedgerHeading({ more }: { readonly more: ComponentChildren }) {
  return (
    <header class="ledger-heading">
      <h2>What must hold</h2>
      <p class="legend" aria-hidden="true">
        <svg aria-hidden="true" width="16" height="16">
          <circle cx="8" cy="8" r="5" class="as-drawn" />
        </svg>{" "}
        as drawn
        <svg aria-hidden="true" width="34" height="16">
          <path d="M2 8Q17 -6 32 8Q17 22 2 8Z" class="lens" />
          <circle cx="17" cy="8" r="5" class="as-built" />
        </svg>{" "}
        as built
        <svg aria-hidden="true" width="16" height="16">
          <path d="M2 8L8 2L14 8L8 14Z" class="measured-mark" />
        </svg>{" "}
        measured
        <svg aria-hidden="true" width="16" height="16">
          <circle cx="8" cy="8" r="5" class="before" />
        </svg>{" "}
        before your last change
      </p>
      {more}
      <LedgerNews />
    </header>
  );
}
