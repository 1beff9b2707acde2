/**
 * Slopes at which the path lengths of gap-walk.ts have a kink, so that an integral over the slope can be cut there.
 *
 * Between kinks every path length is linear in the slope. Kinks stand where an edge carried along by the light meets an edge of a
 * slit: edges of slits after d levels of the gap, and the fold of the blade slits. More than are needed are found (edges that the
 * light never reached), which costs points but no accuracy. Main test: light-through-slit-grids.test.ts, by the smoothness of the result.
 */
import type { GapSection } from "./gap-walk.ts";

export interface KinkSearch {
  /** Steepest slope of interest; may be infinite. */
  readonly maxSlope: number;
  /** Trips whose edges are followed. */
  readonly nTrips: number;
  /** The search ends with the trip that passes this number. */
  readonly maxKinks: number;
  readonly from: "blade" | "metal";
}

/** Slopes in (0, maxSlope), unordered; the edges of early trips, which carry most light, come first. */
export function kinkSlopes(section: GapSection, search: KinkSearch): number[] {
  const { pitch, bladeSlit, fixedSlit, gap, thickness, fixedEdge } = section;
  const { nTrips, maxKinks, from } = search;
  // Far up the slope kinks crowd without end; each line of them is followed for a few walls and periods only.
  const maxWalls = 12;
  const maxSlope = Math.min(
    search.maxSlope,
    thickness > 0 ? (maxWalls * bladeSlit) / thickness : Infinity,
    (maxWalls * pitch) / gap,
  );
  const bladeEdges = [0, bladeSlit];
  const fixedEdges = [fixedEdge, fixedEdge + fixedSlit];
  const found: number[] = [];
  const addLine = (distance: number, run: number, range: { readonly above: number; readonly below: number }): void => {
    // run × slope = distance + whole pitches
    for (let i = Math.ceil((range.above * run - distance) / pitch); distance + i * pitch < range.below * run; i++) {
      const slope = (distance + i * pitch) / run;
      if (slope > range.above) found.push(slope);
    }
  };
  const nFolds = thickness > 0 ? Math.floor((maxSlope * thickness) / bladeSlit) : -1;
  for (let k = 1; k <= nFolds; k++) found.push((k * bladeSlit) / thickness);
  for (let level = 1; level <= 2 * nTrips && found.length < maxKinks; level++) {
    const targets = level % 2 === 1 ? fixedEdges : bladeEdges;
    for (let k = 0; k <= nFolds; k++) {
      const range = { above: (k * bladeSlit) / thickness, below: Math.min(((k + 1) * bladeSlit) / thickness, maxSlope) };
      for (const edge of targets)
        addLine(from === "blade" ? edge + k * bladeSlit : (k + 1) * bladeSlit - edge, thickness + level * gap, range);
    }
    const range = { above: 0, below: maxSlope };
    const distances =
      level % 2 === 1
        ? bladeEdges.flatMap((blade) => fixedEdges.flatMap((fixed) => [fixed - blade, blade - fixed]))
        : [0, bladeSlit, -bladeSlit, fixedSlit, -fixedSlit];
    for (const distance of distances) addLine(distance, level * gap, range);
  }
  return found;
}
