import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type CrystalDirection,
  deviceAxes,
  polycrystalModuli,
  siliconBiaxialModulus,
  siliconPoissonRatio,
  siliconShearModulus,
  siliconStiffness,
  siliconYoungsModulus,
} from "./silicon-elasticity.ts";

const T0 = 298.15;
const degree = Math.PI / 180;
const E = (direction: CrystalDirection, T = T0): number => siliconYoungsModulus(direction, "p").at(T) / 1e9;
const nu = (direction: CrystalDirection, transverse: CrystalDirection): number =>
  siliconPoissonRatio({ direction, transverse }, "p").at(T0);
const G = (direction: CrystalDirection, transverse: CrystalDirection): number =>
  siliconShearModulus({ direction, transverse }, "p").at(T0) / 1e9;

// Directions computed from the stiffness of Hopcroft, Nix & Kenny 2010 (from memory); tolerance half a unit of the last printed digit.
describe("elasticity of silicon by direction", () => {
  it("has the known Young's moduli", () => {
    expect(Math.abs(E([1, 0, 0]) - 130.0)).toBeLessThan(0.051);
    expect(Math.abs(E([1, 1, 0]) - 168.93)).toBeLessThan(0.0051);
    expect(Math.abs(E([1, 1, 1]) - 187.7)).toBeLessThan(0.051);
  });

  it("has the known Poisson ratios and shear moduli", () => {
    expect(Math.abs(nu([1, 0, 0], [0, 1, 0]) - 0.278)).toBeLessThan(0.00051);
    expect(Math.abs(nu([1, 0, 0], [0, 1, 1]) - 0.278)).toBeLessThan(0.00051);
    expect(Math.abs(nu([1, 1, 0], [1, -1, 0]) - 0.06246)).toBeLessThan(0.51e-5);
    expect(Math.abs(nu([1, 1, 0], [0, 0, 1]) - 0.362)).toBeLessThan(0.00051);
    expect(Math.abs(G([1, 0, 0], [0, 1, 0]) - 79.5)).toBeLessThan(1e-9);
    expect(Math.abs(G([1, 1, 0], [1, -1, 0]) - 50.9)).toBeLessThan(0.051);
    expect(Math.abs(G([1, 1, 0], [0, 0, 1]) - 79.5)).toBeLessThan(1e-9);
  });

  it.each([
    [0, 130.0],
    [10, 133.6],
    [15, 138.0],
    [20, 143.7],
    [30, 157.2],
    [35, 163.2],
    [40, 167.4],
    [45, 168.9],
  ])("in a (100) wafer %d degrees from <100> has E = %d GPa", (angle, modulus) => {
    // axisAngle counts from <110>, 45 degrees away.
    expect(Math.abs(E(deviceAxes("100", (angle - 45) * degree).along) - modulus)).toBeLessThan(0.051);
  });

  it("is the same in every direction of a (111) wafer", () => {
    fc.assert(
      fc.property(fc.double({ min: -7, max: 7, noNaN: true }), (angle) => {
        const { along, across } = deviceAxes("111", angle);
        expect(Math.abs(E(along) - 168.93)).toBeLessThan(0.0051);
        expect(Math.abs(nu(along, across) - 0.262)).toBeLessThan(0.00051);
      }),
      { seed: 3 },
    );
  });

  it("keeps the axes of a device perpendicular and of unit length", () => {
    for (const plane of ["100", "111"] as const) {
      const { along, across, out } = deviceAxes(plane, 0.7);
      const dot = (a: CrystalDirection, b: CrystalDirection): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
      expect(dot(along, along)).toBeCloseTo(1, 14);
      expect(dot(along, across)).toBeCloseTo(0, 14);
      expect(dot(along, out)).toBeCloseTo(0, 14);
      // Right-handed: along × across = out.
      const cross = [
        along[1] * across[2] - along[2] * across[1],
        along[2] * across[0] - along[0] * across[2],
        along[0] * across[1] - along[1] * across[0],
      ];
      for (let i = 0; i < 3; i++) expect(cross[i]).toBeCloseTo(out[i]!, 14);
    }
  });

  it("obeys nu(n,m)/E(n) = nu(m,n)/E(m), the symmetry of the compliance", () => {
    const vector = fc.tuple(
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.double({ min: 0.1, max: 1, noNaN: true }),
    );
    fc.assert(
      fc.property(vector, vector, (a, b) => {
        const m: CrystalDirection = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
        fc.pre(Math.hypot(...m) > 0.05);
        expect(nu(a, m) / E(a)).toBeCloseTo(nu(m, a) / E(m), 12);
      }),
      { seed: 5 },
    );
  });

  it("has biaxial moduli 180.2 GPa in (100) and 228.9 GPa in (111)", () => {
    expect(Math.abs(siliconBiaxialModulus("100", "p").at(T0) / 1e9 - 180.2)).toBeLessThan(0.051);
    expect(Math.abs(siliconBiaxialModulus("111", "p").at(T0) / 1e9 - 228.9)).toBeLessThan(0.051);
  });

  it("bounds the polycrystal: Voigt 165.7, Reuss 159.4, Hill 162.6 GPa", () => {
    const { voigt, reuss, hill } = polycrystalModuli(siliconStiffness(T0, "p"));
    expect(Math.abs(voigt.youngsModulus / 1e9 - 165.7)).toBeLessThan(0.051);
    expect(Math.abs(reuss.youngsModulus / 1e9 - 159.4)).toBeLessThan(0.051);
    expect(Math.abs(hill.youngsModulus / 1e9 - 162.6)).toBeLessThan(0.051);
    expect(Math.abs(voigt.poissonRatio - 0.218)).toBeLessThan(0.00051);
    expect(Math.abs(reuss.poissonRatio - 0.228)).toBeLessThan(0.00051);
    expect(Math.abs(hill.poissonRatio - 0.223)).toBeLessThan(0.00051);
  });

  it.each([
    [400, 167.7],
    [500, 166.4],
    [600, 164.8],
    [800, 161.3],
  ])("at %d K has E<110> = %d GPa (coefficients of Bourgeois et al. 1997, from memory)", (T, modulus) => {
    // Half a printed digit and the 0.003 GPa between reference temperatures of 298 and 298.15 K.
    expect(Math.abs(E([1, 1, 0], T) - modulus)).toBeLessThan(0.055);
  });

  it("has slopes of -64.6 ppm/K (p) and -63.3, -63.7 ppm/K (n) at 298 K", () => {
    const slope = (direction: CrystalDirection, type: "p" | "n"): number => {
      const law = siliconYoungsModulus(direction, type);
      return (1e6 * law.slopeAt(T0)) / law.at(T0);
    };
    expect(Math.abs(slope([1, 0, 0], "p") + 64.6)).toBeLessThan(0.06);
    expect(Math.abs(slope([1, 1, 0], "p") + 64.6)).toBeLessThan(0.06);
    expect(Math.abs(slope([1, 0, 0], "n") + 63.3)).toBeLessThan(0.06);
    expect(Math.abs(slope([1, 1, 0], "n") + 63.7)).toBeLessThan(0.06);
  });

  it("refuses directions that are not", () => {
    expect(() => siliconYoungsModulus([0, 0, 0], "p")).toThrow(RangeError);
    expect(() => siliconShearModulus({ direction: [1, 0, 0], transverse: [1, 1, 0] }, "p")).toThrow(RangeError);
  });
});
