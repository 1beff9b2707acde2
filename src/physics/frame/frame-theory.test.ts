import { describe, expect, it } from "vitest";
import { findBeamForces, stiffnessAt } from "./answers.ts";
import { findBlockedForce } from "./blocked-force.ts";
import { createFrameModel } from "./model.ts";
import {
  apex,
  apexRise,
  at,
  B9,
  type ChevronShape,
  cantilever,
  cantileverEI,
  chevron,
  clamped,
  D1,
  D2,
  D5,
  D6,
  deg,
  equilibrium,
  errorOf,
  frameOf,
  halvedBeam,
  um,
} from "./sample-frames.ts";

/** Asserts a relative error. */
function close(found: number, wanted: number, relative: number): void {
  expect(errorOf(found, wanted)).toBeLessThanOrEqual(relative);
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
    close(apexRise(model.solveLinear({ strains: [6e-4, 6e-4] })) / um, rise, 6e-6);
    close(stiffnessAt(model, equilibrium(model, {}), apex), stiffness, 1e-6);
    close(apexRise(model.solveLinear({ forces: [{ ...apex, value: force * 1e-6 }] })) / um, rise, 6e-6);
  });

  it("does not change with thickness and modulus", () => {
    const rise = (shape: ChevronShape): number =>
      apexRise(createFrameModel(chevron(shape)).solveLinear({ strains: [6e-4, 6e-4] }));
    // rounding, amplified by the ratio of stretching to bending stiffness
    close(rise({ ...D1, t: 2 * D1.t, E: 70e9 }), rise(D1), 1e-11);
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
    const model = createFrameModel(chevron(shape));
    const found = equilibrium(model, { strains: [alpha * rise, alpha * rise] });
    const [leg] = findBeamForces(model, found);
    close(apexRise(found.motions) / um, wanted, 1e-5);
    close(-found.reactions[0]! * 1e6, axial, 2e-5);
    close(Math.abs(leg!.moments[0]!) * 1e9, moment, 6e-5);
    close(leg!.peakStress / 1e6, stress, 3e-4);
    expect(found.nNegative).toBe(0);
    // The frame is not told that it is symmetric.
    expect(Math.abs(found.motions[6]!)).toBeLessThan(1e-9 * found.motions[7]!);
    expect(Math.abs(found.reactions[0]! + found.reactions[3]!)).toBeLessThan(1e-9 * Math.abs(found.reactions[0]!));
    expect(Math.abs(found.reactions[1]! + found.reactions[4]!)).toBeLessThan(1e-9 * Math.abs(found.reactions[0]!));
  });

  // O9b: residual tension, then heat from there.
  it.each([
    ["D1", D1, -73e-6, -0.64497],
    ["D1", D1, -40e-6, -0.35166],
    ["D2", D2, -73e-6, -1.53599],
  ])("%s under residual tension %#", (_name, shape, strain, wanted) => {
    const model = createFrameModel(chevron(shape));
    const rest = equilibrium(model, { strains: [strain, strain] });
    close(apexRise(rest.motions) / um, wanted, 1e-5);
  });
  it("strokes from a state under tension", () => {
    const model = createFrameModel(chevron(D1));
    const rest = equilibrium(model, { strains: [-73e-6, -73e-6] });
    const hot = equilibrium(model, { strains: [527e-6, 527e-6] }, { start: rest });
    close((apexRise(hot.motions) - apexRise(rest.motions)) / um, 4.92604, 1e-5);
  });

  it("converges with the number of elements at the fourth order", () => {
    const rise = (n: number): number =>
      apexRise(equilibrium(createFrameModel(chevron(D2, n)), { strains: [9e-4, 9e-4] }).motions);
    const exact = rise(32);
    const order = Math.log2((rise(4) - exact) / (rise(8) - exact));
    expect(order).toBeGreaterThan(3.5);
    expect(order).toBeLessThan(4.5);
    // and the size of the error
    expect(Math.abs(rise(8) / exact - 1)).toBeLessThan(2e-5);
  });
});

// Exact Euler-Bernoulli beam by shooting (computed, eight digits); linear form of Que, Park & Gianchandani 2001 (from memory).
describe("chevron with apex loads", () => {
  const model = createFrameModel(chevron(B9));
  const hot = { strains: [7.8e-4, 7.8e-4] };
  it.each([
    [100, 1.2655417, -0.071478708],
    [300, 3.6953346, -0.19742446],
    [500, 6.0059337, -0.30513763],
  ])("free at %d K", (rise, wanted, axial) => {
    const found = equilibrium(model, { strains: [2.6e-6 * rise, 2.6e-6 * rise] });
    close(apexRise(found.motions) / um, wanted, 2e-6);
    close(-found.reactions[0]! * 1e3, axial, 4e-6);
  });
  // The rise left is a small difference under the largest load.
  it.each([
    [1e-3, 2.6216437, 2e-6],
    [2e-3, 1.4709429, 2e-6],
    [3e-3, 0.2156687, 6e-5],
  ])("pressed with %f N", (force, wanted, tolerance) => {
    const found = equilibrium(model, { ...hot, forces: [{ ...apex, value: -force }] }, { allowUnstable: true });
    close(apexRise(found.motions) / um, wanted, tolerance);
  });
  // Both states are unstable (critical strain 4.7e-4 of the straight clamped leg): the rod's force is right, but nobody gets it.
  it.each([
    [0, 3.15840984],
    [2e-6, 1.5495106],
  ])("held at %f m", (value, wanted) => {
    const held = [
      { ...apex, value },
      { junction: 2, motion: "x", value: 0 },
      { junction: 2, motion: "turn", value: 0 },
    ] as const;
    const found = equilibrium(model, { ...hot, held }, { allowUnstable: true });
    close(-found.reactions[7]! * 1e3, wanted, 5e-5);
    expect(found.nNegative > 0).toBe(value === 0);
    const alone = findBlockedForce(model, hot, { held: [{ ...apex, value }] });
    expect(alone.forces[0]).toBeNaN();
    expect(alone.reason).toContain("unstable");
  });
  it.each([
    [3e-6, 2.712704],
    [-3e-6, -2.151789],
  ])("moved cold by %f m", (value, wanted) => {
    const guide = (["x", "turn"] as const).map((motion) => ({ junction: 2, motion, value: 0 }));
    const found = equilibrium(model, { held: [{ ...apex, value }, ...guide] }, { allowUnstable: true });
    close(found.reactions[7]! * 1e3, wanted, 5e-5);
    // 3 um press a leg by 6e-4 of its length, beyond its critical strain of 4.7e-4
    expect(found.nNegative > 0).toBe(value < 0);
  });
  it("has the small-motion stiffness", () => {
    close(stiffnessAt(model, equilibrium(model, {}), apex), 820.06446, 1e-8);
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
    const { junctions, beams } = chevron(shape);
    const guided = {
      junctions: junctions.map((junction, j) => (j === 2 ? { ...junction, held: ["x", "turn"] as const } : junction)),
      beams,
    };
    const model = createFrameModel(guided);
    const held = [{ ...apex, value: 0 }];
    const critical = (Math.PI ** 2 * shape.w ** 2) / (3 * shape.l ** 2);
    const below = findBlockedForce(model, { strains: [0.98 * critical, 0.98 * critical] }, { held });
    // Ten elements a leg: 2e-7 at rest, the strained length changes the angle by eps.
    close(below.forces[0]!, 2 * shape.E * shape.w * shape.t * 0.98 * critical * Math.sin(shape.angle), 1e-6);
    expect(findBlockedForce(model, { strains: [1.02 * critical, 1.02 * critical] }, { held }).forces[0]).toBeNaN();
    // An apex free to turn gives way earlier: the two legs buckle as one clamped-pinned column each (20.19 instead of 39.48).
    const free = createFrameModel(chevron(shape));
    const early = (critical * 20.1907285564) / 39.4784176;
    expect(findBlockedForce(free, { strains: [0.97 * early, 0.97 * early] }, { held }).reason).toBeUndefined();
    expect(findBlockedForce(free, { strains: [1.03 * early, 1.03 * early] }, { held }).forces[0]).toBeNaN();
  });
});

// dT_cr = pi^2 h^2/(3 alpha L^2); A = (2 L/pi) sqrt(eps - eps_cr) (extensible, linearised: about -1 % at four times critical).
describe("thermal buckling of a straight clamped beam", () => {
  it.each([
    [500 * um, 8 * um, 3e-6 * 280.735],
    [200 * um, 2 * um, 2.9e-6 * 113.444],
    [400 * um, 2 * um, 8.22467e-5],
  ])("critical strain by inertia, case %#", (length, h, critical) => {
    const model = createFrameModel(halvedBeam({ length, h, imperfection: 0, ends: [clamped, clamped] }));
    const negative = (factor: number): number =>
      equilibrium(model, { strains: [factor * critical, factor * critical] }, { allowUnstable: true }).nNegative;
    // Sixteen cubic elements: the buckling strain is 1e-5 high; six printed digits.
    expect(negative(0.9999)).toBe(0);
    expect(negative(1.0001)).toBe(1);
    const refused = model.solve({ strains: [1.01 * critical, 1.01 * critical] });
    expect(refused.outcome === "no equilibrium" && refused.reason).toContain("buckles");
    expect(refused.outcome === "no equilibrium" && refused.reachedFactor).toBeCloseTo(1 / 1.01, 3);
  });
  it.each([
    [500 * um, 8 * um, 3e-6 * 280.735, 2, 9.2376, 2e-3],
    [500 * um, 8 * um, 3e-6 * 280.735, 4, 16.0, 1e-2],
    [200 * um, 2 * um, 2.9e-6 * 113.444, 2, 2.3094, 2e-3],
    // B8
    [400 * um, 2 * um, 8.22467e-5, 5e-4 / 8.22467e-5, 5.204752, 5e-3],
  ])("amplitude with a small imperfection, case %#", (length, h, critical, factor, amplitude, tolerance) => {
    const model = createFrameModel(halvedBeam({ length, h, imperfection: 1e-5 * h, ends: [clamped, clamped] }));
    const found = equilibrium(model, { strains: [factor * critical, factor * critical] });
    close(found.motions[4]! / um, amplitude, tolerance);
    expect(found.nNegative).toBe(0);
  });
});

// Euler columns (closed form). 16 elements: 1e-5.
describe("Euler columns", () => {
  const EI = (169e9 * 10 * um * (4 * um) ** 3) / 12;
  it.each([
    ["cantilever", [clamped, []], 2.4674011],
    ["pinned", [["x", "y"], ["y"]], 9.8696044],
    ["clamped-pinned", [clamped, ["y"]], 20.1907285564],
    ["clamped-clamped", [clamped, ["y", "turn"]], 39.4784176],
  ] as const)("%s", (_name, ends, wanted) => {
    const length = 1000 * um;
    const model = createFrameModel(halvedBeam({ length, h: 4 * um, imperfection: 0, ends }));
    const critical = (wanted * EI) / length ** 2;
    const negative = (factor: number): number => {
      const forces = [{ junction: 2, motion: "x" as const, value: -factor * critical }];
      return equilibrium(model, { forces }, { allowUnstable: true }).nNegative;
    };
    // The column shortens by P/EA = 1e-5 to 5e-5 before it buckles.
    expect(negative(0.9998)).toBe(0);
    expect(negative(1.0003)).toBe(1);
  });
});

// P L^3/(E I t) at w0/t (shallow beam, exact by elliptic integrals, computed; linear theory 192 w0/t).
describe("clamped beam pressed in its middle, stretching", () => {
  it.each([
    [0.25, 50.156556],
    [0.5, 113.172385],
    [1, 327.087599],
    [2, 1413.795894],
    [3, 3892.010056],
  ])("%f thicknesses deep", (depth, wanted) => {
    const [length, h] = [2000 * um, 2 * um];
    const model = createFrameModel(halvedBeam({ length, h, imperfection: 0, ends: [clamped, clamped], nElements: 24 }));
    const found = equilibrium(model, { held: [{ junction: 1, motion: "y", value: depth * h }] });
    const EI = (169e9 * 10 * um * h ** 3) / 12;
    // a thousand times as long as thick; 24 elements a half follow the tension's boundary layer
    close(found.reactions[4]! * (length ** 3 / (EI * h)), wanted, 1e-4);
  });
});

describe("cantilever, any rotation", () => {
  // Mattiasson 1981 (from memory; values by elliptic integrals).
  it.each([
    [0.2, 0.0026465483, 0.066364482, 0.099636163],
    [0.5, 0.015918962, 0.16214358, 0.24453365],
    [1, 0.056433236, 0.30172077, 0.46135195],
    [2, 0.16064172, 0.49345748, 0.78174983],
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
  // Classical: theta = M L/(E I), a circular arc. The element's shortening by bowing is right to t^4/120, t = pi/20.
  it.each([
    [0.5, 2 / Math.PI, 2 / Math.PI],
    [1, 0, 2 / Math.PI],
    [2, 0, 0],
  ])("rolls up under an end moment of %f pi", (part, x, y) => {
    const moment = { junction: 1, motion: "turn", value: part * Math.PI * cantileverEI } as const;
    const found = equilibrium(createFrameModel(cantilever(20)), { forces: [moment] }, { largestMove: 0.1 });
    close(found.motions[5]!, part * Math.PI, 1e-5);
    expect(Math.abs(found.motions[3]! + 1 - x)).toBeLessThan(1e-5);
    expect(Math.abs(found.motions[4]! - y)).toBeLessThan(1e-5);
  });
  it("says how far it bends its elements", () => {
    const moment = { junction: 1, motion: "turn", value: 2 * Math.PI * cantileverEI } as const;
    const { extent } = equilibrium(createFrameModel(cantilever(20)), { forces: [moment] }, { largestMove: 0.1 });
    // a circle of twenty chords: each end turns by pi/20 against its chord; the fibre is half a width from the axis of radius 1/(2 pi)
    close(extent.bend, Math.PI / 20, 1e-4);
    close(extent.strain, 2 * Math.PI * 0.5e-3, 1e-4);
  });
  // Tip under its own weight, small: q L^4/(8 EI), slope q L^3/(6 EI), root moment q L^2/2 (closed form): consistent nodal loads make
  // the nodes of a linear beam exact. The load is so small that the sag is 1e-4 of the length: second order 1e-8.
  it("sags under its own weight", () => {
    const { junctions, beams } = cantilever(3);
    const model = createFrameModel({ junctions, beams: beams.map((beam) => ({ ...beam, density: 1000 })) });
    const line = 1e-3;
    const g = (8e-4 * cantileverEI) / line;
    const found = equilibrium(model, { acceleration: [0, g] });
    close(found.motions[4]!, -1e-4, 1e-7);
    close(found.motions[5]!, -8e-4 / 6, 1e-7);
    close(found.reactions[1]!, line * g, 1e-9);
    close(found.reactions[2]!, (line * g) / 2, 1e-7);
  });
});

// Closed forms, E 160 GPa, t = w = 2 um, L = 200 um: 12 EI/L^3 and 24 EI/L^3 for the folded flexure with a rigid truss.
describe("guided and folded beams (C1)", () => {
  const size = { width: 2 * um, thickness: 2 * um, youngsModulus: 160e9, nElements: 3 };
  const L = 200 * um;
  it("clamped-guided", () => {
    const model = createFrameModel(frameOf([at("a", 0, 0, clamped), at("b", L, 0, ["x", "turn"])], [[0, 1, size]]));
    close(stiffnessAt(model, equilibrium(model, {}), { junction: 1, motion: "y" }), 0.32, 1e-8);
  });
  it("folded, eight beams", () => {
    const truss = { ...size, width: 2e4 * um, nElements: 1 };
    const junctions = [at("mass", 0, 0, ["turn"])];
    const beams: Parameters<typeof frameOf>[1][number][] = [];
    // two trusses left and right of the mass, each with two outer beams to anchors and two inner ones to the mass
    for (const side of [-1, 1]) {
      const first = junctions.length;
      const hub = at("truss", side * L, 0);
      const places = [-60, -20, 20, 60].map((y) => y * um);
      junctions.push(hub, ...places.map((y) => at("truss", side * L, y)));
      places.forEach((_, i) => {
        beams.push([first, first + 1 + i, truss]);
      });
      places.forEach((y, i) => {
        const isOuter = i === 0 || i === 3;
        junctions.push(isOuter ? at("anchor", 0, y, clamped) : at("arm", 0, y));
        beams.push([first + 1 + i, junctions.length - 1, size]);
        if (!isOuter) beams.push([0, junctions.length - 1, truss]);
      });
    }
    const model = createFrameModel(frameOf(junctions, beams));
    // the truss is 1e4 times as wide, 1e12 times as stiff
    close(stiffnessAt(model, equilibrium(model, {}), { junction: 0, motion: "y" }), 0.64, 1e-6);
  });
});

// Fedder, PhD thesis, Berkeley 1994 (from memory): bending only 1.1561290 and 11.984516; with axial stretch, per leg, 0.28896899 and
// 2.9933082 (closed form by Castigliano).
describe("crab-leg flexure (C2)", () => {
  it("one leg with its mass guided", () => {
    const size = { thickness: 2 * um, youngsModulus: 160e9, nElements: 2 };
    const network = frameOf(
      [at("anchor", 0, 0, clamped), at("knee", 0, 100 * um), at("mass", 200 * um, 100 * um, ["turn"])],
      [
        [0, 1, { ...size, width: 3 * um }],
        [1, 2, { ...size, width: 2 * um }],
      ],
    );
    // Four legs in mirror symmetry: the mass moves along one axis, the opposite legs hold the other.
    const stiffness = (motion: "x" | "y", s: number): number => {
      const other = motion === "x" ? ("y" as const) : ("x" as const);
      const model = createFrameModel({
        junctions: network.junctions.map((j, i) => (i === 2 ? { ...j, held: ["turn", other] as const } : j)),
        beams: network.beams,
      });
      // a modulus apart from bending: the same bending stiffness of a beam s times thinner and s^3 stiffer
      const slim = model.network.beams.map((beam) => ({
        ...beam,
        widths: beam.widths.map((w) => w / s),
        youngsModulus: beam.youngsModulus * s ** 3,
      }));
      const scaled = createFrameModel({ junctions: model.network.junctions, beams: slim }, { like: model });
      return stiffnessAt(scaled, equilibrium(scaled, {}), { junction: 2, motion });
    };
    close(stiffness("y", 1), 0.28896899, 2e-8);
    close(stiffness("x", 1), 2.9933082, 2e-8);
    // bending only: stretch is a thousand squared stiffer
    close(4 * stiffness("y", 1000), 1.156129, 3e-8);
    close(4 * stiffness("x", 1000), 11.984516, 3e-8);
  });
});

// O12: a frame of four members, exact Euler-Bernoulli values (computed, seven digits).
describe("hot and cold arm", () => {
  it("U1", () => {
    const d = (2 / 2 + 2 + 14 / 2) * um;
    const size = { thickness: 2 * um, youngsModulus: 160e9, nElements: 4 };
    const network = frameOf(
      [at("A", 0, 0, clamped), at("B", 240 * um, 0), at("C", 240 * um, d), at("D", 40 * um, d), at("G", 0, d, clamped)],
      [
        [0, 1, { ...size, width: 2 * um }],
        [1, 2, { ...size, width: 2 * um }],
        [2, 3, { ...size, width: 14 * um }],
        [3, 4, { ...size, width: 2 * um }],
      ],
    );
    const model = createFrameModel(network);
    const load = { strains: [1.2e-3, 1.2e-3, 1.5e-4, 1.5e-4] };
    const linear = model.solveLinear(load);
    close(linear[7]! / um, 4.685177, 2e-7);
    close(linear[4]! / um, 4.673172, 2e-7);
    close(linear[6]! / um, 0.037765, 2e-5);
    const tip = { junction: 2, motion: "y" } as const;
    const k = stiffnessAt(model, equilibrium(model, {}), tip);
    close(k, 1.252743, 5e-7);
    close((k * linear[7]!) / um, 5.869324, 5e-7);
  });
});

// O13: two primary chevrons push the two ends of a secondary one (Que et al. 2001 layout, from memory); linear frame, computed.
describe("cascaded chevron", () => {
  it.each([
    [0, 1.427465, 13.349529],
    [3e-4, 1.340612, 13.665911],
  ])("K1, secondary strain %f", (strain2, primary, output) => {
    const th1 = 3 * deg;
    const th2 = 6 * deg;
    const size = { thickness: 40 * um, youngsModulus: 169e9, nElements: 4 };
    const c1 = 500 * um * Math.cos(th1);
    const s1 = 500 * um * Math.sin(th1);
    const c2 = 400 * um * Math.cos(th2);
    const s2 = 400 * um * Math.sin(th2);
    // the left primary pushes its apex to the right; the output stands on the mirror line
    const network = frameOf(
      [at("upper", -s1, c1, clamped), at("lower", -s1, -c1, clamped), at("primary", 0, 0), at("output", c2, s2, ["x", "turn"])],
      [
        [0, 2, { ...size, width: 8 * um }],
        [1, 2, { ...size, width: 8 * um }],
        [2, 3, { ...size, width: 6 * um }],
      ],
    );
    const linear = createFrameModel(network).solveLinear({ strains: [6e-4, 6e-4, strain2] });
    close(linear[6]! / um, primary, 5e-7);
    close(linear[10]! / um, output, 1e-7);
  });
});
