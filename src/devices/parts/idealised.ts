/** Words for what is not silicon: metal on the glass, and idealised supports, springs, stops and lumps. */
import { choice, type Fields, list, quantity } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import { definePart } from "../draft.ts";
import { outlineOfSlab, samePlace } from "../drawing/slab.ts";
import { drawnAngle, drawnLength, pointName, sizeFields, turnField } from "./fields.ts";

const at = { shape: pointName, about: "Point where it acts." } as const;

export const padPart = definePart({
  name: "pad",
  about: "Metal on the glass: a pad to probe, or a tab under an anchor.",
  fields: { at: { shape: pointName, about: "Point at its middle." }, ...sizeFields, turn: turnField } as const satisfies Fields,
  draw: (values, draft) =>
    draft.add({
      kind: "metal",
      name: draft.name,
      outline: outlineOfSlab({
        centre: draft.place(values.at),
        width: values.width,
        height: values.height,
        turn: values.turn ?? 0,
      }),
    }),
});

export const wirePart = definePart({
  name: "wire",
  about: "A metal line on the glass from one point to another.",
  fields: {
    from: { shape: pointName, about: "Point where it starts." },
    to: { shape: pointName, about: "Point where it ends." },
    width: { shape: drawnLength("20 um"), about: "Its width." },
  } as const satisfies Fields,
  draw: (values, draft) => {
    const [from, to] = [draft.place(values.from), draft.place(values.to)];
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    if (length < samePlace)
      throw new AssemblyError(`the wire "${draft.name}" has no length: "${values.from}" and "${values.to}" are the same place`);
    draft.add({
      kind: "metal",
      name: draft.name,
      // square ends, so that wires that meet at a corner leave no notch
      outline: outlineOfSlab({
        centre: { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 },
        width: length + values.width,
        height: values.width,
        turn: Math.atan2(to.y - from.y, to.x - from.x),
      }),
    });
  },
});

export const supportPart = definePart({
  name: "support",
  about: "Idealised: holds motions of a point, without silicon. x, y and turn in the plane; z with its tilts out of it.",
  fields: {
    at,
    holds: { shape: list(choice("x", "y", "turn", "z")), about: "Motions that are held." },
  } as const satisfies Fields,
  draw: (values, draft) => {
    if (values.holds.length === 0)
      throw new AssemblyError(`the support "${draft.name}" holds nothing: name some of x, y, turn, z`);
    draft.add({ kind: "support", name: draft.name, at: draft.place(values.at), holds: values.holds });
  },
});

const stiffness = quantity("stiffness", { example: "32 N/m", evidence: "assumed", least: 0, most: 1e9 });

export const springPart = definePart({
  name: "spring",
  about: "Idealised: a spring from a point to the ground, along x and y.",
  fields: {
    at,
    x: { shape: stiffness, about: "Stiffness along x.", optional: true },
    y: { shape: stiffness, about: "Stiffness along y.", optional: true },
  } as const satisfies Fields,
  draw: (values, draft) =>
    draft.add({
      kind: "spring",
      name: draft.name,
      at: draft.place(values.at),
      x: values.x ?? 0,
      y: values.y ?? 0,
      turn: 0,
    }),
});

export const stopPart = definePart({
  name: "stop",
  about: "Something rigid in the way of a point.",
  fields: {
    at: { shape: pointName, about: "Point that meets it." },
    direction: { shape: drawnAngle("90 deg"), about: "Direction of the motion that closes the gap, counter-clockwise from x." },
    gap: {
      shape: quantity("length", { example: "3 um", evidence: "drawn", least: 0, most: 0.01 }),
      about: "Free way before it.",
    },
  } as const satisfies Fields,
  draw: (values, draft) =>
    draft.add({
      kind: "stop",
      name: draft.name,
      at: draft.place(values.at),
      direction: values.direction,
      gap: values.gap,
    }),
});

export const lumpPart = definePart({
  name: "lump",
  about: "Idealised: a mass or a heat leak at a point, for what hangs there and is not drawn.",
  fields: {
    at,
    mass: {
      shape: quantity("mass", { example: "1 ug", evidence: "assumed", least: 0, most: 1 }),
      about: "Its mass.",
      optional: true,
    },
    "heat leak": {
      shape: quantity("thermal conductance", { example: "0.25 mW/K", evidence: "assumed", least: 0, most: 1 }),
      about: "Heat conductance to the surroundings.",
      optional: true,
    },
  } as const satisfies Fields,
  draw: (values, draft) => {
    if (values.mass === undefined && values["heat leak"] === undefined)
      throw new AssemblyError(`the lump "${draft.name}" is nothing: give it a mass, a heat leak or both`);
    draft.add({
      kind: "lump",
      name: draft.name,
      at: draft.place(values.at),
      mass: values.mass ?? 0,
      leak: values["heat leak"] ?? 0,
    });
  },
});
