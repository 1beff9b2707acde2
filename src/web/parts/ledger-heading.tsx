/** Heading of the ledger: its legend, the only one of the program, and the last change in words with the way back. */
import type { ComponentChildren } from "preact";
import { lastChange, nextChange } from "../state/history.ts";
import { conflict, doAgain, isHolding, news, settle, takeBack, work } from "../state/workbench.ts";

export function LedgerHeading({ more }: { readonly more: ComponentChildren }) {
  const change = lastChange.value;
  const again = nextChange.value;
  const busy = work.value;
  const open = conflict.value;
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
      <p class="news" role="status">
        {open !== undefined ? (
          <span class="conflict">
            The file was changed outside while you changed it here.{" "}
            <button type="button" class="link" onClick={() => void settle("ours")}>
              Keep what is here
            </button>{" "}
            <button type="button" class="link" onClick={() => void settle("theirs")}>
              Take what is outside
            </button>
          </span>
        ) : busy !== undefined && !isHolding.value ? (
          <span>
            Working out {busy.what}, {Math.round(100 * busy.part)} in 100
          </span>
        ) : change !== undefined ? (
          <span>
            {change.from === "outside" ? "Changed outside: " : ""}
            <strong>{change.sentence}</strong>{" "}
            <button type="button" class="link" onClick={() => void takeBack()}>
              Take it back
            </button>{" "}
            <kbd>Ctrl Z</kbd>
          </span>
        ) : (
          <span>{news.value}</span>
        )}
        {again === undefined ? null : (
          <button type="button" class="link" onClick={() => void doAgain()}>
            Do again
          </button>
        )}
      </p>
    </header>
  );
}
