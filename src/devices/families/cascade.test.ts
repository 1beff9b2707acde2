/** The layout of a cascade: where its banks push, how long its legs are, and how current runs. */
import { describe, expect, it } from "vitest";
import type { BeamPart, Part } from "../drawing/part.ts";
import { cascade } from "./cascade.ts";

const um = 1e-6;
const degree = Math.PI / 180;

const primaryLegs = { pairs: 1, length: 500 * um, width: 8 * um, tilt: 3 * degree };
const secondary = { length: 400 * um, width: 6 * um, tilt: 6 * degree };
const points = {
  primaries: { legs: primaryLegs, shuttle: "point", anchors: "ideal" },
  secondary,
  shuttle: "point",
  current: "through primaries",
  "heat loss": "none",
};
const sized = {
  ...points,
  primaries: {
    legs: { ...primaryLegs, pairs: 4, pitch: 20 * um },
    shuttle: { width: 20 * um, height: 100 * um },
    anchors: { width: 200 * um, height: 300 * um },
    leads: 10,
  },
  shuttle: { width: 30 * um, height: 60 * um },
};

function beams(parts: readonly Part[]): Map<string, number[]> {
  const found = parts.filter((part): part is BeamPart => part.kind === "beam");
  return new Map(found.map((part) => [part.name, [...part.line].map((value) => value / um)]));
}

function expectLine(line: readonly number[] | undefined, expected: readonly number[]): void {
  // sums of coordinates below 1 mm in double precision, in um
  expected.forEach((value, i) => {
    expect(line![i]).toBeCloseTo(value, 9);
  });
}

describe("a cascade", () => {
  it("without sizes is the frame of its middle lines: six legs that meet in three points", () => {
    const { parts, output } = cascade.assemble(points);
    const lines = beams(parts);
    const [x, y] = [400 * Math.cos(6 * degree), 400 * Math.sin(6 * degree)];
    expectLine(lines.get("secondary leg left"), [-x, -y, 0, 0]);
    expectLine(lines.get("secondary leg right"), [x, -y, 0, 0]);
    const [across, along] = [500 * Math.cos(3 * degree), 500 * Math.sin(3 * degree)];
    expectLine(lines.get("left primary leg 1 upper"), [-x - along, -y + across, -x, -y]);
    expectLine(lines.get("left primary leg 1 lower"), [-x - along, -y - across, -x, -y]);
    expectLine(lines.get("right primary leg 1 upper"), [x + along, -y + across, x, -y]);
    expectLine(lines.get("right primary leg 1 lower"), [x + along, -y - across, x, -y]);
    expect(lines.size).toBe(6);
    expect(output?.at).toEqual({ x: 0, y: 0 });
  });

  it("with sizes has legs from edge to edge, and points on its shuttles", () => {
    const { parts, points: named } = cascade.assemble(sized);
    const lines = beams(parts);
    const left = lines.get("secondary leg left")!;
    expect(Math.hypot(left[2]! - left[0]!, left[3]! - left[1]!)).toBeCloseTo(400, 9);
    // the primary's inner edge is where the secondary starts, half its height in from its middle
    const inner = named.get("left primary inner")!;
    expect(inner.x / um).toBeCloseTo(left[0]!, 9);
    expect(inner.y / um).toBeCloseTo(left[1]!, 9);
    expect((inner.x - named.get("left primary middle")!.x) / um).toBeCloseTo(50, 9);
    expect(named.get("right primary inner")!.x).toBeCloseTo(-inner.x, 12);
    expect(named.get("left primary anchor upper")!.y).toBeGreaterThan(named.get("left primary anchor lower")!.y);
    expect([...lines.keys()].filter((name) => name.startsWith("right primary leg"))).toHaveLength(8);
  });

  it("carries current through its primaries only, or through all of it", () => {
    const wires = (current: string) =>
      new Map(
        cascade
          .assemble({ ...sized, current })
          .parts.flatMap((part) => (part.kind === "anchor" ? [[part.name, part.wire] as const] : [])),
      );
    const through = wires("through primaries");
    expect(through.get("left primary anchor upper")).toBe("plus");
    expect(through.get("right primary anchor upper")).toBe("plus");
    expect(through.get("left primary anchor lower")).toBe("minus");
    expect(through.get("right primary anchor lower")).toBe("minus");
    const all = wires("through all");
    expect(all.get("left primary anchor lower")).toBe("plus");
    expect(all.get("right primary anchor upper")).toBe("minus");
  });

  it("refuses primaries whose anchors meet in the middle", () => {
    expect(() => cascade.assemble({ ...sized, secondary: { ...secondary, length: 50 * um } })).toThrow("meet in the middle");
  });
});
