import { describe, expect, it } from "vitest";
import { type FrameLoad, type FrameNetwork, rectangularSection } from "./frame.ts";
import { createFrameModel, type Equilibrium, type FrameModel, findBlockedForce } from "./model.ts";

interface ChevronShape {
  readonly l: number;
  readonly w: number;
  readonly t: number;
  /** [rad] */
  readonly angle: number;
  readonly E: number;
}

const deg = Math.PI / 180;
const um = 1e-6;
const D1: ChevronShape = { l: 500 * um, w: 8 * um, t: 40 * um, angle: 3 * deg, E: 169e9 };
const D2: ChevronShape = { l: 750 * um, w: 6 * um, t: 30 * um, angle: 2 * deg, E: 169e9 };
const D5: ChevronShape = { l: 205 * um, w: 6 * um, t: 3 * um, angle: 0.1, E: 180e9 };
const D6: ChevronShape = { l: 176 * um, w: 5 * um, t: 20 * um, angle: 5.6 * deg, E: 160e9 };
const B9: ChevronShape = { l: 500 * um, w: 6 * um, t: 20 * um, angle: 0.1, E: 169e9 };

/** Two legs, anchors rigid, apex free to move as a whole: nothing here knows that it stays in the middle. */
function chevron(shape: ChevronShape, nElements = 10): FrameNetwork {
  const half = shape.l * Math.cos(shape.angle);
  const section = rectangularSection(shape.w, shape.t);
  const leg = { section, youngsModulus: shape.E, nElements };
  return {
    junctions: [
      { x: -half, y: 0, fixed: ["x", "y", "rotation"] },
      { x: half, y: 0, fixed: ["x", "y", "rotation"] },
      { x: 0, y: shape.l * Math.sin(shape.angle) },
    ],
    branches: [
      { from: 0, to: 2, ...leg },
      { from: 1, to: 2, ...leg },
    ],
  };
}

const apex = { junction: 2, motion: "y" } as const;
const apexRise = (motions: Float64Array): number => motions[7]!;

function equilibrium(model: FrameModel, load: FrameLoad, options: Parameters<FrameModel["solve"]>[1] = {}): Equilibrium {
  const found = model.solve(load, options);
  if (found.outcome !== "equilibrium") throw new Error(found.reason);
  return found;
}

/** Asserts a relative error. */
function close(found: number, wanted: number, relative: number): void {
  expect(Math.abs(found - wanted) / Math.abs(wanted)).toBeLessThanOrEqual(relative);
}

// U = eps l sin/(sin^2 + r^2 cos^2), k = 2 (E w t/l)(sin^2 + r^2 cos^2), F = 2 E w t eps sin: small-load limit of Gianchandani &
// Najafi 1996 (from memory). The linear frame reproduces it to rounding; the limits below are the printed digits.
describe("chevron, small displacement", () => {
  it.each([
    ["D1", D1, 5.24347, 647.738, 3396.394],
    ["D2", D2, 12.2512, 103.9875, 1273.971],
    ["D6", D6, 0.99835, 1876.693, 1873.592],
  ])("%s", (_, shape, rise, stiffness, force) => {
    const model = createFrameModel(chevron(shape));
    close(apexRise(model.solveLinear({ freeStrains: [6e-4, 6e-4] })) / um, rise, 6e-6);
    close(equilibrium(model, {}, { stiffnessOf: [apex] }).stiffnesses[0]!, stiffness, 1e-6);
    const linear = model.solveLinear({ forces: [{ ...apex, value: force * 1e-6 }] });
    close(apexRise(linear) / um, rise, 6e-6);
  });

  it("does not change with thickness, modulus or number of pairs", () => {
    const rise = (shape: ChevronShape): number =>
      apexRise(createFrameModel(chevron(shape)).solveLinear({ freeStrains: [6e-4, 6e-4] }));
    close(rise({ ...D1, t: 2 * D1.t, E: 70e9 }), rise(D1), 1e-12);
  });
});

const rows: readonly (readonly [string, ChevronShape, number, number, number, number, number, number])[] = [
  ["D1", D1, 3e-6, 100, 2.51172, -1189.56, 17.058, 43.69],
  ["D1", D1, 3e-6, 200, 4.82894, -2087.01, 32.345, 82.32],
  ["D1", D1, 3e-6, 300, 6.98488, -2791.24, 46.269, 117.15],
  ["D1", D1, 3e-6, 500, 10.91279, -3833.22, 71.069, 178.53],
  ["D2", D2, 3e-6, 100, 5.51629, -327.05, 5.182, 30.61],
  ["D2", D2, 3e-6, 200, 10.15349, -514.15, 9.339, 54.74],
  ["D2", D2, 3e-6, 300, 14.21915, -638.21, 12.89, 75.15],
  ["D2", D2, 3e-6, 500, 21.2329, -796.51, 18.88, 109.31],
  ["D5", D5, 13.4e-6, 100, 2.40457, -284.04, 3.248, 196.2],
  ["D5", D5, 13.4e-6, 300, 6.58901, -638.85, 8.642, 515.4],
];

// Exact plane rod, extensible, by shooting (computed, 1e-11). Ten elements a leg: 6e-6 in the rise, 1.2e-5 in the force, 5e-5 in the
// root moment, the rest is printed digits.
describe("chevron, large displacement against the exact rod", () => {
  it.each(rows)("%s, rise %#", (_name, shape, alpha, rise, wanted, axial, moment, stress) => {
    const found = equilibrium(createFrameModel(chevron(shape)), { freeStrains: [alpha * rise, alpha * rise] });
    close(apexRise(found.motions) / um, wanted, 1e-5);
    close(-found.reactions[0]! * 1e6, axial, 2e-5);
    close(Math.abs(found.branches[0]!.moments[0]!) * 1e9, moment, 6e-5);
    close(found.branches[0]!.peakStress / 1e6, stress, 3e-4);
    expect(found.nNegative).toBe(0);
    // The frame is not told that it is symmetric.
    expect(Math.abs(found.motions[6]!)).toBeLessThan(1e-9 * found.motions[7]!);
    expect(found.reactions[0]! + found.reactions[3]!).toBeCloseTo(0, 12);
    expect(found.reactions[1]! + found.reactions[4]!).toBeCloseTo(0, 12);
  });

  it("converges with the number of elements at the fourth order", () => {
    const rise = (n: number): number =>
      apexRise(equilibrium(createFrameModel(chevron(D2, n)), { freeStrains: [9e-4, 9e-4] }).motions);
    const exact = rise(32);
    const order = Math.log2((rise(4) - exact) / (rise(8) - exact));
    expect(order).toBeGreaterThan(3.5);
    expect(order).toBeLessThan(4.5);
  });

  it("finds the mirrored answer of the mirrored frame", () => {
    const network = chevron(D1);
    const mirrored: FrameNetwork = {
      ...network,
      junctions: network.junctions.map((junction) => ({ ...junction, y: -junction.y })),
    };
    const load = { freeStrains: [6e-4, 5e-4] };
    const up = equilibrium(createFrameModel(network), load).motions;
    const down = equilibrium(createFrameModel(mirrored), load).motions;
    close(down[7]!, -up[7]!, 1e-9);
    close(down[6]!, up[6]!, 1e-9);
  });

  it("reaches the same state from a neighbouring one", () => {
    const model = createFrameModel(chevron(D1));
    const near = equilibrium(model, { freeStrains: [5.5e-4, 5.5e-4] });
    const cold = equilibrium(model, { freeStrains: [6e-4, 6e-4] });
    const warm = equilibrium(model, { freeStrains: [6e-4, 6e-4] }, { start: near.state });
    close(apexRise(warm.motions), apexRise(cold.motions), 1e-8);
    expect(warm.passes).toBeLessThan(cold.passes);
  });
});

// Exact rod (computed): residual tension pulls the apex back; five printed digits.
describe("residual strain", () => {
  it.each([
    [D1, -73e-6, -0.64497],
    [D1, -40e-6, -0.35166],
    [D2, -73e-6, -1.53599],
  ])("case %#", (shape, strain, wanted) => {
    const found = equilibrium(createFrameModel(chevron(shape)), { freeStrains: [strain, strain] });
    close(apexRise(found.motions) / um, wanted, 1.5e-5);
  });

  it("shifts the stroke", () => {
    const model = createFrameModel(chevron(D1));
    const rest = apexRise(equilibrium(model, { freeStrains: [-73e-6, -73e-6] }).motions);
    const hot = apexRise(equilibrium(model, { freeStrains: [527e-6, 527e-6] }).motions);
    close((hot - rest) / um, 4.92604, 1e-5);
  });

  // Gianchandani & Najafi 1996 (abstract read): sensor beams 100 um long each; apex values by the exact rod (computed).
  it.each([
    [6e-5, 0.10277],
    [-6e-5, -0.10427],
    [3e-4, 0.49918],
    [-3e-4, -0.53624],
  ])("bent-beam strain sensor at %f", (strain, wanted) => {
    const shape = { l: 100 * um, w: 2 * um, t: 1.5 * um, angle: 0.05, E: 167e9 };
    close(apexRise(equilibrium(createFrameModel(chevron(shape)), { freeStrains: [strain, strain] }).motions) / um, wanted, 7e-5);
  });
});

// Exact Euler-Bernoulli beam by shooting (computed, eight digits).
describe("chevron with apex loads", () => {
  const model = createFrameModel(chevron(B9));
  const hot = { freeStrains: [7.8e-4, 7.8e-4] };
  it.each([
    [100, 1.2655417, -0.071478708],
    [300, 3.6953346, -0.19742446],
    [500, 6.0059337, -0.30513763],
  ])("free at %d K", (rise, wanted, axial) => {
    const found = equilibrium(model, { freeStrains: [2.6e-6 * rise, 2.6e-6 * rise] });
    close(apexRise(found.motions) / um, wanted, 2e-6);
    close(-found.reactions[0]! * 1e3, axial, 4e-6);
  });
  // The rise left is a small difference under the largest load.
  it.each([
    [1e-3, 2.6216437, 2e-6],
    [2e-3, 1.4709429, 2e-6],
    [3e-3, 0.2156687, 6e-5],
  ])("pressed with %f N", (force, wanted, tolerance) => {
    const found = equilibrium(model, { ...hot, forces: [{ ...apex, value: -force }] });
    close(apexRise(found.motions) / um, wanted, tolerance);
  });
  // Both states are unstable (critical strain 4.7e-4 of the straight clamped leg): the rod's force is right, but nobody gets it.
  it.each([
    [0, 3.15840984],
    [2e-6, 1.5495106],
  ])("held at %f m", (value, wanted) => {
    const guided = [
      { ...apex, value },
      { junction: 2, motion: "x", value: 0 },
      { junction: 2, motion: "rotation", value: 0 },
    ] as const;
    const found = equilibrium(model, { ...hot, held: guided });
    close(-found.reactions[7]! * 1e3, wanted, 5e-5);
    expect(found.nNegative > 0).toBe(value === 0);
    expect(findBlockedForce(model, hot, { ...apex, value }).outcome).toBe("none");
  });
  it.each([
    [3e-6, 2.712704],
    [-3e-6, -2.151789],
  ])("moved cold by %f m", (value, wanted) => {
    close(equilibrium(model, { held: [{ ...apex, value }] }).reactions[7]! * 1e3, wanted, 5e-5);
  });
  it("has the small-motion stiffness", () => {
    close(equilibrium(model, {}, { stiffnessOf: [apex] }).stiffnesses[0]!, 820.06446, 1e-8);
  });
});

// At zero rise the legs are straight: the blocked force is 2 E w t eps sin exactly while the straight leg is stable,
// eps < pi^2 w^2/(3 l^2) (clamped column).
describe("blocked force", () => {
  it.each([
    ["D1", D1],
    ["D2", D2],
    ["D6", D6],
  ])("%s", (_name, shape) => {
    const { junctions, branches } = chevron(shape);
    const guided = {
      junctions: junctions.map((junction, j) => (j === 2 ? { ...junction, fixed: ["x", "rotation"] as const } : junction)),
      branches,
    };
    const model = createFrameModel(guided);
    const critical = (Math.PI ** 2 * shape.w ** 2) / (3 * shape.l ** 2);
    const below = findBlockedForce(model, { freeStrains: [0.98 * critical, 0.98 * critical] }, apex);
    if (below.outcome === "none") throw new Error(below.reason);
    // Ten elements a leg: 2e-7 at rest, the strained length changes the angle by eps.
    close(below.force, 2 * shape.E * shape.w * shape.t * 0.98 * critical * Math.sin(shape.angle), 1e-6);
    const above = findBlockedForce(model, { freeStrains: [1.02 * critical, 1.02 * critical] }, apex);
    expect(above.outcome).toBe("none");
    // An apex free to turn gives way earlier: the two legs buckle as one clamped-pinned column each (20.19 instead of 39.48).
    const free = createFrameModel(chevron(shape));
    const early = (critical * 20.1907) / 39.4784;
    expect(findBlockedForce(free, { freeStrains: [0.97 * early, 0.97 * early] }, apex).outcome).toBe("blocked");
    expect(findBlockedForce(free, { freeStrains: [1.03 * early, 1.03 * early] }, apex).outcome).toBe("none");
  });
});

/** A straight beam of two halves whose middle stands off by `imperfection`. */
function straightBeam(options: {
  length: number;
  h: number;
  imperfection: number;
  ends: readonly ("x" | "y" | "rotation")[][];
}): FrameNetwork {
  const { length, h, imperfection, ends } = options;
  const half = { section: rectangularSection(h, 10 * um), youngsModulus: 169e9, nElements: 8 };
  return {
    junctions: [
      { x: 0, y: 0, fixed: ends[0]! },
      { x: length / 2, y: imperfection },
      { x: length, y: 0, fixed: ends[1]! },
    ],
    branches: [
      { from: 0, to: 1, ...half },
      { from: 1, to: 2, ...half },
    ],
  };
}

// dT_cr = pi^2 h^2/(3 alpha L^2); A = (2 L/pi) sqrt(eps - eps_cr) (extensible, linearised: about -1 % at four times critical).
describe("thermal buckling of a straight clamped beam", () => {
  const clamped = ["x", "y", "rotation"] as const;
  it.each([
    [500 * um, 8 * um, 3e-6 * 280.735],
    [200 * um, 2 * um, 2.9e-6 * 113.444],
    [400 * um, 2 * um, 8.22467e-5],
  ])("critical strain by inertia, case %#", (length, h, critical) => {
    const model = createFrameModel(straightBeam({ length, h, imperfection: 0, ends: [[...clamped], [...clamped]] }));
    const negative = (factor: number): number =>
      equilibrium(model, { freeStrains: [factor * critical, factor * critical] }).nNegative;
    // Sixteen cubic elements: the buckling strain is 1e-5 high; six printed digits.
    expect(negative(0.9999)).toBe(0);
    expect(negative(1.0001)).toBe(1);
  });
  it.each([
    [500 * um, 8 * um, 3e-6 * 280.735, 2, 9.2376, 2e-3],
    [500 * um, 8 * um, 3e-6 * 280.735, 4, 16.0, 1e-2],
    [200 * um, 2 * um, 2.9e-6 * 113.444, 2, 2.3094, 2e-3],
  ])("amplitude with a small imperfection, case %#", (length, h, critical, factor, amplitude, tolerance) => {
    const model = createFrameModel(straightBeam({ length, h, imperfection: 1e-5 * h, ends: [[...clamped], [...clamped]] }));
    const found = equilibrium(model, { freeStrains: [factor * critical, factor * critical] });
    close(found.motions[4]! / um, amplitude, tolerance);
    expect(found.nNegative).toBe(0);
  });
});

// Euler columns (closed form). 16 elements: 1e-5.
describe("Euler columns", () => {
  const EI = (169e9 * 10 * um * (4 * um) ** 3) / 12;
  it.each([
    ["cantilever", [["x", "y", "rotation"], []], 2.4674011],
    ["pinned", [["x", "y"], ["y"]], 9.8696044],
    ["clamped-pinned", [["x", "y", "rotation"], ["y"]], 20.1907285564],
    [
      "clamped-clamped",
      [
        ["x", "y", "rotation"],
        ["y", "rotation"],
      ],
      39.4784176,
    ],
  ] as const)("%s", (_name, ends, wanted) => {
    const length = 1000 * um;
    const model = createFrameModel(straightBeam({ length, h: 4 * um, imperfection: 0, ends: ends.map((fixed) => [...fixed]) }));
    const critical = (wanted * EI) / length ** 2;
    const negative = (factor: number): number =>
      equilibrium(model, { forces: [{ junction: 2, motion: "x", value: -factor * critical }] }).nNegative;
    // The column shortens by P/EA = 1e-5 to 5e-5 before it buckles.
    expect(negative(0.9998)).toBe(0);
    expect(negative(1.0003)).toBe(1);
  });
});

/** Cantilever along x of 20 elements, slenderness 1000. */
function cantilever(nElements: number): FrameNetwork {
  return {
    junctions: [
      { x: 0, y: 0, fixed: ["x", "y", "rotation"] },
      { x: 1, y: 0 },
    ],
    branches: [{ from: 0, to: 1, section: rectangularSection(1e-3, 1e-3), youngsModulus: 1e11, nElements }],
  };
}
const cantileverEI = (1e11 * 1e-12) / 12;

describe("cantilever, any rotation", () => {
  // Mattiasson 1981 (from memory; values by elliptic integrals).
  it.each([
    [0.2, 0.0026465483, 0.066364482, 0.099636163],
    [1, 0.056433236, 0.30172077, 0.46135195],
    [5, 0.38762836, 0.71379152, 1.2153681],
    [10, 0.5549956, 0.81060902, 1.4302855],
  ])("transverse dead load %f", (alpha, u, w, theta) => {
    const force = { junction: 1, motion: "y", value: alpha * cantileverEI } as const;
    const found = equilibrium(createFrameModel(cantilever(20)), { forces: [force] }, { largestMove: 0.05 });
    // Twenty elements; the beam stretches by 1e-6.
    close(-found.motions[3]!, u, 2e-4);
    close(found.motions[4]!, w, 2e-4);
    close(found.motions[5]!, theta, 2e-4);
  });
  // Classical: theta = M L/(E I), a circular arc.
  it("rolls up into a circle under an end moment", () => {
    const moment = { junction: 1, motion: "rotation", value: 2 * Math.PI * cantileverEI } as const;
    const found = equilibrium(createFrameModel(cantilever(20)), { forces: [moment] }, { largestMove: 0.1 });
    close(found.motions[5]!, 2 * Math.PI, 1e-3);
    expect(Math.abs(found.motions[3]! + 1)).toBeLessThan(2e-3);
    expect(Math.abs(found.motions[4]!)).toBeLessThan(2e-3);
  });
});

describe("traps", () => {
  // Long flat legs: a Newton from the linear answer lands on the snapped-through shape (apex far below) without complaint.
  it("stays on the branch that starts cold", () => {
    const shape = { l: 800 * um, w: 4 * um, t: 40 * um, angle: 1.5 * deg, E: 169e9 };
    const found = equilibrium(createFrameModel(chevron(shape)), { freeStrains: [4e-4, 4e-4] });
    expect(apexRise(found.motions)).toBeGreaterThan(0);
    expect(found.nNegative).toBe(0);
  });
  it("says so when a load snaps the frame through", () => {
    const model = createFrameModel(chevron({ ...D1, w: 2 * um, angle: 2 * deg }));
    const found = model.solve({ forces: [{ ...apex, value: -10e-3 }] });
    expect(found.outcome).toBe("no equilibrium");
  });
  it("leaves a frame without load exactly where it is", () => {
    const found = equilibrium(createFrameModel(chevron(D1)), {});
    expect(found.motions.every((motion) => motion === 0)).toBe(true);
  });
});

describe("rigid offsets and springs", () => {
  it("gives the same answer with a rigid shuttle as with nearly rigid links", () => {
    const leg = { section: rectangularSection(8 * um, 40 * um), youngsModulus: 169e9, nElements: 8 };
    const link = { section: rectangularSection(30 * um, 40 * um), youngsModulus: 169e12, nElements: 1 };
    const height = 26 * um;
    const anchors = [
      { x: 0, y: 0, fixed: ["x", "y", "rotation"] },
      { x: 1030 * um, y: 0, fixed: ["x", "y", "rotation"] },
    ] as const;
    const hub = { x: 515 * um, y: height, springs: { y: 50 } };
    const rigid = createFrameModel({
      junctions: [...anchors, hub],
      branches: [
        { from: 0, to: 2, offsetTo: [-15 * um, 0], ...leg },
        { from: 1, to: 2, offsetTo: [15 * um, 0], ...leg },
      ],
    });
    const linked = createFrameModel({
      junctions: [...anchors, hub, { x: 500 * um, y: height }, { x: 530 * um, y: height }],
      branches: [
        { from: 0, to: 3, ...leg },
        { from: 1, to: 4, ...leg },
        { from: 3, to: 2, ...link },
        { from: 4, to: 2, ...link },
      ],
    });
    // Unequal strains make the hub turn.
    const a = equilibrium(rigid, { freeStrains: [6e-4, 3e-4] }, { stiffnessOf: [apex] });
    const b = equilibrium(linked, { freeStrains: [6e-4, 3e-4, 0, 0] }, { stiffnessOf: [apex] });
    for (const i of [6, 7, 8]) close(a.motions[i]!, b.motions[i]!, 1e-5);
    close(a.stiffnesses[0]!, b.stiffnesses[0]!, 1e-5);
  });
});
