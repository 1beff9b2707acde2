/** What devices between two anchors share: heat loss, trench, leads and pads. */
import { either, type Fields, quantity, record, type ValueRecord } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import type { Draft } from "../draft.ts";
import type { AnchorHeat, HeatLoss, Slab } from "../drawing/part.ts";
import { outlineOfSlab } from "../drawing/slab.ts";
import { anchorHeatFields, drawnLength, signedLength, sizeFields } from "../parts/fields.ts";

export const exchangeFields = {
  "per length": {
    shape: quantity("thermal conductivity", { example: "0.144 W/(m K)", evidence: "assumed", least: 0, most: 100 }),
    about: "Loss of each beam per length and kelvin, given instead of computed.",
    optional: true,
  },
  film: {
    shape: { kind: "law", dimension: "film coefficient", example: "2600 W/(m^2 K)" },
    about: "Loss per area of the underside and kelvin; a law takes the temperature of the wall.",
    optional: true,
  },
} as const satisfies Fields;

/** How a whole device loses heat, and the room it is given. */
export const deviceFields = {
  "heat loss": {
    shape: either(["gas", "none"], exchangeFields),
    about:
      "How the beams lose heat besides their ends: computed for the gas and, with an emissivity, for radiation; none; or given. A given loss stands for both.",
  },
  neighbours: {
    shape: { kind: "choice", words: ["shared", "averaged", "apart"] },
    about:
      "Whether beams side by side share the gas between them (as they do), the legs of a device all lose the mean of their losses, or each loses heat as if alone.",
    optional: true,
  },
  roots: {
    shape: { kind: "choice", words: ["give", "rigid"] },
    about: "Whether plates and anchors give a little where beams root in them (as they do), or are rigid there.",
    optional: true,
  },
  trench: { shape: drawnLength("24 um"), about: "Clear width round the device to the silicon that stays.", optional: true },
} as const satisfies Fields;

export function heatLossOf(given: ValueRecord<typeof deviceFields>["heat loss"]): HeatLoss {
  if (typeof given === "string") return given;
  if ((given["per length"] === undefined) === (given.film === undefined))
    throw new AssemblyError('a given heat loss is either "per length" or a "film", one of the two');
  return { perLength: given["per length"], film: given.film };
}

const padFields = {
  force: { shape: record(sizeFields), about: "Size of the pad that carries the current." },
  sense: { shape: record(sizeFields), about: "Size of the pad that measures the voltage.", optional: true },
  tab: { shape: drawnLength("30 um"), about: "How far the metal reaches under the anchor." },
} as const satisfies Fields;

/** Two anchors, with leads and pads. */
export const anchorPairFields = {
  anchors: {
    shape: either(["ideal"], {
      ...sizeFields,
      ...anchorHeatFields,
      shift: {
        shape: signedLength("-400 um"),
        about: "How far their middles lie above the middle of the beams that end on them.",
        optional: true,
      },
    }),
    about: "Anchors of silicon on glass, or ideal ones that stay cool and rigid.",
  },
  leads: {
    shape: quantity("resistance", { example: "10 ohm ± 4 ohm", evidence: "assumed", least: 0, most: 1e6 }),
    about: "Resistance of pads and leads, both together.",
    optional: true,
  },
  pads: { shape: record(padFields), about: "Probe pads at each anchor.", optional: true },
} as const satisfies Fields;

type AnchorPair = ValueRecord<typeof anchorPairFields>;

/** Size of an ideal anchor on paper: it has no mask, but its roots need a place. */
const idealAnchor = { width: 100e-6, leastHeight: 200e-6 };

export interface AnchorPlace {
  /** Distance of both inner edges from the middle, [m]. */
  readonly inner: number;
  /** Middle and extent of the roots along y, [m]. */
  readonly middle: number;
  readonly extent: number;
}

/** The left anchor is wired to "minus"'s opposite: current runs from left ("plus") to right ("minus"). */
export function drawAnchorPair(draft: Draft, values: AnchorPair, at: AnchorPlace): void {
  const given = values.anchors === "ideal" ? undefined : values.anchors;
  const size = given ?? { width: idealAnchor.width, height: Math.max(idealAnchor.leastHeight, 2 * at.extent) };
  const heat: AnchorHeat = given === undefined ? "ideal" : (given["thermal resistance"] ?? "glass");
  for (const side of [-1, 1] as const) {
    const name = side < 0 ? "left" : "right";
    const slab: Slab = {
      centre: { x: side * (at.inner + size.width / 2), y: at.middle + (given?.shift ?? 0) },
      width: size.width,
      height: size.height,
      turn: 0,
    };
    draft.add({
      kind: "anchor",
      name: draft.named(`anchor ${name}`),
      slab,
      heat,
      wire: side < 0 ? "plus" : "minus",
      leadResistance: (values.leads ?? 0) / 2,
    });
    draft.markPoint(`anchor ${name}`, slab.centre);
    drawPads(draft, values, { slab, side });
  }
}

/** Clear distance between the pads of one anchor, [m]. */
const padSpacing = 100e-6;

/** Force and sense pad side by side along the lower edge of an anchor, the force pad further out. */
function drawPads(draft: Draft, values: AnchorPair, at: { slab: Slab; side: -1 | 1 }): void {
  const { pads } = values;
  if (pads === undefined) return;
  const { slab, side } = at;
  const name = side < 0 ? "left" : "right";
  const edge = slab.centre.y - slab.height / 2;
  const metal = (label: string, box: { x: number; bottom: number; top: number; width: number }): void =>
    draft.add({
      kind: "metal",
      name: draft.named(label),
      outline: outlineOfSlab({
        centre: { x: box.x, y: (box.bottom + box.top) / 2 },
        width: box.width,
        height: box.top - box.bottom,
        turn: 0,
      }),
    });
  const place = (kind: string, size: { width: number; height: number }, x: number): void => {
    // a strip of one tab length lies free between pad and anchor edge, bridged by the tab
    const top = edge - pads.tab;
    metal(`${kind} pad ${name}`, { x, bottom: top - size.height, top, width: size.width });
    metal(`${kind} tab ${name}`, { x, bottom: top - pads.tab / 2, top: edge + pads.tab, width: size.width });
  };
  const { force, sense } = pads;
  const total = force.width + (sense === undefined ? 0 : sense.width + padSpacing);
  if (total > slab.width) throw new AssemblyError("the pads are wider than the anchor that they stand at");
  place("force", force, slab.centre.x + (side * (total - force.width)) / 2);
  if (sense !== undefined) place("sense", sense, slab.centre.x - (side * (total - sense.width)) / 2);
}
