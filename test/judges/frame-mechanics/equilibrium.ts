/**
 * Equilibrium of a planar frame under free strain, loads and held motions, followed from the stress-free state.
 *
 * The load factor rises from 0 to 1; every step is bounded so that no node moves more than about a quarter of the thinnest beam: a
 * large-displacement Newton started far away lands on snapped-through states without complaint. Each pass factors the tangent
 * once and uses it for a corrector and a predictor. The count of negative pivots tells whether the state found is stable.
 * Validity: small strains, any rotations. Main test: frame-theory.test.ts (exact rod solutions, 1e-4).
 */
import { factorLdltInto, solveLdltInto } from "#numerics";
import { elementSize, forceAt } from "./beam-element.ts";
import { type ChainState, condenseChain, recoverChain } from "./chain.ts";
import { type FrameLoad, type FrameNetwork, motionIndex } from "./frame.ts";

const nColumns = 8;

/** Workspace of one frame; `motions` and the chains hold the present state. */
export interface FrameWorkspace {
  readonly network: FrameNetwork;
  readonly chains: readonly ChainState[];
  /** [nJunctions x 3] */
  readonly motions: Float64Array;
  /** Tangent over all junction motions, [3 nJunctions]^2, before holding any. */
  readonly tangent: Float64Array;
  /** Factors over the free motions. */
  readonly factors: Float64Array;
  /** Unbalanced force (external minus internal) and its derivative with the load factor, [3 nJunctions]. */
  readonly unbalanced: Float64Array;
  readonly unbalancedSlope: Float64Array;
  /** Force of all beams and springs on each motion [3 nJunctions]: what holds a held motion is this minus the outer force. */
  readonly internal: Float64Array;
  readonly corrector: Float64Array;
  readonly predictor: Float64Array;
  /** Free motions by row, and row of every motion (-1 = held). */
  readonly freeMotions: Int32Array;
  readonly rowOfMotion: Int32Array;
  nFree: number;
}

/** The path followed: outer forces and held values at load factor 0, and their change. */
export interface LoadPath {
  readonly forceStart: Float64Array;
  readonly forceChange: Float64Array;
  /** Change of each held motion over the path; 0 elsewhere. */
  readonly heldChange: Float64Array;
  /** Largest motion in one step [m]. */
  readonly largestMove: number;
}

export type PathOutcome =
  | {
      readonly outcome: "reached";
      readonly nNegative: number;
      readonly passes: number;
      readonly firstUnstableFactor: number | undefined;
    }
  | { readonly outcome: "lost"; readonly loadFactor: number; readonly nNegative: number; readonly passes: number };

/** Chooses which motions are held; call before following a path. */
export function setHeldMotions(work: FrameWorkspace, load: FrameLoad): void {
  const { network, rowOfMotion, freeMotions } = work;
  rowOfMotion.fill(0);
  network.junctions.forEach((junction, j) => {
    for (const motion of junction.fixed ?? []) rowOfMotion[3 * j + motionIndex[motion]] = -1;
  });
  for (const held of load.held ?? []) rowOfMotion[3 * held.junction + motionIndex[held.motion]] = -1;
  work.nFree = 0;
  for (let i = 0; i < rowOfMotion.length; i++) {
    if (rowOfMotion[i] === -1) continue;
    freeMotions[work.nFree] = i;
    rowOfMotion[i] = work.nFree++;
  }
}

/** Motion of a beam end that sits at `offset` of its rigid junction, and the turned offset. */
function placeEnd(
  work: FrameWorkspace,
  end: { junction: number; offset: readonly [number, number] | undefined; at: number; chain: ChainState },
): void {
  const { junction, offset, at, chain } = end;
  const rotation = work.motions[3 * junction + 2]!;
  let ex = 0;
  let ey = 0;
  if (offset !== undefined) {
    // (R - 1) o with cos - 1 = -2 sin^2(half), exact for small rotations too.
    const s = Math.sin(rotation);
    const c1 = -2 * Math.sin(0.5 * rotation) ** 2;
    ex = c1 * offset[0] - s * offset[1];
    ey = s * offset[0] + c1 * offset[1];
  }
  chain.motions[at] = work.motions[3 * junction]! + ex;
  chain.motions[at + 1] = work.motions[3 * junction + 1]! + ey;
  chain.motions[at + 2] = rotation;
}

function turnOffset(offset: readonly [number, number] | undefined, rotation: number): readonly [number, number] {
  if (offset === undefined) return [0, 0];
  const c = Math.cos(rotation);
  const s = Math.sin(rotation);
  return [c * offset[0] - s * offset[1], s * offset[0] + c * offset[1]];
}

/** Carries a condensed 6 x 8 block from the beam's ends to its rigid junctions, in place. */
function shiftToJunctions(block: Float64Array, from: readonly [number, number], to: readonly [number, number]): void {
  for (const [first, offset] of [
    [0, from],
    [3, to],
  ] as const) {
    const [ox, oy] = offset;
    if (ox === 0 && oy === 0) continue;
    // Beam end motion = junction motion + rotation x offset: column of the rotation gains, then row of the moment.
    for (let i = 0; i < 6; i++) {
      const row = i * nColumns + first;
      block[row + 2] = block[row + 2]! - oy * block[row]! + ox * block[row + 1]!;
    }
    for (let j = 0; j < nColumns; j++) {
      const moment = (first + 2) * nColumns + j;
      block[moment] = block[moment]! - oy * block[first * nColumns + j]! + ox * block[(first + 1) * nColumns + j]!;
    }
  }
}

/** Evaluates the whole frame at its present motions. Returns the negative pivots of the beams' interiors, -1 if singular. */
function assemble(work: FrameWorkspace, path: LoadPath, loadFactor: number): number {
  const { network, chains, motions, tangent, unbalanced, unbalancedSlope, internal } = work;
  const n = motions.length;
  tangent.fill(0);
  internal.fill(0);
  for (let i = 0; i < n; i++) {
    unbalanced[i] = path.forceStart[i]! + loadFactor * path.forceChange[i]!;
    unbalancedSlope[i] = path.forceChange[i]!;
  }
  let nNegative = 0;
  for (let b = 0; b < chains.length; b++) {
    const chain = chains[b]!;
    const branch = network.branches[b]!;
    placeEnd(work, { junction: branch.from, offset: branch.offsetFrom, at: 0, chain });
    placeEnd(work, { junction: branch.to, offset: branch.offsetTo, at: 3 * chain.nElements, chain });
    const negative = condenseChain(chain, loadFactor);
    if (negative < 0) return -1;
    nNegative += negative;
    const from = turnOffset(branch.offsetFrom, motions[3 * branch.from + 2]!);
    const to = turnOffset(branch.offsetTo, motions[3 * branch.to + 2]!);
    const block = chain.condensed;
    shiftToJunctions(block, from, to);
    const ends = [
      { junction: branch.from, offset: from, force: forceAt, row: 0 },
      { junction: branch.to, offset: to, force: (chain.nElements - 1) * elementSize + forceAt + 3, row: 3 },
    ] as const;
    for (const end of ends) {
      const fx = chain.elements[end.force]!;
      const fy = chain.elements[end.force + 1]!;
      const moment = chain.elements[end.force + 2]! - end.offset[1] * fx + end.offset[0] * fy;
      const i = 3 * end.junction;
      internal[i] = internal[i]! + fx;
      internal[i + 1] = internal[i + 1]! + fy;
      internal[i + 2] = internal[i + 2]! + moment;
      // The turned offset turns further with the junction: second derivative of the end's place.
      tangent[(i + 2) * n + i + 2] = tangent[(i + 2) * n + i + 2]! - end.offset[0] * fx - end.offset[1] * fy;
      for (let k = 0; k < 3; k++) {
        const row = (end.row + k) * nColumns;
        unbalanced[i + k] = unbalanced[i + k]! + block[row + 6]!;
        unbalancedSlope[i + k] = unbalancedSlope[i + k]! + block[row + 7]!;
        for (const other of ends) {
          const column = (i + k) * n + 3 * other.junction;
          for (let j = 0; j < 3; j++) tangent[column + j] = tangent[column + j]! + block[row + other.row + j]!;
        }
      }
    }
  }
  for (let j = 0; j < network.junctions.length; j++) {
    const springs = network.junctions[j]!.springs;
    if (springs === undefined) continue;
    for (const motion of ["x", "y", "rotation"] as const) {
      const stiffness = springs[motion];
      if (stiffness === undefined) continue;
      const i = 3 * j + motionIndex[motion];
      tangent[i * n + i] = tangent[i * n + i]! + stiffness;
      internal[i] = internal[i]! + stiffness * motions[i]!;
      unbalanced[i] = unbalanced[i]! - stiffness * motions[i]!;
    }
  }
  return nNegative;
}

/** Factors the free part and solves for corrector and predictor. Returns negative pivots of the junctions, -1 if singular. */
function solveJunctions(work: FrameWorkspace, path: LoadPath): number {
  const { tangent, factors, freeMotions, nFree, unbalanced, unbalancedSlope, corrector, predictor, rowOfMotion } = work;
  const n = rowOfMotion.length;
  for (let r = 0; r < nFree; r++) {
    const i = freeMotions[r]!;
    let slope = unbalancedSlope[i]!;
    for (let j = 0; j < n; j++) if (rowOfMotion[j] === -1) slope -= tangent[i * n + j]! * path.heldChange[j]!;
    corrector[r] = unbalanced[i]!;
    predictor[r] = slope;
    for (let q = 0; q <= r; q++) factors[r * nFree + q] = tangent[i * n + freeMotions[q]!]!;
  }
  const { nNegative, isSingular } = factorLdltInto(factors, { n: nFree });
  if (isSingular) return -1;
  solveLdltInto(corrector, factors, { n: nFree });
  solveLdltInto(predictor, factors, { n: nFree });
  return nNegative;
}

/** Recovers interior changes; returns the largest motions of corrector and predictor [m], NaN kept. */
function recover(
  work: FrameWorkspace,
  path: LoadPath,
): { corrector: number; predictor: number; correctorTurn: number; predictorTurn: number } {
  const { network, chains, motions, rowOfMotion, corrector, predictor } = work;
  const largest = { corrector: 0, predictor: 0, correctorTurn: 0, predictorTurn: 0 };
  for (let b = 0; b < chains.length; b++) {
    const chain = chains[b]!;
    const branch = network.branches[b]!;
    const { changes, nElements } = chain;
    for (const [junction, offset, node] of [
      [branch.from, branch.offsetFrom, 0],
      [branch.to, branch.offsetTo, nElements],
    ] as const) {
      for (let k = 0; k < 3; k++) {
        const i = 3 * junction + k;
        const row = rowOfMotion[i]!;
        changes[6 * node + 2 * k] = row < 0 ? 0 : corrector[row]!;
        changes[6 * node + 2 * k + 1] = row < 0 ? path.heldChange[i]! : predictor[row]!;
      }
      if (offset === undefined) continue;
      const [ox, oy] = turnOffset(offset, motions[3 * junction + 2]!);
      for (let side = 0; side < 2; side++) {
        const turn = changes[6 * node + 4 + side]!;
        changes[6 * node + side] = changes[6 * node + side]! - oy * turn;
        changes[6 * node + 2 + side] = changes[6 * node + 2 + side]! + ox * turn;
      }
    }
    recoverChain(chain);
    for (let node = 0; node <= nElements; node++) {
      const at = 6 * node;
      const c = Math.max(Math.abs(changes[at]!), Math.abs(changes[at + 2]!));
      const p = Math.max(Math.abs(changes[at + 1]!), Math.abs(changes[at + 3]!));
      // Written so that NaN is kept.
      if (!(c <= largest.corrector)) largest.corrector = c;
      if (!(p <= largest.predictor)) largest.predictor = p;
      if (!(Math.abs(changes[at + 4]!) <= largest.correctorTurn)) largest.correctorTurn = Math.abs(changes[at + 4]!);
      if (!(Math.abs(changes[at + 5]!) <= largest.predictorTurn)) largest.predictorTurn = Math.abs(changes[at + 5]!);
    }
  }
  return largest;
}

/** Adds corrector + step x predictor to all motions. */
function advance(work: FrameWorkspace, path: LoadPath, step: number): void {
  const { chains, motions, rowOfMotion, corrector, predictor } = work;
  for (let i = 0; i < motions.length; i++) {
    const row = rowOfMotion[i]!;
    motions[i] = motions[i]! + (row < 0 ? step * path.heldChange[i]! : corrector[row]! + step * predictor[row]!);
  }
  for (const chain of chains) {
    for (let i = 3; i < 3 * chain.nElements; i++) {
      chain.motions[i] = chain.motions[i]! + chain.changes[2 * i]! + step * chain.changes[2 * i + 1]!;
    }
  }
}

function largestMotion(work: FrameWorkspace): number {
  let largest = 0;
  for (const chain of work.chains) {
    for (let i = 0; i < chain.motions.length; i += 3) {
      largest = Math.max(largest, Math.abs(chain.motions[i]!), Math.abs(chain.motions[i + 1]!));
    }
  }
  return largest;
}

/** Rotation [rad] that counts as much as the largest move: elements must not turn far between two linearisations. */
const largestTurn = 0.15;
const maxPasses = 3000;
const maxCorrections = 12;
const smallestStep = 1e-7;
/** Corrections below this part of the largest move let the load factor rise again: the drift is corrected with the next pass. */
const driftAllowed = 0.1;
const relativeTolerance = 1e-9;
/** Step in the load factor below which a loss of stability belongs to the path. */
const branchResolution = 2e-5;

function saveMotions(work: FrameWorkspace, kept: Float64Array): void {
  kept.set(work.motions);
  let at = work.motions.length;
  for (const chain of work.chains) {
    kept.set(chain.motions, at);
    at += chain.motions.length;
  }
}

function restoreMotions(work: FrameWorkspace, kept: Float64Array): void {
  let at = work.motions.length;
  work.motions.set(kept.subarray(0, at));
  for (const chain of work.chains) {
    chain.motions.set(kept.subarray(at, at + chain.motions.length));
    at += chain.motions.length;
  }
}

/**
 * Follows the path from load factor 0 to 1. On "reached" the workspace holds the state, its tangent and its factors.
 */
export function followPath(work: FrameWorkspace, path: LoadPath): PathOutcome {
  const kept = new Float64Array(work.motions.length + work.chains.reduce((sum, chain) => sum + chain.motions.length, 0));
  saveMotions(work, kept);
  let keptFactor = 0;
  let loadFactor = 0;
  let longestStep = 1;
  let corrections = 0;
  let isBackAtKept = false;
  let nNegative = 0;
  let keptNegative = 0;
  let firstUnstableFactor: number | undefined;
  const lost = (passes: number): PathOutcome => ({ outcome: "lost", loadFactor: keptFactor, nNegative, passes });
  for (let pass = 1; pass <= maxPasses; pass++) {
    const inside = assemble(work, path, loadFactor);
    const outside = inside < 0 ? -1 : solveJunctions(work, path);
    const move = outside < 0 ? undefined : recover(work, path);
    const size = move === undefined ? Number.NaN : Math.max(move.corrector / path.largestMove, move.correctorTurn / largestTurn);
    if (move === undefined || !(size <= 1) || corrections > maxCorrections) {
      restoreMotions(work, kept);
      if (loadFactor === keptFactor && pass === 1) return lost(pass);
      longestStep = 0.5 * Math.max(loadFactor - keptFactor, 2 * smallestStep);
      if (longestStep <= smallestStep || loadFactor === keptFactor) return lost(pass);
      loadFactor = keptFactor;
      corrections = 0;
      isBackAtKept = true;
      continue;
    }
    nNegative = inside + outside;
    // Growing unstable in one step may mean that the step left a stable path that bends away (an imperfect beam that buckles):
    // go back and look more closely, until the step is so small that the path itself must have lost its stability.
    const hasFollowed = size <= driftAllowed && loadFactor > keptFactor;
    if (hasFollowed && nNegative > keptNegative && loadFactor - keptFactor > branchResolution) {
      longestStep = 0.5 * (loadFactor - keptFactor);
      restoreMotions(work, kept);
      loadFactor = keptFactor;
      corrections = 0;
      isBackAtKept = true;
      continue;
    }
    const tolerance = relativeTolerance * largestMotion(work) + 1e-12 * path.largestMove;
    if (loadFactor === 1) {
      if (move.corrector <= tolerance) return { outcome: "reached", nNegative, passes: pass, firstUnstableFactor };
      advance(work, path, 0);
      corrections++;
      continue;
    }
    if (size > driftAllowed) {
      advance(work, path, 0);
      corrections++;
      continue;
    }
    if (nNegative > 0 && firstUnstableFactor === undefined) firstUnstableFactor = loadFactor;
    saveMotions(work, kept);
    keptFactor = loadFactor;
    keptNegative = nNegative;
    const reach = Math.max(move.predictor / path.largestMove, move.predictorTurn / largestTurn);
    const step = Math.min(1 - loadFactor, longestStep, reach > 0 ? 1 / reach : 1);
    if (step < smallestStep) return lost(pass);
    longestStep = isBackAtKept ? longestStep : Math.min(1, 2 * longestStep);
    isBackAtKept = false;
    advance(work, path, step);
    loadFactor = 1 - loadFactor - step < 1e-12 ? 1 : loadFactor + step;
    corrections = 0;
  }
  return lost(maxPasses);
}

/** Solves the present tangent for a unit force on one free motion; returns the motion there (flexibility). */
export function flexibilityOf(work: FrameWorkspace, motion: number): number {
  const row = work.rowOfMotion[motion]!;
  if (row < 0) return 0;
  const vector = new Float64Array(work.nFree);
  vector[row] = 1;
  solveLdltInto(vector, work.factors, { n: work.nFree });
  return vector[row]!;
}

/** One linear step from the stress-free state: the classical small-displacement answer. The workspace must be at zero motion. */
export function stepLinearly(work: FrameWorkspace, path: LoadPath): boolean {
  if (assemble(work, path, 0) < 0 || solveJunctions(work, path) < 0) return false;
  recover(work, path);
  advance(work, path, 1);
  return true;
}
