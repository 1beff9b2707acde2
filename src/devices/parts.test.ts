/** The outline on the mask and the frame model come from the same parts: sizes, lengths and centre lines must agree. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaOf, dbuFromMetres, offsetPolygons, polygonFromOutline, squareMetresFromDbu } from "#geometry";
import type { Assembly, Part } from "./assembly.ts";
import { FrameBuilder } from "./frame-builder.ts";
import { families } from "./index.ts";

const um = 1e-6;

interface BankValues {
  readonly pairs: number;
  readonly length: number;
  readonly width: number;
  readonly tilt: number;
  readonly pitch: number;
}

function bank({ pairs, length, width, tilt, pitch }: BankValues): Assembly {
  const family = families.find((entry) => entry.name === "bent-beam bank")!;
  return family.assemble({
    legs: { pairs, length, width, tilt, pitch },
    shuttle: { width: 24 * um, height: (pairs - 1) * pitch + 40 * um },
    anchors: { width: 300 * um, height: 600 * um, "thermal resistance": 300 },
    "heat loss": "none",
    trench: 24 * um,
  });
}

const banks = fc.record({
  pairs: fc.integer({ min: 1, max: 6 }),
  length: fc.double({ min: 200, max: 900, noNaN: true }).map((value) => value * um),
  width: fc.double({ min: 4, max: 10, noNaN: true }).map((value) => value * um),
  tilt: fc.double({ min: 0.01, max: 0.12, noNaN: true }),
  pitch: fc.double({ min: 14, max: 40, noNaN: true }).map((value) => value * um),
});

function frameOf(assembly: Assembly, inward: number) {
  const builder = new FrameBuilder({ inward, thickness: 40 * um });
  for (const part of assembly.parts) part.addToFrame(builder);
  return builder.finish();
}

const isLeg = (part: Part): boolean => part.name.startsWith("leg ");
/** Length by which an outline reaches into the parts at both of its ends, along x. */
const reach = 2 * 2 * um;

describe("legs of a bent-beam bank", () => {
  it("have the area, length and centre line of their frame model at target size", () => {
    fc.assert(
      fc.property(banks, (values) => {
        const assembly = bank(values);
        const frame = frameOf(assembly, 0);
        for (const part of assembly.parts.filter(isLeg)) {
          const beam = frame.beams.find((entry) => entry.name === part.name)!;
          const [from, to] = [frame.points[beam.from]!, frame.points[beam.to]!];
          const length = Math.hypot(to.x - from.x, to.y - from.y);
          expect(length).toBeCloseTo(values.length, 11);
          expect(beam.width).toBe(values.width);
          const { polygon } = part.outlines()[0]!;
          // shoelace; the outline is longer than the beam by its reach into the parts it joins
          let area = 0;
          for (let i = 0; i < 8; i += 2) area += polygon[i]! * polygon[(i + 3) % 8]! - polygon[(i + 2) % 8]! * polygon[i + 1]!;
          const outlined = values.width * (length + reach / Math.cos(values.tilt));
          expect(area / 2 / outlined).toBeCloseTo(1, 9);
          const middle = [0, 1].map(
            (axis) => (polygon[axis]! + polygon[2 + axis]! + polygon[4 + axis]! + polygon[6 + axis]!) / 4,
          );
          expect(middle[0]).toBeCloseTo((from.x + to.x) / 2, 11);
          expect(middle[1]).toBeCloseTo((from.y + to.y) / 2, 11);
        }
      }),
      { seed: 11, numRuns: 40 },
    );
  });

  it("lose the same at their edges on the mask and in the model, and grow as long as their ends recede", () => {
    fc.assert(
      fc.property(banks, fc.double({ min: -0.5, max: 1, noNaN: true }), (values, lost) => {
        const inward = lost * um;
        const assembly = bank(values);
        const frame = frameOf(assembly, inward);
        const part = assembly.parts.find(isLeg)!;
        const beam = frame.beams.find((entry) => entry.name === part.name)!;
        const [from, to] = [frame.points[beam.from]!, frame.points[beam.to]!];
        const length = Math.hypot(to.x - from.x, to.y - from.y);
        expect(length).toBeCloseTo(values.length + (2 * inward) / Math.cos(values.tilt), 11);
        // the outline moved by the edge loss: its width is the model's; ends are left out by comparing areas per length
        const outline = polygonFromOutline(part.outlines()[0]!.polygon);
        const moved = offsetPolygons([outline], dbuFromMetres(-inward), { join: "mitre", limit: 4 });
        const whole = values.length + reach / Math.cos(values.tilt);
        const expected = beam.width * (whole - (2 * inward) / Math.cos(values.tilt));
        // rounding to the 1 nm grid on a leg of some um width
        expect(Math.abs(squareMetresFromDbu(areaOf(moved)) / expected - 1)).toBeLessThan(2e-3);
      }),
      { seed: 12, numRuns: 40 },
    );
  });

  it("are refused where the etch would take them away, or where they do not fit the shuttle", () => {
    const values = { pairs: 2, length: 500 * um, width: 4 * um, tilt: 0.05, pitch: 20 * um };
    expect(() => frameOf(bank(values), 2 * um)).toThrow("is etched away");
    const family = families.find((entry) => entry.name === "bent-beam bank")!;
    expect(() =>
      family.assemble({ legs: values, shuttle: { width: 20 * um, height: 10 * um }, anchors: "ideal", "heat loss": "none" }),
    ).toThrow("make it higher");
  });
});

describe("every family", () => {
  it.each(families.map((family) => [family.name, family] as const))(
    "%s says what it is and describes each field",
    (_name, family) => {
      expect(family.about).toMatch(/\.$/);
      for (const field of Object.values(family.fields)) expect(field.about).toMatch(/\.$/);
    },
  );
});
