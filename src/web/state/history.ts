/** The chain of changes: each a sentence, from here or from outside, back and forth without end. */
import { computed, signal } from "@preact/signals";

export interface Change {
  readonly before: string;
  readonly after: string;
  readonly sentence: string;
  readonly from: "here" | "outside";
}

export interface Chain {
  readonly changes: readonly Change[];
  /** How many of them stand; those behind were taken back and can be done again. */
  readonly nStanding: number;
}

export const chain = signal<Chain>({ changes: [], nStanding: 0 });

export const lastChange = computed(() => chain.value.changes[chain.value.nStanding - 1]);
export const nextChange = computed(() => chain.value.changes[chain.value.nStanding]);

/** Adds a change; what had been taken back is forgotten, as everywhere. */
export function addChange(change: Change): void {
  const { changes, nStanding } = chain.value;
  chain.value = { changes: [...changes.slice(0, nStanding), change], nStanding: nStanding + 1 };
}

/** Steps back; the text to go to, or undefined where there is nothing to take back. */
export function stepBack(): string | undefined {
  const change = lastChange.value;
  if (change === undefined) return undefined;
  chain.value = { ...chain.value, nStanding: chain.value.nStanding - 1 };
  return change.before;
}

export function stepForward(): string | undefined {
  const change = nextChange.value;
  if (change === undefined) return undefined;
  chain.value = { ...chain.value, nStanding: chain.value.nStanding + 1 };
  return change.after;
}

export function forgetChanges(): void {
  chain.value = { changes: [], nStanding: 0 };
}
