/** A text that is being written is read now and then, without being kept: what is wrong with it, each with its line. */
import { type Signal, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { TextProblem } from "#base";
import { askAboutText, problems, text } from "../state/workbench.ts";

/** Pause after the last sign until the draft is read, [ms]. */
const pause = 500;

export function useDraftCheck(draft: Signal<string>): Signal<readonly TextProblem[]> {
  const found = useSignal<readonly TextProblem[]>([]);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => () => clearTimeout(timer.current), []);
  useSignalEffect(() => {
    const asked = draft.value;
    clearTimeout(timer.current);
    if (asked === text.value) {
      found.value = problems.value;
      return;
    }
    timer.current = setTimeout(async () => {
      const reply = await askAboutText({ kind: "check", text: asked });
      if (reply.kind === "checked" && draft.peek() === asked) found.value = reply.problems;
    }, pause);
  });
  return found;
}
