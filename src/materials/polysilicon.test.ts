import { describe, expect, it } from "vitest";
import { boronMisfit, etchStopConcentration, etchStopSilicon, polysilicon } from "./polysilicon.ts";

describe("boron etch-stop silicon (Lee, Han & Kim: blister test)", () => {
  it("holds together: misfit, strain, stress, lattice constant", () => {
    const strain = boronMisfit * etchStopConcentration;
    expect(strain).toBeCloseTo(1.339e-3, 6);
    const modulus = etchStopSilicon.youngsModulus!.at(300);
    const poisson = etchStopSilicon.poissonRatio!.at(300);
    // Published strain 1.34e-3 gives the published 270 MPa.
    expect(Math.abs((modulus * 1.34e-3) / (1 - poisson) / 1e6 - 269.9)).toBeLessThan(0.1);
    expect(etchStopSilicon.residualStress!.at(300)).toBe(270e6);
    expect(5.431 * (1 - 1.34e-3)).toBeCloseTo(5.4237, 4);
  });

  it("has a resistivity of 6-12 uohm m and a coefficient near 1.5e-3 /K", () => {
    const law = etchStopSilicon.resistivity!;
    expect(law.at(300)).toBeGreaterThan(6e-6);
    expect(law.at(300)).toBeLessThan(12e-6);
    expect(law.slopeAt(300) / law.at(300)).toBeGreaterThan(1.2e-3);
    expect(law.slopeAt(300) / law.at(300)).toBeLessThan(2e-3);
  });
});

describe("polysilicon", () => {
  it.each([
    [22, 72.3],
    [200, 64.8],
    [300, 54.0],
    [400, 43.5],
    [600, 28.1],
  ])("conducts at %d degC %d W/(m K) (Manginell, from memory)", (celsius, k) => {
    expect(Math.abs(polysilicon.conductivity!.at(celsius + 273.15) - k)).toBeLessThan(0.06);
  });

  it("has a resistivity of 20.86 + 0.0297 t uohm m, t in degC", () => {
    expect(polysilicon.resistivity!.at(373.15)).toBeCloseTo((20.86 + 2.97) * 1e-6, 12);
  });
});
