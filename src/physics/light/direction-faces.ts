/**
 * What walls and bars do to the light of one direction, for its two states of polarisation.
 *
 * The states are named by the walls: s has its field along the wall. All walls share them, and a bounce at a mirror or a level face keeps
 * them: it turns s into s of the new direction but for the small difference of the two amplitudes there. At level faces state s is a
 * mixture with the share c² of that face's own s, where c is the cosine between the two normals of incidence planes:
 * c² = (y z)² / ((1 - y²)(1 - z²)) with y, z direction cosines. Light that a level face turns from one state into the other keeps its
 * name: an error of a quarter of the squared difference of the amplitudes, below 1e-4 within 10 degrees of the z axis for silicon.
 * Derived here from the definitions, no source. Main test: direction-faces.test.ts.
 */
import { fresnelReflectance, type RefractiveIndex, type SlabShares, slabShares } from "./fresnel.ts";

/** Shares of the light that meets a face, for one direction and one state of polarisation. */
export interface FaceShares {
  /** Kept at one bounce off a wall. */
  wall: number;
  /** Passes a bar, from top to bottom or back. */
  passes: number;
  /** Returned by a bar, from above or below. */
  returns: number;
}

export interface Direction {
  /** Direction cosines along y and z, both >= 0. */
  readonly y: number;
  readonly z: number;
}

export interface Bars {
  readonly index: RefractiveIndex;
  readonly thickness: number;
  /** Absorption coefficient [1/m]; undefined for opaque bars. */
  readonly absorption: number | undefined;
}

/** Fills in what the faces do to light of one direction in its two states. */
export function faceSharesInto(
  states: { readonly s: FaceShares; readonly p: FaceShares },
  direction: Direction,
  bars: Bars,
): void {
  const { y, z } = direction;
  const { index } = bars;
  const wall = fresnelReflectance(index, y);
  const level = fresnelReflectance(index, z);
  const kept = keptInside(bars, z);
  const s = slabShares(level.s, kept);
  const p = slabShares(level.p, kept);
  const below = (1 - y * y) * (1 - z * z);
  const own = below > 0 ? Math.min((y * y * z * z) / below, 1) : 1;
  fillState(states.s, wall.s, { s, p, own });
  fillState(states.p, wall.p, { s: p, p: s, own });
}

function fillState(
  state: FaceShares,
  wall: number,
  level: { readonly s: SlabShares; readonly p: SlabShares; readonly own: number },
): void {
  const { s, p, own } = level;
  state.wall = wall;
  state.passes = own * s.transmitted + (1 - own) * p.transmitted;
  state.returns = own * s.reflected + (1 - own) * p.reflected;
}

/** Share that survives one pass through a bar, along the refracted ray (Beer and Lambert's law; Snell's law). */
function keptInside(bars: Bars, z: number): number {
  const { index, thickness, absorption } = bars;
  if (absorption === undefined) return 0;
  const inside = Math.sqrt(1 - (1 - z * z) / (index.n * index.n));
  return Math.exp((-absorption * thickness) / inside);
}
