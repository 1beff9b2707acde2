import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { multiplySkylineInto } from "#numerics";
import { shapeOf, stiffnessAt } from "./answers.ts";
import { createFrameModel } from "./model.ts";
import type { FrameBeam, FrameLoad, FrameNetwork, FrameShape } from "./network.ts";
import { createOutOfPlaneModel } from "./out-of-plane.ts";
import { restShape } from "./out-of-plane-rest-shape.ts";
import { findModes, matchModes } from "./vibration.ts";
import { energyOfMotion } from "./vibration-energy.ts";
import { stiffnessOfPoint } from "./vibration-response.ts";
import { bentBeamDevice, clamped, junctionAt, straightBeam } from "./vibration-sample.ts";
import { createSmallMotionSystem } from "./vibration-system.ts";

const um = 1e-6;
const silicon = { youngsModulus: 169e9, shearModulus: 169e9 / 2.44, density: 2330 };

/** The shape of the stable state of balance under a load. */
function shapeUnder(network: FrameNetwork, load: FrameLoad): FrameShape {
  const model = createFrameModel(network);
  const state = model.solve(load);
  if (state.outcome !== "equilibrium") throw new Error(state.reason);
  return shapeOf(model, state);
}

/** A body at an offset between legs of unlike sizes, one of them curved and tapered, one hinged. */
function lopsided(nElements: number, more: { readonly supports: "clamped" | "soft" }): FrameNetwork {
  const size = { width: 5 * um, thickness: 8 * um, nElements };
  const legs = [
    straightBeam({ from: 1, to: 0, start: [-400 * um, -20 * um], end: [-25 * um, 5 * um], ...size }, silicon),
    straightBeam({ from: 2, to: 0, start: [380 * um, -25 * um], end: [25 * um, 0], ...size, width: 7 * um }, silicon),
    straightBeam({ from: 3, to: 0, start: [30 * um, 300 * um], end: [5 * um, 30 * um], ...size, width: 4 * um }, silicon),
  ];
  const [curved, even, hinged] = legs as [FrameBeam, FrameBeam, FrameBeam];
  const nodes = curved.nodes.map((value, i) =>
    i % 2 === 1 ? value + 15 * um * Math.sin((Math.PI * (i - 1)) / (2 * nElements)) : value,
  );
  const body = { mass: 2e-9, centre: [3 * um, 10 * um] as const, aboutX: 1e-18, aboutY: 2e-18, aboutZ: 3e-18 };
  const frame = more.supports === "clamped" ? { held: clamped } : {};
  return {
    junctions: [
      junctionAt(0, 0, { body }),
      junctionAt(-400 * um, -20 * um, frame),
      junctionAt(380 * um, -25 * um, frame),
      junctionAt(30 * um, 300 * um, frame),
    ],
    beams: [
      { ...curved, nodes, widths: curved.widths.map((width, e) => width * (1 + 0.1 * e)) },
      even,
      { ...hinged, hingedTo: true },
    ],
  };
}

describe("small motion about a bent shape", () => {
  it("has the same energy by its elements as by its matrix", () => {
    const even = lopsided(5, { supports: "clamped" });
    // every other beam tapers
    const beams = even.beams.map((beam, b) =>
      b % 2 === 0 ? beam : { ...beam, tapers: beam.widths.map((width) => 0.3 * width) },
    );
    const network = { ...even, beams };
    const strains = network.beams.map(({ widths }) => new Float64Array(widths.length).fill(6e-4));
    const forces = [{ junction: 0, motion: "x", value: 2e-4, offset: [40 * um, -10 * um] }] as const;
    const shape = shapeUnder(network, { strains, forces });
    for (const family of ["in plane", "out of plane"] as const) {
      const system = createSmallMotionSystem(network, shape, { family, forces });
      const n = system.unknowns.nUnknowns;
      fc.assert(
        fc.property(fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n, maxLength: n }), (values) => {
          // turns count by a length like those of the elements, or the energy would be that of the lifts alone
          const x = Float64Array.from(values, (value, i) => (i % 3 === 2 || family === "out of plane" ? value : 1e-5 * value));
          const product = new Float64Array(n);
          multiplySkylineInto(product, system.stiffness, x);
          const wanted = product.reduce((sum, value, i) => sum + value * x[i]!, 0);
          const size = product.reduce((sum, value, i) => sum + Math.abs(value * x[i]!), 0);
          // rounding of the product, which takes the larger parts from each other
          expect(Math.abs(energyOfMotion(system, x) - wanted)).toBeLessThan(1e-12 * size);
        }),
      );
    }
  });

  it("in the plane has the stiffness of the frame that was bent", () => {
    // The tangent of the solver that found the shape, assembled apart: stretched offsets, hinge, taper, forces at offsets.
    const network = lopsided(5, { supports: "clamped" });
    const model = createFrameModel(network);
    fc.assert(
      fc.property(
        fc.double({ min: -3e-4, max: 8e-4, noNaN: true }),
        fc.double({ min: -2e-4, max: 2e-4, noNaN: true }),
        (strain, value) => {
          const force = { junction: 0, motion: "y", value, offset: [40 * um, -10 * um] } as const;
          const bodyStrains = Float64Array.of(2 * strain, 0, 0, 0);
          const state = model.solve({ strains: [strain, strain, 0], bodyStrains, forces: [force] });
          if (state.outcome !== "equilibrium") return;
          const options = { forces: [force], family: "in plane" } as const;
          const system = createSmallMotionSystem(network, shapeOf(model, state), options);
          expect(system.nNegative).toBe(state.nNegative);
          for (const motion of ["x", "y", "turn"] as const) {
            const point = { junction: 0, motion, offset: [-12 * um, 30 * um] } as const;
            // The same derivatives in another order of sums. A copy of the state, so that the solver takes its tangent there anew
            // and not where its last step began.
            expect(Math.abs(stiffnessOfPoint(system, point) / stiffnessAt(model, { ...state }, point) - 1)).toBeLessThan(1e-9);
          }
        },
      ),
      { seed: 51, numRuns: 25 },
    );
  });

  it("out of the plane leaves a bent, stressed, unsupported frame free to tilt", () => {
    // Held in the plane where it is bent by heat; out of it three soft springs alone resist a lift and two tilts: statics.
    const network = lopsided(6, { supports: "soft" });
    const soft = 1e-4;
    const held = ["x", "y", "turn"] as const;
    const cornered = {
      ...network,
      junctions: network.junctions.map((junction, j) => (j === 0 ? junction : { ...junction, held, springs: { z: soft } })),
    };
    // Free in the plane as well: one junction held, so that heat of one leg stresses no other; a closed triangle carries its own stress.
    const ring = {
      ...cornered,
      junctions: cornered.junctions.map((junction, j) => (j < 2 || j === 0 ? junction : { ...junction, held: [] })),
      beams: [
        ...cornered.beams,
        straightBeam(
          {
            from: 1,
            to: 2,
            start: [-400 * um, -20 * um],
            end: [380 * um, -25 * um],
            width: 6 * um,
            thickness: 8 * um,
            nElements: 6,
          },
          silicon,
        ),
        straightBeam(
          {
            from: 2,
            to: 3,
            start: [380 * um, -25 * um],
            end: [30 * um, 300 * um],
            width: 6 * um,
            thickness: 8 * um,
            nElements: 6,
          },
          silicon,
        ),
      ],
    };
    const shape = shapeUnder(ring, { strains: [1.5e-3, 1e-3, 0, -1e-3, 0] });
    expect(Math.max(...shape.axialForces.map((list) => Math.abs(list[0]!)))).toBeGreaterThan(1e-5);
    const places = ring.junctions.map(({ x, y }, j) => [x + shape.motions[3 * j]!, y + shape.motions[3 * j + 1]!] as const);
    const { solve, isStable } = createOutOfPlaneModel(ring, shape);
    expect(isStable).toBe(true);
    // Springs at three places carry a force and two moments in one way only; the frame follows as a rigid plane.
    const forces = [3e-9, -2e-9, 4e-9];
    const { motionOf } = solve({ forces: forces.map((value, i) => ({ junction: i + 1, motion: "z", value })) });
    const lift = forces.map((force) => force / soft);
    const [a, b, c] = [places[1]!, places[2]!, places[3]!];
    const det = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
    const slopeX = ((lift[1]! - lift[0]!) * (c[1] - a[1]) - (lift[2]! - lift[0]!) * (b[1] - a[1])) / det;
    const slopeY = ((b[0] - a[0]) * (lift[2]! - lift[0]!) - (c[0] - a[0]) * (lift[1]! - lift[0]!)) / det;
    // Without the stiffness from moments and shears the tilt would resist by the forces themselves. What is left is the bow of each
    // element, 1e-3 of its length, which the straight element out of the plane does not see.
    expect(Math.abs(motionOf({ junction: 0, motion: "turn x" }) / slopeY - 1)).toBeLessThan(1e-7);
    expect(Math.abs(motionOf({ junction: 0, motion: "turn y" }) / -slopeX - 1)).toBeLessThan(1e-7);
    lift.forEach((value, i) => {
      expect(Math.abs(motionOf({ junction: i + 1, motion: "z" }) / value - 1)).toBeLessThan(1e-7);
    });
  });

  it("lies near plane finite elements for a hot pair of bent beams, mode by mode", () => {
    // Plane quadratic finite elements of the device at 6 V, constant properties, vacuum: 173.51, 201.05, 387.07, 575.36 kHz hot from
    // 181.036, 181.512, 371.60, 583.84 kHz cold; mean temperature of the legs 458.80 K, of the shuttle 543.2 K, from 293.15 K.
    const about = { pairs: 1, shuttleWidth: 30, nElements: 8, material: silicon, hasVane: false };
    const hot = { strains: [3e-6 * 165.65, 3e-6 * 165.65], bodyStrains: Float64Array.of(3e-6 * 250, 0, 0) };
    for (const rootDepth of [0, 0.44]) {
      const device = bentBeamDevice({ ...about, rootDepth });
      const modesOf = (shape: FrameShape) => findModes(device, shape, { count: 4, families: ["in plane"] });
      const cold = modesOf(restShape(device));
      const warm = modesOf(shapeUnder(device, hot));
      warm.modes.forEach(({ frequency }, i) => {
        expect(Math.abs(frequency / [173510, 201050, 387070, 575360][i]! - 1)).toBeLessThan(0.01);
      });
      const { partner, overlap } = matchModes(cold, warm);
      for (const value of overlap) expect(value).toBeGreaterThan(0.97);
      // Cold, the roots' give decides which of the first two modes is the lower: along y (held by the legs' length) or sideways.
      const lowest = cold.modes[0]!;
      const isSideways = lowest.effectiveMass[0] + lowest.effectiveMass[1] < 1e-11;
      expect(warm.modes[partner[0]!]!.effectiveMass[1] < 1e-11).toBe(isSideways);
    }
  });

  it("shows a hot flat leg buckle out of the plane", () => {
    // Clamped beam, flat: P = 4 pi^2 EI/L^2 with E w t^3/12, at the strain pi^2 t^2/(3 L^2). Timoshenko & Gere (from memory).
    const [length, thickness] = [500 * um, 2 * um];
    const beam = { from: 0, to: 1, start: [0, 0], end: [length, 0], width: 10 * um, thickness, nElements: 10 } as const;
    const network = {
      junctions: [junctionAt(0, 0, { held: clamped }), junctionAt(length, 0, { held: clamped })],
      beams: [straightBeam(beam, { ...silicon, shearModulus: undefined })],
    };
    const critical = (Math.PI * thickness) ** 2 / (3 * length ** 2);
    const isStable = (part: number): boolean =>
      createOutOfPlaneModel(network, shapeUnder(network, { strains: [part * critical] })).isStable;
    // Cubic elements: high by (2 pi/10)^4/720 = 0.02 %.
    expect(isStable(0.9999)).toBe(true);
    expect(isStable(1.0004)).toBe(false);
  });
});
