import { describe, expect, it } from "vitest";
import type { FrameNetwork, FrameShape } from "./network.ts";
import { createOutOfPlaneModel } from "./out-of-plane.ts";
import { findBucklingFactor } from "./out-of-plane-buckling.ts";
import { restShape } from "./out-of-plane-rest-shape.ts";
import { bentBeamDevice, clamped, junctionAt, straightBeam } from "./vibration-sample.ts";

const um = 1e-6;
const material = { youngsModulus: 169e9, shearModulus: undefined, density: 2330 };
const [length, thickness, width] = [500 * um, 2 * um, 10 * um];
const critical = (Math.PI * thickness) ** 2 / (3 * length ** 2);

function flatBeam(offset: number): FrameNetwork {
  const beam = { from: 0, to: 1, start: [0, 0], end: [length, 0], width, thickness, nElements: 12 } as const;
  return {
    junctions: [junctionAt(0, 0, { held: clamped }), junctionAt(length + offset, 0, { held: clamped })],
    beams: [straightBeam(beam, material)],
  };
}

function heated(network: FrameNetwork, strain: number): FrameShape {
  const rest = restShape(network);
  return { ...rest, strains: rest.strains.map((list) => list.map(() => strain)) };
}

describe("buckling out of the plane", () => {
  it("of a flat clamped beam is at Euler's strain", () => {
    // pi^2 t^2/(3 L^2), Timoshenko & Gere (from memory). Elements: (2 pi/12)^4/720 = 0.01 %.
    for (const part of [0.01, 0.3, 0.9, 1.5]) {
      const factor = findBucklingFactor(flatBeam(0), heated(flatBeam(0), part * critical), { largestFactor: 1000 });
      expect(Math.abs(factor * part - 1)).toBeLessThan(1.3e-4);
      expect(factor > 1).toBe(createOutOfPlaneModel(flatBeam(0), heated(flatBeam(0), part * critical)).isStable);
    }
  });

  it("of a pushed strut with a rigid head counts the way its load goes", () => {
    // Strut clamped at the foot, load P through a fixed point at the height a above its end (Timoshenko & Gere, from memory; statics):
    // the head leans with the end, so the load sits on a rigid piece of length a: tan(k L) = 1/(k a).
    const a = 100 * um;
    const network = { ...flatBeam(a), junctions: [flatBeam(a).junctions[0]!, junctionAt(length + a, 0)] };
    const strain = 1e-5;
    const shape = { ...heated(network, strain) };
    let [low, high] = [0, Math.PI / 2];
    for (let i = 0; i < 60; i++) {
      const middle = 0.5 * (low + high);
      if (Math.tan(middle) * middle * (a / length) < 1) low = middle;
      else high = middle;
    }
    const load = (low / length) ** 2 * ((material.youngsModulus * width * thickness ** 3) / 12);
    const force = material.youngsModulus * width * thickness * strain;
    const factor = findBucklingFactor(network, shape, { largestFactor: 1000 });
    expect(Math.abs((factor * force) / load - 1)).toBeLessThan(1e-5);
  });

  it("does not happen under tension, nor below the bound", () => {
    expect(findBucklingFactor(flatBeam(0), heated(flatBeam(0), -critical), { largestFactor: 1e3 })).toBe(
      Number.POSITIVE_INFINITY,
    );
    expect(findBucklingFactor(flatBeam(0), heated(flatBeam(0), critical / 50), { largestFactor: 40 })).toBe(
      Number.POSITIVE_INFINITY,
    );
    const device = bentBeamDevice({ pairs: 1, shuttleWidth: 30, nElements: 4, material, hasVane: false, rootDepth: 0 });
    expect(findBucklingFactor(device, restShape(device), { largestFactor: 1e6 })).toBe(Number.POSITIVE_INFINITY);
    expect(() => findBucklingFactor(device, restShape(device), { largestFactor: 0 })).toThrow(/positive bound, found 0/);
  });
});
