/**
 * The electro-thermal network of a device as built: anchors, joints and spines of plates become junctions; beams, pieces of spine and
 * links become branches with their laws and losses.
 */
import type { Law } from "#base";
import {
  type ElectroThermalBranch,
  type ElectroThermalNetwork,
  type HeatExchange,
  linearExchange,
  radiationExchange,
  sumExchange,
  type ThermalJunction,
  type ThermalLink,
} from "#physics";
import { AssemblyError } from "../assembly-error.ts";
import type { BeamMaterial, Conditions } from "../conditions.ts";
import type { AnchorPart, HeatLoss, LumpPart, Place } from "../drawing/part.ts";
import { anchorHeat } from "./anchor-heat.ts";
import type { BuiltDevice, Joined } from "./built-device.ts";
import { exposureOfBeam, type Surroundings } from "./cross-section.ts";
import { crowdingSquares } from "./crowding.ts";
import { type GasFactors, gasFactorsOf, radiatingPlate } from "./gas-factors.ts";
import { exchangeOf, type GasPath, type GasState, gasStateOf, pairExchangeOf } from "./gas-state.ts";
import { nearestOn, nodeNear, type PlateSpine, solidShares, spineOf, spinePlace } from "./plate-spine.ts";

/** What a branch of the network is. */
export type BranchOwner =
  | { readonly kind: "beam"; readonly beam: number }
  | { readonly kind: "spine"; readonly spine: number; readonly piece: number }
  | { readonly kind: "link"; readonly spine: number; readonly attachment: number };

export interface HeatNetwork {
  readonly network: ElectroThermalNetwork;
  /** Undefined where nothing is lost to gas. */
  readonly gasFactors: GasFactors | undefined;
  readonly owners: readonly BranchOwner[];
  /** Branch of each beam, [nBeams]. */
  readonly branchOfBeam: Int32Array;
  readonly spines: readonly PlateSpine[];
  /** Spine of each body, -1 for anchors, [nBodies]. */
  readonly spineOfBody: Int32Array;
  /** First junction of each spine; its nodes follow each other. */
  readonly firstJunctionOfSpine: Int32Array;
  /** First branch of each spine; its pieces follow each other. */
  readonly firstBranchOfSpine: Int32Array;
  /** Junction of each anchor body, -1 for plates, [nBodies]. */
  readonly junctionOfBody: Int32Array;
  readonly junctionOfJoint: Int32Array;
  /** Terminals by the name of their net. */
  readonly terminals: readonly string[];
  /** Extra conductance to the surroundings at each junction [W/K], for what is not drawn. */
  readonly leaks: Float64Array;
  /** What is as warm as a place of the drawing: a junction, or a place along a piece of a plate's spine; undefined where nothing is. */
  warmthAt(place: Place): WarmPlace | undefined;
  /** What radiates: emissivity x surface, per length of each branch at its start and end [m] and of each junction [m^2]. */
  readonly radiating: { readonly branches: readonly EndPerimeters[]; readonly junctions: Float64Array };
}

/** A junction, or a distance [m] from the start of a branch. */
export type WarmPlace = { readonly junction: number } | { readonly branch: number; readonly along: number };

/** Part of the silicon's heat capacity that a link is given. */
const linkStorage = 1e-3;

/** Emissivity x perimeter at the start and the end of a branch, [m]; linear between them. */
type EndPerimeters = readonly [start: number, end: number];

/** A junction in the making. */
interface Draft {
  sinks: NonNullable<ThermalJunction["sinks"]>[number][];
  exchanges: HeatExchange[];
  radiating: number;
  temperature?: number;
  terminal?: number;
  leadResistance?: number;
}

class NetworkBuilder {
  readonly junctions: Draft[] = [];
  readonly branches: ElectroThermalBranch[] = [];
  readonly owners: BranchOwner[] = [];
  readonly terminals: string[] = [];
  readonly leaks: number[] = [];
  readonly links: ThermalLink[] = [];
  /** Of each branch. */
  readonly radiating: EndPerimeters[] = [];
  readonly gas: GasState | undefined;
  factors: GasFactors | undefined;

  constructor(
    readonly device: BuiltDevice,
    readonly conditions: Conditions,
  ) {
    this.gas = device.drawing.heatLoss === "gas" ? gasStateOf(conditions) : undefined;
  }

  addJunction(): number {
    this.leaks.push(0);
    return this.junctions.push({ sinks: [], exchanges: [], radiating: 0 }) - 1;
  }

  terminalOf(net: string): number {
    const known = this.terminals.indexOf(net);
    return known >= 0 ? known : this.terminals.push(net) - 1;
  }

  /** Where the device stands, for what passes from its surfaces. */
  private surroundings(): Surroundings {
    const { device, conditions } = this;
    const { trench, neighbours } = device.drawing;
    return {
      // without a gas it only tells how far a beam looks for neighbours
      gap: conditions.gap ?? conditions.thickness,
      thickness: conditions.thickness,
      // an opening grows by the edge loss on both of its sides
      wallDistance: trench === undefined || neighbours === "apart" ? undefined : trench + 2 * conditions.inward,
      store: conditions.shapeFactors,
    };
  }

  /** Works out, or takes over, what the gas loss depends on. */
  findGasFactors(spines: readonly PlateSpine[], like: GasFactors | undefined): void {
    if (this.gas !== undefined) this.factors = gasFactorsOf(this.device, spines, { surroundings: this.surroundings(), like });
  }

  /** Loss per length of a beam's sides, undefined where they are insulated; and the part of it that radiates. A given loss stands for all. */
  beamExchange(index: number): { exchange: ElectroThermalBranch["exchange"]; radiating: EndPerimeters } {
    const { device, conditions } = this;
    const beam = device.beams[index]!;
    const { heatLoss, neighbours } = device.drawing;
    const { lossPerLength } = beam.part;
    if (lossPerLength !== undefined) return { exchange: linearExchange(lossPerLength, conditions.ambient), radiating: [0, 0] };
    if (typeof heatLoss === "object")
      return { exchange: givenLoss(heatLoss, beam.widths, conditions.ambient), radiating: [0, 0] };
    const paths = this.factors === undefined ? [] : this.factors.beams[index]!;
    if (heatLoss !== "gas" || conditions.emissivity === 0) return { exchange: this.lossOf(paths, 0), radiating: [0, 0] };
    const { open, facing, width } = exposureOfBeam(device, index, { ...this.surroundings(), alone: neighbours === "apart" });
    // neighbours are looked at in the middle; top and underside are as wide as the beam is at each place
    const at = (own: number): number => conditions.emissivity * (open + facing + 2 * (own - width));
    const [from, to] = [at(beam.widths[0]), at(beam.widths[1])];
    const exchange = from === to ? this.lossOf(paths, from) : { from: this.lossOf(paths, from)!, to: this.lossOf(paths, to)! };
    return { exchange, radiating: [from, to] };
  }

  /** Paths into the gas, where there is one, and radiation beside them. */
  lossOf(paths: readonly GasPath[], radiating: number): HeatExchange | undefined {
    const { gas, conditions } = this;
    const found = gas === undefined ? [] : paths.map((path) => exchangeOf(gas, path));
    if (radiating > 0) found.push(radiationExchange(radiating, conditions.ambient));
    return found.length === 0 ? undefined : sumExchange(found);
  }
}

/** The loss of a beam where the text gives it, radiation included. */
function givenLoss(
  { perLength, film }: Extract<HeatLoss, object>,
  [from, to]: readonly [number, number],
  ambient: number,
): ElectroThermalBranch["exchange"] {
  if (perLength !== undefined) return linearExchange(perLength, ambient);
  const at = (width: number): HeatExchange => filmExchange(film!, width, ambient);
  return from === to ? at(from) : { from: at(from), to: at(to) };
}

/** Loss of a surface through a film: coefficient (of the wall temperature) times width. */
function filmExchange(film: Law, width: number, ambient: number): HeatExchange {
  return {
    lossAt: (T) => width * film.at(T) * (T - ambient),
    lossSlopeAt: (T) => width * (film.at(T) + film.slopeAt(T) * (T - ambient)),
    sinkTemperature: ambient,
  };
}

type HeatCapacity = NonNullable<ElectroThermalBranch["heatCapacity"]>;

/** One for each pair of laws, so that the branches of all devices share what is sampled of it. */
const capacitiesKnown = new WeakMap<Law, WeakMap<Law, HeatCapacity>>();

/** Heat capacity per volume as a law, where both of its factors are known. */
function heatCapacityPerVolume({ heatCapacity, density }: BeamMaterial): HeatCapacity | undefined {
  if (heatCapacity === undefined || density === undefined) return undefined;
  let byDensity = capacitiesKnown.get(heatCapacity);
  if (byDensity === undefined) {
    byDensity = new WeakMap();
    capacitiesKnown.set(heatCapacity, byDensity);
  }
  let made = byDensity.get(density);
  if (made === undefined) {
    made = {
      ...heatCapacity,
      at: (T) => heatCapacity.at(T) * density.at(T),
      slopeAt: (T) => heatCapacity.slopeAt(T) * density.at(T) + heatCapacity.at(T) * density.slopeAt(T),
    };
    byDensity.set(density, made);
  }
  return made;
}

function lawsOf(material: BeamMaterial) {
  const heatCapacity = heatCapacityPerVolume(material);
  return {
    thermalConductivity: material.conductivity,
    resistivity: material.resistivity,
    ...(heatCapacity !== undefined && { heatCapacity }),
  };
}

/** A plate's laws with only a part of its silicon: heat is stored in the silicon alone, conducted by what the openings leave. */
function thinnedLaws(material: BeamMaterial, shares: { conducting: number; area: number }) {
  const laws = lawsOf(material);
  const { heatCapacity } = laws;
  if (heatCapacity === undefined || shares.conducting === shares.area) return laws;
  // the branch's cross-section is what conducts; its heat capacity is told per that cross-section
  const factor = shares.area / shares.conducting;
  return {
    ...laws,
    heatCapacity: {
      ...heatCapacity,
      at: (T: number) => factor * heatCapacity.at(T),
      slopeAt: (T: number) => factor * heatCapacity.slopeAt(T),
    },
  };
}

function addAnchors(builder: NetworkBuilder): Int32Array {
  const { device, conditions } = builder;
  const { sinks, links } = anchorHeat(device, conditions);
  const junctionOfBody = new Int32Array(device.bodies.length).fill(-1);
  device.bodies.forEach(({ part }, body) => {
    if (part.kind !== "anchor") return;
    const index = builder.addJunction();
    junctionOfBody[body] = index;
    const junction = builder.junctions[index]!;
    if (part.heat === "ideal") junction.temperature = conditions.ambient;
    else junction.sinks.push(...sinks[body]!);
    wire(builder, part, junction);
  });
  for (const { bodies, conductance } of links)
    builder.links.push({ a: junctionOfBody[bodies[0]]!, b: junctionOfBody[bodies[1]]!, conductance });
  return junctionOfBody;
}

function wire(builder: NetworkBuilder, part: AnchorPart, junction: Draft): void {
  if (part.wire === undefined) return;
  junction.terminal = builder.terminalOf(part.wire);
  if (part.leadResistance > 0) junction.leadResistance = part.leadResistance;
}

function findSpines(device: BuiltDevice, extra: readonly Place[]): { spines: PlateSpine[]; spineOfBody: Int32Array } {
  const spines: PlateSpine[] = [];
  const spineOfBody = new Int32Array(device.bodies.length).fill(-1);
  device.bodies.forEach((body, index) => {
    if (body.part.kind !== "plate") return;
    // where a plate bends, forces and questions at its named points act on its spine there, not on the nearest node of it
    const asked = body.part.bends ? [...extra, ...device.drawing.points.values()] : extra;
    const here = asked.filter((place) => {
      const site = device.siteAt(place);
      return site?.kind === "body" && site.index === index;
    });
    spineOfBody[index] = spines.push(spineOf(device, index, here)) - 1;
  });
  return { spines, spineOfBody };
}

/** Junctions and branches of one spine; returns its first junction. */
function addSpine(builder: NetworkBuilder, spine: PlateSpine, spineIndex: number): number {
  const { device, conditions } = builder;
  const body = device.bodies[spine.body]!;
  const plate = body.part as Extract<typeof body.part, { kind: "plate" }>;
  const { thickness, ambient, emissivity } = conditions;
  const { heatLoss } = device.drawing;
  const material = conditions.materialAlong(plate.slab.turn + (plate.spine === "y" ? Math.PI / 2 : 0));
  const shares = solidShares(body);
  const nNodes = spine.positions.length;
  const first = builder.addJunction();
  for (let i = 1; i < nNodes; i++) builder.addJunction();
  const paths = builder.factors?.plates[spineIndex];
  const radiating = radiatingPlate(device, spine, thickness);
  const shown = heatLoss === "gas" ? emissivity : 0;
  const exchange =
    typeof heatLoss === "object" && heatLoss.film !== undefined
      ? filmExchange(heatLoss.film, spine.width * shares.area, ambient)
      : builder.lossOf(paths === undefined ? [] : [paths.under, paths.edges], shown * radiating.along);
  for (let i = 0; i + 1 < nNodes; i++) {
    builder.owners.push({ kind: "spine", spine: spineIndex, piece: i });
    builder.radiating.push([shown * radiating.along, shown * radiating.along]);
    builder.branches.push({
      from: first + i,
      to: first + i + 1,
      length: spine.positions[i + 1]! - spine.positions[i]!,
      area: spine.width * thickness * shares.along,
      ...thinnedLaws(material, { conducting: shares.along, area: shares.area }),
      ...(exchange !== undefined && { exchange }),
    });
  }
  const end = builder.lossOf(paths === undefined ? [] : [paths.end], shown * radiating.end);
  for (const node of [first, first + nNodes - 1]) {
    const junction = builder.junctions[node]!;
    if (end !== undefined) junction.exchanges.push(end);
    junction.radiating += shown * radiating.end;
  }
  if (plate.leak > 0) shareLeak(builder, { first, nNodes, leak: plate.leak });
  return first;
}

/** Spreads a leak over the inner nodes of a spine, where something is joined. */
function shareLeak(builder: NetworkBuilder, at: { first: number; nNodes: number; leak: number }): void {
  const inner = Array.from({ length: at.nNodes }, (_, i) => at.first + i).slice(1, -1);
  const nodes = inner.length > 0 ? inner : [at.first];
  for (const node of nodes) builder.leaks[node] = builder.leaks[node]! + at.leak / nodes.length;
}

interface Ends {
  readonly junctionOfBody: Int32Array;
  readonly junctionOfJoint: Int32Array;
  readonly spines: readonly PlateSpine[];
  readonly spineOfBody: Int32Array;
  readonly first: Int32Array;
}

/** Junction that an end of a beam joins: on the edge of a plate a new one, with a link to the spine. */
function endJunction(builder: NetworkBuilder, ends: Ends, at: { beam: number; end: 0 | 1; joined: Joined }): number {
  const { joined } = at;
  if (joined.kind === "joint") return ends.junctionOfJoint[joined.index]!;
  const anchor = ends.junctionOfBody[joined.index]!;
  if (anchor >= 0) return anchor;
  const spineIndex = ends.spineOfBody[joined.index]!;
  const spine = ends.spines[spineIndex]!;
  const attachment = spine.attachments.findIndex((entry) => entry.beam === at.beam && entry.end === at.end);
  const { node, linkLength, linkWidth, side } = spine.attachments[attachment]!;
  const onSpine = ends.first[spineIndex]! + node;
  const { device, conditions } = builder;
  // current and heat crowd where the beam enters: as much as a longer link resists
  const length = linkLength + linkWidth * crowdingSquares(device.beams[at.beam]!.widths[at.end]!, linkWidth);
  if (length < 1e-8) return onSpine;
  const body = device.bodies[spine.body]!;
  const plate = body.part as Extract<typeof body.part, { kind: "plate" }>;
  const edge = builder.addJunction();
  // on the spine's own end only the crowding right behind the entry is left, in whole silicon
  const share = side === 0 ? 1 : solidShares(body).across;
  const material = conditions.materialAlong(plate.slab.turn + (plate.spine === "y" ? 0 : Math.PI / 2));
  builder.owners.push({ kind: "link", spine: spineIndex, attachment });
  builder.radiating.push([0, 0]);
  builder.branches.push({
    from: edge,
    to: onSpine,
    length,
    area: linkWidth * conditions.thickness * share,
    // heat is stored in the spine, which stands for the whole width; a transient wants a little here too
    ...thinnedLaws(material, { conducting: 1, area: linkStorage }),
  });
  return edge;
}

function addBeams(builder: NetworkBuilder, ends: Ends): Int32Array {
  const { device, conditions } = builder;
  return Int32Array.from(device.beams, (beam, index) => {
    const [from, to] = ([0, 1] as const).map((end) =>
      endJunction(builder, ends, { beam: index, end, joined: beam.ends[end] }),
    ) as [number, number];
    const { exchange, radiating } = builder.beamExchange(index);
    builder.radiating.push(radiating);
    const area = (width: number): number => width * conditions.thickness;
    builder.owners.push({ kind: "beam", beam: index });
    return (
      builder.branches.push({
        from,
        to,
        length: beam.length,
        area: beam.widths[0] === beam.widths[1] ? area(beam.widths[0]) : { from: area(beam.widths[0]), to: area(beam.widths[1]) },
        ...lawsOf(conditions.materialAlong(beam.angle)),
        ...(exchange !== undefined && { exchange }),
      }) - 1
    );
  });
}

/** The network of a device. `extra` are places of plates that must have a node of their own; `like` the network of a similar device. */
export function buildHeatNetwork(
  device: BuiltDevice,
  conditions: Conditions,
  options: { readonly extra: readonly Place[]; readonly like: HeatNetwork | undefined },
): HeatNetwork {
  const builder = new NetworkBuilder(device, conditions);
  // plus and minus come first, so that a drive finds them
  builder.terminalOf("plus");
  builder.terminalOf("minus");
  const junctionOfBody = addAnchors(builder);
  const junctionOfJoint = Int32Array.from(device.joints, () => builder.addJunction());
  const { spines, spineOfBody } = findSpines(device, options.extra);
  builder.findGasFactors(spines, options.like?.gasFactors);
  const firstBranchOfSpine = new Int32Array(spines.length);
  const first = Int32Array.from(spines, (spine, index) => {
    firstBranchOfSpine[index] = builder.branches.length;
    return addSpine(builder, spine, index);
  });
  const ends: Ends = { junctionOfBody, junctionOfJoint, spines, spineOfBody, first };
  const branchOfBeam = addBeams(builder, ends);
  const warmthAt = (place: Place): WarmPlace | undefined => {
    const site = device.siteAt(place);
    if (site === undefined) return undefined;
    if (site.kind === "joint") return { junction: junctionOfJoint[site.index]! };
    if (junctionOfBody[site.index]! >= 0) return { junction: junctionOfBody[site.index]! };
    const spineIndex = spineOfBody[site.index]!;
    const spine = spines[spineIndex]!;
    const { along } = spinePlace(device.bodies[spine.body]!, place);
    const node = nodeNear(spine, along);
    if (Math.abs(spine.positions[node]! - along) < nearestOn(device, spine.body)) return { junction: first[spineIndex]! + node };
    const piece = Math.min(
      Math.max(spine.positions.findIndex((position) => position > along) - 1, 0),
      spine.positions.length - 2,
    );
    return { branch: firstBranchOfSpine[spineIndex]! + piece, along: along - spine.positions[piece]! };
  };
  for (const part of device.drawing.parts) if (part.kind === "lump") addLeak(builder, part, warmthAt);
  return {
    network: {
      junctions: builder.junctions.map((junction, index) => finishJunction(junction, builder.leaks[index]!, conditions.ambient)),
      branches: builder.branches,
      nTerminals: builder.terminals.length,
      ...(builder.links.length > 0 && { links: builder.links }),
      ...couplingsOf(builder, branchOfBeam),
    },
    gasFactors: builder.factors,
    owners: builder.owners,
    branchOfBeam,
    spines,
    spineOfBody,
    firstJunctionOfSpine: first,
    firstBranchOfSpine,
    junctionOfBody,
    junctionOfJoint,
    terminals: builder.terminals,
    leaks: Float64Array.from(builder.leaks),
    warmthAt,
    radiating: {
      branches: builder.radiating,
      junctions: Float64Array.from(builder.junctions, (junction) => junction.radiating),
    },
  };
}

/** Heat that passes through the gas from beam to beam. */
function couplingsOf(builder: NetworkBuilder, branchOfBeam: Int32Array): Pick<ElectroThermalNetwork, "couplings"> {
  const { gas, factors } = builder;
  if (gas === undefined || factors === undefined || factors.pairs.length === 0) return {};
  return {
    couplings: factors.pairs.map(({ a, b, between }) => ({
      a: { branch: branchOfBeam[a.beam]!, span: a.span },
      b: { branch: branchOfBeam[b.beam]!, span: b.span },
      exchange: pairExchangeOf(gas, between),
    })),
  };
}

function addLeak(builder: NetworkBuilder, part: LumpPart, warmthAt: HeatNetwork["warmthAt"]): void {
  if (part.leak === 0) return;
  const found = warmthAt(part.at);
  // a lump is among the places that a spine has a node for
  if (found === undefined || "branch" in found) throw new AssemblyError(`${part.name} lies on no part`);
  const { junction } = found;
  builder.leaks[junction] = builder.leaks[junction]! + part.leak;
}

function finishJunction(junction: Draft, leak: number, ambient: number): ThermalJunction {
  const { temperature, terminal, leadResistance, exchanges } = junction;
  const sinks = [...junction.sinks, ...(leak > 0 ? [{ conductance: leak, temperature: ambient }] : [])];
  return {
    ...(temperature !== undefined && { temperature }),
    ...(sinks.length > 0 && { sinks }),
    ...(exchanges.length > 0 && { exchange: sumExchange(exchanges) }),
    ...(terminal !== undefined && { terminal }),
    ...(leadResistance !== undefined && { leadResistance }),
  };
}
