/** A plate on two or four equal flexures, mirror images of each other. */
import { choice, type Fields, type RecordShape, record, type TaggedShape, whole } from "#base";
import { composeTransforms, mirror, rotation, type Transform, translation } from "#geometry";
import { AssemblyError } from "../assembly-error.ts";
import type { Draft } from "../draft.ts";
import { isBody } from "../drawing/outlines.ts";
import type { Part, Place, Slab } from "../drawing/part.ts";
import { outlineOfSlab } from "../drawing/slab.ts";
import { defineFamily } from "../family.ts";
import { drawnLength } from "../parts/fields.ts";
import { plateFields, platePart } from "../parts/plate.ts";
import { deviceFields } from "./common.ts";
import { flexureWords } from "./flexure-words.ts";
import { movedDraft } from "./moved-draft.ts";

const ownPlateFields = {
  width: plateFields.width,
  height: plateFields.height,
  bends: plateFields.bends,
  spine: plateFields.spine,
  slits: plateFields.slits,
  holes: plateFields.holes,
} as const satisfies Fields;

const flexureShape: TaggedShape = {
  kind: "tagged",
  tag: "is",
  variants: new Map<string, RecordShape>(flexureWords.map((word) => [word.name, record(word.fields)])),
};

/** The flexure as evaluated. */
interface TaggedValues {
  readonly word: string;
  readonly values: unknown;
}

interface Placing {
  readonly edges: "left and right" | "top and bottom";
  readonly count: number;
  readonly inset: number | undefined;
  readonly plate: { readonly width: number; readonly height: number };
}

const um = (length: number): string => (length * 1e6).toFixed(1);

/** Where the first flexure stands: on the right edge near its upper end, or on the top edge near its left end. */
function firstPlace({ edges, count, inset, plate }: Placing): Transform {
  const along = edges === "left and right" ? plate.height : plate.width;
  if (count === 4 && inset === undefined)
    throw new AssemblyError("four flexures need an inset from the corners of the plate, for example inset: 5 um");
  if (count === 2 && inset !== undefined)
    throw new AssemblyError("two flexures stand at the middles of their edges: leave out the inset");
  if (inset !== undefined && inset >= along / 2)
    throw new AssemblyError(`an inset of ${um(inset)} um is beyond the middle of an edge of ${um(along)} um`);
  const aside = inset === undefined ? 0 : along / 2 - inset;
  return edges === "left and right"
    ? translation(plate.width / 2, aside)
    : composeTransforms(rotation(Math.PI / 2), translation(-aside, plate.height / 2));
}

const acrossX = mirror(Math.PI / 2, { through: [0, 0] });
const acrossY = mirror(0, { through: [0, 0] });

/** Names of the flexures and how each is moved from its own frame to its place. */
function placesOf(placing: Placing): ReadonlyMap<string, Transform> {
  const first = firstPlace(placing);
  const image = (...mirrors: Transform[]): Transform => mirrors.reduce(composeTransforms, first);
  if (placing.count === 2)
    return placing.edges === "left and right"
      ? new Map([
          ["right flexure", image()],
          ["left flexure", image(acrossX)],
        ])
      : new Map([
          ["top flexure", image()],
          ["bottom flexure", image(acrossY)],
        ]);
  const [near, far] = placing.edges === "left and right" ? ["right", "left"] : ["left", "right"];
  return new Map([
    [`upper ${near} flexure`, image()],
    [`upper ${far} flexure`, image(acrossX)],
    [`lower ${near} flexure`, image(acrossY)],
    [`lower ${far} flexure`, image(acrossX, acrossY)],
  ]);
}

function boxOf(slab: Slab): { readonly x: readonly [number, number]; readonly y: readonly [number, number] } {
  const corners = outlineOfSlab(slab);
  const range = (axis: 0 | 1): readonly [number, number] => {
    const values = [0, 2, 4, 6].map((i) => corners[i + axis]!);
    return [Math.min(...values), Math.max(...values)];
  };
  return { x: range(0), y: range(1) };
}

/** True where two slabs along the axes of the die share more than an edge. */
function overlaps(a: Slab, b: Slab): boolean {
  const [p, q] = [boxOf(a), boxOf(b)];
  const share = (s: readonly [number, number], t: readonly [number, number]): number =>
    Math.min(s[1], t[1]) - Math.max(s[0], t[0]);
  return share(p.x, q.x) > 1e-9 && share(p.y, q.y) > 1e-9;
}

/** Corners of a part's silicon, ends of a beam's middle line included. */
function cornersOf(part: Part): Place[] {
  const line = part.kind === "beam" ? part.line : isBody(part) ? outlineOfSlab(part.slab) : new Float64Array();
  return Array.from({ length: line.length / 2 }, (_, i) => ({ x: line[2 * i]!, y: line[2 * i + 1]! }));
}

/** Passes on what the first flexure draws, and refuses what runs into the plate or over a line that mirrors it. */
function guardedDraft(draft: Draft, at: { readonly plate: Slab; readonly side: Place }): Draft {
  return {
    name: draft.name,
    named: (part) => draft.named(part),
    place: (point) => draft.place(point),
    add: (part) => {
      if (isBody(part) && overlaps(part.slab, at.plate))
        throw new AssemblyError(`${part.name} runs into the plate: it needs room beside it`);
      if (cornersOf(part).some((corner) => corner.x * at.side.x < -1e-9 || corner.y * at.side.y < -1e-9))
        throw new AssemblyError(`${part.name} reaches over the middle line of the plate and meets its own mirror image`);
      draft.add(part);
    },
    markPoint: (point, place) => draft.markPoint(point, place),
  };
}

/** On which sides of the plate's middle lines the first flexure must keep: signs, 0 where either will do. */
function sideOfFirst({ edges, count }: Placing): Place {
  if (edges === "left and right") return { x: 1, y: count === 4 ? 1 : 0 };
  return { x: count === 4 ? -1 : 0, y: 1 };
}

const middle: Place = { x: 0, y: 0 };

/** The plate keeps its own point names, so that "top" is the top of the device's plate. */
function plateDraft(draft: Draft): Draft {
  return {
    name: draft.named("plate"),
    named: (part) => draft.named(`plate ${part}`),
    place: () => middle,
    add: (part) => draft.add(part),
    markPoint: (point, place) => draft.markPoint(point, place),
  };
}

export const suspendedPlate = defineFamily({
  name: "suspended plate",
  about: "A plate that hangs on two or four equal flexures.",
  fields: {
    plate: { shape: record(ownPlateFields), about: "The plate; rigid unless it bends." },
    flexure: { shape: flexureShape, about: "One of its flexures: the others are its mirror images." },
    count: { shape: whole({ least: 2, most: 4, example: "4" }), about: "How many flexures: 2 or 4." },
    edges: {
      shape: choice("left and right", "top and bottom"),
      about: "Edges that the flexures stand on, pointing out; the left of their way out is away from the plate's middle.",
    },
    inset: {
      shape: drawnLength("5 um"),
      about: "Of four flexures: from a corner of the plate along the edge to the middle of the flexure.",
      optional: true,
    },
    travel: { shape: choice("x", "y"), about: "Axis along which its motion is counted." },
    ...deviceFields,
  } as const satisfies Fields,
  draw: (values, draft) => {
    const { count, edges, inset } = values;
    if (count === 3) throw new AssemblyError("a plate hangs on 2 or on 4 flexures, not on 3");
    // the reader has checked the flexure against its word's fields
    const flexure = values.flexure as TaggedValues;
    const word = flexureWords.find((candidate) => candidate.name === flexure.word)!;
    platePart.draw({ ...values.plate, at: "middle" }, plateDraft(draft));
    const placing: Placing = { edges, count, inset, plate: values.plate };
    const guarded = guardedDraft(draft, {
      plate: { centre: middle, width: values.plate.width, height: values.plate.height, turn: 0 },
      side: sideOfFirst(placing),
    });
    [...placesOf(placing)].forEach(([name, transform], i) => {
      // the others are its mirror images and need no check of their own
      word.draw(flexure.values, movedDraft(i === 0 ? guarded : draft, name, transform));
    });
    return { output: { at: middle, direction: values.travel === "x" ? 0 : Math.PI / 2, guided: true } };
  },
});
