/**
 * Bent-beam actuators: pairs of slightly tilted legs between two anchors push a shuttle when they are warmed.
 * A pair is a bank of one.
 */

import { either, type Fields, quantity, record, type ValueRecord, whole } from "#base";
import type { Assembly, HeatLoss, Part } from "../assembly.ts";
import { AssemblyError } from "../assembly-error.ts";
import { defineFamily } from "../family.ts";
import { anchor } from "../parts/anchor.ts";
import { beam } from "../parts/beam.ts";
import { gasSection } from "../parts/gas-section.ts";
import { pad } from "../parts/pad.ts";
import { pointShuttle, shuttle, shuttleEnd } from "../parts/shuttle.ts";
import { type Rectangle, rectangleAbout } from "../rectangle.ts";

const drawnLength = (example: string) => quantity("length", { example, evidence: "drawn", above: 0, most: 0.02 });

const legFields = {
  length: { shape: drawnLength("800 um"), about: "Length of a leg from anchor edge to shuttle edge, along the leg." },
  width: { shape: drawnLength("6 um"), about: "Width of a leg in the plane." },
  tilt: {
    shape: quantity("angle", { example: "2.5 deg", evidence: "drawn", above: 0, most: 0.8 }),
    about: "Angle of a leg to the line from anchor to anchor.",
  },
} as const satisfies Fields;

const bankLegFields = {
  pairs: { shape: whole({ least: 1, most: 60, example: "6" }), about: "Number of pairs of legs." },
  ...legFields,
  pitch: { shape: drawnLength("16 um"), about: "Distance from one pair to the next.", optional: true },
} as const satisfies Fields;

const plateFields = {
  width: { shape: drawnLength("24 um"), about: "Size across the travel." },
  height: { shape: drawnLength("120 um"), about: "Size along the travel." },
} as const satisfies Fields;

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

export const anchorFields = {
  width: { shape: drawnLength("1 mm"), about: "Size along x." },
  height: { shape: drawnLength("1.2 mm"), about: "Size along y." },
  "thermal resistance": {
    shape: quantity("thermal resistance", { example: "300 K/W ± 20 %", evidence: "assumed", above: 0, most: 1e9 }),
    about: "From one anchor through the glass to the heat sink.",
  },
} as const satisfies Fields;

const loadFields = {
  stiffness: {
    shape: quantity("stiffness", { example: "32 N/m", evidence: "assumed", least: 0, most: 1e6 }),
    about: "Stiffness along the travel of what hangs on the shuttle.",
    optional: true,
  },
  "heat leak": {
    shape: quantity("thermal conductance", { example: "0.25 mW/K", evidence: "assumed", least: 0, most: 1 }),
    about: "Heat conductance from the shuttle to the surroundings through what hangs on it.",
    optional: true,
  },
} as const satisfies Fields;

const padFields = {
  force: { shape: record(plateFields), about: "Size of the pad that carries the current." },
  sense: { shape: record(plateFields), about: "Size of the pad that measures the voltage.", optional: true },
  tab: { shape: drawnLength("30 um"), about: "How far the metal reaches under the anchor." },
} as const satisfies Fields;

/** Fields that every device between two anchors shares. */
const commonFields = {
  anchors: {
    shape: either(["ideal"], anchorFields),
    about: "Anchors of silicon on glass, or ideal ones that stay cool and rigid.",
  },
  "heat loss": {
    shape: either(["gas", "none"], exchangeFields),
    about: "How the beams lose heat besides their ends: computed for the gas, none, or given.",
  },
  neighbours: {
    shape: { kind: "choice", words: ["shared", "apart"] },
    about: "Whether beams side by side share the gas between them (as they do), or each loses heat as if alone.",
    optional: true,
  },
  trench: { shape: drawnLength("24 um"), about: "Clear width round the device to the silicon that stays.", optional: true },
  leads: {
    shape: quantity("resistance", { example: "10 ohm ± 4 ohm", evidence: "assumed", least: 0, most: 1e6 }),
    about: "Resistance of pads and leads, both together.",
    optional: true,
  },
  pads: { shape: record(padFields), about: "Probe pads at each anchor.", optional: true },
} as const satisfies Fields;

const pairFields = {
  legs: { shape: record(legFields), about: "The two legs." },
  shuttle: {
    shape: either(["point"], plateFields),
    about: 'The plate between the legs; "point" is the idealised one without size.',
  },
  load: {
    shape: record(loadFields),
    about: "Stand-ins for parts that hang on the shuttle and are not modelled.",
    optional: true,
  },
  ...commonFields,
} as const satisfies Fields;

const bankFields = { ...pairFields, legs: { shape: record(bankLegFields), about: "The legs." } } as const satisfies Fields;

const barFields = {
  length: { shape: drawnLength("500 um"), about: "Length between the anchors." },
  width: { shape: drawnLength("8 um"), about: "Width in the plane." },
  ...commonFields,
} as const satisfies Fields;

type Common = ValueRecord<typeof commonFields>;

function heatLossOf(values: Common): HeatLoss {
  const given = values["heat loss"];
  if (typeof given === "string") return given;
  if ((given["per length"] === undefined) === (given.film === undefined))
    throw new AssemblyError('a given heat loss is either "per length" or a "film", one of the two');
  return { perLength: given["per length"], film: given.film };
}

/** Size of an ideal anchor on paper: it has no mask, but its roots need a place. */
const idealAnchor = { width: 100e-6, height: 200e-6 };

function anchorPair(values: Common, inner: { x: number; y: number }): { parts: Part[]; rectangles: [Rectangle, Rectangle] } {
  const size = values.anchors === "ideal" ? idealAnchor : values.anchors;
  const make = (side: -1 | 1): Rectangle => rectangleAbout({ x: side * (inner.x + size.width / 2), y: inner.y }, size);
  const rectangles: [Rectangle, Rectangle] = [make(-1), make(1)];
  const parts = rectangles.map((rectangle, terminal) =>
    anchor(terminal === 0 ? "anchor left" : "anchor right", {
      rectangle,
      ideal: values.anchors === "ideal",
      sinkResistance: values.anchors === "ideal" ? undefined : values.anchors["thermal resistance"],
      terminal,
      leadResistance: (values.leads ?? 0) / 2,
    }),
  );
  return { parts, rectangles };
}

/** Clear distance between the pads of one anchor, [m]. */
const padSpacing = 100e-6;

/** Force and sense pad side by side along the lower edge of each anchor, the force pad further out. */
function padParts(values: Common, anchors: readonly Rectangle[]): Part[] {
  const { pads } = values;
  if (pads === undefined) return [];
  return anchors.flatMap((rectangle, index) => {
    const side = index === 0 ? -1 : 1;
    const name = side < 0 ? "left" : "right";
    const edge = rectangle.bottom;
    const middle = (rectangle.left + rectangle.right) / 2;
    const place = (kind: string, size: { width: number; height: number }, x: number): Part => {
      // a strip of one tab length lies free between pad and anchor edge, bridged by the tab
      const top = edge - pads.tab;
      const half = size.width / 2;
      return pad(`${kind} pad ${name}`, {
        pad: { left: x - half, right: x + half, bottom: top - size.height, top },
        tab: { left: x - half, right: x + half, bottom: top - pads.tab / 2, top: edge + pads.tab },
      });
    };
    const { force, sense } = pads;
    const total = force.width + (sense === undefined ? 0 : sense.width + padSpacing);
    if (total > rectangle.right - rectangle.left)
      throw new AssemblyError("the pads are wider than the anchor that they stand at");
    const forcePad = place("force", force, middle + (side * (total - force.width)) / 2);
    return sense === undefined ? [forcePad] : [forcePad, place("sense", sense, middle - (side * (total - sense.width)) / 2)];
  });
}

interface BankShape {
  readonly nPairs: number;
  readonly legs: { readonly length: number; readonly width: number; readonly tilt: number };
  readonly pitch: number;
}

function assembleBank(bank: BankShape, values: ValueRecord<typeof pairFields>): Assembly {
  const { nPairs, legs, pitch } = bank;
  const half = values.shuttle === "point" ? 0 : values.shuttle.width / 2;
  const span = legs.length * Math.cos(legs.tilt);
  const rise = legs.length * Math.sin(legs.tilt);
  const rootLevels = Array.from({ length: nPairs }, (_, i) => (i - (nPairs - 1) / 2) * pitch);
  const levels = rootLevels.map((y) => y + rise);
  if (values.shuttle !== "point" && values.shuttle.height < (nPairs - 1) * pitch) {
    throw new AssemblyError(
      `the shuttle is ${(values.shuttle.height * 1e6).toFixed(1)} um high, but its legs meet it over ${((nPairs - 1) * pitch * 1e6).toFixed(1)} um: make it higher`,
    );
  }
  if (nPairs > 1 && pitch <= legs.width / Math.cos(legs.tilt))
    throw new AssemblyError("the pitch of the legs must be larger than their width");
  const { parts: anchors, rectangles } = anchorPair(values, { x: half + span, y: 0 });
  const load = {
    leak: values.load?.["heat leak"] ?? 0,
    loadStiffness: values.load?.stiffness ?? 0,
    levels,
    centre: { x: 0, y: rise },
  };
  const middle =
    values.shuttle === "point"
      ? pointShuttle("shuttle", load)
      : shuttle("shuttle", { ...load, ...values.shuttle, legSlope: Math.tan(legs.tilt), wallDistance: values.trench });
  const legParts = rootLevels.flatMap((y, level) =>
    (["left", "right"] as const).map((side) => {
      const sign = side === "left" ? -1 : 1;
      const end =
        values.shuttle === "point"
          ? { node: `shuttle spine ${level + 1}`, point: `shuttle spine ${level + 1}` }
          : shuttleEnd("shuttle", level, side);
      return beam(`leg ${level + 1} ${side}`, {
        role: "leg",
        from: { x: sign * (half + span), y, recedes: sign, node: `anchor ${side}`, fixed: true },
        to: { x: sign * half, y: y + rise, recedes: 0, ...end, fixed: false },
        width: legs.width,
        free: true,
      });
    }),
  );
  const section = gasSection("legs", {
    rows: rootLevels.map((y, level) => ({
      position: y * Math.cos(legs.tilt),
      width: legs.width,
      beams: [`leg ${level + 1} left`, `leg ${level + 1} right`],
    })),
    wallDistance: values.trench,
    apart: values.neighbours === "apart",
  });
  return {
    parts: [...anchors, middle, ...legParts, section, ...padParts(values, rectangles)],
    heatLoss: heatLossOf(values),
    trench: values.trench,
    nRoots: 4 * nPairs,
  };
}

export const bentBeamPair = defineFamily({
  name: "bent-beam pair",
  about: "Two tilted legs that push a shuttle when they are warmed.",
  fields: pairFields,
  assemble: (values) => assembleBank({ nPairs: 1, legs: values.legs, pitch: 0 }, values),
});

export const bentBeamBank = defineFamily({
  name: "bent-beam bank",
  about: "Several pairs of tilted legs side by side that push one shuttle.",
  fields: bankFields,
  assemble: (values) => {
    const { pairs, pitch } = values.legs;
    if (pairs > 1 && pitch === undefined) throw new AssemblyError("legs of more than one pair need a pitch, for example 16 um");
    return assembleBank({ nPairs: pairs, legs: values.legs, pitch: pitch ?? 0 }, values);
  },
});

export const straightBar = defineFamily({
  name: "straight bar",
  about: "A straight bar between two anchors: the simplest heater, and the measure of a material.",
  fields: barFields,
  assemble: (values): Assembly => {
    const { parts: anchors, rectangles } = anchorPair(values, { x: values.length / 2, y: 0 });
    const bar = beam("bar", {
      role: "bar",
      from: { x: -values.length / 2, y: 0, recedes: -1, node: "anchor left", fixed: true },
      to: { x: values.length / 2, y: 0, recedes: 1, node: "anchor right", fixed: true },
      width: values.width,
      free: true,
    });
    const section = gasSection("bar", {
      rows: [{ position: 0, width: values.width, beams: ["bar"] }],
      wallDistance: values.trench,
      apart: values.neighbours === "apart",
    });
    return {
      parts: [...anchors, bar, section, ...padParts(values, rectangles)],
      heatLoss: heatLossOf(values),
      trench: values.trench,
      nRoots: 2,
    };
  },
});
