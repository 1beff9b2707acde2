/** Islands: anchors at the far ends of flexures, ideal ones or silicon on the glass. */
import { either, type Fields, text, type ValueRecord } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import type { Draft } from "../draft.ts";
import type { Place } from "../drawing/part.ts";
import { anchorHeatFields, drawnLength, sizeFields } from "../parts/fields.ts";

export const islandSizeFields = { ...sizeFields, ...anchorHeatFields } as const satisfies Fields;

export const islandFields = {
  island: {
    shape: either(["ideal"], islandSizeFields),
    about: "Anchor at its far end, in the flexure's own axes, or an ideal one that stays cool and rigid.",
  },
  wire: {
    shape: text("blade"),
    about: "Net that its anchor is wired to. Left out, it floats.",
    optional: true,
  },
} as const satisfies Fields;

/** What every flexure has besides its own sizes. */
export const flexureFields = {
  fillet: { shape: drawnLength("3 um"), about: "Radius of the fillets at its roots, on the mask.", optional: true },
  ...islandFields,
} as const satisfies Fields;

/** Size of an ideal island on paper, [m]: it has no mask, but the beam needs something to end on. */
const idealSide = 40e-6;

type Island = ValueRecord<typeof islandFields>["island"];

export function islandSize(island: Island, beamWidth: number): { readonly width: number; readonly height: number } {
  if (island !== "ideal") return island;
  const side = Math.max(idealSide, 4 * beamWidth);
  return { width: side, height: side };
}

/** Draws the island of a flexure about `centre` and marks it and the place `end` where the flexure meets it. */
export function drawIsland(
  draft: Draft,
  values: ValueRecord<typeof islandFields>,
  at: { readonly centre: Place; readonly end: Place; readonly beamWidth: number },
): void {
  const { island } = values;
  const { width, height } = islandSize(island, at.beamWidth);
  draft.add({
    kind: "anchor",
    name: draft.named("island"),
    slab: { centre: at.centre, width, height, turn: 0 },
    heat: island === "ideal" ? "ideal" : (island["thermal resistance"] ?? "glass"),
    wire: values.wire,
    leadResistance: 0,
  });
  draft.markPoint("island", at.centre);
  draft.markPoint("end", at.end);
}

const um = (length: number): string => (length * 1e6).toFixed(1);

/** The side of an island that a beam ends on must take its root and its fillets. */
export function requireRoot(
  name: string,
  at: { readonly side: number; readonly beamWidth: number; readonly fillet: number },
): void {
  const needed = at.beamWidth + 2 * at.fillet;
  if (at.side >= needed) return;
  throw new AssemblyError(
    `the island of ${name} is ${um(at.side)} um wide where its beam ends, but beam and fillets need ${um(needed)} um`,
  );
}

/** A straight beam of a flexure, of even width. */
export function drawFlexureBeam(
  draft: Draft,
  label: string,
  at: { readonly from: Place; readonly to: Place; readonly width: number; readonly fillet: number },
): void {
  draft.add({
    kind: "beam",
    name: draft.named(label),
    isLeg: false,
    line: Float64Array.of(at.from.x, at.from.y, at.to.x, at.to.y),
    widths: [at.width, at.width],
    fillet: at.fillet,
    hinged: [false, false],
  });
}

/** What to call a flexure in an error sentence. */
export function nameOf(draft: Draft, word: string): string {
  return draft.name === "" ? `the ${word}` : draft.name;
}
