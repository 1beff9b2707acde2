/**
 * The outlines on the mask and the sizes in the model come from the same drawing: silicon areas, widths, lengths and middle lines must
 * agree, at target size and when every edge has moved, for every family and every word that draws silicon.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  areaOf,
  composeTransforms,
  differenceOf,
  mirror,
  offsetPolygons,
  type Polygon,
  perimeter,
  polygonFromOutline,
  rotation,
  squareMetresFromDbu,
  type Transform,
  translation,
  unionOf,
} from "#geometry";
import { partWords } from "./composition/words.ts";
import { outlinesOf } from "./drawing/outlines.ts";
import type { Drawing } from "./drawing/part.ts";
import { outlineOfSlab } from "./drawing/slab.ts";
import { transformPart } from "./drawing/transform-parts.ts";
import { families } from "./families/index.ts";
import { type BuiltBody, type BuiltDevice, buildDevice } from "./model/built-device.ts";

const um = 1e-6;
const mitre = { join: "mitre", limit: 4 } as const;
const toDbu = (metres: number): number => metres * 1e9;

/* ---------------------------------------------------------------- sampled drawings */

const length = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map((value) => value * um);
const angle = (min: number, max: number) => fc.double({ min, max, noNaN: true });

function familyDrawing(name: string, values: object): Drawing {
  const family = families.find((entry) => entry.name === name)!;
  return family.assemble({ "heat loss": "none", ...values });
}

interface Word {
  readonly word: string;
  readonly values: Readonly<Record<string, unknown>>;
}

function composed(parts: Readonly<Record<string, Word>>, points: Readonly<Record<string, object>> = {}): Drawing {
  return familyDrawing("composition", {
    parts: new Map(Object.entries(parts)),
    points: new Map(Object.entries({ origin: { x: 0, y: 0 }, ...points })),
  });
}

/** Whole nanometres: an offset by a fraction of the grid is rounded as a whole, which says nothing about the drawing. */
const edgeLoss = fc.integer({ min: -400, max: 600 }).map((value) => value * 1e-9);

/** A flexure on the right edge of a plate, at its middle. */
function onPlate(word: string, values: object): Drawing {
  return composed({
    body: { word: "plate", values: { at: "origin", width: 200 * um, height: 80 * um } },
    flexure: { word, values: { at: "body right", ...values } },
  });
}

const legs = fc.record({
  length: length(200, 900),
  width: length(4, 10),
  tilt: angle(0.01, 0.12),
  fillet: length(0.5, 1.5),
});
const anchors = { width: 300 * um, height: 900 * um, "thermal resistance": 300 };
const bankValues = fc
  .record({ pairs: fc.integer({ min: 1, max: 3 }), pitch: length(16, 40), legs })
  .map(({ pairs, pitch, legs: leg }) => ({
    legs: { pairs, pitch, ...leg },
    shuttle: { width: 24 * um, height: (pairs - 1) * pitch + 60 * um },
    anchors,
  }));
const pairValues = fc.record({ legs, point: fc.boolean() }).map(({ legs: leg, point }) => ({
  legs: leg,
  shuttle: point ? "point" : { width: 24 * um, height: 60 * um },
  anchors: "ideal",
}));
const cascadeValues = fc
  .record({
    primaries: bankValues,
    secondary: fc.record({ length: length(600, 900), width: length(4, 10), tilt: angle(0.02, 0.2), fillet: length(0.5, 2) }),
    point: fc.boolean(),
    current: fc.constantFrom("through primaries", "through all"),
  })
  .map(({ primaries, point, ...rest }) => ({
    ...rest,
    primaries: { ...primaries, anchors: { width: 300 * um, height: 400 * um, shift: -150 * um } },
    shuttle: point ? "point" : { width: 30 * um, height: 60 * um },
  }));
const armValues = fc
  .record({ hot: length(2, 5), cold: length(8, 20), flexure: length(2, 5), gap: length(3, 6), long: length(200, 400) })
  .map(({ hot, cold, flexure, gap, long }) => ({
    "hot arm": { length: long, width: hot },
    "cold arm": { length: long * 0.8, width: cold },
    flexure: { width: flexure },
    gap,
    fillet: 0.5 * um,
    anchors: { width: 100 * um, height: 80 * um },
  }));
const island = { width: 60 * um, height: 60 * um };
const clampedValues = fc.record({
  length: length(100, 400),
  width: length(2, 8),
  fillet: length(0, 4),
  island: fc.constant(island),
});
const side = fc.constantFrom("left", "right");
const foldedValues = fc
  .record({ length: length(150, 500), width: length(2, 8), spacing: length(20, 40), side, fillet: length(0, 3) })
  .map((values) => ({
    ...values,
    "length back": values.length - 75 * um,
    truss: { width: 20 * um, height: values.spacing + 30 * um },
    island: { width: 60 * um, height: 80 * um, shift: 30 * um },
  }));
const crabValues = fc
  .record({ thigh: length(100, 300), shin: length(60, 200), a: length(2, 8), b: length(2, 8), side, fillet: length(0, 4) })
  .map(({ thigh, shin, a, b, ...rest }) => ({
    ...rest,
    thigh: { length: thigh, width: a },
    shin: { length: shin, width: b },
    island,
  }));
const serpentineValues = fc.record({
  meanders: fc.integer({ min: 1, max: 5 }),
  span: length(40, 150),
  pitch: length(12, 30),
  width: length(2, 6),
  "link width": length(2, 6),
  fillet: length(0, 1.5),
  island: fc.constant(island),
});
const sheetValues = fc
  .record({
    count: fc.integer({ min: 1, max: 12 }),
    width: length(4, 10),
    lengths: fc.integer({ min: 1, max: 3 }),
    inner: length(8, 30),
    outer: length(10, 40),
    rim: length(10, 40),
  })
  .map(({ count, width, lengths, inner, outer, rim }) => ({
    aperture: { width: 300 * um, height: count * 20 * um },
    slits: { width, pitch: 20 * um, lengths },
    ribs: { inner, outer },
    rim,
  }));
const arrangement = fc.record({
  count: fc.constantFrom(2, 4),
  edges: fc.constantFrom("left and right", "top and bottom"),
  travel: fc.constantFrom("x", "y"),
});
const suspendedValues = fc
  .tuple(
    arrangement,
    fc.oneof(
      clampedValues.map((values): Word => ({ word: "clamped-guided beam", values })),
      crabValues.map((values): Word => ({ word: "crab-leg", values: { ...values, side: "left" } })),
      serpentineValues.map((values): Word => ({ word: "serpentine", values: { ...values, span: 40 * um } })),
      // a shorter way back, so that the island stands beside the flexure and clear of the plate
      foldedValues.map(
        (values): Word => ({ word: "folded flexure", values: { ...values, "length back": values.length - 80 * um } }),
      ),
    ),
  )
  .map(([rest, flexure]) => ({
    ...rest,
    flexure,
    plate: { width: 400 * um, height: 420 * um },
    ...(rest.count === 4 ? { inset: 40 * um } : {}),
  }));
const lineValues = fc.record({ x: length(50, 300), y: length(-20, 20), width: length(2, 8), "end width": length(2, 8) });

function lineBetweenPlates(word: string, values: { x: number; y: number; width: number }, rest: object): Drawing {
  return composed(
    {
      start: { word: "anchor", values: { at: "left", width: 80 * um, height: 60 * um } },
      end: { word: "plate", values: { at: "right", width: 40 * um, height: 60 * um } },
      line: { word, values: { from: "from", to: "to", width: values.width, ...rest } },
    },
    {
      from: { x: 0, y: 0 },
      to: { x: values.x, y: values.y },
      left: { x: -40 * um, y: 0 },
      right: { x: values.x + 20 * um, y: values.y },
    },
  );
}

/** A drawing for every word that draws silicon; idealised words and metal have none. */
const wordSamples: Readonly<Record<string, fc.Arbitrary<Drawing>>> = {
  anchor: fc
    .record({ width: length(10, 200), height: length(10, 200), turn: angle(-3, 3) })
    .map((values) => composed({ block: { word: "anchor", values: { at: "origin", ...values } } })),
  plate: fc.record({ turn: angle(-3, 3), columns: fc.integer({ min: 1, max: 6 }), side: length(5, 12) }).map((values) =>
    composed({
      block: {
        word: "plate",
        values: {
          at: "origin",
          width: 300 * um,
          height: 200 * um,
          turn: values.turn,
          holes: { columns: values.columns, rows: 3, side: values.side, pitch: 40 * um },
        },
      },
    }),
  ),
  beam: lineValues.map((values) => lineBetweenPlates("beam", values, { "end width": values["end width"] })),
  "curved beam": fc
    .tuple(
      lineValues,
      fc.constantFrom("arc", "cosine"),
      fc.integer({ min: -8, max: 8 }).map((rise) => rise * um),
    )
    .map(([values, shape, rise]) => lineBetweenPlates("curved beam", { ...values, y: 0 }, { shape, rise })),
  "bent-beam pair": pairValues.map((values) =>
    composed({ drive: { word: "bent-beam pair", values: { at: "origin", ...values } } }),
  ),
  "bent-beam bank": bankValues.map((values) =>
    composed({ drive: { word: "bent-beam bank", values: { at: "origin", turned: Math.PI / 2, ...values } } }),
  ),
  cascade: cascadeValues.map((values) => composed({ drive: { word: "cascade", values: { at: "origin", ...values } } })),
  "hot and cold arm": armValues.map((values) =>
    composed({ drive: { word: "hot and cold arm", values: { at: "origin", turned: -Math.PI / 2, ...values } } }),
  ),
  "clamped-guided beam": clampedValues.map((values) => onPlate("clamped-guided beam", values)),
  "folded flexure": foldedValues.map((values) => onPlate("folded flexure", values)),
  "crab-leg": crabValues.map((values) => onPlate("crab-leg", values)),
  serpentine: serpentineValues.map((values) => onPlate("serpentine", values)),
  "slit blade": sheetValues.map((values) => composed({ blade: { word: "slit blade", values: { at: "origin", ...values } } })),
};
const withoutSilicon = ["pad", "wire", "support", "spring", "stop", "lump", "fixed slits"];

const familySamples: Readonly<Record<string, fc.Arbitrary<Drawing>>> = {
  "straight bar": fc
    .record({ length: length(100, 900), width: length(2, 12) })
    .map((values) => familyDrawing("straight bar", { ...values, anchors: { width: 300 * um, height: 100 * um } })),
  "bent-beam pair": pairValues.map((values) => familyDrawing("bent-beam pair", values)),
  "bent-beam bank": bankValues.map((values) => familyDrawing("bent-beam bank", values)),
  cascade: cascadeValues.map((values) => familyDrawing("cascade", values)),
  "hot and cold arm": armValues.map((values) => familyDrawing("hot and cold arm", values)),
  "suspended plate": suspendedValues.map((values) => familyDrawing("suspended plate", values)),
};

const samples = [
  ...Object.entries(wordSamples).map(([name, drawings]) => [`the word ${name}`, drawings] as const),
  ...Object.entries(familySamples).map(([name, drawings]) => [`the family ${name}`, drawings] as const),
];

/* ---------------------------------------------------------------- silicon on the mask and in the model */

function maskOf(drawing: Drawing): readonly Polygon[] {
  const silicon = outlinesOf(drawing).filter((outline) => outline.plate === "silicon");
  const polygons = (opening: boolean) =>
    silicon.filter((outline) => outline.opening === opening).map((outline) => polygonFromOutline(outline.polygon));
  return differenceOf(unionOf(polygons(false)), polygons(true));
}

function bodyArea({ slab, slits, holes }: BuiltBody): number {
  const open =
    (slits ? slits.count * slits.lengths * slits.width * slits.length : 0) +
    (holes ? holes.columns * holes.rows * holes.side ** 2 : 0);
  return slab.width * slab.height - open;
}

function modelArea(device: BuiltDevice): number {
  const beams = device.beams.map((beam) => (beam.length * (beam.widths[0] + beam.widths[1])) / 2);
  return [...beams, ...device.bodies.map(bodyArea)].reduce((sum, area) => sum + area, 0);
}

const isStraight = (beam: { readonly line: Float64Array }): boolean => beam.line.length === 4;

/** Angle between a beam at its end and the edge of the slab that it meets, [rad]: the corner on one side; pi less it is the other. */
function rootAngle(device: BuiltDevice, beam: BuiltDevice["beams"][number], end: 0 | 1): number | undefined {
  const joined = beam.ends[end];
  if (joined.kind !== "body") return undefined;
  const { line } = beam.part;
  const [at, next] = end === 0 ? [0, 2] : [line.length - 2, line.length - 4];
  const direction = Math.atan2(line[next + 1]! - line[at + 1]!, line[next]! - line[at]!);
  // to the nearest normal of the slab
  const own = direction - device.bodies[joined.index]!.slab.turn;
  const lean = own - (Math.PI / 2) * Math.round(own / (Math.PI / 2));
  return Math.PI / 2 + lean;
}

/** Webs of all fillets: two kites less a sector on each side of each root. Where edges recede by `inward` the radius grows by it. */
function filletAreas(device: BuiltDevice): { area: number; chords: number } {
  let [area, chords] = [0, 0];
  for (const beam of device.beams) {
    if (beam.part.fillet === 0) continue;
    const radius = beam.part.fillet + device.sizes.inward;
    for (const end of [0, 1] as const) {
      const lean = rootAngle(device, beam, end);
      if (lean === undefined) continue;
      for (const angleOfCorner of [lean, Math.PI - lean])
        area += radius ** 2 * (1 / Math.tan(angleOfCorner / 2) - (Math.PI - angleOfCorner) / 2);
      // chords of the arcs, 5 nm inside them at most, on half a turn altogether
      chords += (2 / 3) * 5e-9 * Math.PI * radius;
    }
  }
  return { area, chords };
}

/** Widths of the beams at each joint. */
function widthsAtJoints(device: BuiltDevice): number[][] {
  return device.joints.map((_, index) =>
    device.beams.flatMap((beam) =>
      beam.ends.flatMap((end, which) => (end.kind === "joint" && end.index === index ? [beam.widths[which]!] : [])),
    ),
  );
}

/** What the model may count too much where more than two beams meet without a body. */
function jointDoubt(device: BuiltDevice): number {
  let doubt = 0;
  // three beams overlap in a patch of their widths, which the model counts up to twice too often
  for (const widths of widthsAtJoints(device)) if (widths.length > 2) doubt += 2 * Math.max(...widths) ** 2;
  return doubt;
}

/** Largest error of an area from rounding corners to the grid: 0.71 nm along every edge. */
const rounding = (mask: readonly Polygon[]): number =>
  mask.reduce((sum, polygon) => sum + perimeter(polygon), 0) * 1e-9 * 0.71e-9;

function compare(drawing: Drawing, inward: number): void {
  const mask = maskOf(drawing);
  const built = inward === 0 ? mask : offsetPolygons(mask, -toDbu(inward), mitre);
  const device = buildDevice(drawing, { inward, thickness: 40 * um });
  const { area, chords } = filletAreas(device);
  const doubt = jointDoubt(device);
  const error = squareMetresFromDbu(areaOf(built)) - (modelArea(device) + area);
  // corners as drawn, crossings found between them, and corners after an offset are each rounded
  const steps = inward === 0 ? 2 : 3;
  const allowed = steps * rounding(mask) + chords + 1e-18;
  expect(error).toBeLessThan(allowed);
  expect(error).toBeGreaterThan(-allowed - doubt);
}

/** What is left of one straight beam of the mask beside the bodies that it joins, all edges moved in by `inward`. */
function loneBeam(device: BuiltDevice, beam: BuiltDevice["beams"][number], outline: Float64Array): readonly Polygon[] {
  const { inward } = device.sizes;
  const bodies = beam.ends.flatMap((end) =>
    end.kind === "body" ? [polygonFromOutline(outlineOfSlab(device.bodies[end.index]!.part.slab))] : [],
  );
  const moved = (polygons: readonly Polygon[]) => offsetPolygons(polygons, -toDbu(inward), mitre);
  return differenceOf(moved([polygonFromOutline(outline), ...bodies]), moved(bodies));
}

describe("every family and every word that draws silicon", () => {
  it("is sampled here", () => {
    expect(Object.keys(wordSamples).concat(withoutSilicon).sort()).toEqual(partWords.map((word) => word.name).sort());
    const sampled = Object.keys(familySamples).concat("composition").sort();
    expect(sampled).toEqual(families.map((family) => family.name).sort());
  });

  it.each(samples)("%s: the mask has the silicon of the model, at target size", (_name, drawings) => {
    fc.assert(
      fc.property(drawings, (drawing) => compare(drawing, 0)),
      { seed: 31, numRuns: 6 },
    );
  });

  it.each(samples)("%s: the mask has the silicon of the model, every edge moved once", (_name, drawings) => {
    fc.assert(
      fc.property(drawings, edgeLoss, (drawing, inward) => compare(drawing, inward)),
      { seed: 32, numRuns: 6 },
    );
  });

  it.each(samples)("%s: straight beams on the mask have the widths, middle lines and lengths of the model", (_name, drawings) => {
    fc.assert(
      fc.property(drawings, edgeLoss, (drawing, inward) => {
        const device = buildDevice(drawing, { inward, thickness: 40 * um });
        const outlines = outlinesOf(drawing);
        for (const beam of device.beams.filter((entry) => isStraight(entry.part))) {
          const { polygon } = outlines.find((entry) => entry.part === beam.part.name)!;
          const { line, widths } = beam.part;
          const span = Math.hypot(line[2]! - line[0]!, line[3]! - line[1]!);
          const along = [(line[2]! - line[0]!) / span, (line[3]! - line[1]!) / span] as const;
          for (let i = 0; i < polygon.length; i += 2) {
            const [dx, dy] = [polygon[i]! - line[0]!, polygon[i + 1]! - line[1]!];
            const aside = Math.abs(-along[1] * dx + along[0] * dy);
            // each corner lies half of the width of its end off the middle line
            const half = along[0] * dx + along[1] * dy < span / 2 ? widths[0] / 2 : widths[1] / 2;
            expect(Math.abs(aside - half)).toBeLessThan(1e-15);
          }
          if (beam.ends.some((end) => end.kind !== "body")) continue;
          const left = loneBeam(device, beam, polygon);
          const area = squareMetresFromDbu(areaOf(left));
          const expected = (beam.length * (beam.widths[0] + beam.widths[1])) / 2;
          // the slanted sides of a tapered beam come in by a little more than the loss across the middle line
          const slant = Math.hypot(1, (widths[1] - widths[0]) / 2 / span) - 1;
          const slanted = 2 * Math.abs(inward) * slant * beam.length;
          // as above: drawn and moved corners on the grid
          expect(Math.abs(area - expected)).toBeLessThan(2 * rounding(left) + slanted + 1e-18);
        }
      }),
      { seed: 33, numRuns: 4 },
    );
  });

  const right = Math.PI / 2;
  const moves: readonly (readonly [string, Transform])[] = [
    ["a mirror image", mirror(right, { through: [0, 0] })],
    ["a right turn", rotation(right)],
    ["a mirror image, turned and moved", composeTransforms(mirror(0.3, { through: [0, 0] }), translation(1e-4, -2e-4))],
  ];
  it.each(samples)("%s: mirror images and turns change no area, length or width", (_name, drawings) => {
    fc.assert(
      fc.property(drawings, fc.constantFrom(...moves), (drawing, [, move]) => {
        const moved: Drawing = { ...drawing, parts: drawing.parts.map((part) => transformPart(part, move, part.name)) };
        const [mask, movedMask] = [maskOf(drawing), maskOf(moved)];
        const change = squareMetresFromDbu(areaOf(movedMask) - areaOf(mask));
        // both masks are rounded to the grid, each along its own edges
        expect(Math.abs(change)).toBeLessThan(rounding(mask) + rounding(movedMask));
        const sizes = { inward: 0.3 * um, thickness: 40 * um };
        const [device, other] = [buildDevice(drawing, sizes), buildDevice(moved, sizes)];
        expect(other.beams.map((beam) => beam.widths)).toEqual(device.beams.map((beam) => beam.widths));
        // the model knows no grid: rounding of sums of coordinates below 1 mm only
        device.beams.forEach((beam, i) => {
          expect(Math.abs(other.beams[i]!.length - beam.length)).toBeLessThan(1e-9 * beam.length);
          expect(other.beams[i]!.ends).toEqual(beam.ends);
        });
      }),
      { seed: 34, numRuns: 4 },
    );
  });
});

describe("a curve from the middle of what it ends on", () => {
  it("is as long as what is left of its circle", () => {
    const [span, rise, half] = [400 * um, 30 * um, 40 * um];
    const post = (at: string): Word => ({ word: "plate", values: { at, width: 2 * half, height: 2 * half } });
    const curve: Word = { word: "curved beam", values: { from: "origin", to: "far", width: 6 * um, rise, shape: "arc" } };
    const drawing = composed({ near: post("origin"), other: post("far"), curve }, { far: { x: span, y: 0 } });
    const radius = (rise ** 2 + span ** 2 / 4) / (2 * rise);
    for (const inward of [0, 0.4 * um]) {
      const { beams } = buildDevice(drawing, { inward, thickness: 40 * um });
      const expected = 2 * radius * Math.asin((span / 2 - half + inward) / radius);
      // 48 chords of the circle: 2e-5 short of it; spread anew over what is left, as much again
      expect(beams[0]!.length / expected - 1).toBeLessThan(0);
      expect(beams[0]!.length / expected - 1).toBeGreaterThan(-4e-5);
    }
  });
});
