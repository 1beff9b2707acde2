import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { niceTicks, tickTexts } from "./ticks.ts";

describe("niceTicks", () => {
  it("are two to five round, evenly spaced values within any range", () => {
    const bound = fc.double({ min: -1e5, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(bound, fc.double({ min: 1e-3, max: 1e5, noNaN: true }), (low, span) => {
        const high = low + span;
        const ticks = niceTicks(low, high);
        expect(ticks.length).toBeLessThanOrEqual(5);
        expect(ticks.length).toBeGreaterThanOrEqual(2);
        const step = ticks[1]! - ticks[0]!;
        // Ticks are kept to twelve places.
        const room = 1e-9 * step + 1e-11 * (Math.abs(low) + Math.abs(high));
        ticks.forEach((tick, i) => {
          expect(tick).toBeGreaterThanOrEqual(low - room);
          expect(tick).toBeLessThanOrEqual(high + room);
          if (i > 0) expect(Math.abs(tick - ticks[i - 1]! - step)).toBeLessThanOrEqual(2 * room);
        });
      }),
      { seed: 31, numRuns: 500 },
    );
  });

  it("know common ranges, and an empty one", () => {
    expect(niceTicks(0, 8)).toEqual([0, 2, 4, 6, 8]);
    expect(niceTicks(0, 1)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    expect(niceTicks(-0.3, 0.3)).toEqual([-0.2, 0, 0.2]);
    expect(niceTicks(4, 4)).toEqual([4]);
  });

  it("are written with the same decimals and a true minus sign", () => {
    expect(tickTexts([0, 0.25, 0.5])).toEqual(["0.00", "0.25", "0.50"]);
    expect(tickTexts([-20, 0, 20])).toEqual(["\u221220", "0", "20"]);
  });
});
