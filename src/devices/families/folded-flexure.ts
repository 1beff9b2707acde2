/** A folded flexure: a beam out, a block that carries it over, and a beam back to an island beside what moves. */
import { choice, either, type Fields, record } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import { definePart } from "../draft.ts";
import { drawnLength, signedLength } from "../parts/fields.ts";
import { plateFields } from "../parts/plate.ts";
import { drawFlexureBeam, drawIsland, flexureFields, islandSize, islandSizeFields, nameOf, requireRoot } from "./island.ts";

const trussFields = {
  width: { shape: drawnLength("20 um"), about: "Along the beams." },
  height: { shape: drawnLength("60 um"), about: "Across the beams, over both of them." },
  bends: plateFields.bends,
} as const satisfies Fields;

export const foldedFlexureFields = {
  length: { shape: drawnLength("450 um"), about: "Of the beam out, from the moving edge to the truss." },
  "length back": {
    shape: drawnLength("450 um"),
    about: "Of the beam back, from the truss to the island. Left out: the same.",
    optional: true,
  },
  width: { shape: drawnLength("6 um"), about: "Width of both beams." },
  spacing: { shape: drawnLength("30 um"), about: "From the middle of one beam to the middle of the other." },
  side: { shape: choice("left", "right"), about: "Side of the way out on which it comes back." },
  truss: { shape: record(trussFields), about: "The block that joins both beams; rigid unless it bends." },
  ...flexureFields,
  island: {
    shape: either(["ideal"], {
      ...islandSizeFields,
      shift: {
        shape: signedLength("70 um"),
        about: "How far its middle lies beyond the beam that ends on it, away from the other beam. Left out: 0.",
        optional: true,
      },
    }),
    about: "Anchor beside what moves, in the flexure's own axes, or an ideal one that stays cool and rigid.",
  },
} as const satisfies Fields;

export const foldedFlexurePart = definePart({
  name: "folded flexure",
  about:
    "A flexure of two beams in series that leaves its body free along one axis. Its own origin lies on the edge of what moves, and its own x axis points out.",
  placed: true,
  fields: foldedFlexureFields,
  draw: (values, draft) => {
    const { length, width, spacing, truss, island } = values;
    const name = nameOf(draft, "folded flexure");
    const fillet = values.fillet ?? 0;
    if (spacing <= width)
      throw new AssemblyError(`the beams of ${name} run into each other: their spacing must be larger than their width`);
    const needed = spacing + width + 2 * fillet;
    if (truss.height < needed)
      throw new AssemblyError(
        `the truss of ${name} must reach over both beams and their fillets: at least ${(needed * 1e6).toFixed(1)} um high`,
      );
    const sign = values.side === "left" ? 1 : -1;
    const size = islandSize(island, width);
    // an ideal island keeps clear of the moving body by standing wholly beyond the beam back
    const shift = island === "ideal" ? size.height / 2 - width : (island.shift ?? 0);
    requireRoot(name, { side: size.height - 2 * Math.abs(shift), beamWidth: width, fillet });
    // an island beyond the moving edge stands beside the beam out
    const clear = spacing + shift - size.height / 2 - width / 2;
    const back = values["length back"] ?? length;
    if (back < length && !(clear > 0))
      throw new AssemblyError(
        `the island of ${name} runs into its beam out by ${(-clear * 1e6).toFixed(1)} um: shift it further aside`,
      );
    const root = { x: 0, y: 0 };
    const end = { x: length - back, y: sign * spacing };
    draft.markPoint("root", root);
    drawFlexureBeam(draft, "beam out", { from: root, to: { x: length, y: 0 }, width, fillet });
    const knee = { x: length + truss.width / 2, y: (sign * spacing) / 2 };
    draft.markPoint("knee", knee);
    draft.add({
      kind: "plate",
      name: draft.named("truss"),
      slab: { centre: knee, width: truss.width, height: truss.height, turn: 0 },
      bends: truss.bends === "yes",
      slits: undefined,
      holes: undefined,
      spine: "y",
      leak: 0,
      isShuttle: false,
    });
    drawFlexureBeam(draft, "beam back", { from: { x: length, y: sign * spacing }, to: end, width, fillet });
    const centre = { x: end.x - size.width / 2, y: end.y + sign * shift };
    drawIsland(draft, values, { centre, end, beamWidth: width });
  },
});
