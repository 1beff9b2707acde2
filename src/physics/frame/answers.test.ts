import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findBeamForces, flexibilityAt, motionAt, shapeOf, stiffnessAt } from "./answers.ts";
import { createFrameModel } from "./model.ts";
import type { FrameLoad, FrameNetwork } from "./network.ts";
import { at, clamped, equilibrium, errorOf, frameOf, straightBeam, um } from "./sample-frames.ts";

/** A body on four unequal legs with a tail, nothing symmetric. */
function skewFrame(turn = 0, mirror = 1): FrameNetwork {
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const place = (x: number, y: number): [number, number] => [c * x - s * mirror * y, s * x + c * mirror * y];
  const j = (name: string, x: number, y: number, held: readonly ("x" | "y" | "turn")[] = []) => at(name, ...place(x, y), held);
  const leg = { width: 6 * um, thickness: 30 * um, youngsModulus: 160e9, shearModulus: 65e9, nElements: 6 };
  const beam = (from: number, to: number, ends: readonly number[]) =>
    straightBeam(
      { from, to, start: place(ends[0]! * um, ends[1]! * um), end: place(ends[2]! * um, ends[3]! * um) },
      { ...leg, ...(from === 4 ? { hingedTo: true } : {}) },
    );
  return {
    junctions: [
      j("a", -400 * um, 0, clamped),
      j("b", 420 * um, 0, clamped),
      j("c", -380 * um, 60 * um, clamped),
      j("d", 400 * um, 80 * um, clamped),
      j("body", 0, 30 * um),
    ],
    beams: [
      beam(0, 4, [-400, 0, -20, 20]),
      beam(1, 4, [420, 0, 20, 25]),
      beam(2, 4, [-380, 60, -20, 75]),
      beam(4, 3, [20, 60, 400, 80]),
    ],
  };
}
const hot: FrameLoad = {
  strains: [8e-4, 7e-4, 6e-4, 0],
  bodyStrains: Float64Array.of(0, 0, 0, 0, 5e-4),
};

describe("a state of a skew frame", () => {
  const model = createFrameModel(skewFrame());
  const state = equilibrium(model, hot);

  it("moves by more than half a beam's width, stable", () => {
    expect(Math.abs(state.motions[13]!)).toBeGreaterThan(3 * um);
    expect(state.nNegative).toBe(0);
  });

  it("is in balance as a whole", () => {
    const r = state.reactions;
    const { junctions } = model.network;
    const [fx, fy] = [0, 1].map((k) => [0, 1, 2, 3].reduce((sum, j) => sum + r[3 * j + k]!, 0));
    const largest = r.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const moment = [0, 1, 2, 3].reduce(
      (sum, j) => sum + r[3 * j + 2]! + junctions[j]!.x * r[3 * j + 1]! - junctions[j]!.y * r[3 * j]!,
      0,
    );
    // residual of the last correction
    expect(Math.abs(fx!)).toBeLessThan(1e-9 * largest);
    expect(Math.abs(fy!)).toBeLessThan(1e-9 * largest);
    expect(Math.abs(moment)).toBeLessThan(1e-9 * largest * 400 * um);
  });

  it("answers small pushes alike from both sides (Maxwell-Betti)", () => {
    for (const offset of [
      [0, 0],
      [25 * um, -40 * um],
    ] as const) {
      const f = flexibilityAt(model, state, { junction: 4, offset });
      for (const [i, k] of [
        [0, 1],
        [0, 2],
        [1, 2],
      ] as const) {
        const scale = Math.sqrt(f[4 * i]! * f[4 * k]!);
        expect(Math.abs(f[3 * i + k]! - f[3 * k + i]!)).toBeLessThan(1e-11 * scale);
      }
    }
  });

  it("has the stiffness that pushing it harder shows", () => {
    for (const point of [
      { junction: 4, motion: "y", offset: [25 * um, -40 * um] },
      { junction: 4, motion: "x", offset: [0, 60 * um] },
      { junction: 4, motion: "turn" },
    ] as const) {
      const k = stiffnessAt(model, state, point);
      const step = (point.motion === "turn" ? 1e-5 : 1e-3 * um) * k;
      const moved = [1, -1].map((sign) =>
        motionAt(model, equilibrium(model, { ...hot, forces: [{ ...point, value: sign * step }] }, { start: state }), point),
      );
      // central differences, h^2
      expect(errorOf((2 * step) / (moved[0]! - moved[1]!), k)).toBeLessThan(1e-5);
    }
    expect(stiffnessAt(model, state, { junction: 3, motion: "x" })).toBe(Number.POSITIVE_INFINITY);
  });

  it("does work that the beams keep: a force pushed in and out again along any way", () => {
    // work of the holder over a closed way of two held motions is nought: the forces come from an energy
    const corners = [
      [0, 0],
      [0.1, 0],
      [0.1, 1],
      [0, 1],
      [0, 0],
    ];
    let work = 0;
    let size = 0;
    const rest = [state.motions[12]!, state.motions[13]!];
    let start = state;
    const nodes = [-Math.sqrt(3 / 5), 0, Math.sqrt(3 / 5)];
    const weights = [5 / 18, 8 / 18, 5 / 18];
    for (let side = 1; side < corners.length; side++) {
      const [a, b] = [corners[side - 1]!, corners[side]!];
      for (let part = 0; part < 4; part++) {
        nodes.forEach((node, g) => {
          const u = (part + 0.5 + 0.5 * node) / 4;
          const [x, y] = [0, 1].map((k) => (a[k]! + u * (b[k]! - a[k]!)) * um);
          const held = [
            { junction: 4, motion: "x" as const, value: rest[0]! + x! },
            { junction: 4, motion: "y" as const, value: rest[1]! + y! },
          ];
          start = equilibrium(model, { ...hot, held }, { start });
          const step = (weights[g]! / 4) * um;
          const done = step * (start.reactions[12]! * (b[0]! - a[0]!) + start.reactions[13]! * (b[1]! - a[1]!));
          work += done;
          size += Math.abs(done);
        });
      }
    }
    // three Gauss points, four parts a side: sixth derivative of the force
    expect(Math.abs(work)).toBeLessThan(1e-9 * size);
  });

  it("turns with the frame and shows its mirror image", () => {
    fc.assert(
      fc.property(fc.double({ min: -3.1, max: 3.1, noNaN: true }), fc.constantFrom(1, -1), (turn, mirror) => {
        const other = createFrameModel(skewFrame(turn, mirror));
        const found = equilibrium(other, hot);
        const [x, y] = [state.motions[12]!, mirror * state.motions[13]!];
        const c = Math.cos(turn);
        const s = Math.sin(turn);
        const size = Math.hypot(x, y);
        // rounding of places and directions, amplified by stretching against bending
        expect(Math.abs(found.motions[12]! - (c * x - s * y))).toBeLessThan(1e-8 * size);
        expect(Math.abs(found.motions[13]! - (s * x + c * y))).toBeLessThan(1e-8 * size);
        expect(Math.abs(found.motions[14]! - mirror * state.motions[14]!)).toBeLessThan((1e-8 * size) / (100 * um));
        const peaks = findBeamForces(other, found).map(({ peakStress }) => peakStress);
        findBeamForces(model, state).forEach(({ peakStress }, b) => {
          expect(errorOf(peaks[b]!, peakStress)).toBeLessThan(1e-7);
        });
      }),
      { seed: 31, numRuns: 20 },
    );
  });

  it("gives its shape with every node", () => {
    const shape = shapeOf(model, state);
    expect(shape.beamMotions.map(({ length }) => length)).toEqual([21, 21, 21, 21]);
    expect(shape.strains[1]).toEqual(new Float64Array(6).fill(7e-4));
    expect(shape.moduli[0]![0]).toBe(160e9);
    expect(shape.motions).toEqual(Float64Array.from(state.motions));
    // the first beam starts at a clamped junction and ends at the body, turned with it
    expect([...shape.beamMotions[0]!.subarray(0, 3)]).toEqual([0, 0, 0]);
    expect(shape.beamMotions[0]![20]).toBe(state.motions[14]);
    expect(shape.bodyStrains[4]).toBe(5e-4);
  });
});

// Closed forms.
describe("forces along a beam", () => {
  const size = { width: 0.02, thickness: 0.01, youngsModulus: 1e11, nElements: 5 };
  const model = createFrameModel(frameOf([at("foot", 0, 0, clamped), at("tip", 1, 0)], [[0, 1, size]]));
  it("bends, shears and pulls as the section says", () => {
    const forces = [
      { junction: 1, motion: "y", value: 1e-3 },
      { junction: 1, motion: "x", value: 2e-3 },
    ] as const;
    const [beam] = findBeamForces(model, equilibrium(model, { forces }));
    // the pull times the deflection of 5e-7 takes 1e-6 off the moments
    expect(errorOf(beam!.moments[0]!, 1e-3)).toBeLessThan(2e-6);
    expect(errorOf(beam!.moments[5]!, 0.4e-3)).toBeLessThan(2e-6);
    expect(errorOf(beam!.shears[2]!, -1e-3)).toBeLessThan(2e-6);
    expect(errorOf(beam!.axialForces[4]!, 2e-3)).toBeLessThan(1e-6);
    expect(errorOf(beam!.peakStress, 2e-3 / 2e-4 + (6 * 1e-3) / (0.01 * 0.02 ** 2))).toBeLessThan(2e-6);
    // pushed up, its foot is pulled on the lower side: the right one on going to the tip
    expect(beam!.peakAt).toEqual({ element: 0, place: 0, part: 0, side: "right" });
  });

  // Timoshenko beam: P L^3/(3 EI) + P L/(kappa G A), kappa 5/6: 0.1080936 and, across, 0.4320936 (checked against MacNeal & Harder 1985,
  // from memory, 0.1081 and 0.4321).
  it.each([
    [0.2, 0.1, 0.1080936],
    [0.1, 0.2, 0.4320936],
  ])("deflects by bending and shear, width %f", (width, thickness, wanted) => {
    const beam = { width, thickness, youngsModulus: 1e7, shearModulus: 1e7 / 2.6, nElements: 2 };
    const tip = createFrameModel(frameOf([at("foot", 0, 0, clamped), at("tip", 6, 0)], [[0, 1, beam]])).solveLinear({
      forces: [{ junction: 1, motion: "y", value: 1 }],
    });
    expect(errorOf(tip[4]!, wanted)).toBeLessThan(3e-7);
  });

  // MacNeal & Harder 1985 (from memory): quarter circle of radii 4.12 and 4.32, thickness 0.1, E 1e7, nu 0.25, unit radial end
  // load. Published 0.08734 by beam theory; a clamped plane-stress continuum gives 0.088544 (computed).
  it("follows a curved beam", () => {
    const n = 64;
    const R = 4.22;
    const nodes = new Float64Array(2 * n + 2);
    for (let i = 0; i <= n; i++) {
      nodes[2 * i] = R * Math.sin((i / n) * (Math.PI / 2));
      nodes[2 * i + 1] = R * Math.cos((i / n) * (Math.PI / 2));
    }
    const arc = {
      ...straightBeam({ from: 0, to: 1, start: [0, R], end: [R, 0] }, { ...size, nElements: n }),
      nodes,
      widths: new Float64Array(n).fill(0.2),
      thickness: 0.1,
      youngsModulus: 1e7,
      shearModulus: 4e6,
    };
    const curved = createFrameModel({ junctions: [at("foot", 0, R, clamped), at("tip", R, 0)], beams: [arc] });
    // the free end's radius lies along x; thin curved beam: pi P R^3/(4 EI) and the direct parts pi P R/4 (1/EA + 1/(kappa G A))
    const [EI, EA] = [(1e7 * 0.1 * 0.2 ** 3) / 12, 1e7 * 0.02];
    const wanted = (Math.PI / 4) * (R ** 3 / EI + R / EA + R / ((5 / 6) * 4e6 * 0.02));
    const tip = curved.solveLinear({ forces: [{ junction: 1, motion: "x", value: 1 }] });
    // a polygon of 64 sides: its square
    expect(errorOf(tip[3]!, wanted)).toBeLessThan(5e-4);
    expect(errorOf(tip[3]!, 0.088544)).toBeLessThan(1e-3);
  });

  // Width falls evenly from 2 w at the foot to w at the tip: P/(E t/12) times the integral of (L - x)^2/width^3 (closed form, by parts:
  // with s from the tip, 12 P/(E t) L^3/w^3 (ln 2 - 5/8)).
  it("follows a tapered beam", () => {
    const tipOf = (n: number): number => {
      const widths = Float64Array.from({ length: n }, (_, e) => 0.02 * (2 - (e + 0.5) / n));
      const beam = { ...straightBeam({ from: 0, to: 1, start: [0, 0], end: [1, 0] }, { ...size, nElements: n }), widths };
      const tapered = createFrameModel({ junctions: [at("foot", 0, 0, clamped), at("tip", 1, 0)], beams: [beam] });
      return tapered.solveLinear({ forces: [{ junction: 1, motion: "y", value: 1 }] })[4]!;
    };
    const wanted = (12 / (1e11 * 0.01 * 0.02 ** 3)) * (Math.log(2) - 5 / 8);
    expect(errorOf(tipOf(16), wanted)).toBeLessThan(5e-3);
    // steps of width: second order
    expect(errorOf(tipOf(16), wanted) / errorOf(tipOf(32), wanted)).toBeGreaterThan(3.8);
  });
});

// A body that grows by eps pushes the ends of its legs by eps times their offset: the same as a strain eps of a stiff bar in its place.
describe("body strain", () => {
  it("acts like the strain of stiff bars from the junction to its beams", () => {
    const leg = { width: 8 * um, thickness: 40 * um, youngsModulus: 169e9, nElements: 6 };
    const bar = { ...leg, width: 800 * um, nElements: 1 };
    const places = [
      [-500, -30],
      [500, -40],
      [-20, 10],
      [20, 5],
    ].map((place) => place.map((value) => value * um));
    const anchors = [at("a", places[0]![0]!, places[0]![1]!, clamped), at("b", places[1]![0]!, places[1]![1]!, clamped)];
    const body = createFrameModel({
      junctions: [...anchors, at("body", 0, 0)],
      beams: [
        straightBeam({ from: 0, to: 2, start: places[0]!, end: places[2]! }, leg),
        straightBeam({ from: 1, to: 2, start: places[1]!, end: places[3]! }, leg),
      ],
    });
    const bars = createFrameModel(
      frameOf(
        [...anchors, at("hub", 0, 0), at("c", places[2]![0]!, places[2]![1]!), at("d", places[3]![0]!, places[3]![1]!)],
        [
          [0, 3, leg],
          [1, 4, leg],
          [3, 2, bar],
          [4, 2, bar],
        ],
      ),
    );
    const grown = equilibrium(body, { strains: [2e-4, 1e-4], bodyStrains: Float64Array.of(0, 0, 3e-3) });
    const strained = equilibrium(bars, { strains: [2e-4, 1e-4, 3e-3, 3e-3] });
    // the bars are a hundred times as wide, and press together by 1e-3 of what the legs do
    for (const i of [6, 7, 8])
      expect(Math.abs(grown.motions[i]! - strained.motions[i]!)).toBeLessThan(2e-3 * Math.abs(grown.motions[i]!));
  });
});
