/**
 * A device family: a name that a chip text may use, the fields it takes, and the parts it is made of.
 * Adding a family is one file beside the others and one line in families/index.ts.
 */
import type { Fields, ValueRecord } from "#base";
import { AssemblyError } from "./assembly-error.ts";
import type { Draft } from "./draft.ts";
import type { Drawing, LightSetup, Output, Part, Place } from "./drawing/part.ts";
import { type deviceFields, heatLossOf } from "./families/common.ts";

export interface Family {
  readonly name: string;
  readonly about: string;
  readonly fields: Fields;
  /** Draws the device from values in SI, as read by `fields`. Throws AssemblyError where they do not fit together. */
  assemble(values: unknown): Drawing;
}

interface FamilyText<F extends Fields> {
  readonly name: string;
  readonly about: string;
  readonly fields: F & typeof deviceFields;
  /** Adds all parts to the draft and says where the device pushes. */
  readonly draw: (
    values: ValueRecord<F & typeof deviceFields>,
    draft: Draft,
  ) => { readonly output: Output | undefined; readonly light?: LightSetup };
}

/** States a family; the types of `values` follow from `fields`. */
export function defineFamily<F extends Fields>(family: FamilyText<F>): Family {
  return {
    name: family.name,
    about: family.about,
    fields: family.fields,
    assemble: (given): Drawing => {
      // the reader has checked the values against `fields`, which is where their type comes from
      const values = given as ValueRecord<F & typeof deviceFields>;
      const shared = given as ValueRecord<typeof deviceFields>;
      const draft = new WholeDraft();
      const { output, light } = family.draw(values, draft);
      return {
        parts: draft.parts,
        points: draft.points,
        output,
        light,
        heatLoss: heatLossOf(shared["heat loss"]),
        rootsGive: shared.roots !== "rigid",
        neighbours: shared.neighbours ?? "shared",
        trench: shared.trench,
      };
    },
  };
}

/** The draft of a device that is one family: its parts keep their own names. */
class WholeDraft implements Draft {
  readonly name = "";
  readonly parts: Part[] = [];
  readonly points = new Map<string, Place>();

  named(part: string): string {
    return part;
  }

  place(point: string): Place {
    const found = this.points.get(point);
    if (found === undefined) throw new AssemblyError(`there is no point "${point}"`);
    return found;
  }

  add(part: Part): void {
    this.parts.push(part);
  }

  markPoint(point: string, place: Place): void {
    this.points.set(point, place);
  }
}
