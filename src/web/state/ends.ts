/** Ends of beams that can be taken hold of in the picture; none until they are known for the text as it stands. */
import { computed } from "@preact/signals";
import { createAside } from "./aside.ts";
import { isHolding, picture, text } from "./workbench.ts";

const known = createAside({
  isWanted: () => picture.value === "device" && !isHolding.value,
  subject: () => text.value,
  request: (question) => ({ kind: "ends", question }),
  take: (reply) => (reply.kind === "grasped" ? reply.ends : undefined),
});

export const ends = computed(() => known.value ?? []);
