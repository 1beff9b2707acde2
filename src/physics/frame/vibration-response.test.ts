import { describe, expect, it } from "vitest";
import type { FrameJunction, FrameNetwork } from "./network.ts";
import { restShape } from "./out-of-plane-rest-shape.ts";
import { endLoadsOf, motionOfPoint, respondToAcceleration, solveSmallMotion, stiffnessOfPoint } from "./vibration-response.ts";
import { clamped, junctionAt, straightBeam } from "./vibration-sample.ts";
import { createSmallMotionSystem } from "./vibration-system.ts";

const E = 160e9;
const density = 2300;
const L = 200e-6;
const width = 3e-6;
const thickness = 5e-6;
const area = width * thickness;
const stiff = { youngsModulus: E, shearModulus: undefined, density };

/** A beam along x from a clamp at the origin to junction 1. */
function cantilever(nElements: number, more: Partial<FrameJunction> = {}, material: Partial<typeof stiff> = {}): FrameNetwork {
  const beam = { from: 0, to: 1, start: [0, 0], end: [L, 0], width, thickness, nElements } as const;
  return {
    junctions: [junctionAt(0, 0, { held: clamped }), junctionAt(L, 0, more)],
    beams: [straightBeam(beam, { ...stiff, ...material })],
  };
}

const systemOf = (network: FrameNetwork, alsoHeld: readonly { junction: number; motion: "x" | "y" | "turn" }[] = []) =>
  createSmallMotionSystem(network, restShape(network), { family: "in plane", alsoHeld });

describe("small static motion", () => {
  it("under acceleration along each axis is that of the textbook, in the plane and out of it", () => {
    // Distributed mass on a cantilever: q L^4/(8 EI) across, rho a L^2/(2 E) along. Exact at the nodes.
    const network = cantilever(2);
    const change = [30, 20, -9.8] as const;
    const { motionOf, inPlane, outOfPlane } = respondToAcceleration(network, restShape(network), { change });
    const across = (depth: number, a: number): number => (-a * density * area * L ** 4) / (8 * E * ((area * depth ** 2) / 12));
    const at = (motion: "x" | "y" | "z") => motionOf({ junction: 1, motion });
    expect(Math.abs(at("x") / ((-30 * density * L ** 2) / (2 * E)) - 1)).toBeLessThan(1e-11);
    expect(Math.abs(at("y") / across(width, 20) - 1)).toBeLessThan(1e-11);
    expect(Math.abs(at("z") / across(thickness, -9.8) - 1)).toBeLessThan(1e-11);
    expect(motionOfPoint(inPlane, { junction: 1, motion: "z" })).toBe(0);
    expect(motionOfPoint(outOfPlane, { junction: 1, motion: "x" })).toBe(0);
    // Loads at the root: the whole mass along and across, its moment at half the length. The clamp pushes on the beam's end.
    const [root, end] = endLoadsOf(inPlane, 0);
    const mass = density * area * L;
    expect(Math.abs(root.axialForce / (-30 * mass) - 1)).toBeLessThan(1e-10);
    expect(Math.abs(root.shearForce / (20 * mass) - 1)).toBeLessThan(1e-10);
    expect(Math.abs(root.bendingMoment / (10 * mass * L) - 1)).toBeLessThan(1e-10);
    expect(Math.abs((root.bendingStress * area * width) / (60 * mass * L) - 1)).toBeLessThan(1e-10);
    expect(Math.abs((root.axialStress * area) / (30 * mass) - 1)).toBeLessThan(1e-10);
    for (const load of [end.axialForce, end.shearForce]) expect(Math.abs(load / (30 * mass))).toBeLessThan(1e-10);
  });

  it("turns a body whose centre of mass lies off its support", () => {
    // Massless beam, mass m at (a, b) from its end, acceleration along x: moment m a_x b turns the end by M L/(EI).
    const [mass, a, b] = [1e-9, 10e-6, 25e-6];
    const body = { mass, centre: [a, b] as const, aboutX: 1e-18, aboutY: 1e-18, aboutZ: 1e-18 };
    const network = cantilever(3, { body }, { density: undefined as never });
    const EI = (E * area * width ** 2) / 12;
    const { motionOf } = respondToAcceleration(network, restShape(network), { change: [100, 0, 0] });
    const turn = (100 * mass * b * L) / EI;
    expect(Math.abs(motionOf({ junction: 1, motion: "turn" }) / turn - 1)).toBeLessThan(1e-11);
    // A point of the body moves with the turn: along x by -y turn on top of the end's own way.
    const own = (-100 * mass * L) / (E * area);
    const found = motionOf({ junction: 1, motion: "x", offset: [0, 40e-6] });
    expect(Math.abs(found / (own - 40e-6 * turn) - 1)).toBeLessThan(1e-11);
  });

  it("of a beam with a motion held is that of the guided beam", () => {
    // 3 EI/L^3 free, 12 EI/L^3 guided: closed forms.
    const EI = (E * area * width ** 2) / 12;
    const network = cantilever(4);
    const point = { junction: 1, motion: "y" } as const;
    expect(Math.abs((stiffnessOfPoint(systemOf(network), point) * L ** 3) / (3 * EI) - 1)).toBeLessThan(1e-10);
    const guided = systemOf(network, [{ junction: 1, motion: "turn" }]);
    expect(Math.abs((stiffnessOfPoint(guided, point) * L ** 3) / (12 * EI) - 1)).toBeLessThan(1e-10);
    expect(stiffnessOfPoint(guided, { junction: 1, motion: "turn" })).toBe(Number.POSITIVE_INFINITY);
  });

  it("meets the spring of a closed stop at the point that touches", () => {
    // Force and spring on one point and along one line add their stiffness, whatever else the frame does.
    const network = cantilever(3);
    const offset = [12e-6, -7e-6] as const;
    const slanted = [0.6, 0.8] as const;
    const contact = { junction: 1, offset, direction: slanted, stiffness: 50 };
    const force = [
      { junction: 1, offset, motion: "x", value: slanted[0] },
      { junction: 1, offset, motion: "y", value: slanted[1] },
    ] as const;
    const stiffness = (contacts: readonly (typeof contact)[]): number => {
      const system = createSmallMotionSystem(network, restShape(network), { family: "in plane", contacts });
      const response = solveSmallMotion(system, { forces: force });
      return 1 / force.reduce((sum, part) => sum + part.value * motionOfPoint(response, part), 0);
    };
    expect(Math.abs((stiffness([contact]) - stiffness([])) / 50 - 1)).toBeLessThan(1e-10);
  });

  it("lets a hinge pass no moment", () => {
    // Two cantilevers meet in a hinge: both bend alone, 2 x 3 EI/L^3.
    const common = { width, thickness, nElements: 3 };
    const right = straightBeam({ from: 2, to: 1, start: [2 * L, 0], end: [L, 0], ...common }, stiff);
    const left = cantilever(3);
    const network = {
      junctions: [...left.junctions, junctionAt(2 * L, 0, { held: clamped })],
      beams: [left.beams[0]!, { ...right, hingedTo: true }],
    };
    const EI = (E * area * width ** 2) / 12;
    const system = systemOf(network);
    expect(Math.abs((stiffnessOfPoint(system, { junction: 1, motion: "y" }) * L ** 3) / (6 * EI) - 1)).toBeLessThan(1e-10);
    const response = solveSmallMotion(system, { forces: [{ junction: 1, motion: "y", value: 1e-6 }] });
    const [, end] = endLoadsOf(response, 1);
    expect(Math.abs(end.bendingMoment)).toBeLessThan(1e-10 * 1e-6 * L);
    // Both free ends rise alike and turn opposite ways.
    const last = (beam: number, k: number): number => response.beamMotions[beam]![9 + k]!;
    expect(Math.abs(last(1, 1) / last(0, 1) - 1)).toBeLessThan(1e-10);
    expect(Math.abs(last(1, 2) / last(0, 2) + 1)).toBeLessThan(1e-10);
  });

  it("refuses what is not there", () => {
    const network = cantilever(1);
    const system = systemOf(network);
    expect(() => stiffnessOfPoint(system, { junction: 1, motion: "z" })).toThrow(/in plane: wanted one of x, y, turn, found z/);
    expect(() => solveSmallMotion(system, { forces: [{ junction: 5, motion: "x", value: 1 }] })).toThrow(/from 0 to 1, found 5/);
    expect(() => endLoadsOf(solveSmallMotion(system, {}), 3)).toThrow(/wanted one of 1, found 3/);
    expect(() => systemOf(network, [{ junction: 9, motion: "x" }])).toThrow(/Cannot hold a motion/);
  });
});
