import { describe, expect, it } from "vitest";
import {
  accelerationNoise,
  capacitorNoise,
  forceNoise,
  resistorNoise,
  thermalDisplacement,
  thermalMotion,
} from "./thermal-noise.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const mode = { mass: 1e-9, angularFrequency: 2 * Math.PI * 5e3, quality: 50 };

describe("thermal noise", () => {
  it("of 1 ug at 5 kHz, Q 50, 300 K: 10.40402825 ug/sqrt(Hz), 64.78170827 pm", () => {
    // Formulas of [gabrielson1993], ten digits; g = 9.80665 m/s².
    expect(relative(accelerationNoise(mode, 300), 1.020286637e-4)).toBeLessThan(1e-9);
    expect(relative(accelerationNoise(mode, 300) / 9.80665, 10.40402825e-6)).toBeLessThan(1e-9);
    expect(relative(thermalDisplacement(mode, 300), 6.478170827e-11)).toBeLessThan(1e-9);
    expect(relative(thermalMotion(mode.mass * mode.angularFrequency ** 2, 300), 6.478170827e-11)).toBeLessThan(1e-9);
  });

  it("of 1 kohm 4.070354776 nV/sqrt(Hz), on 1 pF 64.35795988 uV", () => {
    expect(relative(resistorNoise(1e3, 300), 4.070354776e-9)).toBeLessThan(1e-9);
    expect(relative(capacitorNoise(1e-12, 300), 64.35795988e-6)).toBeLessThan(1e-9);
  });

  it("is one law: force noise over mass is the acceleration noise, and white noise through the mode gives the displacement", () => {
    const damping = (mode.mass * mode.angularFrequency) / mode.quality;
    expect(relative(forceNoise(damping, 300) / mode.mass, accelerationNoise(mode, 300))).toBeLessThan(1e-12);
    // Noise bandwidth of a resonance: ∫ |x/F|² df = Q/(4 k² ) omega = 1/(4 c k).
    const stiffness = mode.mass * mode.angularFrequency ** 2;
    expect(
      relative(forceNoise(damping, 300) * Math.sqrt(1 / (4 * damping * stiffness)), thermalDisplacement(mode, 300)),
    ).toBeLessThan(1e-12);
  });

  it("refuses no temperature", () => {
    expect(() => forceNoise(1e-6, 0)).toThrow(RangeError);
    expect(() => resistorNoise(-1, 300)).toThrow(RangeError);
    expect(() => capacitorNoise(0, 300)).toThrow(RangeError);
    expect(() => accelerationNoise({ ...mode, quality: 0 }, 300)).toThrow(RangeError);
  });
});
