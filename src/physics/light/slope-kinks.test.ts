import { describe, expect, it } from "vitest";
import { createRandomSource } from "#base";
import { type GapSection, nKinds, PathLengths } from "./gap-walk.ts";
import { kinkSlopes } from "./slope-kinks.ts";

const random = createRandomSource(11);
const between = (low: number, high: number): number => low + (high - low) * random.uniform();

/** Lengths in units of the pitch. */
function randomSection(): GapSection {
  return {
    pitch: 1,
    bladeSlit: between(0.2, 0.7),
    fixedSlit: between(0.2, 0.7),
    gap: between(0.1, 0.6),
    thickness: between(0.2, 3),
    fixedEdge: between(0, 1),
  };
}

const nTrips = 4;

/** Every length that leads to the far side, for one slope. */
function transmittedLengths(paths: PathLengths, from: "blade" | "metal"): Float64Array {
  const size = nTrips * nKinds;
  const lengths = new Float64Array(2 * size);
  if (from === "blade") lengths.set(paths.outBelow.subarray(0, size));
  else {
    lengths.set(paths.outAbove.subarray(0, size));
    lengths.set(paths.outAboveLate.subarray(0, size), size);
  }
  return lengths;
}

describe("kinks of the path lengths", () => {
  it.each(["blade", "metal"] as const)("leave every transmitted length linear in between, from the %s side", (from) => {
    const paths = new PathLengths(nTrips);
    let nBends = 0;
    let worst = 0;
    for (let i = 0; i < 20; i++) {
      const section = randomSection();
      const maxSlope = 0.6;
      const kinks = kinkSlopes(section, { maxSlope, nTrips, maxKinks: 1e6, from });
      const ends = [0, ...kinks.sort((a, b) => a - b), maxSlope];
      const lengthsAt = (slope: number): Float64Array => {
        if (from === "blade") paths.walkFromBlade(section, slope, nTrips);
        else paths.walkFromMetal(section, slope, nTrips);
        return transmittedLengths(paths, from);
      };
      for (let j = 1; j < ends.length; j++) {
        const width = ends[j]! - ends[j - 1]!;
        if (width < 1e-6) continue;
        const at = (share: number) => lengthsAt(ends[j - 1]! + share * width);
        const [low, middle, high] = [at(0.01), at(0.37), at(0.99)];
        for (let c = 0; c < middle.length; c++) {
          const straight = low[c]! + ((high[c]! - low[c]!) * 0.36) / 0.98;
          worst = Math.max(worst, Math.abs(middle[c]! - straight));
        }
      }
      // The other way round: between 0 and the steepest slope the lengths do bend, or the test above would show nothing.
      const [start, half, end] = [lengthsAt(0), lengthsAt(maxSlope / 2), lengthsAt(maxSlope)];
      if (half.some((value, c) => Math.abs(value - (start[c]! + end[c]!) / 2) > 1e-3)) nBends++;
    }
    // Lengths of order 1 from some ten additions: rounding stays far below 1e-12.
    expect(worst).toBeLessThan(1e-12);
    expect(nBends).toBeGreaterThan(15);
  });
});
