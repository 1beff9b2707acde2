/**
 * The whole path of balance of a frame under a load that is scaled by a factor: limit points, bifurcations, branches, and with them all
 * states at the full load.
 *
 * A change of the number of negative eigenvalues between two points of the walk is closed in on by the softest eigenvalue. Where the
 * load factor turns round there it is a limit point, else a bifurcation: the walk can leave it along the mode, to both sides.
 * Only branches that leave the traced ones are found: states on islands of their own are not. Main test: trace.test.ts.
 */
import { Continuation, type WalkPoint } from "./continuation.ts";
import { settle } from "./follow.ts";
import { layPath, type ResolvedLoad, resolveLoad } from "./load-path.ts";
import type { FrameModel } from "./model.ts";
import type { FrameLoad } from "./network.ts";
import type { FrameEquilibrium, FrameState } from "./state.ts";
import type { FrameSystem } from "./system.ts";

export interface PathPoint {
  readonly loadFactor: number;
  /** [nJunctions × 3] m, m, rad. */
  readonly motions: Float64Array;
  /** Negative eigenvalues of the tangent; 0 = stable under a dead load. */
  readonly nNegative: number;
}

export interface SpecialPoint extends PathPoint {
  readonly kind: "limit" | "bifurcation";
  /** Motion that has no stiffness there, [nJunctions × 3], largest node motion of size 1 in units of the largest move. */
  readonly mode: Float64Array;
}

export interface TracedPath {
  readonly points: readonly PathPoint[];
  readonly specialPoints: readonly SpecialPoint[];
  /** Why it ended: out of the range of factors, enough points of either kind, back at its start, or no point found within the smallest step. */
  readonly end: "range" | "points" | "special points" | "loop" | "stuck";
  /** Index of the path that it left and of the special point there; undefined for the path from the unstrained frame. */
  readonly leaves: { readonly path: number; readonly specialPoint: number } | undefined;
}

export interface TraceOptions {
  /** State of this model at load factor 0, under its own load: paths then lead from that load to the given one. Left out: the unstrained frame. */
  readonly start?: FrameState;
  /** Load factors between which paths are followed; -2 to 2 where left out. */
  readonly factorRange?: readonly [least: number, most: number];
  /** Points of one path at most; 2000 where left out. */
  readonly mostPoints?: number;
  /** Length by which steps are judged, [m]; a quarter of the thinnest beam where left out. */
  readonly largestMove?: number;
  /** Paths in all, with branches; 1 where left out: the path from the unstrained frame only. */
  readonly mostPaths?: number;
  /** A path ends behind this many special points; all are found where left out. */
  readonly mostSpecialPoints?: number;
}

const defaultRange = [-2, 2] as const;
const smallestReach = 1e-6;
const longestReach = 8;

/** A walked path. For the modules of this folder. */
export interface Walk {
  readonly points: WalkPoint[];
  readonly special: { readonly kind: SpecialPoint["kind"]; readonly point: WalkPoint; readonly mode: Float64Array }[];
  end: TracedPath["end"];
  readonly leaves: TracedPath["leaves"];
}

/** The path from load factor 0 towards growing load, then branches up to `mostPaths`. */
export function tracePath(model: FrameModel, load: FrameLoad, options: TraceOptions = {}): TracedPath[] {
  const n = 3 * model.topology.nJunctions;
  const simple = (point: WalkPoint): PathPoint => ({
    loadFactor: point.loadFactor,
    motions: point.motions.slice(0, n),
    nNegative: point.nNegative,
  });
  return walkAll(model, load, options).walks.map((walk) => ({
    points: walk.points.map(simple),
    specialPoints: walk.special.map(({ kind, point, mode }) => ({ ...simple(point), kind, mode: mode.slice(0, n) })),
    end: walk.end,
    leaves: walk.leaves,
  }));
}

/** All states at the full load on the traced paths and branches, in the order in which they are met. Stable ones have nNegative 0. */
export function findAllStates(model: FrameModel, load: FrameLoad, options: TraceOptions = {}): FrameEquilibrium[] {
  const { walks, walker } = walkAll(model, load, { mostPaths: 9, ...options });
  const to = resolveLoad(load, model);
  const found: FrameEquilibrium[] = [];
  const settleOptions = {
    largestMove: 4 * (options.largestMove ?? 0.25 * model.numbers.thinnest),
    allowUnstable: true,
    nNegative: Number.POSITIVE_INFINITY,
    heldLeft: undefined,
  };
  for (const { points } of walks) {
    for (let i = 1; i < points.length; i++) {
      const a = points[i - 1]!;
      const b = points[i]!;
      if ((a.loadFactor - 1) * (b.loadFactor - 1) > 0 || a.loadFactor === 1) continue;
      const system = begin(model, to, options.start);
      const close = walkToFullLoad(walker, a, b);
      system.motions.set(close.motions);
      system.isClosed.set(close.isClosed);
      const settled = settle(system, model.buffers, settleOptions);
      if (settled === undefined) continue;
      const isKnown = found.some(({ allMotions }) => {
        const gap = allMotions.map((value, k) => value - system.motions[k]!);
        return walker.size(gap) < 1e-5;
      });
      if (!isKnown)
        found.push(
          model.report(to, {
            ...settled,
            firstUnstableFactor: undefined,
            cameFrom: options.start === undefined ? "unstrained frame" : "start",
          }),
        );
    }
  }
  return found;
}

/** The point between two neighbours of a walk, on both sides of the full load, where it has that load; close to it at least. */
function walkToFullLoad(walker: Continuation, a: WalkPoint, b: WalkPoint): WalkPoint {
  let [low, high] = [
    { reach: 0, off: a.loadFactor - 1 },
    { reach: walker.reachOf(a, b), off: b.loadFactor - 1 },
  ];
  let best = Math.abs(low.off) < Math.abs(high.off) ? a : b;
  for (let pass = 0; pass < 40 && Math.abs(best.loadFactor - 1) > 1e-6; pass++) {
    const part = pass % 3 === 2 ? 0.5 : low.off / (low.off - high.off);
    const reach = low.reach + Math.min(0.95, Math.max(0.05, part)) * (high.reach - low.reach);
    const point = walker.step(a, reach)?.point;
    if (point === undefined) break;
    const off = point.loadFactor - 1;
    if (Math.abs(off) < Math.abs(best.loadFactor - 1)) best = point;
    if (off * low.off > 0) low = { reach, off };
    else high = { reach, off };
  }
  return best;
}

function begin(model: FrameModel, to: ResolvedLoad, start: FrameState | undefined): FrameSystem {
  const { topology } = model;
  if (start === undefined) return model.begin(layPath(to, { topology }), { held: to.held, start });
  const near = { load: start.load, motions: start.allMotions, reactions: start.reactions };
  return model.begin(layPath(to, { topology, start: near }), { held: to.held, start });
}

/** For the modules of this folder. */
export function walkAll(
  model: FrameModel,
  load: FrameLoad,
  options: TraceOptions,
): { readonly walks: Walk[]; readonly walker: Continuation } {
  const to = resolveLoad(load, model);
  const system = begin(model, to, options.start);
  const [least, most] = options.factorRange ?? defaultRange;
  const walker = new Continuation(system, {
    largestMove: options.largestMove ?? 0.25 * model.numbers.thinnest,
    factorUnit: (most - least) / 50,
  });
  const first = walker.start();
  if (first === undefined) {
    // let the solver say what is loose
    model.solveLinear(load);
    return { walks: [], walker };
  }
  const walks = [walk(walker, system, { from: first, leaves: undefined, options })];
  const left: Walk["special"][number][] = [];
  const mostPaths = options.mostPaths ?? 1;
  for (let path = 0; path < walks.length && walks.length < mostPaths; path++) {
    for (const [specialPoint, special] of walks[path]!.special.entries()) {
      if (special.kind === "limit" || left.some((known) => isSamePoint(walker, known.point, special.point))) continue;
      left.push(special);
      for (const sign of [1, -1]) {
        if (walks.length >= mostPaths) break;
        const from = walker.branch(
          special.point,
          special.mode.map((value) => sign * value),
        );
        if (from === undefined) continue;
        walks.push(walk(walker, system, { from, leaves: { path, specialPoint }, options }));
      }
    }
  }
  return { walks, walker };
}

function isSamePoint(walker: Continuation, a: WalkPoint, b: WalkPoint): boolean {
  return walker.size(a.motions.map((value, i) => value - b.motions[i]!)) < 1e-2 && Math.abs(a.loadFactor - b.loadFactor) < 1e-3;
}

function walk(
  walker: Continuation,
  system: FrameSystem,
  start: { readonly from: WalkPoint; readonly leaves: TracedPath["leaves"]; readonly options: TraceOptions },
): Walk {
  const { from, leaves, options } = start;
  const [least, most] = options.factorRange ?? defaultRange;
  const mostPoints = options.mostPoints ?? 2000;
  const found: Walk = { points: [from], special: [], end: "points", leaves };
  let reach = 0.25;
  while (found.points.length < mostPoints) {
    const last = found.points[found.points.length - 1]!;
    const next = walker.step(last, reach);
    const cosine = next === undefined ? -1 : walker.cosine(last, next.point);
    if (next === undefined || (cosine < 0.95 && reach > 1e-3)) {
      reach /= 2;
      if (reach < smallestReach) {
        found.end = "stuck";
        break;
      }
      continue;
    }
    const { point, corrections } = next;
    if (point.nNegative !== last.nNegative && isEqualSet(point.isClosed, last.isClosed)) {
      findSpecial(walker, system, { found, from: last, reach, to: point });
    }
    found.points.push(point);
    if (options.mostSpecialPoints !== undefined && found.special.length >= options.mostSpecialPoints) {
      found.end = "special points";
      break;
    }
    if (point.loadFactor < least || point.loadFactor > most) {
      found.end = "range";
      break;
    }
    if (isBack(walker, found.points, reach)) {
      found.end = "loop";
      break;
    }
    if (corrections <= 4 && cosine > 0.99) reach = Math.min(1.5 * reach, longestReach);
    else if (corrections > 6) reach /= 1.5;
  }
  return found;
}

/** True where the first point lies just ahead again. */
function isBack(walker: Continuation, points: readonly WalkPoint[], reach: number): boolean {
  const first = points[0]!;
  const last = points[points.length - 1]!;
  return points.length > 8 && walker.cosine(first, last) > 0.9 && walker.isAhead(last, first, { reach });
}

function isEqualSet(a: Uint8Array, b: Uint8Array): boolean {
  return a.every((value, i) => value === b[i]);
}

/** Parts of a bracket that are tried one after the other where no point is found. */
const sideSteps = [0.5, 0.35, 0.65, 0.2, 0.8] as const;

/** Closes in on every change of stability between a point and the next one, `reach` away. */
function findSpecial(
  walker: Continuation,
  system: FrameSystem,
  options: { readonly found: Walk; readonly from: WalkPoint; readonly reach: number; readonly to: WalkPoint },
): void {
  const { found, from, reach, to } = options;
  const mode = Float64Array.from(from.motions, (_, i) => (i < system.topology.stopsAt ? Math.sin(1 + 7 * i) : 0));
  let a = { reach: 0, point: from, softness: Number.NaN };
  for (let round = 0; round < 4 && a.point.nNegative !== to.nNegative; round++) {
    let b = { reach, point: to, softness: Number.NaN };
    let best: { point: WalkPoint; mode: Float64Array } | undefined;
    const first = Math.abs(b.reach - a.reach);
    let missed = 0;
    for (let pass = 0; pass < 60 && b.reach - a.reach > 1e-9 * first; pass++) {
      const isSecant = missed === 0 && pass % 3 !== 2 && a.softness * b.softness < 0;
      const part = isSecant ? a.softness / (a.softness - b.softness) : sideSteps[missed]!;
      const middle = a.reach + Math.min(0.98, Math.max(0.02, part)) * (b.reach - a.reach);
      const point = walker.step(from, middle)?.point;
      if (point === undefined) {
        // so close to singular that Newton's steps fail: its sides still close in on it
        if (++missed < sideSteps.length) continue;
        break;
      }
      missed = 0;
      const softness = walker.softestInto(mode);
      best = { point, mode: mode.slice() };
      if (point.nNegative === a.point.nNegative) a = { reach: middle, point, softness };
      else b = { reach: middle, point, softness };
    }
    if (best === undefined) return;
    const isLimit = a.point.factorTangent * b.point.factorTangent < 0;
    found.special.push({ kind: isLimit ? "limit" : "bifurcation", ...best });
    a = b;
  }
}
