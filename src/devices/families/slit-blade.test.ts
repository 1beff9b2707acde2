/** Sizes of slit sheets: a blade of silicon, and fixed slits of metal under it. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, polygonFromOutline, squareMetresFromDbu, unionOf } from "#geometry";
import type { PartWord } from "../draft.ts";
import { openingsOf } from "../drawing/outlines.ts";
import type { Part, Place } from "../drawing/part.ts";
import { fixedSlitsPart } from "./fixed-slits.ts";
import { slitBladePart } from "./slit-blade.ts";

const um = 1e-6;

/** A shutter blade: 50 slits in three lengths (sizes chosen for this test, no source). */
const blade = {
  aperture: { width: 1000 * um, height: 1000 * um },
  slits: { width: 8 * um, pitch: 20 * um, lengths: 3 },
  ribs: { inner: 20 * um, outer: 30 * um },
  rim: 40 * um,
};

function drawn(word: PartWord, values: object) {
  const parts: Part[] = [];
  const points = new Map<string, Place>();
  word.draw(values, {
    name: "sheet",
    named: (part) => `sheet ${part}`,
    place: () => ({ x: Number.NaN, y: Number.NaN }),
    add: (part) => parts.push(part),
    markPoint: (point, place) => points.set(point, { x: place.x / um, y: place.y / um }),
  });
  return { parts, points };
}

function plateOf(values: object) {
  const [part] = drawn(slitBladePart, values).parts;
  if (part?.kind !== "plate") throw new Error("no plate");
  return part;
}

describe("a slit blade", () => {
  it("has the outer size and the fill of its bars, ribs and rims", () => {
    const { slab, slits } = plateOf(blade);
    expect(slab.width / um).toBeCloseTo(1100, 9);
    expect(slab.height / um).toBeCloseTo(1080, 9);
    expect(slits!.count).toBe(50);
    // 50 slits of 8 by 1000 um: in closed form 1 - 400 000 / 1 188 000
    const open = openingsOf(plateOf(blade)).map(polygonFromOutline);
    expect(open).toHaveLength(150);
    const fill = 1 - squareMetresFromDbu(areaOf(unionOf(open))) / (slab.width * slab.height);
    // a third of 1000 um is rounded to the 1 nm grid
    expect(fill).toBeCloseTo(1 - 400 / 1188, 6);
  });

  it("leaves the rims and ribs as wide as told, and half a bar more at the rims", () => {
    const corners = openingsOf(plateOf(blade)).map((outline) => [...outline].map((value) => value / um));
    const [xs, ys] = [0, 1].map((axis) => corners.flatMap((outline) => outline.filter((_, i) => i % 2 === axis)));
    expect(550 - Math.max(...xs!)).toBeCloseTo(30, 9);
    expect(540 - Math.max(...ys!)).toBeCloseTo(40 + (20 - 8) / 2, 9);
    const levels = [...new Set(xs!.map((x) => Math.round(x * 1e6) / 1e6))].sort((a, b) => a - b);
    expect(levels[2]! - levels[1]!).toBeCloseTo(20, 5);
  });

  it("lies at the point that is its origin, with points near its corners", () => {
    const { parts, points } = drawn(slitBladePart, { ...blade, origin: "bottom", "corner inset": 5 * um });
    expect(parts).toHaveLength(1);
    expect(points.get("bottom")!.y).toBeCloseTo(0, 9);
    expect(points.get("top")!.y).toBeCloseTo(1080, 9);
    for (const [name, x, y] of [
      ["left edge upper", -550, 1075],
      ["right edge lower", 550, 5],
      ["upper edge right", 545, 1080],
      ["lower edge left", -545, 0],
    ] as const) {
      expect(points.get(name)!.x).toBeCloseTo(x, 9);
      expect(points.get(name)!.y).toBeCloseTo(y, 9);
    }
    for (const [origin, x, y] of [
      ["top", 0, -540],
      ["left", 550, 0],
      ["right", -550, 0],
    ] as const) {
      const { centre } = plateOf({ ...blade, origin }).slab;
      expect(centre.x / um).toBeCloseTo(x, 9);
      expect(centre.y / um).toBeCloseTo(y, 9);
    }
  });

  it("says what does not fit together", () => {
    expect(() => plateOf({ ...blade, aperture: { width: 1000 * um, height: 1010 * um } })).toThrow("a whole number of pitches");
    expect(() => plateOf({ ...blade, slits: { ...blade.slits, width: 20 * um } })).toThrow("run into each other");
    expect(() => plateOf({ ...blade, ribs: { outer: 30 * um } })).toThrow("need an inner rib");
    expect(() => plateOf({ ...blade, "corner inset": 600 * um })).toThrow("beyond the middles");
  });
});

describe("fixed slits", () => {
  it("are the sheet less its slits, as one piece", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 19 }),
        fc.integer({ min: 1, max: 4 }),
        (count, width, lengths) => {
          const values = {
            aperture: { width: 240 * um, height: count * 20 * um },
            slits: { width: width * um, pitch: 20 * um, lengths },
            ribs: { inner: 8 * um, outer: 10 * um },
            rim: 12 * um,
          };
          const metal = drawn(fixedSlitsPart, values).parts.flatMap((part) =>
            part.kind === "metal" ? [polygonFromOutline(part.outline)] : [],
          );
          const sheet = (240 + (lengths - 1) * 8 + 20) * (count * 20 + 24);
          // on the grid, so that nothing is rounded
          expect(squareMetresFromDbu(areaOf(unionOf(metal))) / um ** 2).toBeCloseTo(sheet - count * width * 240, 6);
          // holes are not pieces: the outer boundary of the union runs counter-clockwise, those of the slits clockwise
          expect(unionOf(metal)).toHaveLength(1 + count * lengths);
        },
      ),
      { seed: 41, numRuns: 20 },
    );
  });

  it("lie under the bars of an equal blade that has moved half a pitch", () => {
    const { parts } = drawn(fixedSlitsPart, { ...blade, slits: { ...blade.slits, width: 6 * um } });
    // 51 rows and 4 columns; the second row is a bar of 14 um between the first two slits
    expect(parts).toHaveLength(55);
    const row = parts[1]!;
    if (row.kind !== "metal") throw new Error("no metal");
    expect((row.outline[1]! + row.outline[5]!) / 2 / um).toBeCloseTo(-480, 9);
    expect((row.outline[5]! - row.outline[1]!) / um).toBeCloseTo(14, 9);
  });
});
