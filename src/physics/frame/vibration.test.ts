import { describe, expect, it } from "vitest";
import { findLowestEigenpairs } from "#numerics";
import type { FrameJunction, FrameNetwork, FrameShape } from "./network.ts";
import { restShape } from "./out-of-plane-rest-shape.ts";
import { findModes, matchModes } from "./vibration.ts";
import { clamped, junctionAt, straightBeam } from "./vibration-sample.ts";
import { createSmallMotionSystem } from "./vibration-system.ts";
import type { MotionFamily } from "./vibration-unknowns.ts";

const families: readonly MotionFamily[] = ["in plane", "out of plane"];
const material = { youngsModulus: 160e9, shearModulus: undefined, density: 2300 };
const length = 400e-6;
/** Bends more easily in the plane than out of it, and more easily than it twists either way. */
const section = { width: 2e-6, thickness: 3e-6 };
const pinned: FrameJunction["held"] = ["x", "y", "z", "turn x"];

/** One beam along x; its depth against the motion of each family. */
function beamBetween(ends: readonly [FrameJunction["held"], FrameJunction["held"]], nElements: number): FrameNetwork {
  const beam = { from: 0, to: 1, start: [0, 0], end: [length, 0], ...section, nElements } as const;
  return {
    junctions: [junctionAt(0, 0, { held: ends[0] }), junctionAt(length, 0, { held: ends[1] })],
    beams: [straightBeam(beam, material)],
  };
}

const depthOf = (family: MotionFamily): number => (family === "in plane" ? section.width : section.thickness);
/** sqrt(EI/(rho A))/L^2 */
const rate = (family: MotionFamily): number =>
  Math.sqrt(material.youngsModulus / material.density / 12) * (depthOf(family) / length ** 2);
/** Unit of axial force EI/L^2. */
const unitForce = (family: MotionFamily): number =>
  (material.youngsModulus * section.width * section.thickness * depthOf(family) ** 2) / 12 / length ** 2;

/** At rest in place, but pulled by an axial force. */
function pulled(network: FrameNetwork, force: number): FrameShape {
  const rest = restShape(network);
  const strain = -force / (material.youngsModulus * section.width * section.thickness);
  return { ...rest, strains: rest.strains.map((list) => list.map(() => strain)) };
}

describe("modes of straight beams", () => {
  it("agree with the classical roots, with an error of the fourth order", () => {
    // beta L: Blevins, Formulas for Natural Frequency and Mode Shape (from memory); digits computed independently.
    const cases = [
      { ends: [clamped, []], roots: [1.875104069, 4.694091133, 7.854757438] },
      { ends: [clamped, clamped], roots: [4.730040745, 7.853204624, 10.99560784] },
      { ends: [clamped, pinned], roots: [3.926602312, 7.068582746, 10.21017612] },
    ] as const;
    for (const { ends, roots } of cases) {
      for (const family of families) {
        for (const nElements of [6, 12, 24]) {
          const network = beamBetween(ends, nElements);
          const { modes } = findModes(network, restShape(network), { count: 3, families: [family], ignoreRotaryInertia: true });
          modes.forEach(({ frequency }, i) => {
            const root = roots[i]!;
            const relative = (2 * Math.PI * frequency) / (root ** 2 * rate(family)) - 1;
            // Cubic elements with consistent mass: the eigenvalue is high by (beta h)^4/720 in the long run, its root by half of that.
            const expected = (root / nElements) ** 4 / 1440;
            expect(relative).toBeGreaterThan(0.7 * expected - 2e-9);
            expect(relative).toBeLessThan(1.3 * expected + 2e-9);
          });
        }
      }
    }
  });

  it("rise with tension and fall with compression", () => {
    // Clamped at both ends under N L^2/(EI) = n, first omega L^2 sqrt(rho A/EI): closed form, digits computed independently.
    const table = [
      [0, 22.37328545],
      [10, 24.9574369],
      [100, 40.993161],
      [-10, 19.4098588],
    ] as const;
    for (const family of families) {
      for (const [n, omega] of table) {
        const network = beamBetween([clamped, clamped], 24);
        const shape = pulled(network, n * unitForce(family));
        const { modes } = findModes(network, shape, { count: 1, families: [family], ignoreRotaryInertia: true });
        // Elements: (10/24)^4/1440 = 2e-5 at most.
        expect(Math.abs((2 * Math.PI * modes[0]!.frequency) / (omega * rate(family)) - 1)).toBeLessThan(2e-5);
      }
    }
  });

  it("have a negative eigenvalue and no frequency beyond buckling", () => {
    const network = beamBetween([clamped, clamped], 12);
    for (const family of families) {
      const { modes, systems } = findModes(network, pulled(network, -50 * unitForce(family)), { count: 2, families: [family] });
      // 4 pi^2 = 39.5 and 8.99^2 = 80.8 are the first two buckling loads.
      expect(systems[family]!.nNegative).toBe(1);
      expect(modes[0]!.eigenvalue).toBeLessThan(0);
      expect(modes[0]!.frequency).toBeNaN();
      expect(modes[1]!.frequency).toBeGreaterThan(0);
    }
  });

  it("buckle at Euler's loads", () => {
    // K(0) x = P (K(0) - K(-1 N)) x. Timoshenko & Gere, Theory of Elastic Stability, chapter 2 (from memory).
    const cases = [
      { ends: [clamped, []], load: Math.PI ** 2 / 4, root: Math.PI / 2 },
      { ends: [pinned, ["y", "z", "turn x"]], load: Math.PI ** 2, root: Math.PI },
      { ends: [clamped, ["y", "z", "turn x"]], load: 20.1907285564, root: 4.4934 },
      { ends: [clamped, ["y", "turn", "z", "turn x", "turn y"]], load: 4 * Math.PI ** 2, root: 2 * Math.PI },
    ] as const;
    for (const { ends, load, root } of cases) {
      const network = beamBetween(ends, 8);
      for (const family of families) {
        const at = (force: number) => createSmallMotionSystem(network, pulled(network, force), { family }).stiffness;
        const soft = at(-unitForce(family));
        const stiff = at(0);
        const mass = { ...stiff, values: stiff.values.map((value, i) => value - soft.values[i]!) };
        const { values } = findLowestEigenpairs(stiff, mass, { count: 1 });
        // Cubic elements: high by (k h)^4/720, 5e-4 at most; the axial strain (1e-5) enters through the length of the elements.
        expect(values[0]! / load - 1).toBeGreaterThan(-2e-5);
        expect(values[0]! / load - 1).toBeLessThan((1.3 * (root / 8) ** 4) / 720 + 2e-5);
      }
    }
  });

  it("carry the known share of the mass", () => {
    // First three of a cantilever: 0.6131, 0.1883, 0.0647 (Blevins, from memory; computed from its shapes: (2 sigma/beta)^2).
    const network = beamBetween([clamped, []], 24);
    const total = material.density * length * section.width * section.thickness;
    const shares = [
      [1.875104069, 0.734095514],
      [4.694091133, 1.018467319],
      [7.854757438, 0.999224497],
    ].map(([beta, sigma]) => ((2 * sigma!) / beta!) ** 2);
    for (const family of families) {
      const { modes } = findModes(network, restShape(network), { count: 3, families: [family], ignoreRotaryInertia: true });
      modes.forEach(({ effectiveMass, modalMass, junctionMotions }, i) => {
        const along = effectiveMass[family === "in plane" ? 1 : 2];
        // Elements: the square of the shape's error, below 1e-5 at 24 of them.
        expect(Math.abs(along / total / shares[i]! - 1)).toBeLessThan(1e-4);
        // The free end moves most, and with that scale the modal mass of every cantilever mode is a quarter of the beam's mass.
        expect(junctionMotions[family === "in plane" ? 4 : 3]).toBe(1);
        expect(Math.abs(modalMass / (total / 4) - 1)).toBeLessThan(1e-4);
      });
    }
  });

  it("follow Timoshenko's beam where it is short", () => {
    // Pinned ends, wave number k: rho^2 I/(kG) W^2 - (rho A + rho I k^2 (1 + E/kG)) W + EI k^4 = 0, W = omega^2
    // (Timoshenko 1921, from memory; shear factor 5/6).
    const thick = { width: 40e-6, thickness: 50e-6 };
    const stuff = { ...material, shearModulus: 65e9 };
    for (const family of families) {
      const depth = family === "in plane" ? thick.width : thick.thickness;
      const area = thick.width * thick.thickness;
      const I = (area * depth ** 2) / 12;
      const G = (5 / 6) * stuff.shearModulus;
      const rho = stuff.density;
      for (const nElements of [8, 16]) {
        const beam = { from: 0, to: 1, start: [0, 0], end: [length, 0], ...thick, nElements } as const;
        const network = {
          junctions: [junctionAt(0, 0, { held: pinned }), junctionAt(length, 0, { held: pinned })],
          beams: [straightBeam(beam, stuff)],
        };
        const { modes } = findModes(network, restShape(network), { count: 2, families: [family] });
        modes.forEach(({ eigenvalue }, i) => {
          const k = ((i + 1) * Math.PI) / length;
          const b = rho * area + rho * I * k * k * (1 + stuff.youngsModulus / G);
          const c = stuff.youngsModulus * I * k ** 4;
          const a = (rho * rho * I) / G;
          const exact = (2 * c) / (b + Math.sqrt(b * b - 4 * a * c));
          // With shear in play the error is of the second order in the elements: (k h)^2 (k depth)^2/50.
          const expected = ((k * length) / nElements) ** 2 * (k * depth) ** 2;
          expect(eigenvalue / exact - 1).toBeGreaterThan(0.016 * expected);
          expect(eigenvalue / exact - 1).toBeLessThan(0.025 * expected);
        });
      }
    }
  });
});

describe("rigid bodies", () => {
  it("on springs have the modes of their 3 x 3 matrices", () => {
    // Body with its centre at (a, 0) on springs k, k, q: y and turn couple. Closed form of the two by two problem.
    const [mass, inertia, a, k, q] = [2e-9, 3e-18, 30e-6, 5, 4e-9];
    const body = { mass, centre: [a, 0] as const, aboutX: inertia, aboutY: inertia, aboutZ: inertia };
    const springs = { x: k, y: k, turn: q, z: k, "turn x": q, "turn y": q };
    const network = { junctions: [junctionAt(0, 0, { body, springs })], beams: [] };
    // m y'' + m a t'' + k y = 0, m a y'' + (I + m a^2) t'' + q t = 0
    const b = k * (inertia + mass * a * a) + q * mass;
    const root = Math.sqrt(b * b - 4 * mass * inertia * k * q);
    const pair = [(b - root) / (2 * mass * inertia), (b + root) / (2 * mass * inertia)];
    const expected = { "in plane": [...pair, k / mass], "out of plane": [...pair, q / inertia] };
    for (const family of families) {
      const { modes } = findModes(network, restShape(network), { count: 6, families: [family] });
      const sorted = expected[family].sort((x, y) => x - y);
      expect(modes.length).toBe(3);
      modes.forEach(({ eigenvalue }, i) => {
        expect(Math.abs(eigenvalue / sorted[i]! - 1)).toBeLessThan(1e-12);
      });
      // All the mass is carried by the three modes together.
      const sum = modes.reduce((total, { effectiveMass }) => total + effectiveMass[1] + effectiveMass[2], 0);
      expect(Math.abs(sum / mass - 1)).toBeLessThan(1e-12);
    }
  });

  it("take their inertia with them when they turn", () => {
    // A long body on springs that are alike in every direction: its modes do not know where it points.
    const body = { mass: 1e-9, centre: [20e-6, 5e-6] as const, aboutX: 1e-19, aboutY: 9e-19, aboutZ: 1e-18 };
    const springs = { x: 2, y: 2, turn: 1e-9, z: 3, "turn x": 2e-9, "turn y": 2e-9 };
    const network = { junctions: [junctionAt(0, 0, { body, springs })], beams: [] };
    const rest = restShape(network);
    const straight = findModes(network, rest, { count: 6 }).modes;
    for (const turn of [0.6, 2.5]) {
      const { modes } = findModes(network, { ...rest, motions: Float64Array.of(3e-6, -2e-6, turn) }, { count: 6 });
      modes.forEach((mode, i) => {
        expect(Math.abs(mode.eigenvalue / straight[i]!.eigenvalue - 1)).toBeLessThan(1e-11);
      });
    }
  });

  it("keep their modes apart by shape when the ranks change", () => {
    const onSprings = (x: number, y: number): FrameNetwork => ({
      junctions: [
        junctionAt(0, 0, {
          springs: { x, y, turn: 1, z: 3, "turn x": 1, "turn y": 1 },
          body: { mass: 1e-9, centre: [1e-9, 0], aboutX: 1e-18, aboutY: 1e-18, aboutZ: 1e-18 },
        }),
      ],
      beams: [],
    });
    const modesOf = (network: FrameNetwork) => findModes(network, restShape(network), { count: 3 });
    const { partner, overlap } = matchModes(modesOf(onSprings(1, 2)), modesOf(onSprings(2.5, 2)));
    expect([...partner]).toEqual([1, 0, 2]);
    for (const value of overlap) expect(value).toBeGreaterThan(0.999);
    const few = { ...modesOf(onSprings(1, 2)), modes: [] };
    expect([...matchModes(modesOf(onSprings(1, 2)), few).partner]).toEqual([-1, -1, -1]);
    const other = beamBetween([clamped, []], 2);
    expect(() => matchModes(modesOf(onSprings(1, 2)), modesOf(other))).toThrow(/states of one frame/);
  });

  it("that nothing holds are refused by name", () => {
    const beam = { from: 0, to: 1, start: [0, 0], end: [length, 0], ...section, nElements: 4 } as const;
    const network = {
      junctions: [junctionAt(0, 0, { held: ["x", "y", "turn"] }), junctionAt(length, 0)],
      beams: [straightBeam(beam, material)],
    };
    expect(findModes(network, restShape(network), { count: 1, families: ["in plane"] }).modes.length).toBe(1);
    expect(() => findModes(network, restShape(network), { count: 1 })).toThrow(
      /out of plane: wanted every motion held.*junction "/,
    );
    expect(() => findModes({ ...network, beams: [] }, restShape({ ...network, beams: [] }), { count: 1 })).toThrow(
      /held by nothing/,
    );
    const clampedOnly = { junctions: [junctionAt(0, 0, { held: clamped })], beams: [] };
    expect(() => findModes(clampedOnly, restShape(clampedOnly), { count: 1 })).toThrow(/a mass that can move, found none/);
    const other = restShape({ junctions: [], beams: [] });
    expect(() => findModes(network, other, { count: 1 })).toThrow(/wanted a shape of this frame/);
  });
});
