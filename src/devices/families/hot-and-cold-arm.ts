/**
 * A hot and a cold arm: current through a thin arm and a wide one beside it warms the thin one more, which bends both sideways.
 *
 *            flexure      cold arm
 *   anchor --------========================.
 *                                          |  link      tip: middle line of the cold arm over the link
 *   anchor --------------------------------'
 *                      hot arm
 *
 * Geometry by middle lines, cf. [huang1999] (FROM MEMORY).
 */
import { either, type Fields, quantity, record, type ValueRecord } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import { type Draft, definePart } from "../draft.ts";
import type { Place } from "../drawing/part.ts";
import { defineFamily } from "../family.ts";
import { anchorHeatFields, drawnLength, sizeFields } from "../parts/fields.ts";
import { deviceFields } from "./common.ts";

const armFields = {
  "hot arm": {
    shape: record({
      length: { shape: drawnLength("240 um"), about: "From its anchor to the middle line of the link." },
      width: { shape: drawnLength("2 um"), about: "Width in the plane; the link is as wide." },
    } as const satisfies Fields),
    about: "The thin arm.",
  },
  "cold arm": {
    shape: record({
      length: { shape: drawnLength("200 um"), about: "From the middle line of the link to the flexure." },
      width: { shape: drawnLength("14 um"), about: "Width in the plane." },
    } as const satisfies Fields),
    about: "The wide arm; the flexure takes the rest of the hot arm's length.",
  },
  flexure: {
    shape: record({ width: { shape: drawnLength("2 um"), about: "Width in the plane." } } as const satisfies Fields),
    about: "The thin beam between the cold arm and its anchor.",
  },
  gap: { shape: drawnLength("2 um"), about: "Clear distance between the hot and the cold arm." },
  fillet: { shape: drawnLength("1 um"), about: "Radius of the fillets at the anchors, on the mask.", optional: true },
  anchors: {
    shape: either(["ideal"], {
      ...sizeFields,
      ...anchorHeatFields,
      apart: {
        shape: drawnLength("4 um"),
        about: "Clear distance between the two anchors. Left out: as the gap between the arms.",
        optional: true,
      },
    }),
    about: "Two equal anchors side by side, or ideal ones that stay cool and rigid.",
  },
  leads: {
    shape: quantity("resistance", { example: "10 ohm ± 4 ohm", evidence: "assumed", least: 0, most: 1e6 }),
    about: "Resistance of pads and leads, both together.",
    optional: true,
  },
} as const satisfies Fields;

type Values = ValueRecord<typeof armFields>;

/** Size of an ideal anchor on paper, [m]: it has no mask, but its root needs a place. */
const idealAnchor = { width: 100e-6, height: 100e-6 };

const um = (length: number): string => (length * 1e6).toFixed(2);

/** Heights over the middle line of the hot arm. */
interface Levels {
  /** Middle line of the cold arm and the flexure. */
  readonly cold: number;
  /** Top of the lower anchor and bottom of the upper one. */
  readonly lowerTop: number;
  readonly upperBottom: number;
}

/** Where the anchors part: as much silicon over the hot arm's root as under the flexure's. */
function levelsOf(values: Values): Levels {
  const { anchors, gap } = values;
  const [hot, cold, flexure] = [values["hot arm"].width, values["cold arm"].width, values.flexure.width];
  const level = hot / 2 + gap + cold / 2;
  const apart = anchors === "ideal" ? gap : (anchors.apart ?? gap);
  const clear = level - flexure / 2 - hot / 2;
  const margin = (clear - apart) / 2;
  const fillet = values.fillet ?? 0;
  // rounding: an anchor may end flush with the edge of its beam
  if (margin - fillet < -1e-12)
    throw new AssemblyError(
      `the anchors cannot stand ${um(apart)} um apart: hot arm and flexure leave ${um(clear)} um between them` +
        (fillet > 0 ? `, and the fillets take ${um(2 * fillet)} um of it` : ""),
    );
  return { cold: level, lowerTop: hot / 2 + margin, upperBottom: level - flexure / 2 - margin };
}

/** Draws both arms about the tip. Returns the tip. */
function drawArms(draft: Draft, values: Values): Place {
  const { flexure, anchors } = values;
  const [hot, cold] = [values["hot arm"], values["cold arm"]];
  if (!(cold.length < hot.length))
    throw new AssemblyError(
      `the cold arm is ${um(cold.length)} um long and leaves no flexure beside the hot arm of ${um(hot.length)} um`,
    );
  const levels = levelsOf(values);
  const place = (x: number, y: number): Place => ({ x: x - hot.length, y: y - levels.cold });
  const hotRoot = place(0, 0);
  const hotEnd = place(hot.length, 0);
  const tip = place(hot.length, levels.cold);
  const knee = place(hot.length - cold.length, levels.cold);
  const flexureRoot = place(0, levels.cold);
  const beam = (name: string, ends: readonly [Place, Place], rest: { width: number; isLeg: boolean }): void =>
    draft.add({
      kind: "beam",
      name: draft.named(name),
      isLeg: rest.isLeg,
      line: Float64Array.of(ends[0].x, ends[0].y, ends[1].x, ends[1].y),
      widths: [rest.width, rest.width],
      fillet: values.fillet ?? 0,
      hinged: [false, false],
    });
  beam("hot arm", [hotRoot, hotEnd], { width: hot.width, isLeg: true });
  beam("link", [hotEnd, tip], { width: hot.width, isLeg: false });
  beam("cold arm", [tip, knee], { width: cold.width, isLeg: false });
  beam("flexure", [knee, flexureRoot], { width: flexure.width, isLeg: false });
  const size = anchors === "ideal" ? idealAnchor : anchors;
  const anchor = (name: string, at: { readonly middle: number; readonly wire: string }): void => {
    const centre = place(-size.width / 2, at.middle);
    draft.add({
      kind: "anchor",
      name: draft.named(name),
      slab: { centre, width: size.width, height: size.height, turn: 0 },
      heat: anchors === "ideal" ? "ideal" : (anchors["thermal resistance"] ?? "glass"),
      wire: at.wire,
      leadResistance: (values.leads ?? 0) / 2,
    });
    draft.markPoint(name, centre);
  };
  requireHeight("hot arm", { height: size.height, needed: levels.lowerTop + hot.width / 2, values });
  requireHeight("flexure", { height: size.height, needed: levels.cold + flexure.width / 2 - levels.upperBottom, values });
  anchor("lower anchor", { middle: levels.lowerTop - size.height / 2, wire: "plus" });
  anchor("upper anchor", { middle: levels.upperBottom + size.height / 2, wire: "minus" });
  for (const [name, point] of [
    ["hot root", hotRoot],
    ["hot end", hotEnd],
    ["tip", tip],
    ["knee", knee],
    ["flexure root", flexureRoot],
  ] as const)
    draft.markPoint(name, point);
  return tip;
}

function requireHeight(beam: string, at: { readonly height: number; readonly needed: number; readonly values: Values }): void {
  const needed = at.needed + (at.values.fillet ?? 0);
  if (at.height < needed)
    throw new AssemblyError(
      `the anchors are ${um(at.height)} um high, but the root of the ${beam} needs ${um(needed)} um: make them higher`,
    );
}

export const hotAndColdArm = defineFamily({
  name: "hot and cold arm",
  about:
    "A thin arm and a wide one that carry the same current: the thin one grows warmer and bends both to the wide one's side.",
  fields: { ...armFields, ...deviceFields } as const satisfies Fields,
  draw: (values, draft) => ({ output: { at: drawArms(draft, values), direction: Math.PI / 2, guided: false } }),
});

/** The same inside a composition, about its tip. */
export const hotAndColdArmPart = definePart({
  name: hotAndColdArm.name,
  about: hotAndColdArm.about,
  placed: true,
  fields: armFields,
  draw: (values, draft) => void drawArms(draft, values),
});
