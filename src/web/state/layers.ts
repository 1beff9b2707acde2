/** The layers of the device with the numbers that are held, for the loupe and for the picture of the stack; and the loupe itself. */
import { signal } from "@preact/signals";
import { createAside } from "./aside.ts";
import { held, picture, text } from "./workbench.ts";

export const magnifications = [5, 20, 80] as const;
/** Times as large as the picture; undefined while there is no loupe. */
export const loupe = signal<(typeof magnifications)[number] | undefined>(undefined);

export const layers = createAside({
  isWanted: () => picture.value === "stack" || (picture.value === "device" && loupe.value !== undefined),
  subject: () => `${text.value}\n${JSON.stringify(held.value)}`,
  request: (question) => ({ kind: "layers", question }),
  take: (reply) => (reply.kind === "layered" ? reply.layers : undefined),
});

export const toggleLoupe = (): void => {
  loupe.value = loupe.value === undefined ? magnifications[1] : undefined;
};
