/** What happened last, in words: the last change with the way back, a choice to be made, work that goes on. In sight in every view. */
import { lastChange, nextChange } from "../state/history.ts";
import { conflict, doAgain, isHolding, news, settle, takeBack, work } from "../state/workbench.ts";

export function LedgerNews() {
  const change = lastChange.value;
  const again = nextChange.value;
  const busy = work.value;
  const open = conflict.value;
  return (
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
  );
}
