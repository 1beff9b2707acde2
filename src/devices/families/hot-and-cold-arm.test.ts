/** The middle lines of a hot and a cold arm, and where its two anchors may stand. */
import { describe, expect, it } from "vitest";
import type { BeamPart, Part } from "../drawing/part.ts";
import { outlineOfSlab } from "../drawing/slab.ts";
import { hotAndColdArm } from "./hot-and-cold-arm.ts";

const um = 1e-6;

/** Sizes of the classic arm with a gap of 2 um (common practice, no source). */
const classic = {
  "hot arm": { length: 240 * um, width: 2 * um },
  "cold arm": { length: 200 * um, width: 14 * um },
  flexure: { width: 2 * um },
  gap: 2 * um,
  anchors: { width: 60 * um, height: 50 * um } as object | "ideal",
  "heat loss": "none",
};

const assemble = (changes: object = {}) => hotAndColdArm.assemble({ ...classic, ...changes });

function beamNamed(parts: readonly Part[], name: string): BeamPart {
  return parts.find((part): part is BeamPart => part.kind === "beam" && part.name === name)!;
}

describe("a hot and a cold arm", () => {
  it.each(["ideal", classic.anchors])("has the middle lines of a frame of four members (%o anchors)", (anchors) => {
    const { parts, points, output } = assemble({ anchors });
    const root = points.get("hot root")!;
    // from the root of the hot arm, in um: rise of the link is half the hot width, the gap and half the cold width
    const lines = ["hot arm", "link", "cold arm", "flexure"].map((name) =>
      [...beamNamed(parts, name).line].map((value, i) => (value - (i % 2 === 0 ? root.x : root.y)) / um),
    );
    const expected = [
      [0, 0, 240, 0],
      [240, 0, 240, 10],
      [240, 10, 40, 10],
      [40, 10, 0, 10],
    ];
    // sums of coordinates below 1 mm in double precision
    lines.forEach((line, i) => {
      line.forEach((value, k) => {
        expect(value).toBeCloseTo(expected[i]![k]!, 9);
      });
    });
    expect(["hot arm", "link", "cold arm", "flexure"].map((name) => beamNamed(parts, name).widths[0] / um)).toEqual([
      2, 2, 14, 2,
    ]);
    expect(points.get("tip")).toEqual({ x: 0, y: 0 });
    expect(output?.direction).toBe(Math.PI / 2);
  });

  it("stands on two anchors that are a gap apart and reach equally far over both roots", () => {
    for (const apart of [undefined, 4 * um, 7.9 * um]) {
      const { parts, points } = assemble({
        anchors: { width: 60 * um, height: 50 * um, ...(apart === undefined ? {} : { apart }) },
      });
      const boxes = parts.flatMap((part) => {
        if (part.kind !== "anchor") return [];
        const outline = outlineOfSlab(part.slab);
        return [{ right: outline[2]!, bottom: outline[1]!, top: outline[5]! }];
      });
      const [lower, upper] = [boxes[0]!, boxes[1]!];
      expect((upper.bottom - lower.top) / um).toBeCloseTo((apart ?? 2 * um) / um, 9);
      expect(lower.right).toBeCloseTo(points.get("hot root")!.x, 12);
      expect(upper.right).toBeCloseTo(points.get("flexure root")!.x, 12);
      const over = lower.top - (points.get("hot root")!.y + 1 * um);
      const under = points.get("flexure root")!.y - 1 * um - upper.bottom;
      expect(over / um).toBeCloseTo(under / um, 9);
      expect(over).toBeGreaterThan(0);
    }
  });

  it("carries one current through both arms", () => {
    const wires = assemble({ leads: 10 }).parts.flatMap((part) =>
      part.kind === "anchor" ? [[part.wire, part.leadResistance]] : [],
    );
    expect(wires).toEqual([
      ["plus", 5],
      ["minus", 5],
    ]);
  });

  it("says what does not fit together", () => {
    expect(() => assemble({ "cold arm": { length: 240 * um, width: 14 * um } })).toThrow("leaves no flexure");
    expect(() => assemble({ anchors: { width: 60 * um, height: 50 * um, apart: 8.1 * um } })).toThrow(
      "cannot stand 8.10 um apart: hot arm and flexure leave 8.00 um",
    );
    expect(() => assemble({ fillet: 3.5 * um })).toThrow("the fillets take 7.00 um");
    // a flexure wider than the cold arm by more than two gaps leaves no room at all
    expect(() => assemble({ flexure: { width: 16 * um } })).toThrow("cannot stand");
    expect(() => assemble({ anchors: { width: 60 * um, height: 4 * um } })).toThrow("make them higher");
  });
});
