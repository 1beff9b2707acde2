/**
 * A mode as one looks at it from above: the device at its operating point, and how each point of its outlines moves in the mode.
 *
 * Motions are those of the mode scaled so that its largest displacement is 1 m, to first order: a small share of them is meant. Along a
 * beam as in device-view.ts; across a plate as a rigid body, or by the stations of its spine. Main test: mode-view.test.ts.
 */
import { type FrameShape, type Mode, shapeOf, thermalDisplacement } from "#physics";
import type { DeviceModel } from "../device-model.ts";
import { openingsOf } from "../drawing/outlines.ts";
import type { Place, PlatePart } from "../drawing/part.ts";
import { outlineOfSlab } from "../drawing/slab.ts";
import type { DeviceParts } from "./device-parts.ts";
import { bodyMover, lineOfBeam, Mover, nearStations, spineNodes, subdivide } from "./device-view.ts";
import type { OperatingPoint } from "./operating-point.ts";
import type { SiteMotion, SmallMotions } from "./small-motions.ts";

/** A line or an outline with its motion. */
export interface MovingLine {
  /** [n × 2] m */
  readonly points: Float64Array;
  /** In the plane, [n × 2], of the mode's scale. */
  readonly moves: Float64Array;
  /** Out of the plane, up positive, [n]. */
  readonly lifts: Float64Array;
}

export interface ModeView {
  readonly family: "in plane" | "out of plane";
  /** [Hz]; NaN where the point is unstable in this mode. */
  readonly frequency: number;
  /** Its own unrest at the temperature of the surroundings, root mean square, in the mode's scale, [m]; NaN where it is unstable. */
  readonly unrest: number;
  /** The largest motion of all points, in the mode's scale. */
  readonly largest: number;
  readonly beams: readonly (MovingLine & { readonly name: string; readonly widths: readonly [start: number, end: number] })[];
  readonly bodies: readonly {
    readonly name: string;
    readonly kind: "anchor" | "plate";
    readonly outlines: readonly MovingLine[];
  }[];
}

/** Share of a mode over which its motion is taken as straight, [m]. */
const small = 1e-9;

interface Seen {
  readonly parts: DeviceParts;
  readonly motions: SmallMotions;
  readonly mode: Mode;
  readonly mover: Mover;
}

const still: SiteMotion = { x: 0, y: 0, turn: 0, z: 0, turnX: 0, turnY: 0 };

function motionAt({ parts, motions, mode }: Seen, place: Place): SiteMotion {
  const site = parts.mechanics.frame.siteAt(place);
  return site === undefined ? still : motions.motionOfMode(mode, site);
}

/** Half the difference of two lines over the share that parts them. */
const slope = (plus: Float64Array, minus: Float64Array): Float64Array =>
  plus.map((value, i) => (value - minus[i]!) / (2 * small));

function viewBody(index: number, seen: Seen): ModeView["bodies"][number] {
  const { parts, mover } = seen;
  const body = parts.device.bodies[index]!;
  const { part, slab } = body;
  if (part.kind === "anchor") {
    const points = outlineOfSlab(slab);
    const line = { points, moves: new Float64Array(points.length), lifts: new Float64Array(points.length / 2) };
    return { name: part.name, kind: "anchor", outlines: [line] };
  }
  const stations = part.bends ? spineNodes(parts, index) : [slab.centre];
  const motions = stations.map((station) => motionAt(seen, station));
  const moverAt = (share: number) =>
    bodyMover(body, {
      stations,
      motions: stations.map((station, i) => {
        const base = mover.motionOf(station);
        const { x, y, turn } = motions[i]!;
        return { x: base.x + share * x, y: base.y + share * y, turn: base.turn + share * turn };
      }),
    });
  const [rest, plus, minus] = [moverAt(0), moverAt(small), moverAt(-small)];
  const near = nearStations(body, stations);
  const liftAt = (place: Place): number => {
    const { first, second, share, centre } = near(place);
    const mix = (take: (motion: SiteMotion) => number): number =>
      take(motions[first]!) + share * (take(motions[second]!) - take(motions[first]!));
    const [dx, dy] = [place.x - centre.x, place.y - centre.y];
    return mix(({ z }) => z) + mix(({ turnX }) => turnX) * dy - mix(({ turnY }) => turnY) * dx;
  };
  const built: PlatePart = { ...part, slab, slits: body.slits, holes: body.holes };
  const outlines = [outlineOfSlab(slab), ...openingsOf(built)].map((outline): MovingLine => {
    const places = placesOf(part.bends ? subdivide(outline, 8) : outline);
    const line = (move: (place: Place) => Place) =>
      Float64Array.from(
        places.flatMap((place) => {
          const { x, y } = move(place);
          return [x, y];
        }),
      );
    return { points: line(rest), moves: slope(line(plus), line(minus)), lifts: Float64Array.from(places, liftAt) };
  });
  return { name: part.name, kind: "plate", outlines };
}

const placesOf = (line: Float64Array): readonly Place[] =>
  Array.from({ length: line.length / 2 }, (_, i) => ({ x: line[2 * i]!, y: line[2 * i + 1]! }));

/** Lift along a beam: cubic between its nodes, by their lifts and slopes; as many points as its line has, [n]. */
function liftsAlong(motions: Float64Array, at: { readonly nodes: Float64Array; readonly nPoints: number }): Float64Array {
  const { nodes, nPoints } = at;
  const nElements = nodes.length / 2 - 1;
  const perElement = (nPoints - 1) / nElements;
  return Float64Array.from({ length: nPoints }, (_, point) => {
    const e = Math.min(Math.floor(point / perElement), nElements - 1);
    const s = point / perElement - e;
    const [dx, dy] = [nodes[2 * e + 2]! - nodes[2 * e]!, nodes[2 * e + 3]! - nodes[2 * e + 1]!];
    const [z0, x0, y0, z1, x1, y1] = motions.subarray(3 * e, 3 * e + 6) as unknown as Six;
    const [h0, h1] = [(1 - s) ** 2 * (1 + 2 * s), s * s * (3 - 2 * s)];
    const [g0, g1] = [s * (1 - s) ** 2, -s * s * (1 - s)];
    return h0 * z0 + h1 * z1 + g0 * (x0 * dy - y0 * dx) + g1 * (x1 * dy - y1 * dx);
  });
}

type Six = readonly [number, number, number, number, number, number];

function viewBeam(
  index: number,
  seen: Seen,
  shapes: { readonly rest: FrameShape; readonly now: FrameShape },
): ModeView["beams"][number] {
  const { parts, mode } = seen;
  const { part, widths } = parts.device.beams[index]!;
  const frameBeam = parts.frame.frameBeamOf[index]!;
  const points = lineOfBeam(parts, frameBeam, { shapes, exaggeration: 1 });
  const n = points.length / 2;
  const motions = mode.beamMotions[frameBeam]!;
  if (mode.family === "out of plane") {
    const { nodes } = parts.frame.network.beams[frameBeam]!;
    return { name: part.name, widths, points, moves: new Float64Array(2 * n), lifts: liftsAlong(motions, { nodes, nPoints: n }) };
  }
  const moved = (share: number): Float64Array => {
    const beamMotions = [...shapes.now.beamMotions];
    beamMotions[frameBeam] = beamMotions[frameBeam]!.map((value, i) => value + share * motions[i]!);
    return lineOfBeam(parts, frameBeam, { shapes: { rest: shapes.rest, now: { ...shapes.now, beamMotions } }, exaggeration: 1 });
  };
  return { name: part.name, widths, points, moves: slope(moved(small), moved(-small)), lifts: new Float64Array(n) };
}

function largestOf({ moves, lifts }: MovingLine): number {
  let largest = 0;
  for (let i = 0; i < lifts.length; i++)
    largest = Math.max(largest, Math.abs(lifts[i]!), Math.hypot(moves[2 * i]!, moves[2 * i + 1]!));
  return largest;
}

/**
 * The lowest modes about an operating point of `model`, which must be the last that the model was asked for; none where the device has
 * no mass.
 */
export function viewModes(
  model: DeviceModel,
  options: { readonly point: OperatingPoint; readonly count: number },
): readonly ModeView[] {
  const { parts } = model;
  const motions = options.point.small;
  if (motions?.hasMass !== true) return [];
  const { mechanics, device, conditions } = parts;
  const now = options.point.restart.motion ?? mechanics.rest;
  if (now.model !== mechanics.model)
    throw new RangeError("Cannot view the modes: wanted the last operating point of its model, found an earlier one");
  const mover = new Mover(parts, now, 1);
  const shapes = { rest: shapeOf(mechanics.model, mechanics.rest.state), now: shapeOf(mechanics.model, now.state) };
  return motions.modes(options.count).map((mode): ModeView => {
    const seen: Seen = { parts, motions, mode, mover };
    const beams = device.beams.map((_, index) => viewBeam(index, seen, shapes));
    const bodies = device.bodies.map((_, index) => viewBody(index, seen));
    const { family, frequency, modalMass, eigenvalue } = mode;
    const oscillator = { mass: modalMass, angularFrequency: Math.sqrt(eigenvalue) };
    return {
      family,
      frequency,
      unrest: eigenvalue > 0 ? thermalDisplacement(oscillator, conditions.ambient) : Number.NaN,
      largest: Math.max(...[...beams, ...bodies.flatMap(({ outlines }) => outlines)].map(largestOf)),
      beams,
      bodies,
    };
  });
}
