/**
 * The picture of one device: as drawn on the plates, or at an operating case, warm and moved.
 * Main test: device.test.ts.
 */
import { outlinesOf, type PartOutline, viewDevice } from "#devices";
import { differenceOf, outlineFromPolygon, type Polygon, polygonFromOutline, unionOf } from "#geometry";
import { type DevicePictureOptions, devicePicture, type PicturePart, type PicturePoint, type Tokens } from "#picture";
import { unknownWord } from "../brief/requirements.ts";
import type { Chip } from "../predict/chip.ts";
import { chooseDevice, chooseSteadyCase, refuse } from "../predict/choose.ts";

export interface DeviceDrawingRequest {
  /** May be left out where there is one. */
  readonly device?: string | undefined;
  readonly side: "drawn" | "built";
  /** Steady case whose temperatures and motion are shown; left out: the device as it is drawn, without colours. */
  readonly caseName?: string | undefined;
  /** Factor on the motion; 1 = true scale. */
  readonly exaggeration: number;
  /** Named points that are labelled. */
  readonly points: "all" | readonly string[];
  /** Labelled lines of equal temperature. */
  readonly isolines?: boolean;
  readonly tokens: Tokens;
}

/** Where temperatures differ by less than this, no colours are shown, [K]. */
const leastSpan = 1;

type Pair = readonly [number, number];
type Place = { readonly x: number; readonly y: number };
type Shapes = Pick<DevicePictureOptions, "parts" | "beams" | "field" | "rest" | "stops"> & {
  readonly places: ReadonlyMap<string, Place>;
};

const pair = ({ x, y }: Place): Pair => [x, y];

/** The line of an outline, closed. */
function closed(outline: Float64Array): Float64Array {
  return Float64Array.of(...outline, outline[0]!, outline[1]!);
}

/** SVG text of the picture. Throws InputError where the device, the case or a point is not known, or the case has no state. */
export function drawDevice(chip: Chip, request: DeviceDrawingRequest): string {
  const device = chooseDevice(chip, request.device);
  const { caseName, exaggeration, tokens } = request;
  if (!(exaggeration > 0 && exaggeration <= 1e4))
    throw refuse(chip, `Cannot exaggerate the motion ${exaggeration} times: write a number above 0, for example 20.`);
  if (caseName === undefined && exaggeration !== 1)
    throw refuse(chip, "Cannot exaggerate a motion without a case: say at which one, for example --at hold.");
  const shapes =
    caseName === undefined
      ? asDrawn(chip, device)
      : atCase(chip, { ...request, device, caseName: chooseSteadyCase(chip, caseName) });
  const { places, ...drawn } = shapes;
  const name = chip.description.sections.chip;
  return devicePicture({
    title: caseName === undefined ? `${name}, ${device}` : `${name}, ${device} at ${caseName}`,
    caption: captionOf(request),
    ...drawn,
    isolines: request.isolines === true,
    points: pointsOf(chip, { wanted: request.points, places }),
    tokens,
  });
}

function captionOf({ side, caseName, exaggeration }: DeviceDrawingRequest): string {
  if (caseName === undefined) return "As drawn, from above, true scale";
  const built = side === "built" ? "As built" : "As drawn";
  return exaggeration === 1
    ? `${built}, from above, true scale`
    : `${built}, from above; motion ${Number(exaggeration.toPrecision(3))} times; dashed: at rest`;
}

function pointsOf(
  chip: Chip,
  at: { readonly wanted: DeviceDrawingRequest["points"]; readonly places: ReadonlyMap<string, Place> },
): PicturePoint[] {
  const { wanted, places } = at;
  const names = wanted === "all" ? [...places.keys()] : wanted;
  const byPlace = new Map<string, PicturePoint>();
  for (const name of names) {
    const place = places.get(name);
    if (place === undefined) throw refuse(chip, unknownWord("a point of the device", name, [...places.keys()]));
    // names of one place share a label
    const key = `${Math.round(place.x * 1e9)} ${Math.round(place.y * 1e9)}`;
    const before = byPlace.get(key);
    byPlace.set(key, { text: before === undefined ? name : `${before.text}, ${name}`, at: pair(place) });
  }
  return [...byPlace.values()];
}

function part(kind: PicturePart["kind"], polygons: readonly Polygon[]): PicturePart[] {
  return polygons.length === 0 ? [] : [{ kind, outlines: polygons.map(outlineFromPolygon) }];
}

/** Outlines of a choice, as one shape without seams. */
function merged(outlines: ReturnType<typeof outlinesOf>, wanted: (outline: PartOutline) => boolean): readonly Polygon[] {
  return unionOf(outlines.filter(wanted).map(({ polygon }) => polygonFromOutline(polygon)));
}

/** Every part at target size, fillets and openings included. */
function asDrawn(chip: Chip, device: string): Shapes {
  const drawing = chip.side("drawn").assemblyOf(device);
  const outlines = outlinesOf(drawing);
  const anchors = merged(outlines, ({ plate, free }) => plate === "silicon" && !free);
  const openings = merged(outlines, ({ plate, opening }) => plate === "silicon" && opening);
  const free = merged(outlines, ({ plate, free: isFree, opening }) => plate === "silicon" && isFree && !opening);
  const metal = merged(outlines, ({ plate }) => plate === "metal");
  const moving = differenceOf(free, [...openings, ...anchors]);
  return {
    parts: [...part("metal", metal), ...part("anchors", anchors), ...part("silicon", moving)],
    beams: [],
    places: drawing.points,
  };
}

/** Warm and moved. */
function atCase(chip: Chip, request: DeviceDrawingRequest & { readonly device: string; readonly caseName: string }): Shapes {
  const { device, caseName, exaggeration } = request;
  // a side of its own: the model then stands as this case left it
  const side = chip.side(request.side);
  const point = side.pointAt(device, caseName);
  const reason = point.absent.get("all") ?? point.absent.get("mechanics");
  if (reason !== undefined) throw refuse(chip, `Cannot draw ${device} at ${caseName}: ${reason}.`);
  const model = side.modelAt(device, caseName);
  const view = viewDevice(model, { point, exaggeration });
  const rest = viewDevice(model, { point, exaggeration: 0 });
  const temperatures = [
    ...view.beams.flatMap((beam) => [...beam.temperatures]),
    ...view.bodies.flatMap((body) => [...body.field.temperatures]),
  ];
  const low = temperatures.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const high = temperatures.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const isWarm = high - low > leastSpan;
  const metal = merged(outlinesOf(model.parts.device.drawing), ({ plate }) => plate === "metal");
  return {
    parts: [
      ...part("metal", metal),
      ...view.bodies.map(
        ({ kind, outlines, field }): PicturePart => ({
          kind: kind === "anchor" ? "anchors" : "silicon",
          outlines,
          ...(isWarm && {
            field: { from: pair(field.from), to: pair(field.to), shares: field.shares, values: field.temperatures },
          }),
        }),
      ),
    ],
    beams: view.beams.map(({ line, widths, temperatures: values }) => ({
      points: line,
      widths,
      ...(isWarm && { values }),
    })),
    ...(isWarm && { field: { low: Math.floor(low), high: Math.ceil(high), unit: "K", name: "temperature" } }),
    ...(exaggeration !== 1 && {
      rest: [
        ...rest.beams.map((beam) => beam.line),
        ...rest.bodies.filter((body) => body.kind === "plate").map((body) => closed(body.outlines[0]!)),
      ],
    }),
    stops: view.stops.map((stop) => stop.line),
    places: view.points,
  };
}
