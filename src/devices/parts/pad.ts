/** A probe pad: metal on the glass beside an anchor, with a tab that reaches under the anchor and so makes contact. */
import type { Part } from "../assembly.ts";
import { outlineOf, type Rectangle } from "../rectangle.ts";

export function pad(name: string, options: { readonly pad: Rectangle; readonly tab: Rectangle }): Part {
  return {
    name,
    outlines: () => [
      { plate: "metal", polygon: outlineOf(options.pad), free: false },
      { plate: "metal", polygon: outlineOf(options.tab), free: false },
    ],
    // its resistance is part of the anchor's leads
    addToFrame: () => {},
  };
}
