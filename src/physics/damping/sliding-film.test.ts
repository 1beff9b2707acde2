import { describe, expect, it } from "vitest";
import { freeFaceDamping, penetrationDepth, slidingFilmDamping } from "./sliding-film.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const gas = { viscosity: 1.81e-5, density: 1.2, angularFrequency: 2 * Math.PI * 1e4 };

describe("sliding faces", () => {
  it("at 10 kHz in air, 2 um apart: 9.05005584 N s/m³; depth 21.9115817 um; free face 0.82604717", () => {
    // Exact solution of shear waves [cho1994], printed digits.
    expect(relative(slidingFilmDamping(gas, 2e-6), 9.05005584)).toBeLessThan(1e-9);
    expect(relative(penetrationDepth(gas), 21.9115817e-6)).toBeLessThan(1e-8);
    expect(relative(freeFaceDamping(gas), 0.82604717)).toBeLessThan(1e-8);
  });

  it("is plain shear in a narrow gap and the free face in a wide one, without steps between the formulas", () => {
    const depth = penetrationDepth(gas);
    expect(relative(slidingFilmDamping(gas, 1e-3 * depth), gas.viscosity / (1e-3 * depth))).toBeLessThan(1e-10);
    expect(relative(slidingFilmDamping(gas, 1e-2 * depth * (1 - 1e-9)), slidingFilmDamping(gas, 1e-2 * depth))).toBeLessThan(
      1e-8,
    );
    expect(relative(slidingFilmDamping(gas, 19.99 * depth), freeFaceDamping(gas))).toBeLessThan(1e-12);
    expect(slidingFilmDamping(gas, 30 * depth)).toBe(freeFaceDamping(gas));
  });

  it("refuses no gap and no motion", () => {
    expect(() => slidingFilmDamping(gas, 0)).toThrow(RangeError);
    expect(() => penetrationDepth({ ...gas, angularFrequency: 0 })).toThrow(RangeError);
  });
});
