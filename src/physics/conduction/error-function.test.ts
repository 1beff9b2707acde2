import { describe, expect, it } from "vitest";
import { errorFunction } from "./error-function.ts";

describe("error function", () => {
  // Abramowitz & Stegun, table 7.1, ten digits (from memory); checks-in-use: erfc of 1.1917 and 0.5338 from a semi-infinite solid.
  it.each([
    [0, 0],
    [0.5, 0.5204998778],
    [1, 0.8427007929],
    [2, 0.995322265],
    [3, 0.9999779095],
  ])("erf(%d) = %d", (x, wanted) => {
    expect(Math.abs(errorFunction(x) - wanted)).toBeLessThan(0.51e-10);
    expect(errorFunction(-x)).toBe(-errorFunction(x));
  });

  it("runs through the change of method without a step", () => {
    // Slope 2/sqrt(pi) exp(-x²) over 2e-9: anything beyond it would be a step.
    const step = errorFunction(2.5 + 1e-9) - errorFunction(2.5 - 1e-9);
    expect(Math.abs(step - 2e-9 * (2 / Math.sqrt(Math.PI)) * Math.exp(-6.25))).toBeLessThan(1e-15);
    expect(errorFunction(6)).toBe(1);
    expect(1 - errorFunction(5.9)).toBeLessThan(1e-15);
  });
});
