/**
 * Equilibrium followed along a load path, and Newton's method from a neighbouring state.
 *
 * The load factor rises from 0 to 1; every step is bounded so that no node moves more than about a quarter of the thinnest beam and
 * no element turns far: a large-displacement Newton started far away lands on snapped-through states without complaint. Each pass
 * factors the tangent once and uses it for a corrector and a predictor. Negative eigenvalues tell whether the state is stable.
 * Main test: frame-theory.test.ts (exact rods), frame-traps.test.ts (snap-through).
 */
import { isNearStop, updateStops } from "./stops.ts";
import type { FrameSystem } from "./system.ts";

export interface FollowOptions {
  /** Largest motion in one step, [m]. */
  readonly largestMove: number;
  readonly allowUnstable: boolean;
}

export type FollowOutcome =
  | {
      readonly outcome: "reached";
      readonly nNegative: number;
      readonly passes: number;
      readonly firstUnstableFactor: number | undefined;
    }
  | {
      readonly outcome: "lost";
      readonly cause: "singular" | "limit" | "unstable";
      readonly loadFactor: number;
      readonly passes: number;
    };

/** Rotation [rad] that counts as much as the largest move: elements must not turn far between two linearisations. */
export const largestTurn = 0.15;
const maxPasses = 5000;
const maxCorrections = 12;
/** Smallest step in the load factor, as a part of it (of 1e-5 below that). */
const smallestPart = 1e-7;
/** Corrections below this part of the largest move let the load factor rise again: the drift is corrected with the next pass. */
const driftAllowed = 0.1;
/** The same once a step had to be taken back: next to a limit point a drift of a tenth would pass for a state beyond it. */
const driftInTrouble = 1e-3;
/** With stops in the way, whether one closes is asked of a state this close to balance. */
const driftAtStops = 1e-7;
/** Step in the load factor, as a part of it, below which a loss of stability belongs to the path. */
const branchPart = 2e-5;
/** Change of the motions below which a state is reached, against the largest motion. */
const tolerance = 1e-12;

/** Largest entry of a flat array of motions, in units of the largest move and turn. NaN is kept. */
export function sizeOf(x: Float64Array, options: { readonly stopsAt: number; readonly largestMove: number }): number {
  const { stopsAt, largestMove } = options;
  let move = 0;
  let turn = 0;
  for (let i = 0; i < stopsAt; i += 3) {
    const dx = Math.abs(x[i]!);
    const dy = Math.abs(x[i + 1]!);
    const dt = Math.abs(x[i + 2]!);
    // written so that NaN is kept
    if (!(dx <= move)) move = dx;
    if (!(dy <= move)) move = dy;
    if (!(dt <= turn)) turn = dt;
  }
  return Math.max(move / largestMove, turn / largestTurn);
}

/** True where a correction of this size ends a Newton iteration whose last correction was `before`: the next one is c^3/before^2. */
export function isLast(size: number, options: { readonly before: number; readonly total: number }): boolean {
  const { before, total } = options;
  const target = tolerance * total + 1e-13;
  if (size <= target) return true;
  if (before < Number.POSITIVE_INFINITY && size < before && 10 * size * (size / before) ** 2 <= target) return true;
  // rounding in stiff frames keeps corrections from falling further
  return size <= 1e-7 * total && size >= 0.25 * before;
}

export function addInto(out: Float64Array, x: Float64Array, factor: number): void {
  for (let i = 0; i < out.length; i++) out[i] = out[i]! + factor * x[i]!;
}

/** Buffers of one system, reused by every solve. */
export interface FollowBuffers {
  readonly corrector: Float64Array;
  readonly predictor: Float64Array;
  readonly kept: Float64Array;
  readonly keptClosed: Uint8Array;
}

export function createFollowBuffers(system: FrameSystem): FollowBuffers {
  const n = system.motions.length;
  return {
    corrector: new Float64Array(n),
    predictor: new Float64Array(n),
    kept: new Float64Array(n),
    keptClosed: new Uint8Array(system.isClosed.length),
  };
}

export interface SettleOptions extends FollowOptions {
  /** Negative eigenvalues that are let pass where unstable states are allowed. */
  readonly nNegative: number;
  /** What held motions still have to move, [3 nJunctions]; undefined where they stand right. */
  readonly heldLeft: Float64Array | undefined;
}

/** Newton at the full load from the present motions. Gives up (undefined) where that is not plainly the neighbouring state. */
export function settle(
  system: FrameSystem,
  buffers: FollowBuffers,
  options: SettleOptions,
): { nNegative: number; passes: number } | undefined {
  const { corrector } = buffers;
  const { stopsAt } = system.topology;
  const scale = { stopsAt, largestMove: options.largestMove };
  let before = Number.POSITIVE_INFINITY;
  let changes = 0;
  system.isRedundant.fill(0);
  for (let passes = 1; passes <= maxCorrections; passes++) {
    system.evaluate(1);
    const nNegative = system.factor();
    // an unstable iterate may lead to the other side of a bend
    if (nNegative < 0 || nNegative > (options.allowUnstable ? options.nNegative : 0)) return undefined;
    system.residualInto(corrector);
    if (passes === 1 && options.heldLeft !== undefined) system.imposeHeldBy(corrector, options.heldLeft);
    else system.imposeNothing();
    system.solveInto(corrector);
    const size = sizeOf(corrector, scale);
    if (!(size <= Math.min(1, before))) return undefined;
    addInto(system.motions, corrector, 1);
    if (isLast(size, { before, total: sizeOf(system.motions, scale) })) {
      system.evaluate(1);
      if (updateStops(system)) {
        if (++changes > 2 * system.topology.nStops + 2) return undefined;
        before = Number.POSITIVE_INFINITY;
        continue;
      }
      return { nNegative, passes };
    }
    before = size;
  }
  return undefined;
}

/** Follows the path from load factor 0 to 1. On "reached" the system holds the state, evaluated, and its factors. */
export function followPath(system: FrameSystem, buffers: FollowBuffers, options: FollowOptions): FollowOutcome {
  const { corrector, predictor, kept, keptClosed } = buffers;
  const { topology, motions } = system;
  const scale = { stopsAt: topology.stopsAt, largestMove: options.largestMove };
  const hasStops = topology.nStops > 0;
  let openDrift = driftAllowed;
  const maxChanges = 2 * topology.nStops + 2;
  kept.set(motions);
  keptClosed.set(system.isClosed);
  let keptFactor = 0;
  let loadFactor = 0;
  let longestStep = 1;
  let corrections = 0;
  let changes = 0;
  let isBackAtKept = false;
  let hasStrayed = false;
  let keptNegative = 0;
  let before = Number.POSITIVE_INFINITY;
  let firstUnstableFactor: number | undefined;
  const goBack = (): void => {
    motions.set(kept);
    system.isClosed.set(keptClosed);
    system.isRedundant.fill(0);
    loadFactor = keptFactor;
    corrections = 0;
    changes = 0;
    before = Number.POSITIVE_INFINITY;
    isBackAtKept = true;
    hasStrayed = false;
    openDrift = driftInTrouble;
  };
  system.isRedundant.fill(0);
  for (let pass = 1; pass <= maxPasses; pass++) {
    const smallestStep = smallestPart * Math.max(loadFactor, 1e-5);
    system.evaluate(loadFactor);
    // a state that is off by a tenth of a move cannot be asked whether it touches
    const drift = hasStops && isNearStop(system, options.largestMove) ? driftAtStops : openDrift;
    const nNegative = system.factor();
    let size = Number.NaN;
    if (nNegative >= 0) {
      system.residualInto(corrector);
      system.imposeNothing();
      system.solveInto(corrector);
      size = sizeOf(corrector, scale);
    }
    if (!(size <= 1) || corrections > maxCorrections || changes > maxChanges) {
      if (pass === 1) return { outcome: "lost", cause: nNegative < 0 ? "singular" : "limit", loadFactor: 0, passes: pass };
      longestStep = 0.5 * (loadFactor - keptFactor);
      if (longestStep <= smallestStep) return { outcome: "lost", cause: "limit", loadFactor: keptFactor, passes: pass };
      goBack();
      continue;
    }
    // Growing unstable in one step may mean that the step left a stable path that bends away (an imperfect beam that buckles), and
    // Newton's method from there may end on the other side: go back and look more closely, until the step is so small that the
    // path itself must have lost its stability.
    const walked = loadFactor - keptFactor;
    if (walked > 0) {
      if (nNegative > keptNegative) hasStrayed = true;
      const isBackStable = hasStrayed && nNegative <= keptNegative && size <= drift;
      if ((hasStrayed && walked > branchPart * loadFactor) || (isBackStable && walked > 2 * smallestStep)) {
        longestStep = 0.5 * walked;
        goBack();
        continue;
      }
    }
    if (loadFactor === 1) {
      addInto(motions, corrector, 1);
      corrections++;
      const isDone = isLast(size, { before, total: sizeOf(motions, scale) });
      before = size;
      if (!isDone) continue;
      system.evaluate(1);
      if (hasStops && updateStops(system)) {
        changes++;
        before = Number.POSITIVE_INFINITY;
        continue;
      }
      if (nNegative > 0 && !options.allowUnstable) {
        return { outcome: "lost", cause: "unstable", loadFactor: keptFactor, passes: pass };
      }
      if (nNegative > 0) firstUnstableFactor ??= 1;
      return { outcome: "reached", nNegative, passes: pass, firstUnstableFactor };
    }
    if (size > drift) {
      addInto(motions, corrector, 1);
      corrections++;
      continue;
    }
    if (hasStops && updateStops(system)) {
      changes++;
      continue;
    }
    if (nNegative > 0) {
      if (!options.allowUnstable) return { outcome: "lost", cause: "unstable", loadFactor: keptFactor, passes: pass };
      firstUnstableFactor ??= loadFactor;
    }
    kept.set(motions);
    keptClosed.set(system.isClosed);
    keptFactor = loadFactor;
    keptNegative = nNegative;
    system.slopeInto(predictor);
    system.solveInto(predictor);
    const reach = sizeOf(predictor, scale);
    const step = Math.min(1 - loadFactor, longestStep, reach > 0 ? 1 / reach : 1);
    if (!(step >= smallestStep)) return { outcome: "lost", cause: "limit", loadFactor, passes: pass };
    longestStep = isBackAtKept ? longestStep : Math.min(1, 2 * longestStep);
    isBackAtKept = false;
    addInto(motions, corrector, 1);
    addInto(motions, predictor, step);
    loadFactor = 1 - loadFactor - step < 1e-12 ? 1 : loadFactor + step;
    corrections = 0;
    changes = 0;
    hasStrayed = false;
    before = Number.POSITIVE_INFINITY;
  }
  return { outcome: "lost", cause: "limit", loadFactor: keptFactor, passes: maxPasses };
}
