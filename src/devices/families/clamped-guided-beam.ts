/** One beam from a moving body straight out to an island. */
import type { Fields } from "#base";
import { definePart } from "../draft.ts";
import { drawnLength } from "../parts/fields.ts";
import { drawFlexureBeam, drawIsland, flexureFields, islandSize, nameOf, requireRoot } from "./island.ts";

export const clampedGuidedBeamPart = definePart({
  name: "clamped-guided beam",
  about:
    "A flexure of one beam. Its own origin lies on the edge of what moves, and its own x axis points out to the island where it ends.",
  placed: true,
  fields: {
    length: { shape: drawnLength("200 um"), about: "From the moving edge to the island." },
    width: { shape: drawnLength("4 um"), about: "Width in the plane." },
    ...flexureFields,
  } as const satisfies Fields,
  draw: (values, draft) => {
    const fillet = values.fillet ?? 0;
    const size = islandSize(values.island, values.width);
    requireRoot(nameOf(draft, "clamped-guided beam"), { side: size.height, beamWidth: values.width, fillet });
    const root = { x: 0, y: 0 };
    const end = { x: values.length, y: 0 };
    draft.markPoint("root", root);
    drawFlexureBeam(draft, "beam", { from: root, to: end, width: values.width, fillet });
    drawIsland(draft, values, { centre: { x: end.x + size.width / 2, y: 0 }, end, beamWidth: values.width });
  },
});
