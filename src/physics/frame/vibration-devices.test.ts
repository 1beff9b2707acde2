import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FrameJunction, FrameNetwork } from "./network.ts";
import { restShape } from "./out-of-plane-rest-shape.ts";
import { findModes } from "./vibration.ts";
import { bentBeamDevice, clamped, junctionAt, plateMass, straightBeam } from "./vibration-sample.ts";

describe("modes of devices", () => {
  it("agree with the folded comb resonator", () => {
    // f = sqrt(2 E t (w/L)^3/M)/(2 pi), M = plate + truss/4 + 12/35 beams (Tang, Nguyen & Howe 1989, key tang1989, from memory).
    const folded = (density: number | undefined, masses: { plate: number; truss: number }): FrameNetwork => {
      const L = 200e-6;
      const stuff = { youngsModulus: 150e9, shearModulus: undefined, density };
      const body = (mass: number) => ({
        mass,
        centre: [0, 0] as const,
        aboutX: mass * 1e-9,
        aboutY: mass * 1e-9,
        aboutZ: mass * 1e-9,
      });
      const junctions = [junctionAt(0, 0, { body: body(masses.plate) })];
      const beams = [];
      for (const side of [-1, 1]) {
        const truss = junctions.length;
        junctions.push(junctionAt(0, side * L, { body: body(masses.truss / 2) }));
        for (const x of [-40e-6, -20e-6, 20e-6, 40e-6]) {
          const isInner = Math.abs(x) < 30e-6;
          const from = isInner ? 0 : junctions.length;
          if (!isInner) junctions.push(junctionAt(x, 0, { held: clamped }));
          const beam = {
            from,
            to: truss,
            start: [x, 0],
            end: [x, side * L],
            width: 2e-6,
            thickness: 2e-6,
            nElements: 4,
          } as const;
          beams.push(straightBeam(beam, stuff));
        }
      }
      return { junctions, beams };
    };
    const lowest = (network: FrameNetwork): number =>
      findModes(network, restShape(network), { count: 1, families: ["in plane"] }).modes[0]!.frequency;
    const light = lowest(folded(undefined, { plate: 5e-11, truss: 0 }));
    // The quoted digits end at 3e-9.
    expect(Math.abs(light / 17434.5505 - 1)).toBeLessThan(3e-9);
    // Rayleigh's mass takes the static shape of the suspension: low by the square of its mass over that of the plate.
    const beams = 230 * 8 * 200e-6 * 4e-12;
    const heavy = lowest(folded(230, { plate: 5e-11 - 1e-13 - (12 / 35) * beams, truss: 4e-13 }));
    expect(Math.abs(heavy / 17434.5505 - 1)).toBeLessThan(3e-5);
  });

  const silicon = { youngsModulus: 169e9, shearModulus: 169e9 / 2.44, density: 2330 };
  const planar = (network: FrameNetwork, ignoreRotaryInertia: boolean): number[] =>
    findModes(network, restShape(network), { count: 4, families: ["in plane"], ignoreRotaryInertia }).modes.map(
      (m) => m.frequency,
    );

  it("agree with independent beam theory for one pair of bent beams", () => {
    // Independent dense eigenvalues of 40 Euler-Bernoulli elements per leg.
    const stuff = { ...silicon, shearModulus: undefined };
    const device = bentBeamDevice({ pairs: 1, shuttleWidth: 30, nElements: 40, material: stuff, hasVane: false, rootDepth: 0 });
    const found = planar(device, true);
    [181185, 183015, 374631, 585329].forEach((frequency, i) => {
      expect(Math.abs(found[i]! - frequency)).toBeLessThan(0.5);
    });
  });

  it("lie within 1 % of plane finite elements for one pair of bent beams", () => {
    // Plane quadratic finite elements (two independent libraries, mesh 2 um). A rigid shuttle takes no give from the roots: high.
    const device = bentBeamDevice({ pairs: 1, shuttleWidth: 30, nElements: 6, material: silicon, hasVane: false, rootDepth: 0 });
    planar(device, false).forEach((frequency, i) => {
      const relative = frequency / [181036, 181512, 371600, 583840][i]! - 1;
      expect(relative).toBeGreaterThan(0);
      expect(relative).toBeLessThan(0.008);
    });
  });

  it("lie within 1.3 % of plane finite elements for six pairs with a vane, once the roots give", () => {
    // Plane quadratic finite elements, mesh 4 um. A body as wide as a half plane turns at a root by 5.31 M/(E t w^2): as if the beam
    // were 0.44 w longer (O'Donnell 1960, key odonnell1960, from memory). With rigid roots the arm is 6 % and the legs 2 % high.
    const about = { pairs: 6, shuttleWidth: 40, nElements: 6, material: silicon, hasVane: true };
    const reference = [27774, 95200, 266478, 273685];
    const bounds = [0.013, 0.004, 0.008, 0.006];
    const found = planar(bentBeamDevice({ ...about, rootDepth: 0.44 }), false);
    found.forEach((frequency, i) => {
      expect(Math.abs(frequency / reference[i]! - 1)).toBeLessThan(bounds[i]!);
    });
    const rigid = planar(bentBeamDevice({ ...about, rootDepth: 0 }), false);
    rigid.forEach((frequency, i) => {
      expect(frequency / reference[i]! - 1).toBeGreaterThan(0);
      expect(frequency / reference[i]! - 1).toBeLessThan([0.06, 0.01, 0.03, 0.02][i]!);
    });
  });

  it("do not know how the frame lies on the wafer", () => {
    // Turning and mirroring the whole frame leaves all frequencies; rounding of the assembly and of the search is 1e-9 of them.
    const device = bentBeamDevice({ pairs: 2, shuttleWidth: 40, nElements: 3, material: silicon, hasVane: true, rootDepth: 0 });
    const lopsided = {
      ...device,
      junctions: device.junctions.map((junction, j) =>
        j === 0
          ? {
              ...junction,
              body: plateMass({ width: 40e-6, height: 70e-6, thickness: 40e-6 }, { density: 2330, centre: [7e-6, 2e-6] }),
            }
          : junction,
      ),
    };
    const modesOf = (network: FrameNetwork) => findModes(network, restShape(network), { count: 8 }).modes;
    const reference = modesOf(turned(lopsided, 0, 1));
    const shares = (m: readonly [number, number, number]): number[] => [m[0] + m[1], m[2]];
    fc.assert(
      fc.property(fc.double({ min: -3, max: 3, noNaN: true }), fc.constantFrom(1, -1), (angle, mirror) => {
        modesOf(turned(lopsided, angle, mirror)).forEach((mode, i) => {
          expect(mode.family).toBe(reference[i]!.family);
          expect(Math.abs(mode.frequency / reference[i]!.frequency - 1)).toBeLessThan(1e-9);
          const found = shares(mode.effectiveMass);
          shares(reference[i]!.effectiveMass).forEach((share, k) => {
            expect(Math.abs(found[k]! - share)).toBeLessThan(1e-6 * 1e-8);
          });
        });
      }),
      { seed: 31, numRuns: 12 },
    );
  });
});

/** The frame mirrored at the x axis where `mirror` is -1, then turned. */
function turned(network: FrameNetwork, angle: number, mirror: number): FrameNetwork {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const move = (x: number, y: number): [number, number] => [c * x - s * mirror * y, s * x + c * mirror * y];
  const body = (junction: FrameJunction) => {
    if (junction.body === undefined) return {};
    const { centre, ...rest } = junction.body;
    // Axes that do not lie along x and y cannot be said of a body: only bodies round about z keep their inertia.
    const mean = 0.5 * (rest.aboutX + rest.aboutY);
    return { body: { ...rest, aboutX: mean, aboutY: mean, centre: move(centre[0], centre[1]) } };
  };
  return {
    junctions: network.junctions.map((junction) => {
      const [x, y] = move(junction.x, junction.y);
      return { ...junction, x, y, ...body(junction) };
    }),
    beams: network.beams.map((beam) => {
      const nodes = new Float64Array(beam.nodes.length);
      for (let i = 0; i < nodes.length; i += 2) nodes.set(move(beam.nodes[i]!, beam.nodes[i + 1]!), i);
      return { ...beam, nodes };
    }),
  };
}
