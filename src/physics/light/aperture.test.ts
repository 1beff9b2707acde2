import { describe, expect, it } from "vitest";
import { apertureLight } from "./aperture.ts";

const u = 1e-6;

describe("aperture", () => {
  it("counts fifty slits and two ribs as by hand", () => {
    // 1000 / 20 = 50 slits; 2 × 20 of 1000 blocked. Arithmetic, no source; rounding only.
    const light = apertureLight(0.25, { pitch: 20 * u, across: 1000 * u, along: 1000 * u, ribs: [20 * u, 20 * u] });
    expect(light.nSlits).toBe(50);
    expect(light.freeShare).toBeCloseTo(0.96, 12);
    expect(light.transmitted).toBeCloseTo(0.24, 12);
  });

  it("does not lose a slit to rounding", () => {
    // In doubles 0.3 / 0.1 is below 3.
    expect(apertureLight(0.3, { pitch: 1e-4, across: 3e-4, along: 1e-3, ribs: [] }).nSlits).toBe(3);
  });

  it("leaves dark what is left over beside the last whole slit", () => {
    const light = apertureLight(0.3, { pitch: 20 * u, across: 95 * u, along: 1000 * u, ribs: [] });
    expect(light.nSlits).toBe(4);
    expect(light.transmitted).toBeCloseTo((0.3 * 80) / 95, 12);
  });

  it("refuses ribs that leave nothing to block and shares beyond 1", () => {
    const aperture = { pitch: 20 * u, across: 100 * u, along: 30 * u, ribs: [20 * u, 20 * u] };
    expect(() => apertureLight(0.3, aperture)).toThrow("wanted ribs of");
    expect(() => apertureLight(1.1, { ...aperture, ribs: [] })).toThrow("wanted a transmission from 0 to 1, found 1.1");
    expect(() => apertureLight(0.3, { ...aperture, pitch: 0 })).toThrow(RangeError);
  });
});
