import { describe, expect, it } from "vitest";
import type { FrameNetwork, FrameShape } from "./network.ts";
import { createOutOfPlaneModel } from "./out-of-plane.ts";
import { restShape } from "./out-of-plane-rest-shape.ts";
import { rectangleTorsion } from "./torsion-rectangle.ts";
import { findModes } from "./vibration.ts";
import { clamped, junctionAt, straightBeam } from "./vibration-sample.ts";

const E = 169e9;
const G = 65e9;
const density = 2330;
const silicon = { youngsModulus: E, shearModulus: G, density };
const L = 300e-6;
const width = 10e-6;
const thickness = 4e-6;
const area = width * thickness;
const EI = (E * area * thickness ** 2) / 12;
const GJ = G * rectangleTorsion(width, thickness).torsionConstant;
const shear = (5 / 6) * G * area;

/** Beam along x from a clamp at the origin to junction 1. */
function cantilever(
  nElements: number,
  more: Partial<FrameNetwork["junctions"][number]> = {},
  material: typeof silicon | object = silicon,
): FrameNetwork {
  const beam = { from: 0, to: 1, start: [0, 0], end: [L, 0], width, thickness, nElements } as const;
  return {
    junctions: [junctionAt(0, 0, { held: clamped }), junctionAt(L, 0, more)],
    beams: [straightBeam(beam, { ...silicon, ...material })],
  };
}

const atRest = (network: FrameNetwork) => createOutOfPlaneModel(network, restShape(network));

describe("a beam out of its plane", () => {
  it("bends and twists under loads at its end as the closed forms say", () => {
    // Timoshenko beam and Saint-Venant torsion, closed form; exact in the elements, so the error is rounding.
    for (const nElements of [1, 5]) {
      const model = atRest(cantilever(nElements));
      expect(model.isStable).toBe(true);
      const stiffness = (motion: "z" | "turn x" | "turn y", offset: readonly [number, number] = [0, 0]) =>
        model.stiffnessOf({ junction: 1, motion, offset });
      const bend = L ** 3 / (3 * EI) + L / shear;
      expect(Math.abs(stiffness("z") * bend - 1)).toBeLessThan(1e-11);
      expect(Math.abs((stiffness("turn x") * L) / GJ - 1)).toBeLessThan(1e-11);
      expect(Math.abs((stiffness("turn y") * L) / EI - 1)).toBeLessThan(1e-11);
      // A force beside the end of the beam twists it, one beyond the end bends it more.
      const [a, b] = [50e-6, 20e-6];
      const beyond = ((L + a) ** 3 - a ** 3) / (3 * EI) + L / shear + (b * b * L) / GJ;
      expect(Math.abs(stiffness("z", [a, b]) * beyond - 1)).toBeLessThan(1e-11);
      const { motionOf } = model.solve({ forces: [{ junction: 1, motion: "z", value: 2 }] });
      // A push along +z lifts the end: its slope is a negative turn about y.
      expect(Math.abs(motionOf({ junction: 1, motion: "turn y" }) / (-(L ** 2) / EI) - 1)).toBeLessThan(1e-11);
    }
  });

  it("sags under its own weight, with the moment of the textbook at its root", () => {
    // q L^4/(8 EI) + q L^2/(2 kGA), root moment q L^2/2, stress 6 M/(w t^2): exact at the nodes with consistent loads.
    const load = density * area * 9.8;
    for (const nElements of [1, 4]) {
      const model = atRest(cantilever(nElements));
      const { motionOf, endLoads } = model.solve({ acceleration: 9.8 });
      const sag = (load * L ** 4) / (8 * EI) + (load * L ** 2) / (2 * shear);
      expect(Math.abs(motionOf({ junction: 1, motion: "z" }) / -sag - 1)).toBeLessThan(1e-10);
      const [root, end] = endLoads(0);
      const moment = (load * L ** 2) / 2;
      expect(Math.abs(Math.abs(root.bendingMoment) / moment - 1)).toBeLessThan(1e-9);
      expect(Math.abs((root.bendingStress * width * thickness ** 2) / (6 * moment) - 1)).toBeLessThan(1e-9);
      expect(Math.abs(root.shearForce / (load * L) - 1)).toBeLessThan(1e-9);
      expect(Math.abs((root.shearStress * area) / (1.5 * load * L) - 1)).toBeLessThan(1e-9);
      expect(Math.abs(end.bendingMoment / moment)).toBeLessThan(1e-9);
    }
  });

  it("hangs a body with its centre of mass anywhere", () => {
    // Static force and moments of m a at the centre (a, b) from the end of a massless beam; closed form.
    const mass = 3e-9;
    const [a, b] = [40e-6, -25e-6];
    const body = { mass, centre: [a, b] as const, aboutX: 1e-18, aboutY: 2e-18, aboutZ: 3e-18 };
    const model = atRest(cantilever(3, { body }, { density: undefined }));
    const { motionOf, endLoads } = model.solve({ acceleration: -5 });
    const force = 5 * mass;
    expect(Math.abs(motionOf({ junction: 1, motion: "turn x" }) / ((force * b * L) / GJ) - 1)).toBeLessThan(1e-11);
    const lift = force * (L ** 3 / (3 * EI) + L / shear + (a * L ** 2) / (2 * EI));
    expect(Math.abs(motionOf({ junction: 1, motion: "z" }) / lift - 1)).toBeLessThan(1e-11);
    const [root] = endLoads(0);
    const { torsionModulus } = rectangleTorsion(width, thickness);
    expect(Math.abs((root.torsionStress * torsionModulus) / (force * Math.abs(b)) - 1)).toBeLessThan(1e-10);
    expect(Math.abs(Math.abs(root.bendingMoment) / (force * (L + a)) - 1)).toBeLessThan(1e-10);
  });

  it("twists one arm of an angle while it bends the other", () => {
    // Two arms a (along x) and b (along y), force P at the free end: P (a^3 + b^3)/(3 EI) + P a b^2/(G J), stiff against shear.
    const b = 200e-6;
    const stiff = { ...silicon, shearModulus: undefined };
    const torsion = (E / 2.6) * rectangleTorsion(width, thickness).torsionConstant;
    const common = { width, thickness, nElements: 3 };
    const network = {
      junctions: [junctionAt(0, 0, { held: clamped }), junctionAt(L, 0), junctionAt(L, b)],
      beams: [
        straightBeam({ from: 0, to: 1, start: [0, 0], end: [L, 0], ...common }, stiff),
        straightBeam({ from: 2, to: 1, start: [L, b], end: [L, 0], ...common }, stiff),
      ],
    };
    const give = (L ** 3 + b ** 3) / (3 * EI) + (L * b * b) / torsion;
    expect(Math.abs(atRest(network).stiffnessOf({ junction: 2, motion: "z" }) * give - 1)).toBeLessThan(1e-11);
  });

  it("has the modes of a disc on a torsion rod", () => {
    // b tan b = inertia of the rod over that of the disc, b = w L sqrt(rho Ip/(G J)): closed form.
    const rod = density * area * ((width ** 2 + thickness ** 2) / 12) * L;
    const beta = 0.8;
    const disc = rod / (beta * Math.tan(beta));
    const body = { mass: 1e-20, centre: [0, 0] as const, aboutX: disc, aboutY: 1e-30, aboutZ: 1e-30 };
    for (const nElements of [4, 8]) {
      const network = cantilever(nElements, { body, held: ["z", "turn y"] });
      const { modes } = findModes(network, restShape(network), { count: 12, families: ["out of plane"] });
      const exact = (beta / L / (2 * Math.PI)) * Math.sqrt((GJ * L) / rod);
      const relative = Math.min(...modes.map(({ frequency }) => Math.abs(frequency / exact - 1)));
      // Linear twist: high by (beta/n)^2/24 times the rod's share of the moving energy.
      const inRod = 0.5 * (1 - Math.sin(2 * beta) / (2 * beta));
      const inDisc = Math.sin(beta) ** 2 * (disc / rod);
      const expected = ((beta / nElements) ** 2 / 24) * (inRod / (inRod + inDisc));
      expect(relative).toBeGreaterThan(0.95 * expected);
      expect(relative).toBeLessThan(1.05 * expected);
    }
  });

  it("carries a heavy body on a light beam like a spring of two motions", () => {
    // z and turn y of the end: K = EI [[12, 6L], [6L, 4L^2]]/L^3 (slope = -turn y), M with the centre at a beyond the end. Closed form.
    const [mass, inertia, a] = [1e-9, 2e-19, 30e-6];
    const body = { mass, centre: [a, 0] as const, aboutX: 1e-18, aboutY: inertia, aboutZ: 1e-18 };
    const network = cantilever(2, { body }, { density: undefined, shearModulus: undefined });
    const { modes } = findModes(network, restShape(network), { count: 3, families: ["out of plane"] });
    const [k11, k12, k22] = [(12 * EI) / L ** 3, (-6 * EI) / L ** 2, (4 * EI) / L];
    const [m11, m12, m22] = [mass, mass * a, inertia + mass * a * a];
    const c2 = m11 * m22 - m12 * m12;
    const c1 = k11 * m22 + k22 * m11 - 2 * k12 * m12;
    const c0 = k11 * k22 - k12 * k12;
    const root = Math.sqrt(c1 * c1 - 4 * c2 * c0);
    for (const square of [(2 * c0) / (c1 + root), (c1 + root) / (2 * c2)]) {
      const relative = Math.min(...modes.map(({ eigenvalue }) => Math.abs(eigenvalue / square - 1)));
      expect(relative).toBeLessThan(1e-9);
    }
  });
});

/** At rest in place, with free strains per beam. */
function strained(network: FrameNetwork, strains: readonly number[]): FrameShape {
  const rest = restShape(network);
  return { ...rest, strains: rest.strains.map((list, b) => list.map(() => strains[b]!)) };
}

describe("stiffness from the state in the plane", () => {
  it("lets a wide beam buckle sideways at Prandtl's and Timoshenko's moment", () => {
    // Ends held against twist but free to tilt: M = (pi/L) sqrt(EI GJ) (Timoshenko & Gere, chapter 6, from memory), the bending in
    // the plane so stiff (width/thickness = 100) that the beam stays straight: (t/w)^2 = 1e-4 from that.
    const wide = 100e-6;
    const thin = 1e-6;
    const length = 3e-3;
    const nElements = 16;
    const bending = (E * wide * thin ** 3) / 12;
    const torsion = G * rectangleTorsion(wide, thin).torsionConstant;
    const beam = { from: 0, to: 1, start: [0, 0], end: [length, 0], width: wide, thickness: thin, nElements } as const;
    const network = {
      junctions: [
        junctionAt(0, 0, { held: ["x", "y", "z", "turn x"] }),
        junctionAt(length, 0, { held: ["x", "y", "z", "turn x"] }),
      ],
      beams: [straightBeam(beam, { ...silicon, shearModulus: G })],
    };
    const moment = (Math.PI / length) * Math.sqrt(bending * torsion);
    const curvature = moment / ((E * thin * wide ** 3) / 12);
    const negativeAt = (factor: number): number => {
      const motions = new Float64Array(3 * (nElements + 1));
      const rest = restShape(network);
      const strains = new Float64Array(nElements);
      const h = length / nElements;
      for (let i = 0; i <= nElements; i++) {
        const x = i * h - length / 2;
        motions[3 * i + 1] = (factor * curvature * (x * x - length ** 2 / 4)) / 2;
        motions[3 * i + 2] = factor * curvature * x;
      }
      // Each element is stretched by its tilt and shortened by its bow; a free strain takes both away.
      for (let e = 0; e < nElements; e++) {
        const tilt = (motions[3 * e + 4]! - motions[3 * e + 1]!) / h;
        strains[e] = Math.sqrt(1 + tilt * tilt) - 1 + (factor * curvature * h) ** 2 / 24;
      }
      const shape = { ...rest, beamMotions: [motions], strains: [strains] };
      return createOutOfPlaneModel(network, shape).system.nNegative;
    };
    // Elements: linear twist and cubic bending, (pi/16)^2/12 = 0.3 %.
    expect(negativeAt(0.995)).toBe(0);
    expect(negativeAt(1.008)).toBe(1);
    expect(negativeAt(-0.995)).toBe(0);
    expect(negativeAt(-1.008)).toBe(1);
  });

  it("leaves a stressed but unsupported frame free to tilt", () => {
    // Three bars between two bodies, the middle one hot: bars at -d, 0, d share the force N, -2N, N. Soft springs give the frame its
    // place; against tilts about its centre they alone resist. Statics.
    const d = 60e-6;
    const hot = 1e-3;
    const soft = 1e-3;
    const bodies = [0, L].map((x) => junctionAt(x, 0, { held: ["x", "y", "turn"], springs: { z: soft } }));
    bodies[0] = { ...bodies[0]!, springs: { z: soft, "turn x": soft * d * d } };
    const beams = [-d, 0, d].map((y) =>
      straightBeam({ from: 0, to: 1, start: [20e-6, y], end: [L - 20e-6, y], width, thickness, nElements: 4 }, silicon),
    );
    const network = { junctions: bodies, beams };
    // The bodies cannot move in this shape, so the strains are those of the balance: the middle at -2/3 of hot, the outer at 1/3.
    const shape = strained(network, [-hot / 3, (2 * hot) / 3, -hot / 3]);
    const model = createOutOfPlaneModel(network, shape);
    // Load that tilts about y without bending: opposite forces on the two springs.
    const { motionOf } = model.solve({
      forces: [
        { junction: 0, motion: "z", value: 1e-6 },
        { junction: 1, motion: "z", value: -1e-6 },
      ],
    });
    // EI/L^3 is 3e3 times the spring, so only rounding of that ratio and of the forces is left.
    expect(Math.abs((motionOf({ junction: 0, motion: "z" }) * soft) / 1e-6 - 1)).toBeLessThan(1e-9);
    expect(Math.abs((motionOf({ junction: 1, motion: "z" }) * soft) / -1e-6 - 1)).toBeLessThan(1e-9);
    // The tilt is 6.7 in these linear units.
    expect(Math.abs(motionOf({ junction: 0, motion: "turn x" }))).toBeLessThan(1e-8);
    expect(Math.abs(model.stiffnessOf({ junction: 0, motion: "turn x" }) / (soft * d * d) - 1)).toBeLessThan(1e-9);
  });

  it("takes the turning of dead forces and of weights into account", () => {
    // A body held by a turn spring, pulled by F at distance a along the pull: q + F a about both axes across the pull, and about z.
    const [q, F, a] = [1e-9, 3e-5, 20e-6];
    const springs = { x: 1, y: 1, turn: q, z: 1, "turn x": q, "turn y": q };
    const body = { mass: F / 10, centre: [0, a] as const, aboutX: 1e-18, aboutY: 1e-18, aboutZ: 1e-18 };
    const network = { junctions: [junctionAt(0, 0, { springs, body })], beams: [] };
    const stiffness = (options: Parameters<typeof createOutOfPlaneModel>[2], motion: "turn x" | "turn y") =>
      createOutOfPlaneModel(network, restShape(network), options).stiffnessOf({ junction: 0, motion });
    const pull = { forces: [{ junction: 0, motion: "y", value: F, offset: [0, a] }] } as const;
    expect(Math.abs(stiffness(pull, "turn x") / (q + F * a) - 1)).toBeLessThan(1e-12);
    // About the line of the force itself nothing changes.
    expect(Math.abs(stiffness(pull, "turn y") / q - 1)).toBeLessThan(1e-12);
    // Surroundings accelerated along -y press the body along +y with the same force.
    expect(Math.abs(stiffness({ acceleration: [0, -10] }, "turn x") / (q + F * a) - 1)).toBeLessThan(1e-12);
  });

  it("refuses a stiffness in the plane and a junction that is none", () => {
    const model = atRest(cantilever(1));
    expect(() => model.stiffnessOf({ junction: 1, motion: "x" as "z" })).toThrow(
      /out of plane: wanted one of z, turn x, turn y, found x/,
    );
    expect(() => model.stiffnessOf({ junction: 7, motion: "z" })).toThrow(/junction from 0 to 1, found 7/);
  });
});
