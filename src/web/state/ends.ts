/** Ends of beams that can be taken hold of in the picture: asked for once the page is at rest, for every text and device anew. */
import { computed, effect, signal } from "@preact/signals";
import type { BeamEnd } from "#workbench";
import { askAside, device, isAtRest, picture, text } from "./workbench.ts";

const known = signal<{ readonly of: string; readonly ends: readonly BeamEnd[] } | undefined>(undefined);
const subject = computed(() => `${device.value}\n${text.value}`);

/** Of the text as it stands; none until they are known. */
export const ends = computed<readonly BeamEnd[]>(() => (known.value?.of === subject.value ? known.value.ends : []));

effect(() => {
  if (!isAtRest.value || picture.value !== "device" || device.value === "") return;
  const of = subject.value;
  if (known.peek()?.of === of) return;
  void askAside((question) => ({ kind: "ends", question })).then((reply) => {
    known.value = { of, ends: reply.kind === "grasped" ? reply.ends : [] };
  });
});
