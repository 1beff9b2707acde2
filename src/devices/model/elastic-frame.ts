/**
 * The elastic frame of a device as built: anchors are rigid and held, plates rigid bodies or beams along their spines, beams flexible.
 */
import type {
  ContactStop,
  FrameBeam,
  FrameForce,
  FrameJunction,
  FrameNetwork,
  Motion,
  OutOfPlaneMotion,
  RigidBodyMass,
} from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { Conditions } from "../conditions.ts";
import type { Place, PlatePart } from "../drawing/part.ts";
import { placeFromOwn } from "../drawing/slab.ts";
import type { BuiltBeam, BuiltBody, BuiltDevice, Joined } from "./built-device.ts";
import { crowdingSquares } from "./crowding.ts";
import { nodeNear, type PlateSpine, solidShares, spinePlace } from "./plate-spine.ts";

/** A place of the frame: a junction, or a point of the rigid body there. */
export interface FrameSite {
  readonly junction: number;
  readonly offset: readonly [x: number, y: number];
}

/** What a beam of the frame is. */
export type FrameOwner =
  | { readonly kind: "beam"; readonly beam: number }
  | { readonly kind: "spine"; readonly spine: number; readonly piece: number };

export interface ElasticFrame {
  readonly network: FrameNetwork;
  readonly owners: readonly FrameOwner[];
  /** What warms the body at each junction: the spine, and its node where the plate bends; undefined elsewhere. */
  readonly bodyOfJunction: readonly ({ readonly spine: number; readonly node: number | undefined } | undefined)[];
  /** How far each frame beam reaches into what it is joined to, at its start and end, [nFrameBeams × 2] m. */
  readonly reaches: Float64Array;
  /** Frame beam of each beam of the device, [nBeams]. */
  readonly frameBeamOf: Int32Array;
  siteAt(place: Place): FrameSite | undefined;
}

/** Elements along beams: what the first solve starts from. */
export interface Elements {
  readonly leg: number;
  readonly other: number;
  /** Along each piece of the spine of a plate that bends. */
  readonly spine: number;
}

const everyMotion: readonly (Motion | OutOfPlaneMotion)[] = ["x", "y", "turn", "z", "turn x", "turn y"];
/** A piece of a spine shorter than this part of its width is one element. */
const shortPiece = 0.25;
/** A place this close to a junction is the junction, [m]. */
const atJunction = 1e-9;

/**
 * How far a beam seems to reach into the body it roots in, in its own width: the turn of the root of a cantilever on an elastic half
 * plane under a moment M per thickness is 16.67 M/(pi E w^2), that of a beam this much longer, 16.67/(12 pi).
 * O'Donnell, J. Appl. Mech. 27 (1960) 461 (key odonnell1960, from memory).
 */
const rootReach = 16.67 / (12 * Math.PI);

/** A line with its ends moved out along themselves, [m]. */
function lengthenLine(line: Float64Array, reach: readonly [start: number, end: number]): Float64Array {
  const longer = Float64Array.from(line);
  for (const [at, next, by] of [
    [0, 2, reach[0]],
    [line.length - 2, line.length - 4, reach[1]],
  ] as const) {
    const [dx, dy] = [line[at]! - line[next]!, line[at + 1]! - line[next + 1]!];
    const length = Math.hypot(dx, dy);
    longer[at] = line[at]! + (by * dx) / length;
    longer[at + 1] = line[at + 1]! + (by * dy) / length;
  }
  return longer;
}

/** Nodes along a line, each chord cut into equal parts so that there are `nElements` or a few more, [(n + 1) × 2] m. */
function nodesAlong(line: Float64Array, nElements: number): Float64Array {
  const nChords = line.length / 2 - 1;
  const parts = Math.max(1, Math.ceil(nElements / nChords));
  const nodes = new Float64Array(2 * (nChords * parts + 1));
  for (let chord = 0; chord < nChords; chord++) {
    for (let part = 0; part < parts; part++) {
      const s = part / parts;
      const at = 2 * (chord * parts + part);
      nodes[at] = line[2 * chord]! + s * (line[2 * chord + 2]! - line[2 * chord]!);
      nodes[at + 1] = line[2 * chord + 1]! + s * (line[2 * chord + 3]! - line[2 * chord + 1]!);
    }
  }
  nodes[nodes.length - 2] = line[line.length - 2]!;
  nodes[nodes.length - 1] = line[line.length - 1]!;
  return nodes;
}

/** Widths of the elements of a beam between its ends, and how much each grows; the parts that reach into other silicon taper on. */
function taperAlong(
  widths: readonly [number, number],
  along: { readonly nElements: number; readonly length: number; readonly reach: readonly [number, number] },
): Pick<FrameBeam, "widths" | "tapers"> {
  const { nElements, length, reach } = along;
  const [start, end] = widths;
  if (start === end) return { widths: new Float64Array(nElements).fill(start) };
  const slope = (end - start) / length;
  // a beam that flares as fast as it is long would taper to nothing
  const first = Math.max(start - slope * reach[0], start / 2);
  const last = Math.max(end + slope * reach[1], end / 2);
  const taper = (last - first) / nElements;
  return {
    widths: Float64Array.from({ length: nElements }, (_, i) => first + taper * (i + 0.5)),
    tapers: new Float64Array(nElements).fill(taper),
  };
}

/** Mass and moments of a plate as built about its middle; of a plate with openings as if its silicon were spread evenly. */
function massOfPlate(body: BuiltBody, conditions: Conditions, at: Place): RigidBodyMass | undefined {
  const density = conditions.materialAlong(0).density?.at(conditions.ambient);
  if (density === undefined) return undefined;
  const { slab } = body;
  const mass = density * slab.width * slab.height * conditions.thickness * solidShares(body).area;
  const t2 = conditions.thickness ** 2;
  const [c, s] = [Math.cos(slab.turn), Math.sin(slab.turn)];
  const aboutOwnX = (mass * (slab.height ** 2 + t2)) / 12;
  const aboutOwnY = (mass * (slab.width ** 2 + t2)) / 12;
  return {
    mass,
    centre: [slab.centre.x - at.x, slab.centre.y - at.y],
    aboutX: aboutOwnX * c * c + aboutOwnY * s * s,
    aboutY: aboutOwnX * s * s + aboutOwnY * c * c,
    aboutZ: (mass * (slab.width ** 2 + slab.height ** 2)) / 12,
    productXY: (mass * c * s * (slab.width ** 2 - slab.height ** 2)) / 12,
  };
}

interface JunctionDraft {
  name: string;
  x: number;
  y: number;
  held: (Motion | OutOfPlaneMotion)[];
  springs: { x: number; y: number; turn: number };
  body?: RigidBodyMass;
}

class FrameDraft {
  readonly junctions: JunctionDraft[] = [];
  readonly beams: FrameBeam[] = [];
  readonly owners: FrameOwner[] = [];
  readonly reaches: number[] = [];
  readonly bodyOfJunction: ({ spine: number; node: number | undefined } | undefined)[] = [];
  readonly junctionOfBody: Int32Array;
  readonly junctionOfJoint: Int32Array;
  readonly firstOfSpine = new Map<number, number>();

  constructor(
    readonly device: BuiltDevice,
    readonly conditions: Conditions,
    readonly heat: { readonly spines: readonly PlateSpine[]; readonly spineOfBody: Int32Array },
    readonly elements: Elements,
    /** Places whose motion is asked for, or that something acts on. */
    readonly asked: readonly Place[],
  ) {
    this.junctionOfBody = Int32Array.from(device.bodies, (body, index) => this.addBody(body, index));
    this.junctionOfJoint = Int32Array.from(device.joints, ({ name, built }) => this.addJunction(name, built));
  }

  addJunction(name: string, { x, y }: Place, held: readonly (Motion | OutOfPlaneMotion)[] = []): number {
    this.bodyOfJunction.push(undefined);
    return this.junctions.push({ name, x, y, held: [...held], springs: { x: 0, y: 0, turn: 0 } }) - 1;
  }

  private addBody(body: BuiltBody, index: number): number {
    const { part, slab } = body;
    if (part.kind === "anchor") return this.addJunction(part.name, slab.centre, everyMotion);
    const spineIndex = this.heat.spineOfBody[index]!;
    if (part.bends) return this.addBendingPlate(body, part, spineIndex);
    const here = this.asked.find((place) => {
      const site = this.device.siteAt(place);
      return site?.kind === "body" && site.index === index;
    });
    const at = here ?? slab.centre;
    const junction = this.addJunction(part.name, at);
    this.bodyOfJunction[junction] = { spine: spineIndex, node: undefined };
    const mass = massOfPlate(body, this.conditions, at);
    if (mass !== undefined) this.junctions[junction]!.body = mass;
    return junction;
  }

  /** A chain of beams along the spine; what is joined at the edges hangs on rigid arms from its nodes. */
  private addBendingPlate(body: BuiltBody, part: PlatePart, spineIndex: number): number {
    const spine = this.heat.spines[spineIndex]!;
    const { positions } = spine;
    const placeOf = (along: number): Place =>
      placeFromOwn(body.slab, part.spine === "x" ? { x: along, y: 0 } : { x: 0, y: along });
    const first = this.junctions.length;
    this.firstOfSpine.set(spineIndex, first);
    positions.forEach((position, node) => {
      const junction = this.addJunction(`${part.name} ${node + 1}`, placeOf(position));
      this.bodyOfJunction[junction] = { spine: spineIndex, node };
    });
    const material = this.conditions.materialAlong(part.slab.turn + (part.spine === "y" ? Math.PI / 2 : 0));
    const density = material.density?.at(this.conditions.ambient);
    const shares = solidShares(body);
    for (let piece = 0; piece + 1 < positions.length; piece++) {
      const [a, b] = [placeOf(positions[piece]!), placeOf(positions[piece + 1]!)];
      // a short piece hardly bends, and in parts would be stouter still
      const isShort = positions[piece + 1]! - positions[piece]! < shortPiece * spine.width;
      const nodes = nodesAlong(Float64Array.of(a.x, a.y, b.x, b.y), isShort ? 1 : this.elements.spine);
      const nElements = nodes.length / 2 - 1;
      this.owners.push({ kind: "spine", spine: spineIndex, piece });
      this.reaches.push(0, 0);
      this.beams.push({
        name: part.name,
        from: first + piece,
        to: first + piece + 1,
        nodes,
        widths: new Float64Array(nElements).fill(spine.width),
        thickness: this.conditions.thickness,
        youngsModulus: material.youngsModulus.at(this.conditions.ambient) * shares.along,
        shearModulus: undefined,
        density: density === undefined ? undefined : density * shares.area,
      });
    }
    return first;
  }

  /** Place of the frame that a place of the drawing belongs to. */
  siteAt(place: Place): FrameSite | undefined {
    const site = this.device.siteAt(place);
    return site === undefined ? undefined : this.siteOf(site, place);
  }

  siteOf(site: Joined, place: Place): FrameSite {
    if (site.kind === "joint") return { junction: this.junctionOfJoint[site.index]!, offset: [0, 0] };
    const junction = this.junctionNear(site.index, place);
    const { x, y } = this.junctions[junction]!;
    return { junction, offset: [place.x - x, place.y - y] };
  }

  /** Junction of a body that a place on it moves with. */
  private junctionNear(body: number, place: Place): number {
    const spineIndex = this.heat.spineOfBody[body]!;
    const first = spineIndex < 0 ? undefined : this.firstOfSpine.get(spineIndex);
    if (first === undefined) return this.junctionOfBody[body]!;
    const spine = this.heat.spines[spineIndex]!;
    const { along } = spinePlace(this.device.bodies[body]!, place);
    return first + nodeNear(spine, along);
  }

  addBeam(beam: BuiltBeam, index: number): number {
    const { part, line } = beam;
    const { conditions } = this;
    const reach = beam.ends.map((end, which) => this.rootReachOf(end, beam.widths[which]!)) as [number, number];
    const gives = ([0, 1] as const).map((which) => this.endGive(index, which, reach[which]));
    const whole = beam.length + reach[0] + reach[1];
    const nodes = nodesAlong(lengthenLine(line, reach), part.isLeg ? this.elements.leg : this.elements.other);
    const nElements = nodes.length / 2 - 1;
    const material = conditions.materialAlong(beam.angle);
    const ends = beam.ends.map((end, which) => {
      const at = which === 0 ? 0 : line.length - 2;
      return this.siteOf(end, { x: line[at]!, y: line[at + 1]! }).junction;
    }) as [number, number];
    const E = material.youngsModulus.at(conditions.ambient);
    this.owners.push({ kind: "beam", beam: index });
    this.reaches.push(...reach);
    return (
      this.beams.push({
        name: part.name,
        from: ends[0],
        to: ends[1],
        nodes,
        ...taperAlong(beam.widths, { nElements, length: beam.length, reach }),
        reaches: reach,
        thickness: conditions.thickness,
        youngsModulus: E,
        shearModulus: material.poissonRatio === undefined ? undefined : E / (2 * (1 + material.poissonRatio)),
        density: material.density?.at(conditions.ambient),
        axialShare: whole / (whole + gives[0]! + gives[1]!),
        ...(part.hinged[0] && { hingedFrom: true }),
        ...(part.hinged[1] && { hingedTo: true }),
      }) - 1
    );
  }

  /**
   * How much longer than its reach a beam seems to be when it is pulled, [m]: a plate gives along the beam between its edge and its
   * spine, the pull spreading like heat does. A pair of legs on a shuttle 30 um wide: 1.8 % less stiffness in plane finite elements.
   */
  private endGive(index: number, which: 0 | 1, reach: number): number {
    if (reach === 0) return 0;
    const { ends, widths } = this.device.beams[index]!;
    const end = ends[which];
    const spine = end.kind === "body" ? this.heat.spines[this.heat.spineOfBody[end.index]!] : undefined;
    if (spine === undefined) return 0;
    const { linkLength, linkWidth } = spine.attachments.find((entry) => entry.beam === index && entry.end === which)!;
    const width = widths[which]!;
    return Math.max(0, width * (linkLength / linkWidth + crowdingSquares(width, linkWidth)) - reach);
  }

  /** How far a beam of a width reaches into what it is joined to, [m]; an ideal anchor is rigid. */
  private rootReachOf(end: Joined, width: number): number {
    if (end.kind === "joint" || !this.device.drawing.rootsGive) return 0;
    const { part } = this.device.bodies[end.index]!;
    return part.kind === "anchor" && part.heat === "ideal" ? 0 : rootReach * width;
  }

  /** Junction right at a place; refused where the place hangs on an arm. */
  junctionRightAt(place: Place, name: string): JunctionDraft {
    const site = this.siteAt(place);
    if (site === undefined)
      throw new AssemblyError(
        `${name} acts on a place where nothing is: a beam must end or have its joint there, or a plate lie there`,
      );
    if (Math.hypot(...site.offset) > atJunction)
      throw new AssemblyError(
        `${name} acts on the plate "${this.junctions[site.junction]!.name}" beside another support, spring or output of it: put both at one point`,
      );
    return this.junctions[site.junction]!;
  }
}

const outOfPlane: readonly OutOfPlaneMotion[] = ["z", "turn x", "turn y"];

/** Supports, springs and lumped masses of the drawing, onto their junctions. */
function addIdealised(draft: FrameDraft): void {
  for (const part of draft.device.drawing.parts) {
    if (part.kind === "support") {
      const junction = draft.junctionRightAt(part.at, part.name);
      for (const motion of part.holds) junction.held.push(...(motion === "z" ? outOfPlane : [motion]));
    }
    if (part.kind === "spring") {
      const { springs } = draft.junctionRightAt(part.at, part.name);
      springs.x += part.x;
      springs.y += part.y;
      springs.turn += part.turn;
    }
    if (part.kind === "lump" && part.mass > 0) {
      const junction = draft.junctionRightAt(part.at, part.name);
      junction.body = addMass(junction.body, part.mass);
    }
  }
}

/** A body with a point mass at its junction more. */
function addMass(body: RigidBodyMass | undefined, mass: number): RigidBodyMass {
  if (body === undefined) return { mass, centre: [0, 0], aboutX: 0, aboutY: 0, aboutZ: 0 };
  const whole = body.mass + mass;
  const [cx, cy] = body.centre;
  // both about the common centre of mass (Steiner)
  const reduced = (body.mass * mass) / whole;
  return {
    mass: whole,
    centre: [(body.mass * cx) / whole, (body.mass * cy) / whole],
    aboutX: body.aboutX + reduced * cy * cy,
    aboutY: body.aboutY + reduced * cx * cx,
    aboutZ: body.aboutZ + reduced * (cx * cx + cy * cy),
    productXY: (body.productXY ?? 0) + reduced * cx * cy,
  };
}

/** The frame of a device. Throws AssemblyError where something acts on a place where nothing is. */
export function buildElasticFrame(
  device: BuiltDevice,
  conditions: Conditions,
  options: {
    readonly heat: { readonly spines: readonly PlateSpine[]; readonly spineOfBody: Int32Array };
    readonly elements: Elements;
    readonly asked: readonly Place[];
  },
): ElasticFrame {
  const draft = new FrameDraft(device, conditions, options.heat, options.elements, options.asked);
  const frameBeamOf = Int32Array.from(device.beams, (beam, index) => draft.addBeam(beam, index));
  addIdealised(draft);
  const junctions: FrameJunction[] = draft.junctions.map(({ springs, held, ...rest }) => ({
    ...rest,
    held: [...new Set(held)],
    ...((springs.x > 0 || springs.y > 0 || springs.turn > 0) && { springs }),
  }));
  const stops = device.drawing.parts.flatMap((part): ContactStop[] => {
    if (part.kind !== "stop") return [];
    const site = draft.siteAt(part.at);
    if (site === undefined)
      throw new AssemblyError(
        `${part.name} stops a place where nothing is: a beam must end or have its joint there, or a plate lie there`,
      );
    return [{ name: part.name, ...site, direction: [Math.cos(part.direction), Math.sin(part.direction)], gap: part.gap }];
  });
  return {
    network: { junctions, beams: draft.beams, ...(stops.length > 0 && { stops }) },
    owners: draft.owners,
    bodyOfJunction: draft.bodyOfJunction,
    reaches: Float64Array.from(draft.reaches),
    frameBeamOf,
    siteAt: (place) => draft.siteAt(place),
  };
}

/** A force on a place of the drawing as forces of the frame. */
export function forcesAt(site: FrameSite, force: { x: number; y: number; turn: number }): FrameForce[] {
  const { junction, offset } = site;
  return (["x", "y", "turn"] as const).flatMap((motion) =>
    force[motion] === 0 ? [] : [{ junction, motion, value: force[motion], ...(motion !== "turn" && { offset }) }],
  );
}
