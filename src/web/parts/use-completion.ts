/** What may be written at the caret of a text field: asked of the worker as one writes, moved through and taken by keys or pointer. */
import { batch, type Signal, useSignal } from "@preact/signals";
import { useEffect, useMemo, useRef } from "preact/hooks";
import type { Completion, Offer } from "#chip";
import { askAboutText } from "../state/workbench.ts";

/** Pause after the last sign until it is asked, [ms]. */
const pause = 80;

export interface CompletionHandle {
  readonly found: Signal<Completion | undefined>;
  /** Place of the offer that Enter takes; -1 where it takes none. */
  readonly active: Signal<number>;
  /** Asks for what may stand at the caret: by itself while one writes, or because one wants to see it. */
  readonly ask: (field: HTMLTextAreaElement, isWanted: boolean) => void;
  readonly close: () => void;
  readonly take: (offer: Offer) => void;
  /** True where a key was meant for the list. */
  readonly press: (event: KeyboardEvent) => boolean;
}

/** While one writes the list opens only where something of a word, or a field that waits for its value, stands before the caret. */
const isWriting = (text: string, caret: number): boolean => /(?:[\p{L}\p{N}%°]|: )$/u.test(text.slice(0, caret));

export function useCompletion(onTake: (text: string, caret: number) => void): CompletionHandle {
  const found = useSignal<Completion | undefined>(undefined);
  const active = useSignal(-1);
  const field = useRef<HTMLTextAreaElement | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const newest = useRef(0);
  const taken = useRef(onTake);
  taken.current = onTake;
  useEffect(() => () => clearTimeout(timer.current), []);
  return useMemo(() => {
    const close = (): void => {
      clearTimeout(timer.current);
      newest.current++;
      found.value = undefined;
    };
    const askNow = async (isWanted: boolean): Promise<void> => {
      const at = field.current;
      if (at === null) return;
      const [text, offset, number] = [at.value, at.selectionStart, ++newest.current];
      if (!isWanted && !isWriting(text, offset)) return close();
      const reply = await askAboutText({ kind: "complete", text, offset });
      // the caret has moved on
      if (number !== newest.current || reply.kind !== "completed") return;
      const { completion } = reply;
      if (completion === undefined || (completion.offers.length === 0 && !isWanted)) return close();
      batch(() => {
        found.value = completion;
        // Enter goes on to the next line unless a word was begun and is not yet whole
        active.value = completion.offers.length > 0 && !completion.isWhole && completion.from < offset ? 0 : -1;
      });
    };
    const ask = (at: HTMLTextAreaElement, isWanted: boolean): void => {
      field.current = at;
      clearTimeout(timer.current);
      if (isWanted) void askNow(true);
      else timer.current = setTimeout(() => void askNow(false), pause);
    };
    const take = ({ insert }: Offer): void => {
      const [at, completion] = [field.current, found.value];
      if (at === null || completion === undefined) return;
      at.focus();
      at.setRangeText(insert, completion.from, completion.to, "end");
      close();
      taken.current(at.value, at.selectionStart);
      // a field that was taken asks at once for its value
      ask(at, /(?:: |\n *(?:- )?)$/.test(insert));
    };
    const move = (by: number): void => {
      const n = found.value?.offers.length ?? 0;
      if (n > 0) active.value = active.value < 0 && by < 0 ? n - 1 : (active.value + by + n) % n;
    };
    const press = (event: KeyboardEvent): boolean => {
      if (event.key === " " && event.ctrlKey) {
        ask(event.currentTarget as HTMLTextAreaElement, true);
        return true;
      }
      if (found.value === undefined) return false;
      const offer = found.value.offers[active.value];
      if (event.key === "ArrowDown" || event.key === "ArrowUp") {
        if (found.value.offers.length === 0) return false;
        move(event.key === "ArrowDown" ? 1 : -1);
      } else if (event.key === "Escape") close();
      else if ((event.key === "Enter" || event.key === "Tab") && !event.shiftKey && offer !== undefined) take(offer);
      else {
        if (["Enter", "Tab", "ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown"].includes(event.key)) close();
        return false;
      }
      return true;
    };
    return { found, active, ask, close, take, press };
  }, []);
}
