import { describe, expect, it } from "vitest";
import { sampledLaw } from "./sampled-law.ts";

describe("sampled law", () => {
  it("keeps a steep law and its slope, and answers itself outside the samples", () => {
    const law = { at: (T: number) => Math.exp(4000 / T), slopeAt: (T: number) => (-4000 / T ** 2) * Math.exp(4000 / T) };
    const sampled = sampledLaw(law);
    for (const T of [300, 300.5, 333.21, 700.789, 1999.999]) {
      // h^4/384 f'''' is 2.2e-8 of the value at 300 K, where the lower terms of f'''' double (4000/300^2)^4; the slope loses h
      expect(Math.abs(sampled.at(T) / law.at(T) - 1)).toBeLessThan(2.5e-8);
      expect(Math.abs(sampled.slopeAt(T) / law.slopeAt(T) - 1)).toBeLessThan(2e-6);
      const h = 1e-4;
      // the slope is that of the interpolant: central difference inside one kelvin
      if (T % 1 > h)
        expect(Math.abs((sampled.at(T + h) - sampled.at(T - h)) / (2 * h) / sampled.slopeAt(T) - 1)).toBeLessThan(1e-6);
    }
    expect(sampled.at(2500)).toBe(law.at(2500));
    expect(sampledLaw(law)).toBe(sampled);
  });
});
