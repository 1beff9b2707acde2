import { describe, expect, test } from "vitest";
import { openChip } from "#chip";
import type { ModeView } from "#devices";
import { modesOf } from "./modes.ts";

const [length, width, thickness, modulus, density, ambient] = [400e-6, 8e-6, 20e-6, 160e9, 2330, 300];

const textOf = (parts: string): string => `chip: modes
version: 1
surroundings: { gas: vacuum, temperature: ${ambient} K }
materials:
  stuff:
    conductivity: 100 W/(m K)
    resistivity: 1e-4 ohm m
    expansion: 3 ppm/K
    young modulus: ${modulus / 1e9} GPa
    density: ${density} kg/m^3
process: { flow: idealised, silicon thickness: 20 um, silicon: { material: stuff } }
devices:
  arm:
    is: composition
    points: { root: { x: 0 um, y: 0 um }, tip: { x: 400 um, y: 0 um }, end: { x: 450 um, y: 0 um } }
    parts:
${parts}
    heat loss: none
    roots: rigid
drive: { cases: { cold: { uniform rise: 0 K } } }
`;
const question = { held: [], device: "arm", caseName: "cold", exaggeration: 1 } as const;
const modesWith = (parts: string): readonly ModeView[] => modesOf(openChip(textOf(parts), { file: "modes.yaml" }), question);

/** Motion along a beam of a mode, across it or up, for 1 at its end. */
function alongBeam(mode: ModeView): Float64Array {
  const [beam] = mode.beams as [ModeView["beams"][number]];
  const across = mode.family === "in plane" ? beam.lifts.map((_, i) => beam.moves[2 * i + 1]!) : beam.lifts;
  return across.map((value) => value / across.at(-1)!);
}

describe("modes to be looked at", () => {
  const anchored = "      base: { is: anchor, at: root, width: 60 um, height: 60 um, heat: ideal, wire: plus }\n";
  const clampedBar = `${anchored}      bar: { is: beam, from: root, to: tip, width: 8 um }`;

  test("a cantilever bends as in the books, in its plane and out of it, as fast and as restless", () => {
    // its free length from the edge of the anchor
    const free = length - 30e-6;
    const modes = modesWith(clampedBar);
    for (const [family, depth, stiffness] of [
      ["in plane", width, modulus],
      ["out of plane", thickness, modulus],
    ] as const) {
      const mode = modes.find((candidate) => candidate.family === family)!;
      // Clough & Penzien, Dynamics of Structures (clough1993, from memory): beta L = 1.8751; the mode at the middle is 0.3395 of its end
      const omega = (1.8751 / free) ** 2 * Math.sqrt((stiffness * depth * depth) / (12 * density));
      expect(mode.frequency / (omega / (2 * Math.PI))).toBeCloseTo(1, 2);
      const shape = alongBeam(mode);
      expect(shape[(shape.length - 1) / 2]!).toBeCloseTo(0.3395, 3);
      // a quarter of its mass moves with the end; equipartition: k x^2 = kB T
      const mass = density * width * thickness * free;
      const boltzmann = 1.380649e-23;
      expect(mode.unrest / Math.sqrt((boltzmann * ambient) / (0.25 * mass * omega * omega))).toBeCloseTo(1, 2);
    }
  });

  test("a plate goes on as the beam that carries it ends: straight, in its plane and out of it", () => {
    const plate = "      head: { is: plate, at: end, width: 100 um, height: 80 um }";
    const modes = modesWith(`${anchored}${plate}\n      bar: { is: beam, from: root, to: head left, width: 8 um }`);
    for (const family of ["in plane", "out of plane"] as const) {
      const mode = modes.find((candidate) => candidate.family === family)!;
      const [beam] = mode.beams as [ModeView["beams"][number]];
      const { points, moves, lifts } = mode.bodies.find(({ name }) => name === "head")!.outlines[0]!;
      const last = beam.lifts.length - 1;
      const motion = (line: { moves: Float64Array; lifts: Float64Array }, i: number): number =>
        family === "in plane" ? line.moves[2 * i + 1]! : line.lifts[i]!;
      // the slope at the end of the beam, from its last two points: they lie 1/32 of 370 um apart
      const step = beam.points[2 * last]! - beam.points[2 * last - 2]!;
      const slope = (motion(beam, last) - motion(beam, last - 1)) / step;
      for (let i = 0; i < lifts.length; i++) {
        const expected = motion(beam, last) + slope * (points[2 * i]! - beam.points[2 * last]!);
        expect(Math.abs(motion({ moves, lifts }, i) - expected)).toBeLessThan(0.03);
      }
      expect(Math.max(...lifts.map((_, i) => Math.abs(motion({ moves, lifts }, i))))).toBeLessThanOrEqual(
        mode.largest * (1 + 1e-9),
      );
    }
  });

  test("where the material has no density there is nothing to swing, and the page is told why", () => {
    const massless = textOf(clampedBar).replace(/ {4}density.*\n/, "");
    expect(() => modesOf(openChip(massless, { file: "modes.yaml" }), question)).toThrow("its material has no density");
  });
});
