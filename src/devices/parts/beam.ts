/** The words "beam" and "curved beam". */
import { choice, type Fields, list, quantity } from "#base";
import { AssemblyError } from "../assembly-error.ts";
import { type Draft, definePart } from "../draft.ts";
import type { BeamPart, Place } from "../drawing/part.ts";
import { samePlace } from "../drawing/slab.ts";
import { drawnLength, pointName, signedLength } from "./fields.ts";

const lineFields = {
  from: { shape: pointName, about: "Point where it starts." },
  to: { shape: pointName, about: "Point where it ends." },
  width: { shape: drawnLength("6 um"), about: "Width in the plane; at the start where there is an end width." },
  "end width": { shape: drawnLength("3 um"), about: "Width at its end, for a tapered beam.", optional: true },
  fillet: { shape: drawnLength("3 um"), about: "Radius of the fillets at its roots, on the mask.", optional: true },
  role: {
    shape: choice("leg"),
    about: '"leg": counted among the legs in the metrics of mean leg temperature, strain and force.',
    optional: true,
  },
  hinges: {
    shape: list(choice("start", "end")),
    about: "Idealised: ends that turn freely in the plane.",
    optional: true,
  },
  "loss per length": {
    shape: quantity("thermal conductivity", { example: "0.103 W/(m K)", evidence: "assumed", least: 0, most: 100 }),
    about: "Heat that it loses per length and kelvin, given in place of the heat loss of the device.",
    optional: true,
  },
} as const satisfies Fields;

interface LineValues {
  readonly width: number;
  readonly "end width"?: number;
  readonly fillet?: number;
  readonly role?: "leg";
  readonly hinges?: readonly ("start" | "end")[];
  readonly "loss per length"?: number;
}

function addBeam(draft: Draft, values: LineValues, line: Float64Array): void {
  draft.add(beamOf(draft.name, values, line));
}

function beamOf(name: string, values: LineValues, line: Float64Array): BeamPart {
  return {
    kind: "beam",
    name,
    isLeg: values.role === "leg",
    line,
    widths: [values.width, values["end width"] ?? values.width],
    fillet: values.fillet ?? 0,
    hinged: [values.hinges?.includes("start") === true, values.hinges?.includes("end") === true],
    lossPerLength: values["loss per length"],
  };
}

/** Two beams that meet at a point of a line: `share` of the way from its first width to its last. */
function addPieces(
  draft: Draft,
  values: LineValues,
  { line, at, share, names }: { line: Float64Array; at: number; share: number; names: readonly [string, string] },
): void {
  const whole = beamOf(draft.name, values, line);
  const [start, end] = whole.widths;
  const between = start + share * (end - start);
  draft.add({
    ...whole,
    name: draft.named(names[0]),
    line: line.slice(0, 2 * at + 2),
    widths: [start, between],
    hinged: [whole.hinged[0], false],
  });
  draft.add({
    ...whole,
    name: draft.named(names[1]),
    line: line.slice(2 * at),
    widths: [between, end],
    hinged: [false, whole.hinged[1]],
  });
}

/** Two beams that meet in the middle of a line of an odd number of points. */
function addHalves(draft: Draft, values: LineValues, line: Float64Array): void {
  addPieces(draft, values, { line, at: (line.length / 2 - 1) / 2, share: 0.5, names: ["first half", "second half"] });
}

function endsOf(draft: Draft, values: { readonly from: string; readonly to: string }): { from: Place; to: Place } {
  const from = draft.place(values.from);
  const to = draft.place(values.to);
  if (Math.hypot(to.x - from.x, to.y - from.y) < 1e-8)
    throw new AssemblyError(`${draft.name} has no length: "${values.from}" and "${values.to}" are the same place`);
  draft.markPoint("middle", { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 });
  return { from, to };
}

export const beamPart = definePart({
  name: "beam",
  about: "A straight beam from one point to another, of even width or tapered.",
  fields: {
    ...lineFields,
    "joint at": {
      shape: quantity("number", { example: "25 %", evidence: "drawn", least: 0.01, most: 0.99 }),
      about:
        'Part of the way from its start to its end where its point "joint" lies: two beams, "first part" and "second part", meet there, so that something may end, act or be asked there.',
      optional: true,
    },
  } as const satisfies Fields,
  draw: (values, draft) => {
    const { from, to } = endsOf(draft, values);
    const share = values["joint at"];
    if (share === undefined) return addBeam(draft, values, Float64Array.of(from.x, from.y, to.x, to.y));
    const joint = { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
    draft.markPoint("joint", joint);
    const line = Float64Array.of(from.x, from.y, joint.x, joint.y, to.x, to.y);
    addPieces(draft, values, { line, at: 1, share, names: ["first part", "second part"] });
  },
});

/** Chords of a curved beam: an arc of 90 degrees is followed to 5e-5 of its length, the slope of a cosine to 7e-4 in the mean. */
const nChords = 48;

/** Height of a curve over its chord at the relative place s, and where along the chord it stands, for unit chord and rise. */
const curves = {
  cosine: (rise: number) => (s: number) => ({ along: s, aside: (rise / 2) * (1 - Math.cos(2 * Math.PI * s)) }),
  arc: (rise: number) => {
    // circle through both ends and the rise in the middle, in units of the chord
    const radius = (rise * rise + 0.25) / (2 * rise);
    const half = 2 * Math.atan(2 * rise);
    return (s: number) => {
      const angle = (2 * s - 1) * half;
      return { along: 0.5 + radius * Math.sin(angle), aside: rise - radius * (1 - Math.cos(angle)) };
    };
  },
} as const;

export const curvedBeamPart = definePart({
  name: "curved beam",
  about: "A beam along an arc, or along one wave of a raised cosine, over the line from its start to its end.",
  fields: {
    ...lineFields,
    rise: {
      shape: signedLength("20 um"),
      about: "Height of its middle over the straight line, to the left of the way from start to end.",
    },
    shape: { shape: choice("arc", "cosine"), about: "The curve." },
    middle: {
      shape: choice("joint"),
      about:
        '"joint": two halves, "first half" and "second half", that meet in the middle, so that something may end or act there.',
      optional: true,
    },
  } as const satisfies Fields,
  draw: (values, draft) => {
    const { from, to } = endsOf(draft, values);
    const chord = { x: to.x - from.x, y: to.y - from.y };
    const length = Math.hypot(chord.x, chord.y);
    if (Math.abs(values.rise) < samePlace) {
      const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
      if (values.middle === "joint")
        return addHalves(draft, values, Float64Array.of(from.x, from.y, middle.x, middle.y, to.x, to.y));
      return addBeam(draft, values, Float64Array.of(from.x, from.y, to.x, to.y));
    }
    const curve = curves[values.shape](values.rise / length);
    const line = new Float64Array(2 * (nChords + 1));
    for (let i = 0; i <= nChords; i++) {
      const { along, aside } = curve(i / nChords);
      line[2 * i] = from.x + along * chord.x - aside * chord.y;
      line[2 * i + 1] = from.y + along * chord.y + aside * chord.x;
    }
    draft.markPoint("middle", { x: line[nChords]!, y: line[nChords + 1]! });
    return values.middle === "joint" ? addHalves(draft, values, line) : addBeam(draft, values, line);
  },
});
