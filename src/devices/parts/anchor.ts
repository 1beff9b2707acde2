/** The word "anchor": silicon bonded to the glass, with an optional net. */
import { choice, type Fields, quantity, text } from "#base";
import { definePart } from "../draft.ts";
import { anchorHeatFields, pointName, sizeFields, turnField } from "./fields.ts";

export const anchorFields = {
  at: { shape: pointName, about: "Point at its middle." },
  ...sizeFields,
  turn: turnField,
  heat: {
    shape: choice("ideal"),
    about: '"ideal": stays at the temperature of the surroundings.',
    optional: true,
  },
  ...anchorHeatFields,
  wire: {
    shape: text("plus"),
    about: "Net it is wired to: plus, minus, or a name of your own. Left out, it floats.",
    optional: true,
  },
  lead: {
    shape: quantity("resistance", { example: "5 ohm", evidence: "assumed", least: 0, most: 1e6 }),
    about: "Resistance of its pad and lead.",
    optional: true,
  },
} as const satisfies Fields;

export const anchorPart = definePart({
  name: "anchor",
  about: "Silicon that stays on the glass and holds whatever ends on it.",
  fields: anchorFields,
  draw: (values, draft) =>
    draft.add({
      kind: "anchor",
      name: draft.name,
      slab: { centre: draft.place(values.at), width: values.width, height: values.height, turn: values.turn ?? 0 },
      heat: values.heat ?? values["thermal resistance"] ?? "glass",
      wire: values.wire,
      leadResistance: values.lead ?? 0,
    }),
});
