/** What the second worker has drawn for the picture beside the prose, and why it could not. */
import { signal } from "@preact/signals";
import type { ModeView } from "#devices";
import type { CurvePlot, Reply } from "#workbench";

export const plots = signal<readonly CurvePlot[]>([]);
export const modes = signal<readonly ModeView[]>([]);
/** Why there is nothing to see. */
export const pictureRefusal = signal<string | undefined>(undefined);

export function takePicture(reply: Reply): void {
  pictureRefusal.value = reply.kind === "refused" ? reply.reason : undefined;
  if (reply.kind === "drawn") plots.value = reply.plots;
  else if (reply.kind === "swung") modes.value = reply.modes;
}
