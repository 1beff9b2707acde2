/** The text itself, as it stands in the folder; what does not read is told with its line. Nothing is kept until it is asked for. */
import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { Problems } from "../parts/problems.tsx";
import { TextEditor } from "../parts/text-editor.tsx";
import { changeText, text } from "../state/workbench.ts";

export function TextView() {
  const draft = useSignal(text.value);
  const seen = useRef(text.value);
  const clash = useSignal(false);
  useEffect(() => {
    if (draft.peek() === text.value) clash.value = false;
    else if (draft.peek() !== seen.current) clash.value = true;
    // what changed outside comes in, unless something is being written here
    if (draft.peek() === seen.current) draft.value = text.value;
    seen.current = text.value;
  }, [text.value]);
  const keep = (): void => {
    clash.value = false;
    void changeText(draft.value);
  };
  const isChanged = draft.value !== text.value;
  return (
    <main class="text-view">
      <div class="text-head">
        <h1>The text</h1>
        <p class="subtitle">Everything else is worked out from it. It is the file chip.yaml of the folder.</p>
        <button type="button" class="button solid" disabled={!isChanged} onClick={() => keep()}>
          Keep the changes
        </button>
        <button
          type="button"
          class="button"
          disabled={!isChanged}
          onClick={() => {
            draft.value = text.value;
            clash.value = false;
          }}
        >
          Put it back
        </button>
      </div>
      {clash.value ? (
        <p class="refusal" role="alert">
          The file was changed outside while you wrote here. "Keep the changes" takes what you wrote, and undo brings the other
          back; "Put it back" takes what is outside.
        </p>
      ) : null}
      {isChanged ? null : <Problems />}
      <TextEditor draft={draft} keep={keep} />
    </main>
  );
}
