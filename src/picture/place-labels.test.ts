import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { placeLabels } from "./place-labels.ts";

const frame = { width: 800, height: 600 };

const label = (x: number, y: number, width = 60) => ({ at: [x, y] as const, width, height: 17 });

describe("placeLabels", () => {
  it("puts a name beside its point, to the right where there is room", () => {
    const [box] = placeLabels([label(100, 100)], frame);
    expect(box!.left).toBeGreaterThan(100);
    expect(box!.top + box!.height / 2).toBeCloseTo(100, 9);
  });
  it("keeps inside the frame", () => {
    const [box] = placeLabels([label(795, 5)], frame);
    expect(box!.left + box!.width).toBeLessThanOrEqual(800);
    expect(box!.top).toBeGreaterThanOrEqual(0);
  });
  it("covers no other name and no point, where there is room for all", () => {
    const place = fc.record({ x: fc.integer({ min: 0, max: 7 }), y: fc.integer({ min: 0, max: 7 }) });
    fc.assert(
      fc.property(fc.uniqueArray(place, { maxLength: 12, selector: ({ x, y }) => `${x} ${y}` }), (places) => {
        const labels = places.map(({ x, y }) => label(50 + 100 * x, 40 + 70 * y, 50));
        const boxes = placeLabels(labels, frame);
        boxes.forEach((a, i) => {
          for (const b of boxes.slice(i + 1)) {
            const isApart =
              a.left + a.width <= b.left || b.left + b.width <= a.left || a.top + a.height <= b.top || b.top + b.height <= a.top;
            expect(isApart).toBe(true);
          }
          for (const { at } of labels)
            expect(at[0] > a.left && at[0] < a.left + a.width && at[1] > a.top && at[1] < a.top + a.height).toBe(false);
        });
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});
