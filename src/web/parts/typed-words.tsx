/** Words or a number being written in place: Enter and leaving keep them, Escape leaves them as they were. */

import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";

export interface TypedWordsProps {
  readonly label: string;
  /** What stands there when writing begins. */
  readonly start: string;
  /** Letters of room at least. */
  readonly room: number;
  /** Called once: with what was written, or with nothing after Escape. */
  readonly onDone: (written: string | undefined) => void;
  /** What stays beside it, such as a unit. */
  readonly children?: ComponentChildren;
}

export function TypedWords({ label, start, room, onDone, children }: TypedWordsProps) {
  const written = useSignal(start);
  const isDone = useSignal(false);
  // an input that goes away loses the focus: it must not be kept twice
  const finish = (words: string | undefined): void => {
    if (isDone.peek()) return;
    isDone.value = true;
    onDone(words);
  };
  return (
    <span class="live typed">
      <input
        aria-label={label}
        size={Math.max(room, written.value.length)}
        value={written.value}
        ref={(input) => input?.focus()}
        onInput={(event) => {
          written.value = event.currentTarget.value;
        }}
        onKeyDown={(event) => {
          if (event.key === "Enter") finish(written.peek());
          else if (event.key === "Escape") finish(undefined);
        }}
        onBlur={() => finish(written.peek())}
      />
      {children}
    </span>
  );
}
