import { describe, expect, it } from "vitest";
import { fresnelReflectance, slabShares } from "./fresnel.ts";

const silicon = { n: 3.75 };

describe("Fresnel reflectance", () => {
  it("is ((n - 1) / (n + 1))² straight on, for both polarisations", () => {
    // Born & Wolf, from memory; closed form, rounding only.
    const expected = (2.75 / 4.75) ** 2;
    expect(fresnelReflectance(silicon, 1).s).toBeCloseTo(expected, 14);
    expect(fresnelReflectance(silicon, 1).p).toBeCloseTo(expected, 14);
  });

  it("loses the p part at Brewster's angle, tan = n", () => {
    const brewster = Math.cos(Math.atan(silicon.n));
    expect(fresnelReflectance(silicon, brewster).p).toBeLessThan(1e-28);
    // There the refracted ray stands upright on the reflected one, so that R_s = cos²(2 i) (from memory).
    expect(fresnelReflectance(silicon, brewster).s).toBeCloseTo(Math.cos(2 * Math.atan(silicon.n)) ** 2, 14);
  });

  it("follows sines and tangents of Snell's angles", () => {
    for (const angle of [0.1, 0.5, 1, 1.4, 1.56]) {
      const inside = Math.asin(Math.sin(angle) / silicon.n);
      const { s, p } = fresnelReflectance(silicon, Math.cos(angle));
      // Fresnel's own form; the cosine near 90 degrees keeps 13 digits.
      expect(s).toBeCloseTo((Math.sin(angle - inside) / Math.sin(angle + inside)) ** 2, 12);
      expect(p).toBeCloseTo((Math.tan(angle - inside) / Math.tan(angle + inside)) ** 2, 12);
    }
  });

  it("of a metal is ((n - 1)² + k²) / ((n + 1)² + k²) straight on, and R_p = R_s² at 45 degrees", () => {
    const metal = { n: 2.3, k: 4.1 };
    expect(fresnelReflectance(metal, 1).p).toBeCloseTo((1.3 ** 2 + 4.1 ** 2) / (3.3 ** 2 + 4.1 ** 2), 14);
    // Abelès' condition, from memory; holds for every index.
    const { s, p } = fresnelReflectance(metal, Math.SQRT1_2);
    expect(p).toBeCloseTo(s * s, 14);
  });

  it("is 0 for the index of vacuum and 1 for a purely imaginary one", () => {
    for (const cosine of [1e-6, 0.1, 0.9]) {
      expect(fresnelReflectance({ n: 1 }, cosine).s).toBeLessThan(1e-20);
      expect(fresnelReflectance({ n: 1 }, cosine).p).toBeLessThan(1e-20);
      expect(fresnelReflectance({ n: 0, k: 1 }, cosine).s).toBeCloseTo(1, 14);
      expect(fresnelReflectance({ n: 0, k: 1 }, cosine).p).toBeCloseTo(1, 14);
    }
  });
});

describe("slab", () => {
  it("adds its inner passes up to the last one", () => {
    const [face, kept] = [0.35, 0.8];
    let reflected = face;
    let transmitted = 0;
    let inside = 1 - face;
    // Sixty passes leave less than 1e-30.
    for (let pass = 0; pass < 60; pass++) {
      inside *= kept;
      if (pass % 2 === 0) transmitted += inside * (1 - face);
      else reflected += inside * (1 - face);
      inside *= face;
    }
    const slab = slabShares(face, kept);
    expect(slab.transmitted).toBeCloseTo(transmitted, 14);
    expect(slab.reflected).toBeCloseTo(reflected, 14);
    expect(slab.absorbed).toBeCloseTo(1 - reflected - transmitted, 14);
  });

  it("passes 2 n / (n² + 1) of the light where nothing is absorbed (closed form, from memory)", () => {
    const face = (2.75 / 4.75) ** 2;
    expect(slabShares(face, 1).transmitted).toBeCloseTo((2 * 3.75) / (3.75 ** 2 + 1), 14);
    expect(slabShares(1, 1)).toEqual({ reflected: 1, transmitted: 0, absorbed: 0 });
  });
});
