import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, polygonFromOutline, unionOf } from "#geometry";
import { openingsOf } from "../drawing/outlines.ts";
import type { Part } from "../drawing/part.ts";
import { platePart } from "./plate.ts";

const um = 1e-6;

function plateOf(values: object): Part {
  const parts: Part[] = [];
  platePart.draw({ at: "middle", width: 300 * um, height: 200 * um, ...values } as Parameters<typeof platePart.draw>[0], {
    name: "sieve",
    named: (part) => `sieve ${part}`,
    place: () => ({ x: 0, y: 0 }),
    add: (part) => parts.push(part),
    markPoint: () => undefined,
  });
  return parts[0]!;
}

const length = (from: number, to: number) => fc.integer({ min: from, max: to }).map((value) => value * um);
const openings = fc.record({
  slits: fc.record({
    count: fc.integer({ min: 1, max: 3 }),
    width: length(1, 9),
    pitch: length(10, 60),
    lengths: fc.integer({ min: 1, max: 3 }),
    length: length(2, 60),
    rib: length(5, 40),
  }),
  holes: fc.record({
    columns: fc.integer({ min: 1, max: 5 }),
    rows: fc.integer({ min: 1, max: 3 }),
    side: length(1, 9),
    pitch: length(10, 60),
  }),
});

describe("a plate with slits and holes", () => {
  it("is refused where they share a place or an edge, and else loses the area of both", () => {
    const seen = { refused: 0, taken: 0 };
    fc.assert(
      fc.property(openings, ({ slits, holes }) => {
        const alone = [plateOf({ slits }), plateOf({ holes })].map((part) => (part.kind === "plate" ? openingsOf(part) : []));
        const areas = alone.map((outlines) => areaOf(unionOf(outlines.map(polygonFromOutline))));
        const united = areaOf(unionOf(alone.flat().map(polygonFromOutline)));
        let isRefused = false;
        try {
          plateOf({ slits, holes });
        } catch (error) {
          isRefused = true;
          expect((error as Error).message).toBe(
            "the slits and the holes of sieve overlap: leave out one of them, or let the holes stand between the slits",
          );
        }
        seen[isRefused ? "refused" : "taken"]++;
        // whole nanometres: openings that share a place share at least a square nanometre
        if (united < areas[0]! + areas[1]!) expect(isRefused).toBe(true);
        if (!isRefused) expect(united).toBe(areas[0]! + areas[1]!);
      }),
    );
    expect(seen.refused).toBeGreaterThan(5);
    expect(seen.taken).toBeGreaterThan(5);
  });
});
