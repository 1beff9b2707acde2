/** The part that is looked at: its word lights the picture, the picture lights its word. */
import { signal } from "@preact/signals";

/** Name of a part, or of the family it belongs to. */
export const lit = signal<string | undefined>(undefined);

/** Whether a part of the drawing belongs to a name: it is that part, or one of those that the name stands for. */
export const belongsTo = (part: string, name: string | undefined): boolean =>
  name !== undefined && (part === name || part.startsWith(`${name} `));
