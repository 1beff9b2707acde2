/**
 * Paths of everything that loses heat to the gas, worked out for the device as built; taken over from a device of the same
 * shape where only its material or its drive differs.
 */
import type { BuiltDevice } from "./built-device.ts";
import {
  edgeFactorOf,
  exposureOfBeam,
  facingShare,
  neighboursOf,
  type Surroundings,
  shapeFactorOfBeam,
  slitFactorOf,
} from "./cross-section.ts";
import type { Exposure, GasPath } from "./gas-state.ts";
import { type PlateSpine, solidShares } from "./plate-spine.ts";

export interface GasFactors {
  /** Per beam, the paths of its underside and of the rest, per length. */
  readonly beams: readonly (readonly GasPath[])[];
  /** Per spine: its underside and its edges with the top, per length of it; and each of its ends as a whole. */
  readonly plates: readonly { readonly under: GasPath; readonly edges: GasPath; readonly end: GasPath }[];
  /** Beams that face each other at temperatures of their own. */
  readonly pairs: readonly FacingPair[];
  /** What they were worked out for. */
  readonly shape: Float64Array;
}

/** Heat passes between the facing stretches of two beams. */
export interface FacingPair {
  readonly a: { readonly beam: number; readonly span: readonly [number, number] };
  readonly b: { readonly beam: number; readonly span: readonly [number, number] };
  /** Between both, per facing length. */
  readonly between: GasPath;
}

/** Every number that the factors depend on. */
function shapeOf(device: BuiltDevice, { gap, thickness, wallDistance }: Surroundings): Float64Array {
  const numbers: number[] = [gap, thickness, wallDistance ?? -1];
  numbers.push(["shared", "averaged", "apart"].indexOf(device.drawing.neighbours));
  for (const { line, widths } of device.beams) numbers.push(...line, ...widths);
  for (const { slab, slits, holes } of device.bodies) {
    numbers.push(slab.centre.x, slab.centre.y, slab.width, slab.height, slab.turn);
    numbers.push(slits?.width ?? 0, slits?.length ?? 0, slits?.pitch ?? 0, holes?.side ?? 0, holes?.pitch ?? 0);
  }
  return Float64Array.from(numbers);
}

function isSame(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((value, i) => value === b[i]);
}

/** Factors of a device; `like` those of another one. */
export function gasFactorsOf(
  device: BuiltDevice,
  spines: readonly PlateSpine[],
  at: { readonly surroundings: Surroundings; readonly like: GasFactors | undefined },
): GasFactors {
  const { surroundings, like } = at;
  const shape = shapeOf(device, surroundings);
  if (like !== undefined && like.plates.length === spines.length && isSame(shape, like.shape)) return like;
  const alone = device.drawing.neighbours === "apart";
  const beams = device.beams.map((_, index) => beamPaths(device, index, { ...surroundings, alone }));
  return {
    beams: device.drawing.neighbours === "averaged" ? averagedLegs(device, beams) : beams,
    plates: spines.map((spine) => platePaths(device, spine, surroundings)),
    pairs: alone ? [] : facingPairs(device, surroundings),
    shape,
  };
}

/**
 * Of a beam: the layer between its underside and the plane by itself, as that is where surfaces resist first when the gas gets thin, and
 * all the rest.
 */
function beamPaths(device: BuiltDevice, index: number, at: Surroundings & { alone: boolean }): readonly GasPath[] {
  const { shape, stepLoss } = shapeFactorOfBeam(device, index, at);
  const { open, facing, width } = exposureOfBeam(device, index, at);
  const under = evenPath(width / at.gap, { open: 0, facing: width });
  const rest = { shape: shape - under.shape, stepLoss: Math.max(0, stepLoss - under.stepLoss), open, facing: facing - width };
  // a beam that others shield to less than its own underside is taken as one
  return rest.shape > 0 ? [under, rest] : [{ shape, stepLoss, open, facing }];
}

/** Every leg with the mean of all legs, as simple models of a bank take it. */
function averagedLegs(device: BuiltDevice, beams: GasFactors["beams"]): GasFactors["beams"] {
  const legs = beams.filter((_, index) => device.beams[index]!.part.isLeg);
  const mean = legs.flat().map(
    ({ shape, stepLoss, open, facing }): GasPath => ({
      // all paths of all legs side by side, each a share of itself
      shape: shape / legs.length,
      stepLoss: stepLoss / legs.length,
      open: open / legs.length,
      facing: facing / legs.length,
    }),
  );
  return beams.map((own, index) => (device.beams[index]!.part.isLeg ? mean : own));
}

/** Of a plate: the layer below it, and what its edges and its top add. */
function platePaths(device: BuiltDevice, spine: PlateSpine, at: Surroundings): GasFactors["plates"][number] {
  const body = device.bodies[spine.body]!;
  const { thickness, wallDistance } = at;
  const free = 1 - coveredShare(device, spine, thickness);
  const solid = spine.width * solidShares(body).area;
  const toWall = wallDistance === undefined ? 0 : facingShare(thickness, wallDistance);
  const side = (faces: number, top: number) => ({
    open: faces * thickness * (1 - toWall) + top,
    facing: faces * thickness * toWall,
  });
  return {
    under: evenPath((spine.width / at.gap) * underside(body, at), { open: 0, facing: solid }),
    edges: evenPath(2 * edgeFactorOf(spine.width, at) * free, side(2 * free, solid)),
    // the top was counted along the spine
    end: evenPath(spine.width * edgeFactorOf(spine.length, at), side(spine.width, 0)),
  };
}

/** A path that leaves its surface evenly and comes to one as large. */
function evenPath(shape: number, exposure: Exposure): GasPath {
  return { shape, stepLoss: shape === 0 ? 0 : (2 * shape * shape) / (exposure.open + exposure.facing), ...exposure };
}

/** Radiating surface of a plate, per length of its spine [m], and of each of its ends [m^2]. */
export function radiatingPlate(device: BuiltDevice, spine: PlateSpine, thickness: number): { along: number; end: number } {
  const free = 1 - coveredShare(device, spine, thickness);
  const solid = spine.width * solidShares(device.bodies[spine.body]!).area;
  return { along: 2 * (solid + free * thickness), end: spine.width * thickness };
}

/**
 * What the underside of a plate loses over what it would lose without openings. A row of holes is taken as bars with slits over the
 * part of the row that holes take: an upper bound of what the holes cost, as gas reaches them from two sides only.
 */
function underside(body: BuiltDevice["bodies"][number], at: Surroundings): number {
  const { slits, holes } = body;
  let share = 1;
  if (slits !== undefined) {
    const field = slitShare(body);
    share *= slitFactorOf(slits.pitch - slits.width, slits.width, at) * field + 1 - field;
  }
  if (holes !== undefined) {
    const lost = 1 - slitFactorOf(holes.pitch - holes.side, holes.side, at);
    share *= 1 - (lost * holes.columns * holes.rows * holes.pitch * holes.side) / (body.slab.width * body.slab.height);
  }
  return share;
}

/** Part of a plate that its slit field takes. */
function slitShare(body: BuiltDevice["bodies"][number]): number {
  const { slits, slab } = body;
  if (slits === undefined) return 0;
  return (slits.count * slits.pitch * slits.lengths * slits.length) / (slab.width * slab.height);
}

/** Part of the two long sides that beams side by side keep from the open gas. */
function coveredShare(device: BuiltDevice, spine: PlateSpine, thickness: number): number {
  let covered = 0;
  for (const side of [-1, 1]) {
    const beams = spine.attachments.filter((entry) => entry.side === side);
    const places = beams.map((entry) => spine.positions[entry.node]!).sort((a, b) => a - b);
    places.forEach((place, i) => {
      const next = places[i + 1];
      if (next !== undefined && next - place < thickness) covered += next - place;
    });
    for (const { beam } of beams) covered += Math.max(...device.beams[beam]!.widths) / 2;
  }
  return Math.min(1, covered / (2 * spine.length));
}

/** Straight beams side by side, each pair once; legs of a bank are equally warm and exchange nothing. */
function facingPairs(device: BuiltDevice, surroundings: Surroundings): FacingPair[] {
  return device.beams.flatMap((beam, index) => {
    if (beam.line.length > 4) return [];
    const wanted = (other: number): boolean =>
      other > index && device.beams[other]!.line.length === 4 && !(beam.part.isLeg && device.beams[other]!.part.isLeg);
    return neighboursOf(device, index, { ...surroundings, wanted }).flatMap((neighbour): FacingPair[] => {
      const spans = facingSpans(beam.line, device.beams[neighbour.beam]!.line);
      if (spans === undefined || !(neighbour.between > 0)) return [];
      return [
        {
          a: { beam: index, span: spans.a },
          b: { beam: neighbour.beam, span: spans.b },
          between: { shape: neighbour.between, stepLoss: neighbour.stepLoss, open: 0, facing: neighbour.facing },
        },
      ];
    });
  });
}

/** Shortest facing stretch that counts, as a part of the beam. */
const shortestSpan = 0.02;

/** The stretch of a straight line that another one lies beside, and the same stretch on the other, as parts of their lengths. */
function facingSpans(
  a: Float64Array,
  b: Float64Array,
): { a: readonly [number, number]; b: readonly [number, number] } | undefined {
  const [ax, ay] = [a[2]! - a[0]!, a[3]! - a[1]!];
  const square = ax * ax + ay * ay;
  const along = (x: number, y: number): number => ((x - a[0]!) * ax + (y - a[1]!) * ay) / square;
  const [start, end] = [along(b[0]!, b[1]!), along(b[2]!, b[3]!)];
  const low = Math.max(0, Math.min(start, end));
  const high = Math.min(1, Math.max(start, end));
  if (high - low < shortestSpan) return undefined;
  const onB = (s: number): number => Math.min(1, Math.max(0, (s - start) / (end - start)));
  return { a: [low, high], b: [onB(low), onB(high)] };
}
