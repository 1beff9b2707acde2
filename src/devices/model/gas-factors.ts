/**
 * Shape factors of everything that loses heat to the gas, worked out for the device as built; taken over from a device of the same
 * shape where only its material or its drive differs.
 */
import type { BuiltDevice } from "./built-device.ts";
import { edgeFactorOf, neighboursOf, type Surroundings, shapeFactorOfBeam, slitFactorOf } from "./cross-section.ts";
import type { PlateSpine } from "./plate-spine.ts";

/** At the two film temperatures of gas-state.ts. */
export type AtBothFilms = readonly [low: number, high: number];

export interface GasFactors {
  /** Per beam, per length. */
  readonly beams: readonly AtBothFilms[];
  /** Per spine: per length of it, and of each of its ends, [m]. */
  readonly plates: readonly { readonly along: AtBothFilms; readonly end: AtBothFilms }[];
  /** Beams that face each other at temperatures of their own. */
  readonly pairs: readonly FacingPair[];
  /** What they were worked out for. */
  readonly shape: Float64Array;
}

/** Heat passes between the facing stretches of two beams. */
export interface FacingPair {
  readonly a: { readonly beam: number; readonly span: readonly [number, number] };
  readonly b: { readonly beam: number; readonly span: readonly [number, number] };
  /** Conductance between both over length and conductivity of the gas. */
  readonly between: AtBothFilms;
}

/** Every number that the factors depend on. */
function shapeOf(device: BuiltDevice, surroundings: readonly [Surroundings, Surroundings]): Float64Array {
  const numbers: number[] = surroundings.flatMap(({ gap, thickness, wallDistance }) => [gap, thickness, wallDistance ?? -1]);
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
  at: { readonly surroundings: readonly [Surroundings, Surroundings]; readonly like: GasFactors | undefined },
): GasFactors {
  const { surroundings, like } = at;
  const shape = shapeOf(device, surroundings);
  if (like !== undefined && like.plates.length === spines.length && isSame(shape, like.shape)) return like;
  const alone = device.drawing.neighbours === "apart";
  const both = (work: (at: Surroundings) => number): AtBothFilms => [work(surroundings[0]), work(surroundings[1])];
  const beams = device.beams.map((_, index) => both((film) => shapeFactorOfBeam(device, index, { ...film, alone })));
  return {
    beams: device.drawing.neighbours === "averaged" ? averagedLegs(device, beams) : beams,
    plates: spines.map((spine) => ({
      along: both((film) => alongFactor(device, spine, film)),
      end: both((film) => spine.width * edgeFactorOf(spine.length, film)),
    })),
    pairs: alone ? [] : facingPairs(device, surroundings),
    shape,
  };
}

/** Every leg with the mean of all legs, as simple models of a bank take it. */
function averagedLegs(device: BuiltDevice, beams: readonly AtBothFilms[]): readonly AtBothFilms[] {
  const legs = beams.filter((_, index) => device.beams[index]!.part.isLeg);
  const mean = (film: 0 | 1): number => legs.reduce((sum, factors) => sum + factors[film], 0) / legs.length;
  const factors: AtBothFilms = [mean(0), mean(1)];
  return beams.map((own, index) => (device.beams[index]!.part.isLeg ? factors : own));
}

/** Of a plate, per length of its spine. */
function alongFactor(device: BuiltDevice, spine: PlateSpine, at: Surroundings): number {
  const body = device.bodies[spine.body]!;
  const covered = coveredShare(device, spine, at.thickness);
  return (spine.width / at.gap) * underside(body, at) + 2 * edgeFactorOf(spine.width, at) * (1 - covered);
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
function facingPairs(device: BuiltDevice, surroundings: readonly [Surroundings, Surroundings]): FacingPair[] {
  return device.beams.flatMap((beam, index) => {
    if (beam.line.length > 4) return [];
    const wanted = (other: number): boolean =>
      other > index && device.beams[other]!.line.length === 4 && !(beam.part.isLeg && device.beams[other]!.part.isLeg);
    const [low, high] = surroundings.map((film) => neighboursOf(device, index, { ...film, wanted }));
    return low!.flatMap((neighbour, i) => {
      const spans = facingSpans(beam.line, device.beams[neighbour.beam]!.line);
      const other = high![i]!;
      if (spans === undefined || !(neighbour.between > 0)) return [];
      return [
        {
          a: { beam: index, span: spans.a },
          b: { beam: neighbour.beam, span: spans.b },
          between: [neighbour.between, other.between] as const,
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
