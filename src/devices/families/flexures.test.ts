/** Middle lines, islands and points of the flexures, in their own axes, and a plate that hangs on them. */
import { describe, expect, it } from "vitest";
import type { PartWord } from "../draft.ts";
import type { Drawing, Part, Place } from "../drawing/part.ts";
import { ownPlace } from "../drawing/slab.ts";
import { clampedGuidedBeamPart } from "./clamped-guided-beam.ts";
import { crabLegPart } from "./crab-leg.ts";
import { foldedFlexurePart } from "./folded-flexure.ts";
import { serpentinePart } from "./serpentine.ts";
import { suspendedPlate } from "./suspended-plate.ts";

const um = 1e-6;
const island = { width: 60 * um, height: 50 * um };

/** What a flexure draws about its own origin, lengths in um. */
function drawn(word: PartWord, values: object) {
  const parts: Part[] = [];
  const points = new Map<string, Place>();
  word.draw(values, {
    name: "spring",
    named: (part) => `spring ${part}`,
    place: () => ({ x: Number.NaN, y: Number.NaN }),
    add: (part) => parts.push(part),
    markPoint: (point, place) => points.set(point, { x: place.x / um, y: place.y / um }),
  });
  const lines = parts.flatMap((part) => (part.kind === "beam" ? [[...part.line].map((value) => value / um)] : []));
  return { parts, points, lines };
}

function expectLines(lines: readonly (readonly number[])[], expected: readonly (readonly number[])[]): void {
  expect(lines).toHaveLength(expected.length);
  // sums of coordinates below 1 mm in double precision, in um
  lines.forEach((line, i) => {
    line.forEach((value, k) => {
      expect(value).toBeCloseTo(expected[i]![k]!, 9);
    });
  });
}

function anchorOf(parts: readonly Part[]) {
  const found = parts.find((part) => part.kind === "anchor")!;
  if (found.kind !== "anchor") throw new Error("no anchor");
  return found;
}

describe("a clamped-guided beam", () => {
  it("runs straight out to an island that it meets in the middle", () => {
    const { parts, points, lines } = drawn(clampedGuidedBeamPart, { length: 200 * um, width: 2 * um, island, wire: "blade" });
    expectLines(lines, [[0, 0, 200, 0]]);
    expect(points.get("root")).toEqual({ x: 0, y: 0 });
    expect(points.get("end")!.x).toBeCloseTo(200, 9);
    expect(points.get("island")!.x).toBeCloseTo(230, 9);
    expect(anchorOf(parts).wire).toBe("blade");
    expect(anchorOf(parts).heat).toBe("glass");
    expect(anchorOf(drawn(clampedGuidedBeamPart, { length: 200 * um, width: 2 * um, island: "ideal" }).parts).heat).toBe("ideal");
  });

  it("refuses an island that its root does not fit on", () => {
    const values = { length: 200 * um, width: 6 * um, fillet: 3 * um, island: { width: 60 * um, height: 11 * um } };
    expect(() => drawn(clampedGuidedBeamPart, values)).toThrow("beam and fillets need 12.0 um");
  });
});

describe("a folded flexure", () => {
  const values = {
    length: 450 * um,
    width: 6 * um,
    spacing: 30 * um,
    side: "left",
    truss: { width: 20 * um, height: 60 * um },
    island: { width: 150 * um, height: 150 * um, shift: 66 * um },
  };

  it("comes back on the side that is told, to an island beside the moving edge", () => {
    for (const [side, sign] of [
      ["left", 1],
      ["right", -1],
    ] as const) {
      const { parts, points, lines } = drawn(foldedFlexurePart, { ...values, side });
      expectLines(lines, [
        [0, 0, 450, 0],
        [450, sign * 30, 0, sign * 30],
      ]);
      const truss = parts.find((part) => part.kind === "plate")!;
      expect(truss.kind === "plate" && truss.bends).toBe(false);
      expect(points.get("knee")!.x).toBeCloseTo(460, 9);
      expect(points.get("knee")!.y).toBeCloseTo(sign * 15, 9);
      expect(points.get("island")!.x).toBeCloseTo(-75, 9);
      expect(points.get("island")!.y).toBeCloseTo(sign * 96, 9);
    }
  });

  it("keeps an ideal island clear of the moving edge beside it", () => {
    const { slab } = anchorOf(drawn(foldedFlexurePart, { ...values, island: "ideal" }).parts);
    expect(slab.centre.y - slab.height / 2).toBeGreaterThan(20 * um);
  });

  it("says what does not fit together", () => {
    expect(() => drawn(foldedFlexurePart, { ...values, spacing: 6 * um })).toThrow("run into each other");
    expect(() => drawn(foldedFlexurePart, { ...values, truss: { width: 20 * um, height: 35 * um } })).toThrow("at least 36.0 um");
    const beside = { ...values, "length back": 200 * um, island: { width: 60 * um, height: 80 * um } };
    expect(() => drawn(foldedFlexurePart, beside)).toThrow("runs into its beam out by 13.0 um");
  });
});

describe("a crab-leg", () => {
  it("has a thigh out and a shin aside, by their middle lines", () => {
    const values = {
      thigh: { length: 200 * um, width: 2 * um },
      shin: { length: 100 * um, width: 3 * um },
      side: "right",
      island,
    };
    const { points, lines } = drawn(crabLegPart, values);
    expectLines(lines, [
      [0, 0, 200, 0],
      [200, 0, 200, -100],
    ]);
    expect(points.get("knee")!.x).toBeCloseTo(200, 9);
    expect(points.get("island")!.y).toBeCloseTo(-125, 9);
    expect(() => drawn(crabLegPart, { ...values, fillet: 30 * um })).toThrow("beam and fillets need 63.0 um");
  });
});

describe("a serpentine", () => {
  const values = { meanders: 2, span: 100 * um, pitch: 20 * um, width: 4 * um, "link width": 6 * um, island };

  it("starts and ends on its own axis, with full spans between two half ones", () => {
    const { parts, points, lines } = drawn(serpentinePart, values);
    expectLines(lines, [
      [0, 0, 20, 0],
      [20, 0, 20, 50],
      [20, 50, 40, 50],
      [40, 50, 40, -50],
      [40, -50, 60, -50],
      [60, -50, 60, 50],
      [60, 50, 80, 50],
      [80, 50, 80, 0],
      [80, 0, 100, 0],
    ]);
    const widths = parts.flatMap((part) => (part.kind === "beam" ? [part.widths[0] / um] : []));
    widths.forEach((width, i) => {
      expect(width).toBeCloseTo(i % 2 === 0 ? 6 : 4, 9);
    });
    expect(points.get("end")!.x).toBeCloseTo(100, 9);
  });

  it("says what does not fit together", () => {
    expect(() => drawn(serpentinePart, { ...values, pitch: 4 * um })).toThrow("pitch must be larger");
    expect(() => drawn(serpentinePart, { ...values, span: 12 * um })).toThrow("more than twice");
  });
});

describe("a suspended plate", () => {
  const crab = {
    word: "crab-leg",
    values: {
      thigh: { length: 200 * um, width: 2 * um },
      shin: { length: 100 * um, width: 3 * um },
      side: "left",
      island: "ideal",
    },
  };
  const base = {
    plate: { width: 300 * um, height: 200 * um },
    flexure: crab,
    count: 4,
    edges: "left and right",
    inset: 10 * um,
    travel: "y",
    "heat loss": "none",
  };
  const islands = (drawing: Drawing) =>
    new Map(
      drawing.parts.flatMap((part) =>
        part.kind === "anchor" ? [[part.name, [part.slab.centre.x / um, part.slab.centre.y / um] as const] as const] : [],
      ),
    );

  it("hangs on four mirror images, with their left sides away from its middle", () => {
    const drawing = suspendedPlate.assemble(base);
    const found = islands(drawing);
    expect(found.size).toBe(4);
    for (const [name, [x, y]] of [
      ["upper right flexure island", [350, 210]],
      ["upper left flexure island", [-350, 210]],
      ["lower right flexure island", [350, -210]],
      ["lower left flexure island", [-350, -210]],
    ] as const) {
      expect(found.get(name)![0]).toBeCloseTo(x, 9);
      expect(found.get(name)![1]).toBeCloseTo(y, 9);
    }
    expect(drawing.points.get("top")!.y / um).toBeCloseTo(100, 9);
    expect(drawing.points.get("lower left flexure knee")!.x / um).toBeCloseTo(-350, 9);
    expect(drawing.output?.direction).toBe(Math.PI / 2);
  });

  it("hangs from its top and bottom edges just as well", () => {
    const found = islands(suspendedPlate.assemble({ ...base, edges: "top and bottom" }));
    expect(found.get("upper left flexure island")![0]).toBeCloseTo(-260, 9);
    expect(found.get("upper left flexure island")![1]).toBeCloseTo(300, 9);
    expect(found.get("lower right flexure island")![0]).toBeCloseTo(260, 9);
    expect(found.get("lower right flexure island")![1]).toBeCloseTo(-300, 9);
  });

  it("hangs on two flexures at the middles of its edges", () => {
    const { inset, ...rest } = base;
    const drawing = suspendedPlate.assemble({ ...rest, count: 2 });
    expect(inset).toBeGreaterThan(0);
    for (const [name, x] of [
      ["right flexure root", 150],
      ["left flexure root", -150],
    ] as const) {
      const root = drawing.points.get(name)!;
      expect(root.x / um).toBeCloseTo(x, 9);
      expect(root.y).toBe(0);
    }
  });

  it("has every root on an edge of its plate", () => {
    for (const edges of ["left and right", "top and bottom"]) {
      const drawing = suspendedPlate.assemble({ ...base, edges });
      const plate = drawing.parts.find((part) => part.kind === "plate")!;
      if (plate.kind !== "plate") throw new Error("no plate");
      for (const [name, place] of drawing.points) {
        if (!name.endsWith("root")) continue;
        const own = ownPlace(plate.slab, place);
        const off = Math.max(Math.abs(own.x) - plate.slab.width / 2, Math.abs(own.y) - plate.slab.height / 2);
        expect(Math.abs(off)).toBeLessThan(1e-15);
      }
    }
  });

  it("says what does not fit together", () => {
    expect(() => suspendedPlate.assemble({ ...base, count: 3 })).toThrow("on 2 or on 4 flexures");
    expect(() => suspendedPlate.assemble({ ...base, count: 2 })).toThrow("leave out the inset");
    expect(() => suspendedPlate.assemble({ ...base, inset: 100 * um })).toThrow("beyond the middle");
    const { inset: _left, ...without } = base;
    expect(() => suspendedPlate.assemble(without)).toThrow("need an inset");
    const folded = {
      word: "folded flexure",
      values: {
        length: 200 * um,
        width: 4 * um,
        spacing: 20 * um,
        side: "right",
        truss: { width: 20 * um, height: 40 * um },
        island: { width: 50 * um, height: 50 * um },
      },
    };
    expect(() => suspendedPlate.assemble({ ...base, flexure: folded })).toThrow("runs into the plate");
    const shins = { ...crab, values: { ...crab.values, side: "right" } };
    expect(() => suspendedPlate.assemble({ ...base, flexure: shins })).toThrow("meets its own mirror image");
  });
});
