/**
 * Bent-beam actuators: pairs of slightly tilted legs between two anchors push a shuttle when they are warmed.
 * A pair is a bank of one.
 */
import { either, type Fields, quantity, record, type ValueRecord, whole } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import type { Draft } from "../draft.ts";
import { definePart } from "../draft.ts";
import type { Place, Slab } from "../drawing/part.ts";
import { defineFamily } from "../family.ts";
import { drawnLength, sizeFields } from "../parts/fields.ts";
import { markSides } from "../parts/plate.ts";
import { anchorPairFields, deviceFields, drawAnchorPair } from "./common.ts";

const legFields = {
  length: { shape: drawnLength("800 um"), about: "Length of a leg from anchor edge to shuttle edge, along the leg." },
  width: { shape: drawnLength("6 um"), about: "Width of a leg in the plane." },
  tilt: {
    shape: quantity("angle", { example: "2.5 deg", evidence: "drawn", above: 0, most: 0.8 }),
    about: "Angle of a leg to the line from anchor to anchor.",
  },
  fillet: { shape: drawnLength("3 um"), about: "Radius of the fillets at its roots, on the mask.", optional: true },
} as const satisfies Fields;

const bankLegFields = {
  pairs: { shape: whole({ least: 1, most: 400, example: "6" }), about: "Number of pairs of legs." },
  ...legFields,
  pitch: { shape: drawnLength("16 um"), about: "Distance from one pair to the next.", optional: true },
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

const pairFields = {
  legs: { shape: record(legFields), about: "The two legs." },
  shuttle: {
    shape: either(["point"], sizeFields),
    about: 'The plate between the legs; "point" is the idealised one without size.',
  },
  load: {
    shape: record(loadFields),
    about: "Stand-ins for parts that hang on the shuttle and are not modelled.",
    optional: true,
  },
  ...anchorPairFields,
} as const satisfies Fields;

const bankFields = { ...pairFields, legs: { shape: record(bankLegFields), about: "The legs." } } as const satisfies Fields;

interface BankShape {
  readonly nPairs: number;
  readonly legs: ValueRecord<typeof legFields>;
  readonly pitch: number;
}

/** Heights of the roots about their middle, [nPairs] m. */
function levelsOf({ nPairs, pitch }: BankShape): number[] {
  return Array.from({ length: nPairs }, (_, i) => (i - (nPairs - 1) / 2) * pitch);
}

const um = (length: number): string => (length * 1e6).toFixed(1);

function checkBank(bank: BankShape, shuttle: "point" | { readonly height: number }): void {
  const { nPairs, pitch, legs } = bank;
  if (nPairs > 1 && shuttle === "point")
    throw new AssemblyError(
      `the legs of ${nPairs} pairs do not meet in one point: give the shuttle a width and a height, or take one pair`,
    );
  if (nPairs > 1 && pitch <= legs.width / Math.cos(legs.tilt))
    throw new AssemblyError("the pitch of the legs must be larger than their width");
  if (shuttle !== "point" && shuttle.height < (nPairs - 1) * pitch)
    throw new AssemblyError(
      `the shuttle is ${um(shuttle.height)} um high, but its legs meet it over ${um((nPairs - 1) * pitch)} um: make it higher`,
    );
}

/** Draws a bank whose roots have their middle at the height `rootsAt` [m]. Returns the place that it pushes. */
function drawBank(
  draft: Draft,
  bank: BankShape,
  at: { readonly values: ValueRecord<typeof pairFields>; readonly rootsAt: number },
): Place {
  const { values, rootsAt } = at;
  const { shuttle } = values;
  checkBank(bank, shuttle);
  const { legs } = bank;
  const half = shuttle === "point" ? 0 : shuttle.width / 2;
  const span = legs.length * Math.cos(legs.tilt);
  const rise = legs.length * Math.sin(legs.tilt);
  const levels = levelsOf(bank);
  const extent = levels[levels.length - 1]! - levels[0]! + 2 * legs.width;
  drawAnchorPair(draft, values, { inner: half + span, middle: rootsAt, extent });
  const middle: Place = { x: 0, y: rootsAt + rise };
  if (shuttle === "point") markPointShuttle(draft, middle);
  else {
    const slab: Slab = { centre: middle, width: shuttle.width, height: shuttle.height, turn: 0 };
    markSides(draft, slab);
    draft.add({
      kind: "plate",
      name: draft.named("shuttle"),
      slab,
      bends: false,
      slits: undefined,
      holes: undefined,
      spine: "y",
      leak: values.load?.["heat leak"] ?? 0,
      isShuttle: true,
    });
  }
  levels.forEach((y, level) => {
    for (const side of ["left", "right"] as const) {
      const sign = side === "left" ? -1 : 1;
      draft.add({
        kind: "beam",
        name: draft.named(`leg ${level + 1} ${side}`),
        isLeg: true,
        line: Float64Array.of(sign * (half + span), rootsAt + y, sign * half, rootsAt + y + rise),
        widths: [legs.width, legs.width],
        fillet: legs.fillet ?? 0,
        hinged: [false, false],
      });
    }
  });
  drawLoad(draft, values, output(bank, middle));
  return output(bank, middle);
}

/** The pair in the middle, or just below it: where the travel is taken and what hangs on the shuttle pulls. */
function output(bank: BankShape, middle: Place): Place {
  return { x: 0, y: middle.y + levelsOf(bank)[Math.ceil(bank.nPairs / 2) - 1]! };
}

function markPointShuttle(draft: Draft, middle: Place): void {
  for (const name of ["middle", "top", "bottom"]) draft.markPoint(name, middle);
}

function drawLoad(draft: Draft, values: ValueRecord<typeof pairFields>, at: Place): void {
  const { load, shuttle } = values;
  if (load?.stiffness !== undefined && load.stiffness > 0)
    draft.add({ kind: "spring", name: draft.named("load"), at, x: 0, y: load.stiffness, turn: 0 });
  if (shuttle === "point" && load?.["heat leak"] !== undefined)
    draft.add({ kind: "lump", name: draft.named("heat leak"), at, mass: 0, leak: load["heat leak"] });
}

function bankShapeOf(legs: ValueRecord<typeof bankLegFields>): BankShape {
  if (legs.pairs > 1 && legs.pitch === undefined)
    throw new AssemblyError("legs of more than one pair need a pitch, for example 16 um");
  return { nPairs: legs.pairs, legs, pitch: legs.pitch ?? 0 };
}

const travel = (at: Place) => ({ output: { at, direction: Math.PI / 2, guided: true } });

export const bentBeamPair = defineFamily({
  name: "bent-beam pair",
  about: "Two tilted legs that push a shuttle when they are warmed.",
  fields: { ...pairFields, ...deviceFields } as const satisfies Fields,
  draw: (values, draft) => travel(drawBank(draft, { nPairs: 1, legs: values.legs, pitch: 0 }, { values, rootsAt: 0 })),
});

export const bentBeamBank = defineFamily({
  name: "bent-beam bank",
  about: "Several pairs of tilted legs side by side that push one shuttle.",
  fields: { ...bankFields, ...deviceFields } as const satisfies Fields,
  draw: (values, draft) => travel(drawBank(draft, bankShapeOf(values.legs), { values, rootsAt: 0 })),
});

/** Height of the roots when the shuttle's middle is the origin, [m]. */
const rootsBelow = (legs: { readonly length: number; readonly tilt: number }): number => -legs.length * Math.sin(legs.tilt);

/** The same inside a composition, about the shuttle's middle; the composition says how heat is lost and what room there is. */
export const bentBeamPairPart = definePart({
  name: bentBeamPair.name,
  about: bentBeamPair.about,
  placed: true,
  fields: pairFields,
  draw: (values, draft) =>
    void drawBank(draft, { nPairs: 1, legs: values.legs, pitch: 0 }, { values, rootsAt: rootsBelow(values.legs) }),
});

export const bentBeamBankPart = definePart({
  name: bentBeamBank.name,
  about: bentBeamBank.about,
  placed: true,
  fields: bankFields,
  draw: (values, draft) => void drawBank(draft, bankShapeOf(values.legs), { values, rootsAt: rootsBelow(values.legs) }),
});
