/** Which stops are closed: those that the frame would run into, and not those that would have to pull (complementarity). */
import type { FrameSystem } from "./system.ts";

/** Part of the gap (or of a thousandth of the thinnest beam) that counts as touching. */
const touching = 1e-11;

/**
 * Looks at the evaluated state and closes every stop that the frame stands inside of; where there is none, opens the one that
 * pulls hardest. Returns true where something changed.
 */
export function updateStops(system: FrameSystem): boolean {
  const { topology, isClosed, isRedundant, motions, numbers } = system;
  const { stops = [] } = numbers.network;
  let hasClosed = false;
  let opens = -1;
  let hardest = 0;
  for (let s = 0; s < topology.nStops; s++) {
    const scale = Math.max(stops[s]!.gap, 1e-3 * numbers.thinnest);
    if (isClosed[s] === 0) {
      if (isRedundant[s] === 1 || !(system.gapOf(s) < -touching * scale)) continue;
      isClosed[s] = 1;
      hasClosed = true;
    } else if (motions[topology.stopsAt + s]! < hardest) {
      hardest = motions[topology.stopsAt + s]!;
      opens = s;
    }
  }
  if (hasClosed) return true;
  if (opens < 0) return false;
  isClosed[opens] = 0;
  motions[topology.stopsAt + opens] = 0;
  // those left out because others said the same may be needed now
  isRedundant.fill(0);
  return true;
}

/** True where a stop is closed, or its way left is shorter than `reach`, [m], at the evaluated state. */
export function isNearStop(system: FrameSystem, reach: number): boolean {
  for (let s = 0; s < system.topology.nStops; s++) if (system.isClosed[s] === 1 || system.gapOf(s) < reach) return true;
  return false;
}
