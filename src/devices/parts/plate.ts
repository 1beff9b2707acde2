/** The words "plate" and "slit blade". */
import { choice, type Fields, record, type ValueRecord, whole } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import { type Draft, definePart } from "../draft.ts";
import type { HoleField, Slab, SlitField } from "../drawing/part.ts";
import { placeFromOwn } from "../drawing/slab.ts";
import { drawnLength, pointName, sizeFields, turnField } from "./fields.ts";

export const slitFields = {
  count: { shape: whole({ least: 1, most: 1000, example: "50" }), about: "Slits side by side." },
  width: { shape: drawnLength("8 um"), about: "Clear width of a slit." },
  pitch: { shape: drawnLength("20 um"), about: "From one slit to the next." },
  lengths: { shape: whole({ least: 1, most: 100, example: "3" }), about: "Lengths in a row, with ribs between them." },
  length: { shape: drawnLength("333 um"), about: "Clear length of each." },
  rib: { shape: drawnLength("20 um"), about: "Width of the ribs between two lengths.", optional: true },
} as const satisfies Fields;

export const holeFields = {
  columns: { shape: whole({ least: 1, most: 1000, example: "7" }), about: "Holes along x." },
  rows: { shape: whole({ least: 1, most: 1000, example: "7" }), about: "Holes along y." },
  side: { shape: drawnLength("10 um"), about: "Side of a square hole." },
  pitch: { shape: drawnLength("40 um"), about: "From one hole to the next." },
} as const satisfies Fields;

export const plateFields = {
  at: { shape: pointName, about: "Point at its middle." },
  ...sizeFields,
  turn: turnField,
  bends: { shape: choice("yes", "no"), about: "Whether it bends along its spine, or is rigid. Left out: no.", optional: true },
  spine: {
    shape: choice("x", "y"),
    about: "Own axis along which heat is followed. Left out: its longer side.",
    optional: true,
  },
  slits: { shape: record(slitFields), about: "Parallel slits along x through its middle.", optional: true },
  holes: { shape: record(holeFields), about: "Square holes through its middle.", optional: true },
} as const satisfies Fields;

/** Points at the middle of a slab and of its four sides, in its own axes. */
export function markSides(draft: Draft, slab: Slab, before = ""): void {
  const [x, y] = [slab.width / 2, slab.height / 2];
  for (const [name, own] of [
    ["middle", { x: 0, y: 0 }],
    ["top", { x: 0, y }],
    ["bottom", { x: 0, y: -y }],
    ["left", { x: -x, y: 0 }],
    ["right", { x, y: 0 }],
  ] as const)
    draft.markPoint(`${before}${name}`, placeFromOwn(slab, own));
}

export function slitFieldOf(name: string, slab: Slab, slits: ValueRecord<typeof slitFields>): SlitField {
  const field = { ...slits, rib: slits.rib ?? 0 };
  if (slits.lengths > 1 && field.rib === 0)
    throw new AssemblyError(`${name} has slits of several lengths: they need a rib between them, for example rib: 20 um`);
  const across = (slits.count - 1) * slits.pitch + slits.width;
  const along = slits.lengths * slits.length + (slits.lengths - 1) * field.rib;
  requireInside(name, "slits", { slab, along, across });
  if (slits.count > 1 && slits.pitch <= slits.width)
    throw new AssemblyError(`the slits of ${name} run into each other: their pitch must be larger than their width`);
  return field;
}

function holeFieldOf(name: string, slab: Slab, holes: HoleField): HoleField {
  const reach = (count: number): number => (count - 1) * holes.pitch + holes.side;
  requireInside(name, "holes", { slab, along: reach(holes.columns), across: reach(holes.rows) });
  if (holes.pitch <= holes.side)
    throw new AssemblyError(`the holes of ${name} run into each other: their pitch must be larger than their side`);
  return holes;
}

/** Where a row of equal openings stands about the middle of its plate, [m]. */
const rowOf = (count: number, pitch: number): number[] => Array.from({ length: count }, (_, i) => (i - (count - 1) / 2) * pitch);

/** True where openings of two rows share a place along the axis; openings that meet are one opening. */
function rowsMeet(first: { readonly places: number[]; readonly size: number }, second: typeof first): boolean {
  const reach = (first.size + second.size) / 2;
  return first.places.some((a) => second.places.some((b) => Math.abs(a - b) <= reach * (1 + 1e-9)));
}

/** Silicon that two openings take would be taken twice: from the mass, and from the way of heat and current. */
function requireApart(name: string, slits: SlitField | undefined, holes: HoleField | undefined): void {
  if (slits === undefined || holes === undefined) return;
  const meetAlong = rowsMeet(
    { places: rowOf(slits.lengths, slits.length + slits.rib), size: slits.length },
    { places: rowOf(holes.columns, holes.pitch), size: holes.side },
  );
  const meetAcross = rowsMeet(
    { places: rowOf(slits.count, slits.pitch), size: slits.width },
    { places: rowOf(holes.rows, holes.pitch), size: holes.side },
  );
  if (meetAlong && meetAcross)
    throw new AssemblyError(
      `the slits and the holes of ${name} overlap: leave out one of them, or let the holes stand between the slits`,
    );
}

function requireInside(name: string, what: string, at: { slab: Slab; along: number; across: number }): void {
  const um = (length: number): string => (length * 1e6).toFixed(1);
  if (at.along < at.slab.width && at.across < at.slab.height) return;
  throw new AssemblyError(
    `the ${what} of ${name} take ${um(at.along)} by ${um(at.across)} um, but it is ${um(at.slab.width)} by ${um(at.slab.height)} um`,
  );
}

export const platePart = definePart({
  name: "plate",
  about: "A plate that moves as a rigid body, or bends along its spine. What ends on its edge is joined to it.",
  fields: plateFields,
  draw: (values, draft) => {
    const slab: Slab = {
      centre: draft.place(values.at),
      width: values.width,
      height: values.height,
      turn: values.turn ?? 0,
    };
    markSides(draft, slab);
    const slits = values.slits && slitFieldOf(draft.name, slab, values.slits);
    const holes = values.holes && holeFieldOf(draft.name, slab, values.holes);
    requireApart(draft.name, slits, holes);
    draft.add({
      kind: "plate",
      name: draft.name,
      slab,
      bends: values.bends === "yes",
      slits,
      holes,
      spine: values.spine ?? (values.width > values.height ? "x" : "y"),
      leak: 0,
      isShuttle: false,
    });
  },
});
