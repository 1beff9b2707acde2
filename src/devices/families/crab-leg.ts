/** A crab leg: a thigh straight out, and a shin from the knee aside to an island. */
import { choice, type Fields, record } from "#base";
import { definePart } from "../draft.ts";
import { drawnLength } from "../parts/fields.ts";
import { drawFlexureBeam, drawIsland, flexureFields, islandSize, nameOf, requireRoot } from "./island.ts";

export const crabLegPart = definePart({
  name: "crab-leg",
  about:
    "A flexure of two beams at a right angle, soft along both axes. Its own origin lies on the edge of what moves, and its own x axis points out along the thigh.",
  placed: true,
  fields: {
    thigh: {
      shape: record({
        length: { shape: drawnLength("200 um"), about: "From the moving edge to the middle line of the shin." },
        width: { shape: drawnLength("2 um"), about: "Width in the plane." },
      } as const satisfies Fields),
      about: "The beam out.",
    },
    shin: {
      shape: record({
        length: { shape: drawnLength("100 um"), about: "From the middle line of the thigh to the island." },
        width: { shape: drawnLength("3 um"), about: "Width in the plane." },
      } as const satisfies Fields),
      about: "The beam aside.",
    },
    side: { shape: choice("left", "right"), about: "Side of the way out to which the shin runs." },
    ...flexureFields,
  } as const satisfies Fields,
  draw: (values, draft) => {
    const { thigh, shin } = values;
    const sign = values.side === "left" ? 1 : -1;
    const fillet = values.fillet ?? 0;
    const size = islandSize(values.island, shin.width);
    requireRoot(nameOf(draft, "crab-leg"), { side: size.width, beamWidth: shin.width, fillet });
    const root = { x: 0, y: 0 };
    const knee = { x: thigh.length, y: 0 };
    const end = { x: knee.x, y: sign * shin.length };
    draft.markPoint("root", root);
    draft.markPoint("knee", knee);
    drawFlexureBeam(draft, "thigh", { from: root, to: knee, width: thigh.width, fillet });
    drawFlexureBeam(draft, "shin", { from: knee, to: end, width: shin.width, fillet });
    drawIsland(draft, values, { centre: { x: end.x, y: end.y + (sign * size.height) / 2 }, end, beamWidth: shin.width });
  },
});
