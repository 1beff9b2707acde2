/**
 * What a frame pushes with when something holds it: blocked force, and the line of forces from blocked to free.
 *
 * There is no such force where the held frame is unstable: legs under compression buckle before they deliver it.
 * Main test: blocked-force.test.ts.
 */
import { type PointMotion, stiffnessAt } from "./answers.ts";
import type { FrameModel, FrameSolveOptions } from "./model.ts";
import type { FrameLoad, HeldMotion } from "./network.ts";
import type { FrameEquilibrium } from "./state.ts";
import { motionIndex } from "./topology.ts";

export interface BlockedForce {
  /** Force of the frame on each holder, in the order held, [N] or [N m]; NaN where the held frame has no stable state. */
  readonly forces: readonly number[];
  /** Why there is none; undefined where there is. */
  readonly reason: string | undefined;
  readonly state: FrameEquilibrium | undefined;
}

/** Force of the frame on whoever holds the given motions, under a load. */
export function findBlockedForce(
  model: FrameModel,
  load: FrameLoad,
  options: FrameSolveOptions & { readonly held: readonly HeldMotion[] },
): BlockedForce {
  const { held, ...solve } = options;
  const found = model.solve({ ...load, held: [...(load.held ?? []), ...held] }, solve);
  if (found.outcome === "no equilibrium") {
    return { forces: held.map(() => Number.NaN), reason: `held like this, ${found.reason}`, state: undefined };
  }
  return {
    // the minus sign of 0 would be shown
    forces: held.map(({ junction, motion }) => 0 - found.reactions[3 * junction + motionIndex[motion]]!),
    reason: undefined,
    state: found,
  };
}

export interface ForceTravelPoint {
  /** Motion at which the frame is held, [m] or [rad]. */
  readonly travel: number;
  /** Its force on the holder, [N] or [N m]; NaN where the held frame has no stable state. */
  readonly force: number;
  /** Growth of the holder's force with travel there: negative slope of the line, [N/m] or [N m/rad]; NaN likewise. */
  readonly stiffness: number;
  readonly reason: string | undefined;
}

export interface ForceTravelLine {
  /** From blocked (travel 0) to free (force 0). */
  readonly points: readonly ForceTravelPoint[];
  /** Travel without force, [m] or [rad]. */
  readonly freeTravel: number;
}

/** Force against travel of one junction motion under a load, `nPoints` even steps from blocked to free. */
export function findForceTravel(
  model: FrameModel,
  load: FrameLoad,
  options: { readonly junction: number; readonly motion: HeldMotion["motion"]; readonly nPoints: number },
): ForceTravelLine | { readonly reason: string } {
  const { junction, motion, nPoints } = options;
  const point: PointMotion = { junction, motion };
  const free = model.solve(load);
  if (free.outcome === "no equilibrium") return { reason: `there is no free travel: ${free.reason}` };
  const freeTravel = free.motions[3 * junction + motionIndex[motion]]!;
  const points: ForceTravelPoint[] = [
    { travel: freeTravel, force: 0, stiffness: stiffnessAt(model, free, point), reason: undefined },
  ];
  let start = free;
  for (let i = nPoints - 2; i >= 0; i--) {
    const travel = (freeTravel * i) / (nPoints - 1);
    const held = [{ junction, motion, value: travel }];
    const found = findBlockedForce(model, load, { held, start });
    const { state, reason } = found;
    if (state !== undefined) start = state;
    points.push({ travel, force: found.forces[0]!, stiffness: state === undefined ? Number.NaN : slope(), reason });

    function slope(): number {
      // let go at the same place: the holder's force becomes a load, and the tangent is that of the free motion
      const loose = { ...load, forces: [...(load.forces ?? []), { junction, motion, value: -found.forces[0]! }] };
      const same = model.solve(loose, { start: state!, allowUnstable: true });
      return same.outcome === "equilibrium" ? stiffnessAt(model, same, point) : Number.NaN;
    }
  }
  return { points: points.reverse(), freeTravel };
}
