/**
 * States of balance at the special points of a path: where a frame snaps or buckles as its load grows, and with how much of it.
 *
 * Validity and error: those of trace.ts; the tangent is singular at these states, so that nothing can be asked of their stiffness.
 * Main test: special-states.test.ts.
 */
import { layPath, type ResolvedLoad, resolveLoad } from "./load-path.ts";
import type { FrameModel } from "./model.ts";
import type { FrameLoad } from "./network.ts";
import type { FrameEquilibrium, FrameState } from "./state.ts";
import { type SpecialPoint, type TraceOptions, walkAll } from "./trace.ts";

export interface SpecialState {
  readonly kind: SpecialPoint["kind"];
  /** Part of the way from the load of the start to the given one. */
  readonly loadFactor: number;
  /** Balanced by that part of the load: its `load` is the scaled one. */
  readonly state: FrameEquilibrium;
}

/** The path has not so many special points as far as it was walked. */
export interface NoSpecialState {
  readonly kind: "none";
  /** Largest load factor on the walk. */
  readonly reachedFactor: number;
}

export interface SpecialStateOptions extends Pick<TraceOptions, "start" | "largestMove"> {
  /** Which one along the path, 1 for the first. */
  readonly count: number;
  /** Load factors beyond this do not interest. */
  readonly largestFactor: number;
}

/** Points of a path at most: a frame that has moved so far without any special point has none worth telling. */
const mostPoints = 600;
/** Range of the first walk. A wider one takes longer steps in the load, so that it is tried only where this one finds nothing. */
const firstRange = 2;
const rangeGrowth = 10;

/** The special point of that count on the path of growing load, and its state. */
export function findSpecialState(
  model: FrameModel,
  load: FrameLoad,
  options: SpecialStateOptions,
): SpecialState | NoSpecialState {
  const { count, largestFactor, start, largestMove } = options;
  if (!(largestFactor > 0)) throw new RangeError(`Cannot find a special state: wanted a positive bound, found ${largestFactor}`);
  for (let reach = Math.min(firstRange, largestFactor); ; reach = Math.min(rangeGrowth * reach, largestFactor)) {
    const { walks } = walkAll(model, load, {
      factorRange: [-reach, reach],
      mostPoints,
      mostSpecialPoints: count,
      ...(start !== undefined && { start }),
      ...(largestMove !== undefined && { largestMove }),
    });
    const special = walks[0]?.special[count - 1];
    if (special !== undefined) {
      const { kind, point } = special;
      const scaled = loadBetween(resolveLoad(load, model), { start, factor: point.loadFactor });
      const system = model.begin(layPath(scaled, { topology: model.topology }), { held: scaled.held, start: undefined });
      system.motions.set(point.motions);
      system.isClosed.set(point.isClosed);
      system.evaluate(1);
      const state = model.report(scaled, {
        nNegative: point.nNegative,
        passes: 0,
        firstUnstableFactor: point.loadFactor,
        cameFrom: start === undefined ? "unstrained frame" : "start",
      });
      return { kind, loadFactor: point.loadFactor, state };
    }
    if (reach < largestFactor) continue;
    const reachedFactor = (walks[0]?.points ?? []).reduce((most, { loadFactor }) => Math.max(most, loadFactor), 0);
    return { kind: "none", reachedFactor: Math.min(reachedFactor, largestFactor) };
  }
}

/** The load at a part of the way from that of a start, or from none, to another one. */
function loadBetween(to: ResolvedLoad, at: { readonly start: FrameState | undefined; readonly factor: number }): ResolvedLoad {
  const { start, factor } = at;
  const from = start?.load;
  const mix = (a: Float64Array | undefined, b: Float64Array): Float64Array =>
    b.map((value, i) => (a?.[i] ?? 0) + factor * (value - (a?.[i] ?? 0)));
  const both = (list: (load: ResolvedLoad) => ResolvedLoad["forces"]): ResolvedLoad["forces"] => [
    ...(from === undefined ? [] : list(from)).map((force) => ({ ...force, value: (1 - factor) * force.value })),
    ...list(to).map((force) => ({ ...force, value: factor * force.value })),
  ];
  const [ax, ay] = from?.acceleration ?? [0, 0];
  return {
    strains: mix(from?.strains, to.strains),
    // without a start the path keeps the moduli of its end
    moduli: from === undefined ? to.moduli : mix(from.moduli, to.moduli),
    bodyStrains: mix(from?.bodyStrains, to.bodyStrains),
    forces: both(({ forces }) => forces),
    bodyForces: both(({ bodyForces }) => bodyForces),
    held: to.held.map((held) => {
      const k = { x: 0, y: 1, turn: 2 }[held.motion];
      const began = start?.motions[3 * held.junction + k] ?? 0;
      return { ...held, value: began + factor * (held.value - began) };
    }),
    acceleration: [ax + factor * (to.acceleration[0] - ax), ay + factor * (to.acceleration[1] - ay)],
  };
}
