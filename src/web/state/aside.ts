/** Something that the second worker is asked for beside the numbers: once the page is at rest, for every subject anew, where it is wanted. */
import { computed, effect, type ReadonlySignal, signal } from "@preact/signals";
import type { LiveQuestion, Reply, Request } from "#workbench";
import { askAside, device, isAtRest } from "./workbench.ts";

export function createAside<T>(options: {
  readonly isWanted: () => boolean;
  /** What it is about; an answer about another is forgotten. */
  readonly subject: () => string;
  readonly request: (question: LiveQuestion) => Request;
  /** Undefined where the answer is a refusal. */
  readonly take: (reply: Reply) => T | undefined;
}): ReadonlySignal<T | undefined> {
  const known = signal<{ readonly of: string; readonly value: T | undefined } | undefined>(undefined);
  const subject = computed(() => `${device.value}\n${options.subject()}`);
  effect(() => {
    if (!isAtRest.value || device.value === "" || !options.isWanted()) return;
    const of = subject.value;
    if (known.peek()?.of === of) return;
    void askAside(options.request).then((reply) => {
      known.value = { of, value: options.take(reply) };
    });
  });
  return computed(() => (known.value?.of === subject.value ? known.value.value : undefined));
}
