/**
 * A device as one looks at it from above: outlines as built, where each has moved to, and how warm it is along its length.
 *
 * Motion counts from where the device rests without drive and load, and may be exaggerated; turns are exaggerated as angles. Beams are
 * smooth curves (cubic, by the turns of the frame's nodes); fillets are left out. Main test: device-view.test.ts.
 */
import { type FrameShape, shapeOf, temperatureAlong } from "#physics";
import type { DeviceModel } from "../device-model.ts";
import { openingsOf } from "../drawing/outlines.ts";
import type { Place, PlatePart } from "../drawing/part.ts";
import { outlineOfSlab, ownPlace, placeFromOwn } from "../drawing/slab.ts";
import type { BuiltBody } from "./built-device.ts";
import type { DeviceParts } from "./device-parts.ts";
import type { Motion, PlaceMotion } from "./mechanics.ts";
import type { OperatingPoint } from "./operating-point.ts";

/** Temperatures along a straight axis, for a fill that follows it. */
export interface ViewedField {
  readonly from: Place;
  readonly to: Place;
  /** Parts of the way, ascending from 0 to 1. */
  readonly shares: Float64Array;
  /** At each of them, [K]. */
  readonly temperatures: Float64Array;
}

export interface ViewedBody {
  readonly name: string;
  readonly kind: "anchor" | "plate";
  /** The outline and its openings, [n × 2] m each. */
  readonly outlines: readonly Float64Array[];
  readonly field: ViewedField;
}

export interface ViewedBeam {
  readonly name: string;
  /** Centre line, [n × 2] m. */
  readonly line: Float64Array;
  /** At its start and at its end, [m]. */
  readonly widths: readonly [start: number, end: number];
  /** In the middle of each piece of the line, [n - 1] K. */
  readonly temperatures: Float64Array;
}

/** Something rigid in the way of a point, as the line at which it stops. */
export interface ViewedStop {
  readonly name: string;
  readonly line: Float64Array;
}

export interface DeviceView {
  readonly bodies: readonly ViewedBody[];
  readonly beams: readonly ViewedBeam[];
  readonly stops: readonly ViewedStop[];
  /** Named points that move with something. */
  readonly points: ReadonlyMap<string, Place>;
}

/** Pieces that a beam is cut into at least, so that its colours run smoothly. */
const nPieces = 32;
/** Length of the line that stands for a stop, [m]. */
const stopLength = 30e-6;

/** A place with its motion, exaggerated. */
export class Mover {
  constructor(
    private readonly parts: DeviceParts,
    private readonly now: Motion,
    readonly exaggeration: number,
  ) {}

  /** Motion from the drawn place, that since rest exaggerated. */
  motionOf(place: Place): PlaceMotion {
    const { mechanics } = this.parts;
    const site = mechanics.frame.siteAt(place);
    if (site === undefined) return { x: 0, y: 0, turn: 0 };
    const rest = mechanics.motionOf(mechanics.rest, site);
    const now = mechanics.motionOf(this.now, site);
    const grown = (from: number, to: number): number => from + this.exaggeration * (to - from);
    return { x: grown(rest.x, now.x), y: grown(rest.y, now.y), turn: grown(rest.turn, now.turn) };
  }

  move(place: Place): Place {
    const { x, y } = this.motionOf(place);
    return { x: place.x + x, y: place.y + y };
  }
}

/** Between which stations of a plate a place lies, and where on the spine between them. */
export function nearStations(
  body: BuiltBody,
  stations: readonly Place[],
): (place: Place) => { readonly first: number; readonly second: number; readonly share: number; readonly centre: Place } {
  const along = spineCoordinate(body.part as PlatePart, body);
  const levels = stations.map(along);
  return (place) => {
    const at = along(place);
    let i = 0;
    while (i + 2 < levels.length && at > levels[i + 1]!) i++;
    const last = Math.min(i + 1, levels.length - 1);
    const span = levels[last]! - levels[i]!;
    const share = span > 0 ? (at - levels[i]!) / span : 0;
    const [from, to] = [stations[i]!, stations[last]!];
    const centre = { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
    return { first: i, second: last, share, centre };
  };
}

/** Motion of a plate at any of its places: rigid, or by the stations along its spine. */
export function bodyMover(
  body: BuiltBody,
  options: { readonly motions: readonly PlaceMotion[]; readonly stations: readonly Place[] },
): (p: Place) => Place {
  const { motions, stations } = options;
  const near = nearStations(body, stations);
  return (place) => {
    const { first, second, share, centre } = near(place);
    const mix = (a: number, b: number): number => a + share * (b - a);
    const [m, n] = [motions[first]!, motions[second]!];
    const turn = mix(m.turn, n.turn);
    const [c, q] = [Math.cos(turn), Math.sin(turn)];
    const [dx, dy] = [place.x - centre.x, place.y - centre.y];
    return { x: centre.x + mix(m.x, n.x) + c * dx - q * dy, y: centre.y + mix(m.y, n.y) + q * dx + c * dy };
  };
}

function spineCoordinate(part: PlatePart, body: BuiltBody): (place: Place) => number {
  return (place) => ownPlace(body.slab, place)[part.spine];
}

function moveOutline(outline: Float64Array, move: (place: Place) => Place): Float64Array {
  const moved = new Float64Array(outline.length);
  for (let i = 0; i < outline.length; i += 2) {
    const { x, y } = move({ x: outline[i]!, y: outline[i + 1]! });
    moved[i] = x;
    moved[i + 1] = y;
  }
  return moved;
}

/** An outline with more points on its sides, so that it can bend. */
export function subdivide(outline: Float64Array, nParts: number): Float64Array {
  const n = outline.length / 2;
  const fine = new Float64Array(2 * n * nParts);
  for (let i = 0; i < n; i++) {
    const next = (i + 1) % n;
    for (let part = 0; part < nParts; part++) {
      const s = part / nParts;
      const at = 2 * (i * nParts + part);
      fine[at] = (1 - s) * outline[2 * i]! + s * outline[2 * next]!;
      fine[at + 1] = (1 - s) * outline[2 * i + 1]! + s * outline[2 * next + 1]!;
    }
  }
  return fine;
}

/** Nodes of a plate's spine from one end to the other, in the die's axes, as built and not moved. */
export function spineNodes(parts: DeviceParts, index: number): readonly Place[] {
  const { device, heat } = parts;
  const body = device.bodies[index]!;
  const plate = body.part as PlatePart;
  const { positions } = heat.spines[heat.spineOfBody[index]!]!;
  return [...positions].map((along) => placeFromOwn(body.slab, plate.spine === "x" ? { x: along, y: 0 } : { x: 0, y: along }));
}

function viewBody(
  index: number,
  at: { readonly parts: DeviceParts; readonly point: OperatingPoint; readonly mover: Mover },
): ViewedBody {
  const { parts, point, mover } = at;
  const { device, heat } = parts;
  const body = device.bodies[index]!;
  const { part, slab } = body;
  const mean = point.partNamed(part.name).meanTemperature;
  const temperature = Number.isFinite(mean) ? mean : parts.conditions.ambient;
  if (part.kind === "anchor") {
    const [left, right] = [placeFromOwn(slab, { x: -slab.width / 2, y: 0 }), placeFromOwn(slab, { x: slab.width / 2, y: 0 })];
    return {
      name: part.name,
      kind: "anchor",
      outlines: [outlineOfSlab(slab)],
      field: { from: left, to: right, shares: Float64Array.of(0, 1), temperatures: Float64Array.of(temperature, temperature) },
    };
  }
  const spine = spineNodes(parts, index);
  const stations = part.bends ? spine : [slab.centre];
  const move = bodyMover(body, { stations, motions: stations.map((station) => mover.motionOf(station)) });
  const built: PlatePart = { ...part, slab, slits: body.slits, holes: body.holes };
  const shape = (outline: Float64Array): Float64Array => moveOutline(part.bends ? subdivide(outline, 8) : outline, move);
  const { positions, length } = heat.spines[heat.spineOfBody[index]!]!;
  const first = heat.firstJunctionOfSpine[heat.spineOfBody[index]!]!;
  const { steady } = point.restart;
  return {
    name: part.name,
    kind: "plate",
    outlines: [outlineOfSlab(slab), ...openingsOf(built)].map(shape),
    field: {
      from: move(spine[0]!),
      to: move(spine[spine.length - 1]!),
      shares: positions.map((position) => position / length + 0.5),
      temperatures: positions.map((_, node) => (steady === undefined ? temperature : steady.junctionTemperatures[first + node]!)),
    },
  };
}

interface Shapes {
  readonly rest: FrameShape;
  readonly now: FrameShape;
}

/** Centre line of a beam of the frame, each element as a cubic by the turns of its ends. */
export function lineOfBeam(
  parts: DeviceParts,
  frameBeam: number,
  at: { readonly shapes: Shapes; readonly exaggeration: number },
): Float64Array {
  const { nodes } = parts.frame.network.beams[frameBeam]!;
  const nElements = nodes.length / 2 - 1;
  const [rest, now] = [at.shapes.rest.beamMotions[frameBeam]!, at.shapes.now.beamMotions[frameBeam]!];
  const grown = (i: number): number => rest[i]! + at.exaggeration * (now[i]! - rest[i]!);
  const perElement = Math.max(1, Math.ceil(nPieces / nElements));
  const line: number[] = [];
  for (let e = 0; e < nElements; e++) {
    const [x0, y0] = [nodes[2 * e]! + grown(3 * e), nodes[2 * e + 1]! + grown(3 * e + 1)];
    const [x1, y1] = [nodes[2 * e + 2]! + grown(3 * e + 3), nodes[2 * e + 3]! + grown(3 * e + 4)];
    const drawn = Math.atan2(nodes[2 * e + 3]! - nodes[2 * e + 1]!, nodes[2 * e + 2]! - nodes[2 * e]!);
    const length = Math.hypot(x1 - x0, y1 - y0);
    const [a0, a1] = [drawn + grown(3 * e + 2), drawn + grown(3 * e + 5)];
    for (let k = e === 0 ? 0 : 1; k <= perElement; k++) {
      const s = k / perElement;
      const [h0, h1] = [(1 - s) ** 2 * (1 + 2 * s), s * s * (3 - 2 * s)];
      const [g0, g1] = [length * s * (1 - s) ** 2, -length * s * s * (1 - s)];
      line.push(h0 * x0 + h1 * x1 + g0 * Math.cos(a0) + g1 * Math.cos(a1));
      line.push(h0 * y0 + h1 * y1 + g0 * Math.sin(a0) + g1 * Math.sin(a1));
    }
  }
  return Float64Array.from(line);
}

function viewBeam(
  index: number,
  at: { readonly parts: DeviceParts; readonly point: OperatingPoint; readonly shapes: Shapes; readonly exaggeration: number },
): ViewedBeam {
  const { parts, point } = at;
  const { part, widths, length } = parts.device.beams[index]!;
  const line = lineOfBeam(parts, parts.frame.frameBeamOf[index]!, at);
  const field = point.restart.steady?.fields[parts.heat.branchOfBeam[index]!];
  const uniform = point.partNamed(part.name).meanTemperature;
  const otherwise = Number.isFinite(uniform) ? uniform : parts.conditions.ambient;
  const n = line.length / 2 - 1;
  const temperatures = Float64Array.from({ length: n }, (_, i) =>
    field === undefined ? otherwise : temperatureAlong(field, ((i + 0.5) / n) * length),
  );
  return { name: part.name, line, widths, temperatures };
}

/**
 * The device at an operating point of `model`, which must be the last that the model was asked for: a later one may have cut the beams
 * into other elements.
 */
export function viewDevice(
  model: DeviceModel,
  options: { readonly point: OperatingPoint; readonly exaggeration: number },
): DeviceView {
  const { parts } = model;
  const { point, exaggeration } = options;
  const { mechanics, device } = parts;
  const now = point.restart.motion ?? mechanics.rest;
  if (now.model !== mechanics.model)
    throw new RangeError("Cannot view the device: wanted the last operating point of its model, found an earlier one");
  const mover = new Mover(parts, now, exaggeration);
  const shapes: Shapes = { rest: shapeOf(mechanics.model, mechanics.rest.state), now: shapeOf(mechanics.model, now.state) };
  return {
    bodies: device.bodies.map((_, index) => viewBody(index, { parts, point, mover })),
    beams: device.beams.map((_, index) => viewBeam(index, { parts, point, shapes, exaggeration })),
    stops: device.drawing.parts.flatMap((part): ViewedStop[] => {
      if (part.kind !== "stop") return [];
      const [c, s] = [Math.cos(part.direction), Math.sin(part.direction)];
      // the way that is left grows with the motion, so that the point still touches it when it does
      const reach = part.gap * exaggeration;
      const [x, y] = [part.at.x + reach * c, part.at.y + reach * s];
      const half = stopLength / 2;
      return [{ name: part.name, line: Float64Array.of(x + s * half, y - c * half, x - s * half, y + c * half) }];
    }),
    points: new Map(
      [...device.drawing.points].flatMap(([name, place]) =>
        parts.frame.siteAt(place) === undefined ? [] : [[name, mover.move(place)] as const],
      ),
    ),
  };
}
