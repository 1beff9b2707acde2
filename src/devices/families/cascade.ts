/**
 * A cascade of bent beams: two primary banks that face each other push the two ends of a secondary pair inward, which turns their
 * short push into a longer travel across it.
 *
 *   upper anchors     \       |       /        primaries: legs upright, pushing inward
 *                      \   _.-+-._   /
 *                       >-'       '-<         secondary: two tilted legs and the shuttle that travels
 *                      /             \
 *   lower anchors     /               \
 *
 * Layout of [que2001] (FROM MEMORY).
 */
import { choice, either, type Fields, record, type ValueRecord } from "#base";
import { composeTransforms, mirror, rotation, type Transform, translation } from "#geometry";
import { AssemblyError } from "../assembly-error.ts";
import { type Draft, definePart } from "../draft.ts";
import type { Part, Place } from "../drawing/part.ts";
import { defineFamily } from "../family.ts";
import { drawnAngle, drawnLength, sizeFields } from "../parts/fields.ts";
import { markSides } from "../parts/plate.ts";
import { bentBeamBankPart } from "./bent-beam.ts";
import { deviceFields } from "./common.ts";
import { movedDraft } from "./moved-draft.ts";

/** A primary takes the fields of a bank, without stand-ins for what hangs on it: the secondary does. */
const primaryFields: Fields = Object.fromEntries(Object.entries(bentBeamBankPart.fields).filter(([name]) => name !== "load"));

const secondaryFields = {
  length: { shape: drawnLength("400 um"), about: "Length of a leg, from the edge of a primary's shuttle to the shuttle." },
  width: { shape: drawnLength("6 um"), about: "Width of a leg in the plane." },
  tilt: {
    shape: { ...drawnAngle("6 deg"), least: 0.001, most: 0.8 },
    about: "Angle of a leg to the line between the primaries.",
  },
  fillet: { shape: drawnLength("3 um"), about: "Radius of the fillets at its roots, on the mask.", optional: true },
} as const satisfies Fields;

const cascadeFields = {
  primaries: {
    shape: record(primaryFields),
    about: "Both primary banks, each told as a bent-beam bank that pushes up; they are turned to push inward.",
  },
  secondary: { shape: record(secondaryFields), about: "The two legs of the secondary pair." },
  shuttle: {
    shape: either(["point"], sizeFields),
    about: 'The plate between the secondary legs; "point" is the idealised one without size.',
  },
  current: {
    shape: choice("through primaries", "through all"),
    about:
      '"through primaries": from the upper anchors to the lower ones, so that the secondary carries none; "through all": from the left anchors to the right ones.',
  },
} as const satisfies Fields;

type Values = ValueRecord<typeof cascadeFields>;

/** Sides of a bank that pushes up, as they lie once it is turned to push inward. */
const turnedSides: Readonly<Record<string, string>> = { left: "upper", right: "lower", top: "inner", bottom: "outer" };

/** The name of a part or point of a bank after the turn: "leg 1 left" becomes "leg 1 upper". */
function turnedName(name: string): string {
  return name.replace(/\b(left|right|top|bottom)$/, (side) => turnedSides[side]!);
}

/** Draws one bank in its own axes and returns its parts and points, still unturned. */
function drawnBank(values: unknown): { parts: readonly Part[]; points: ReadonlyMap<string, Place> } {
  const parts: Part[] = [];
  const points = new Map<string, Place>();
  bentBeamBankPart.draw(values, {
    name: "",
    named: (part) => part,
    place: (point) => {
      throw new AssemblyError(`a primary bank knows no point "${point}"`);
    },
    add: (part) => parts.push(part),
    markPoint: (point, place) => points.set(point, place),
  });
  return { parts, points };
}

/** The net of an anchor, given the side of the device that its bank stands on. */
function wireOf(side: "left" | "right", anchor: string, current: Values["current"]): string {
  const isPlus = current === "through all" ? side === "left" : anchor.endsWith("upper");
  return isPlus ? "plus" : "minus";
}

/** Draws the cascade about its shuttle's middle. Returns the place that travels. */
function drawCascade(draft: Draft, values: Values): Place {
  const { secondary, shuttle, current } = values;
  const half = shuttle === "point" ? 0 : shuttle.width / 2;
  const span = secondary.length * Math.cos(secondary.tilt);
  const rise = secondary.length * Math.sin(secondary.tilt);
  const bank = drawnBank(values.primaries);
  const push = bank.points.get("top")!;
  // from the bank's axes, where it pushes up at `push`, to the left end of the secondary
  const onLeft = composeTransforms(
    composeTransforms(translation(-push.x, -push.y), rotation(-Math.PI / 2)),
    translation(-half - span, -rise),
  );
  const placings: readonly (readonly ["left" | "right", Transform])[] = [
    ["left", onLeft],
    ["right", composeTransforms(onLeft, mirror(Math.PI / 2, { through: [0, 0] }))],
  ];
  requireRoom(bank.parts, onLeft);
  for (const [side, transform] of placings) {
    const moved = movedDraft(draft, `${side} primary`, transform);
    for (const part of bank.parts) {
      const label = turnedName(part.name);
      const name = moved.named(label);
      moved.add(part.kind === "anchor" ? { ...part, name, wire: wireOf(side, label, current) } : { ...part, name });
    }
    for (const [point, place] of bank.points) moved.markPoint(turnedName(point), place);
  }
  const middle: Place = { x: 0, y: 0 };
  drawShuttle(draft, shuttle);
  for (const side of ["left", "right"] as const) {
    const sign = side === "left" ? -1 : 1;
    draft.add({
      kind: "beam",
      name: draft.named(`secondary leg ${side}`),
      isLeg: false,
      line: Float64Array.of(sign * (half + span), -rise, sign * half, 0),
      widths: [secondary.width, secondary.width],
      fillet: secondary.fillet ?? 0,
      hinged: [false, false],
    });
  }
  return middle;
}

function drawShuttle(draft: Draft, shuttle: Values["shuttle"]): void {
  if (shuttle === "point") {
    for (const name of ["middle", "top", "bottom"]) draft.markPoint(name, { x: 0, y: 0 });
    return;
  }
  const slab = { centre: { x: 0, y: 0 }, width: shuttle.width, height: shuttle.height, turn: 0 };
  markSides(draft, slab);
  draft.add({
    kind: "plate",
    name: draft.named("shuttle"),
    slab,
    bends: false,
    slits: undefined,
    holes: undefined,
    spine: "y",
    leak: 0,
    isShuttle: false,
  });
}

/** The two banks must not meet in the middle: each keeps to its own side. */
function requireRoom(parts: readonly Part[], onLeft: Transform): void {
  for (const part of parts) {
    if (part.kind !== "anchor") continue;
    // upwards in the bank's axes is inward in the device's
    const inner = part.slab.centre.y + part.slab.height / 2 + onLeft.x0;
    if (inner >= 0)
      throw new AssemblyError(
        `the anchors of the two primaries meet in the middle, ${(inner * 1e6).toFixed(1)} um too far in: make the secondary longer, or shift the anchors outward`,
      );
  }
}

export const cascade = defineFamily({
  name: "cascade",
  about: "Two banks of bent beams that squeeze a third pair, which travels further than they do.",
  fields: { ...cascadeFields, ...deviceFields } as const satisfies Fields,
  draw: (values, draft) => ({ output: { at: drawCascade(draft, values), direction: Math.PI / 2, guided: true } }),
});

/** The same inside a composition, about the middle of the shuttle that travels. */
export const cascadePart = definePart({
  name: cascade.name,
  about: cascade.about,
  placed: true,
  fields: cascadeFields,
  draw: (values, draft) => void drawCascade(draft, values),
});
