/** What the page needs to change the brief: the vocabulary, asked for once, and the changes. */
import { signal } from "@preact/signals";
import type { BriefEdit } from "#chip";
import type { MetricWord } from "#workbench";
import { askAside, write } from "./workbench.ts";

/** Every metric of the vocabulary, once it is asked for. */
export const vocabulary = signal<readonly MetricWord[] | undefined>(undefined);

/** Forms that are open: each shows for itself what was refused. */
export const nForms = signal(0);

export async function fetchVocabulary(): Promise<void> {
  if (vocabulary.value !== undefined) return;
  const reply = await askAside(() => ({ kind: "vocabulary" }));
  if (reply.kind === "vocabulary") vocabulary.value = reply.metrics;
}

/** Changes the brief; answers whether it stands in the text now. */
export const editBrief = (edit: BriefEdit): Promise<boolean> => write({ kind: "edit brief", edit });
