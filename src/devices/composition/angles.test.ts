/**
 * One rule for every angle of a text: counter-clockwise from +x, about the point at which the part stands, whatever the part. Turned places
 * are worked out here by the plain formula x cos a - y sin a, x sin a + y cos a.
 */
import { describe, expect, it } from "vitest";
import type { Drawing, Part, Place } from "../drawing/part.ts";
import { composition } from "./composition.ts";
import { partWords } from "./words.ts";

const um = 1e-6;
const legs = { pairs: 2, length: 400 * um, width: 6 * um, tilt: 0.06, pitch: 20 * um };
const island = { width: 60 * um, height: 40 * um };
const shuttle = { width: 30 * um, height: 80 * um };
const window = {
  aperture: { width: 200 * um, height: 100 * um },
  slits: { width: 8 * um, pitch: 20 * um, lengths: 1 },
  rim: 40 * um,
  ribs: { outer: 30 * um },
};

/** Values of every word that stands at a point, as the reader gives them. */
const samples = new Map<string, object>([
  ["bent-beam pair", { legs: { ...legs, pairs: undefined }, shuttle, anchors: "ideal" }],
  ["bent-beam bank", { legs, shuttle, anchors: "ideal" }],
  [
    "cascade",
    {
      primaries: { legs, shuttle, anchors: "ideal" },
      secondary: { length: 300 * um, width: 6 * um, tilt: 0.1 },
      shuttle,
      current: "through primaries",
    },
  ],
  [
    "hot and cold arm",
    {
      "hot arm": { length: 240 * um, width: 2 * um },
      "cold arm": { length: 200 * um, width: 14 * um },
      flexure: { width: 2 * um },
      gap: 2 * um,
      anchors: "ideal",
    },
  ],
  ["clamped-guided beam", { length: 200 * um, width: 4 * um, island }],
  [
    "folded flexure",
    { length: 200 * um, width: 2 * um, spacing: 20 * um, side: "left", truss: { width: 10 * um, height: 40 * um }, island },
  ],
  ["crab-leg", { thigh: { length: 200 * um, width: 2 * um }, shin: { length: 100 * um, width: 3 * um }, side: "left", island }],
  ["serpentine", { meanders: 3, span: 120 * um, pitch: 16 * um, width: 4 * um, island }],
  ["slit blade", window],
  ["fixed slits", window],
]);

const place = { x: 100 * um, y: -50 * um };
const draw = (values: object): Drawing =>
  composition.assemble({ "heat loss": "none", points: new Map([["here", place]]), ...values });

/** Corners, ends and middles of a part as [x, y] places in the order that it has them, and its directions [rad]. */
function placesOf(part: Part): readonly Place[] {
  switch (part.kind) {
    case "anchor":
    case "plate": {
      const { centre, width, height, turn } = part.slab;
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const corner = (u: number, v: number): Place => ({ x: centre.x + u * c - v * s, y: centre.y + u * s + v * c });
      return [
        corner(-width / 2, -height / 2),
        corner(width / 2, -height / 2),
        corner(width / 2, height / 2),
        corner(-width / 2, height / 2),
      ];
    }
    case "beam":
      return pairsOf(part.line);
    case "metal":
      return pairsOf(part.outline);
    default:
      return [part.at];
  }
}

const pairsOf = (line: Float64Array): Place[] =>
  Array.from({ length: line.length / 2 }, (_, i) => ({ x: line[2 * i]!, y: line[2 * i + 1]! }));

type Move = (at: Place) => Place;
const turnedBy =
  (angle: number): Move =>
  ({ x, y }) => ({
    x: place.x + (x - place.x) * Math.cos(angle) - (y - place.y) * Math.sin(angle),
    y: place.y + (x - place.x) * Math.sin(angle) + (y - place.y) * Math.cos(angle),
  });

/** Every place of `moved` is one of `given`, moved; a mirror image may list them in another order. */
function expectMoved(given: readonly Place[], moved: readonly Place[], move: Move): void {
  expect(moved.length).toBe(given.length);
  const far = (a: Place, b: Place): number => Math.hypot(a.x - b.x, a.y - b.y);
  for (const wanted of given.map(move)) expect(Math.min(...moved.map((found) => far(found, wanted)))).toBeLessThan(1e-12);
}

function expectMovedDrawing(given: Drawing, moved: Drawing, move: Move): void {
  expect(moved.parts.length).toBe(given.parts.length);
  expect(given.parts.length).toBeGreaterThan(0);
  given.parts.forEach((part, i) => {
    expectMoved(placesOf(part), placesOf(moved.parts[i]!), move);
  });
}

describe("a part that stands at a point", () => {
  it("is in the list of this test, whatever its word", () => {
    expect([...samples.keys()].sort()).toEqual(
      partWords
        .filter(({ placed }) => placed)
        .map(({ name }) => name)
        .sort(),
    );
  });
  it.each([...samples.keys()])("%s: turned counter-clockwise about that point, its own points with it", (word) => {
    const at = (turned: number): Drawing =>
      draw({ parts: new Map([["it", { word, values: { ...samples.get(word), at: "here", turned } }]]) });
    const level = at(0);
    for (const angle of [0.3, -1.2, Math.PI / 2]) {
      const turned = at(angle);
      expectMovedDrawing(level, turned, turnedBy(angle));
      const own = [...level.points].filter(([name]) => name !== "here");
      for (const [name, given] of own) expectMoved([given], [turned.points.get(name)!], turnedBy(angle));
    }
  });
});

describe("an angle of a single part", () => {
  it.each(["anchor", "plate", "pad"])("%s: turn is counter-clockwise about its middle", (word) => {
    const values = { at: "here", width: 60 * um, height: 20 * um, heat: "ideal", lead: 0 };
    const at = (turn: number): Drawing => draw({ parts: new Map([["it", { word, values: { ...values, turn } }]]) });
    for (const angle of [0.3, -1.2]) expectMovedDrawing(at(0), at(angle), turnedBy(angle));
  });
  it("a point lies in its direction, counter-clockwise from +x", () => {
    const points = new Map<string, object>([
      ["here", place],
      ["there", { from: "here", distance: 80 * um, direction: 2.1 }],
    ]);
    const values = { at: "there", width: 10 * um, height: 10 * um, heat: "ideal", lead: 0 };
    const found = draw({ points, parts: new Map([["it", { word: "anchor", values }]]) }).points.get("there")!;
    expectMoved([{ x: place.x + 80 * um, y: place.y }], [found], turnedBy(2.1));
  });
  it("a curved beam rises to the left of its way: a way turned by an angle turns its curve by it", () => {
    const arc = (direction: number): Drawing =>
      draw({
        points: new Map<string, object>([
          ["here", place],
          ["there", { from: "here", distance: 300 * um, direction }],
        ]),
        parts: new Map([
          ["it", { word: "curved beam", values: { from: "here", to: "there", width: 4 * um, rise: 30 * um, shape: "arc" } }],
        ]),
      });
    expect(Math.max(...placesOf(arc(0).parts[0]!).map(({ y }) => y - place.y))).toBeCloseTo(30 * um, 12);
    expectMovedDrawing(arc(0), arc(0.7), turnedBy(0.7));
  });
  it("the output and a stop point in their direction, a stop in a mirror image in the mirrored one", () => {
    const parts = new Map([["it", { word: "stop", values: { at: "here", direction: 0.5, gap: 2 * um } }]]);
    const drawing = draw({
      parts,
      copies: new Map([
        ["beside", { of: ["it"], "mirror at x": 0 }],
        ["below", { of: ["it"], "mirror at y": 0 }],
        ["row", { of: ["it"], times: 1, "step x": 10 * um }],
      ]),
      output: { point: "here", direction: 1.25 },
    });
    expect(drawing.output!.direction).toBe(1.25);
    const directions = drawing.parts.flatMap((part) => (part.kind === "stop" ? [[part.name, part.direction] as const] : []));
    const of = (name: string): number => directions.find(([found]) => found.startsWith(name))![1];
    expect(of("it")).toBeCloseTo(0.5, 12);
    expect(of("beside")).toBeCloseTo(Math.PI - 0.5, 12);
    expect(of("below")).toBeCloseTo(-0.5, 12);
    expect(of("row")).toBeCloseTo(0.5, 12);
  });
});

describe("a mirror image", () => {
  it.each([...samples.keys()])("%s, turned: every place of it mirrored, and again gives it back", (word) => {
    const parts = new Map([["it", { word, values: { ...samples.get(word), at: "here", turned: 0.3 } }]]);
    const drawing = draw({
      parts,
      copies: new Map([
        ["image", { of: ["it"], "mirror at x": 30 * um }],
        ["again", { of: ["image"], "mirror at x": 30 * um }],
      ]),
    });
    const n = drawing.parts.length / 3;
    expect(n).toBeGreaterThan(0);
    for (let i = 0; i < n; i++) {
      const [own, image, again] = [i, n + i, 2 * n + i].map((index) => placesOf(drawing.parts[index]!));
      expectMoved(own!, image!, ({ x, y }) => ({ x: 60 * um - x, y }));
      expectMoved(own!, again!, (same) => same);
    }
  });
});
