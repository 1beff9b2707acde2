import { describe, expect, it } from "vitest";
import { restShape } from "./out-of-plane-rest-shape.ts";
import { findModes } from "./vibration.ts";
import { findFrequencyResponse } from "./vibration-frequency-response.ts";
import { stiffnessOfPoint } from "./vibration-response.ts";
import { clamped, junctionAt, straightBeam } from "./vibration-sample.ts";

const material = { youngsModulus: 160e9, shearModulus: undefined, density: 2300 };
const L = 300e-6;
const size = { width: 3e-6, thickness: 4e-6 };

/** A beam along x, clamped at the origin. */
function cantilever(nElements: number) {
  const beam = { from: 0, to: 1, start: [0, 0], end: [L, 0], ...size, nElements } as const;
  return { junctions: [junctionAt(0, 0, { held: clamped }), junctionAt(L, 0)], beams: [straightBeam(beam, material)] };
}

describe("response to a harmonic force", () => {
  it("of a mass on a spring is that of the oscillator", () => {
    // 1/(k - m w^2 + 2 i z sqrt(k m) w): closed form.
    const [k, mass, z] = [2, 5e-10, 0.05];
    const springs = { x: k, y: 3 * k, turn: 1e-9, z: 2 * k, "turn x": 1e-9, "turn y": 1e-9 };
    const body = { mass, centre: [0, 0] as const, aboutX: 1e-18, aboutY: 1e-18, aboutZ: 1e-18 };
    const network = { junctions: [junctionAt(0, 0, { springs, body })], beams: [] };
    const set = findModes(network, restShape(network), { count: 6 });
    const resonance = Math.sqrt(k / mass) / (2 * Math.PI);
    const frequencies = Float64Array.of(0, 0.5 * resonance, resonance, 3 * resonance);
    const point = { junction: 0, motion: "x" } as const;
    const { gain, phase } = findFrequencyResponse(set, { force: point, at: point, dampingRatios: z, frequencies });
    frequencies.forEach((frequency, i) => {
      const w = 2 * Math.PI * frequency;
      const [real, imaginary] = [k - mass * w * w, 2 * z * Math.sqrt(k * mass) * w];
      expect(Math.abs(gain[i]! * Math.hypot(real, imaginary) - 1)).toBeLessThan(1e-11);
      expect(Math.abs(phase[i]! + Math.atan2(imaginary, real))).toBeLessThan(1e-11);
    });
    const across = { junction: 0, motion: "y" } as const;
    const none = findFrequencyResponse(set, { force: point, at: across, dampingRatios: z, frequencies });
    for (const value of none.gain) expect(value * k).toBeLessThan(1e-12);
  });

  it("of a beam is that of the whole beam from a few modes, and the same either way", () => {
    // Force on the tip of a cantilever, undamped: L^3/(EI) (sin b cosh b - cos b sinh b)/(b^3 (1 + cos b cosh b)),
    // b^4 = rho A w^2 L^4/(EI) (receptance of Bishop & Johnson 1960, from memory).
    const network = cantilever(20);
    const tip = { junction: 1, motion: "y" } as const;
    const EI = (material.youngsModulus * size.thickness * size.width ** 3) / 12;
    const line = material.density * size.width * size.thickness;
    for (const count of [2, 4]) {
      const set = findModes(network, restShape(network), { count, families: ["in plane"], ignoreRotaryInertia: true });
      for (const b of [0.5, 1.5, 3, 4.2]) {
        const frequencies = Float64Array.of((b * b * Math.sqrt(EI / line)) / L ** 2 / (2 * Math.PI));
        const response = findFrequencyResponse(set, { force: tip, at: tip, dampingRatios: 0, frequencies });
        const exact =
          (L ** 3 / EI / b ** 3) * ((Math.sin(b) * Math.cosh(b) - Math.cos(b) * Math.sinh(b)) / (1 + Math.cos(b) * Math.cosh(b)));
        // Modes left out answer as if static: each misses 4/beta^4 r/(1 - r) of L^3/(EI), r = (b/beta)^4, beta = (n - 1/2) pi.
        let missing = 0;
        for (let n = count + 1; n < 20; n++) {
          const beta = (n - 0.5) * Math.PI;
          const r = (b / beta) ** 4;
          missing += ((4 / beta ** 4) * r) / (1 - r);
        }
        const found = response.gain[0]! * Math.cos(response.phase[0]!);
        expect(Math.abs(Math.sin(response.phase[0]!))).toBeLessThan(1e-12);
        // Elements: 2e-6 of the second eigenvalue, times 3 so near below it.
        expect(Math.abs(((exact - found) * EI) / L ** 3 - missing)).toBeLessThan(1e-6);
      }
      const turn = { junction: 1, motion: "turn" } as const;
      const frequencies = Float64Array.of(0, 1e4, 1e5);
      const there = findFrequencyResponse(set, { force: tip, at: turn, dampingRatios: 0.01, frequencies });
      const back = findFrequencyResponse(set, { force: turn, at: tip, dampingRatios: 0.01, frequencies });
      there.gain.forEach((value, i) => {
        expect(Math.abs(value / back.gain[i]! - 1)).toBeLessThan(1e-9);
      });
      const still = findFrequencyResponse(set, { force: tip, at: tip, dampingRatios: 0.01, frequencies });
      expect(Math.abs(still.gain[0]! * stiffnessOfPoint(set.systems["in plane"]!, tip) - 1)).toBeLessThan(1e-12);
    }
  });

  it("refuses unstable shapes, families that were not asked for, and negative damping", () => {
    const network = cantilever(4);
    const tip = { junction: 1, motion: "y" } as const;
    const frequencies = Float64Array.of(1);
    const options = { force: tip, at: tip, dampingRatios: 0.1, frequencies };
    const lifted = findModes(network, restShape(network), { count: 2, families: ["out of plane"] });
    expect(() => findFrequencyResponse(lifted, options)).toThrow(/wanted modes in plane, found none/);
    const set = findModes(network, restShape(network), { count: 2, families: ["in plane"] });
    expect(() => findFrequencyResponse(set, { ...options, dampingRatios: -0.1 })).toThrow(/damping ratios of 0 or more/);
    const rest = restShape(network);
    const squeezed = { ...rest, strains: rest.strains.map((list) => list.map(() => 1e-4)) };
    const unstable = findModes(network, squeezed, { count: 2, families: ["in plane"] });
    expect(() => findFrequencyResponse(unstable, options)).toThrow(/wanted a stable shape/);
  });
});
