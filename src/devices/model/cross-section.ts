/**
 * What stands beside a beam: the line across its middle, cut with everything else of the device. From there the shape factor of its
 * gas loss is found together with its neighbours.
 *
 * Free silicon is hot, anchors and the silicon that stays are cold. Bodies further apart than the reach do not see each other; where
 * two trenches leave room between them, silicon stays there.
 */
import { crossSectionCouplings, plateEdgeFactor, slitGridFactor } from "#physics";
import type { ShapeFactorStore } from "../conditions.ts";
import type { Place } from "../drawing/part.ts";
import { exitDistance } from "../drawing/slab.ts";
import type { BuiltDevice } from "./built-device.ts";
import type { Exposure } from "./gas-state.ts";

/** A stretch of the line across a beam, from its middle [m]. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly hot: boolean;
  /** The beam that it is, where it is one alone. */
  readonly beam?: number;
}

/** How far beside a beam anything still matters, in heights of thickness and gap. */
const reachInHeights = 6;
/** Width of the cold silicon beside the outermost beams that still matters, in the same heights. */
const wallWidthInHeights = 1;
/** Neighbours on each side that are taken along. */
const mostNeighbours = 7;

export interface Surroundings {
  /** Free gap below, [m]. */
  readonly gap: number;
  readonly thickness: number;
  /** Clear distance to the silicon that stays, as built, [m]; undefined where none does. */
  readonly wallDistance: number | undefined;
  readonly store: ShapeFactorStore;
}

/** Where the line through `middle` along `across` meets a straight segment, [m]; undefined where it does not. */
function crossing(segment: readonly [number, number, number, number], middle: Place, across: Place): number | undefined {
  const [x0, y0, x1, y1] = segment;
  const [dx, dy] = [x1 - x0, y1 - y0];
  const determinant = across.x * dy - across.y * dx;
  if (Math.abs(determinant) < 1e-12 * Math.hypot(dx, dy)) return undefined;
  const [px, py] = [x0 - middle.x, y0 - middle.y];
  const s = (px * across.y - py * across.x) / determinant;
  return s < 0 || s > 1 ? undefined : (px * dy - py * dx) / determinant;
}

/** Middle of a beam along its line, and the unit vector along it there. */
function middleOf(line: Float64Array, length: number): { middle: Place; along: Place } {
  let left = length / 2;
  for (let i = 2; i < line.length; i += 2) {
    const [dx, dy] = [line[i]! - line[i - 2]!, line[i + 1]! - line[i - 1]!];
    const piece = Math.hypot(dx, dy);
    if (left <= piece || i === line.length - 2) {
      const along = { x: dx / piece, y: dy / piece };
      return { middle: { x: line[i - 2]! + left * along.x, y: line[i - 1]! + left * along.y }, along };
    }
    left -= piece;
  }
  throw new RangeError("Cannot find the middle of a line: wanted two points or more");
}

/** Everything that the line across the middle of a beam meets, the beam itself at 0, ascending. */
function stretchesAcross(device: BuiltDevice, index: number): { stretches: Stretch[]; own: Stretch } {
  const beam = device.beams[index]!;
  const { middle, along } = middleOf(beam.line, beam.length);
  const across = { x: -along.y, y: along.x };
  const half = (beam.widths[0] + beam.widths[1]) / 4;
  const own: Stretch = { from: -half, to: half, hot: true, beam: index };
  const stretches: Stretch[] = [own];
  device.beams.forEach((other, otherIndex) => {
    if (otherIndex === index) return;
    for (let i = 2; i < other.line.length; i += 2) {
      const segment = [other.line[i - 2]!, other.line[i - 1]!, other.line[i]!, other.line[i + 1]!] as const;
      const at = crossing(segment, middle, across);
      if (at === undefined) continue;
      const [dx, dy] = [segment[2] - segment[0], segment[3] - segment[1]];
      const cosine = Math.abs(dx * along.x + dy * along.y) / Math.hypot(dx, dy);
      const reach = (other.widths[0] + other.widths[1]) / 4 / Math.max(cosine, 0.3);
      stretches.push({ from: at - reach, to: at + reach, hot: true, beam: otherIndex });
    }
  });
  for (const body of device.bodies) {
    const leave = exitDistance(body.slab, middle, across);
    const enter = exitDistance(body.slab, middle, { x: -across.x, y: -across.y });
    if (leave === undefined || enter === undefined || leave <= -enter) continue;
    stretches.push({ from: -enter, to: leave, hot: body.part.kind === "plate" });
  }
  return {
    stretches: mergeOverlaps(
      stretches.sort((a, b) => a.from - b.from),
      own,
    ),
    own,
  };
}

/** Bodies that overlap on the line are one, but the beam itself stays itself. */
function mergeOverlaps(sorted: readonly Stretch[], own: Stretch): Stretch[] {
  const merged: Stretch[] = [];
  for (const stretch of sorted) {
    const last = merged[merged.length - 1];
    if (last === undefined || stretch.from >= last.to) merged.push(stretch);
    else if (last !== own && stretch !== own && stretch.to > last.to)
      merged[merged.length - 1] = { from: last.from, to: stretch.to, hot: last.hot || stretch.hot };
    else if (stretch === own) merged[merged.length - 1] = own;
  }
  return merged;
}

/** The neighbours of a beam that matter, with cold walls where silicon stays. */
function neighbourhood(device: BuiltDevice, index: number, at: Surroundings): { section: Stretch[]; own: Stretch } {
  const { stretches, own } = stretchesAcross(device, index);
  const height = at.gap + at.thickness;
  const section = [own];
  for (const side of [1, -1] as const) {
    let edge = side > 0 ? own.to : -own.from;
    let i = stretches.indexOf(own);
    for (let taken = 0; ; taken++) {
      i += side;
      const next = stretches[i];
      const nextEdge = next === undefined ? Number.POSITIVE_INFINITY : side > 0 ? next.from : -next.to;
      const clear = nextEdge - edge;
      const wall = at.wallDistance;
      if (wall !== undefined && clear > 2 * wall + 1e-9) {
        const width = Math.min(clear - 2 * wall, wallWidthInHeights * height);
        const [near, far] = [edge + wall, edge + wall + width];
        section.push(side > 0 ? { from: near, to: far, hot: false } : { from: -far, to: -near, hot: false });
        break;
      }
      if (next === undefined || clear > reachInHeights * height || taken === mostNeighbours) break;
      section.push(next);
      edge = side > 0 ? next.to : -next.from;
      if (!next.hot) break;
    }
  }
  return { section: section.sort((a, b) => a.from - b.from), own };
}

/** Lengths as a key. */
const digits = (values: readonly (number | undefined)[]): string =>
  values.map((value) => (value === undefined ? "-" : value.toPrecision(9))).join(" ");

/** The rectangles of a section, and a name for it that is the same wherever the section stands. */
function rectanglesOf(section: readonly Stretch[], at: Surroundings) {
  const origin = section[0]!.from;
  const longest = wallWidthInHeights * (at.gap + at.thickness);
  const rectangles = section.map((stretch, i) => {
    // of an anchor or a wide cold body only the near part matters
    const width = stretch.hot ? stretch.to - stretch.from : Math.min(stretch.to - stretch.from, longest);
    const near = i === 0 ? stretch.to - width : stretch.from;
    return {
      x: near + width / 2 - origin,
      width,
      height: at.thickness,
      gap: at.gap,
      potential: stretch.hot ? ("hot" as const) : ("cold" as const),
    };
  });
  const key = rectangles.map((r) => `${digits([r.x, r.width, r.height, r.gap])} ${r.potential}`).join("|");
  return { rectangles, key };
}

/** Of the hot bodies of a section, [nHot] and [nHot × nHot]: conductances over conductivity, and what steps at the surfaces take off. */
interface SectionFactors {
  readonly toGround: Float64Array;
  readonly groundSteps: Float64Array;
  readonly between: Float64Array;
  readonly betweenSteps: Float64Array;
}

/** Factors of a section, from the store where they are known. */
function factorsOf(section: readonly Stretch[], at: Surroundings): SectionFactors {
  const { rectangles, key } = rectanglesOf(section, at);
  let factors = at.store.get(key);
  if (factors === undefined) {
    const { toGround, between, stepLoss } = crossSectionCouplings({ rectangles });
    factors = Float64Array.from([...toGround, ...stepLoss.toGround, ...between, ...stepLoss.between]);
    at.store.set(key, factors);
  }
  const n = section.filter((stretch) => stretch.hot).length;
  return {
    toGround: factors.subarray(0, n),
    groundSteps: factors.subarray(n, 2 * n),
    between: factors.subarray(2 * n, 2 * n + n * n),
    betweenSteps: factors.subarray(2 * n + n * n),
  };
}

/** A beam beside another, and the conductance between both over length and conductivity of the gas. */
export interface Neighbour {
  readonly beam: number;
  readonly between: number;
  /** What steps of temperature at the surfaces take off it, [1/m]. */
  readonly stepLoss: number;
  /** Height from which molecules fly straight from one to the other, [m]. */
  readonly facing: number;
}

/** The beams right beside a beam, with what passes through the gas between them; `wanted` picks those that are asked about. */
export function neighboursOf(
  device: BuiltDevice,
  index: number,
  at: Surroundings & { readonly wanted: (beam: number) => boolean },
): readonly Neighbour[] {
  const { section, own } = neighbourhood(device, index, at);
  const hot = section.filter((stretch) => stretch.hot);
  const place = hot.indexOf(own);
  const beside = [place - 1, place + 1].filter((i) => {
    const beam = hot[i]?.beam;
    return beam !== undefined && at.wanted(beam);
  });
  if (beside.length === 0) return [];
  const { between, betweenSteps } = factorsOf(section, at);
  return beside.map((i) => ({
    beam: hot[i]!.beam!,
    between: between[place * hot.length + i]!,
    stepLoss: betweenSteps[place * hot.length + i]!,
    facing: at.thickness * facingShare(at.thickness, clearance(own, hot[i]!)),
  }));
}

/** Shape factor of a beam among its neighbours, of the beam as if alone where `alone`; and what steps at the surfaces take off it. */
export function shapeFactorOfBeam(
  device: BuiltDevice,
  index: number,
  at: Surroundings & { alone: boolean },
): { shape: number; stepLoss: number } {
  const { section, own } = at.alone
    ? { section: [stretchesAcross(device, index).own], own: undefined }
    : neighbourhood(device, index, at);
  const place = own === undefined ? 0 : section.filter((stretch) => stretch.hot).indexOf(own);
  const { toGround, groundSteps } = factorsOf(section, at);
  return { shape: toGround[place]!, stepLoss: groundSteps[place]! };
}

function clearance(a: Stretch, b: Stretch): number {
  return Math.max(0, Math.max(a.from, b.from) - Math.min(a.to, b.to));
}

/**
 * Share of what leaves one of two equal walls in all directions that meets the other, straight opposite: both of the same height,
 * long. Hottel's crossed strings (FROM MEMORY), for molecules without collisions as for radiation.
 */
export function facingShare(height: number, distance: number): number {
  const ratio = distance / height;
  return Math.sqrt(1 + ratio * ratio) - ratio;
}

/**
 * Surface of a beam per length by what it sees: hot neighbours give back what they are given and do not count, cold walls and the plane
 * below face it, the rest is open. `width`: of the underside, which faces the plane.
 */
export function exposureOfBeam(
  device: BuiltDevice,
  index: number,
  at: Surroundings & { alone: boolean },
): Exposure & { readonly width: number } {
  const { section, own } = neighbourhood(device, index, at);
  const width = own.to - own.from;
  let [open, facing] = [width, width];
  const place = section.indexOf(own);
  for (const next of [section[place - 1], section[place + 1]]) {
    const seen = next === undefined || at.alone ? 0 : at.thickness * facingShare(at.thickness, clearance(own, next));
    open += at.thickness - seen;
    if (next !== undefined && !next.hot) facing += seen;
  }
  return { open, facing, width };
}

/** A number kept in the store under a key of its own. */
function kept(store: ShapeFactorStore, key: string, work: () => number): number {
  let known = store.get(key);
  if (known === undefined) {
    known = Float64Array.of(work());
    store.set(key, known);
  }
  return known[0]!;
}

/** What one long edge of a plate of this width adds to width over gap, per length of edge. */
export function edgeFactorOf(width: number, { gap, thickness, wallDistance, store }: Surroundings): number {
  return kept(store, `edge ${digits([width, thickness, gap, wallDistance])}`, () =>
    plateEdgeFactor({
      width,
      height: thickness,
      gap,
      ...(wallDistance !== undefined && { coldWallAt: wallDistance }),
    }),
  );
}

/** What the underside of a wide grid of bars loses over what the same plain plate loses. */
export function slitFactorOf(bar: number, slit: number, { gap, thickness, store }: Surroundings): number {
  return kept(store, `slits ${digits([bar, slit, thickness, gap])}`, () => slitGridFactor({ bar, slit, gap, thickness }));
}
