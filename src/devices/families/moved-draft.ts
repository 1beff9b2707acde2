/** Drawing one word inside another: in its own frame, under its own name, moved to its place. */
import type { Transform } from "#geometry";
import { AssemblyError } from "../assembly-error.ts";
import type { Draft } from "../draft.ts";
import { transformPart, transformPlace } from "../drawing/transform-parts.ts";

/** A draft whose parts and points stand behind `name` and are moved by `transform` into the outer draft. */
export function movedDraft(outer: Draft, name: string, transform: Transform): Draft {
  return {
    name: outer.named(name),
    named: (part) => outer.named(`${name} ${part}`),
    place: (point) => {
      throw new AssemblyError(`${name} is drawn about its own origin and knows no point "${point}"`);
    },
    add: (part) => outer.add(transformPart(part, transform, part.name)),
    markPoint: (point, place) => outer.markPoint(`${name} ${point}`, transformPlace(place, transform)),
  };
}
