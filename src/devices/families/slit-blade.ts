/** The word "slit blade": a plate of silicon with slits, ribs and rims. */
import { choice, type Fields } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import { type Draft, definePart } from "../draft.ts";
import type { Place, Slab } from "../drawing/part.ts";
import { placeFromOwn } from "../drawing/slab.ts";
import { drawnLength } from "../parts/fields.ts";
import { markSides, plateFields } from "../parts/plate.ts";
import { slitSheetFields, slitSheetOf } from "./slit-sheet.ts";

/** Points on the edges, `inset` from the corners along the edge: where flexures near the corners stand. */
function markCorners(draft: Draft, slab: Slab, inset: number): void {
  const [x, y] = [slab.width / 2, slab.height / 2];
  if (inset > Math.min(x, y))
    throw new AssemblyError(`the inset of ${draft.name} from its corners is beyond the middles of its edges`);
  for (const [up, upward] of [
    ["upper", 1],
    ["lower", -1],
  ] as const)
    for (const [aside, sideward] of [
      ["left", -1],
      ["right", 1],
    ] as const) {
      draft.markPoint(`${aside} edge ${up}`, placeFromOwn(slab, { x: sideward * x, y: upward * (y - inset) }));
      draft.markPoint(`${up} edge ${aside}`, placeFromOwn(slab, { x: sideward * (x - inset), y: upward * y }));
    }
}

/** Where the middle of a blade lies, seen from the point that is its origin. */
function middleFrom(origin: "middle" | "top" | "bottom" | "left" | "right", size: { width: number; height: number }): Place {
  const [x, y] = [size.width / 2, size.height / 2];
  switch (origin) {
    case "middle":
      return { x: 0, y: 0 };
    case "top":
      return { x: 0, y: -y };
    case "bottom":
      return { x: 0, y };
    case "left":
      return { x, y: 0 };
    case "right":
      return { x: -x, y: 0 };
  }
}

export const slitBladePart = definePart({
  name: "slit blade",
  about:
    "A plate with parallel slits that moves as a rigid body, or bends along its spine. What ends on its edge is joined to it.",
  placed: true,
  fields: {
    ...slitSheetFields,
    origin: {
      shape: choice("middle", "top", "bottom", "left", "right"),
      about: "Which point of it is its own origin: its middle, or the middle of an edge. Left out: its middle.",
      optional: true,
    },
    "corner inset": {
      shape: drawnLength("5 um"),
      about:
        'How far from a corner along each edge a point is marked, to hang flexures on: "left edge upper", "upper edge left" and so on.',
      optional: true,
    },
    bends: plateFields.bends,
    spine: {
      shape: choice("x", "y"),
      about: "Own axis along which heat is followed. Left out: y, across the slits.",
      optional: true,
    },
  } as const satisfies Fields,
  draw: (values, draft) => {
    const sheet = slitSheetOf(draft.name, values);
    const slab: Slab = {
      centre: middleFrom(values.origin ?? "middle", sheet),
      width: sheet.width,
      height: sheet.height,
      turn: 0,
    };
    markSides(draft, slab);
    if (values["corner inset"] !== undefined) markCorners(draft, slab, values["corner inset"]);
    draft.add({
      kind: "plate",
      name: draft.name,
      slab,
      bends: values.bends === "yes",
      slits: sheet.slits,
      holes: undefined,
      spine: values.spine ?? "y",
      leak: 0,
      isShuttle: false,
    });
  },
});
