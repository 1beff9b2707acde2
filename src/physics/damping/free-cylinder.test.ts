import { describe, expect, it } from "vitest";
import { cylinderDrag } from "./free-cylinder.ts";
import { penetrationDepth } from "./sliding-film.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const viscosity = 1.81e-5;
const density = 1.2;

describe("cylinder in free gas", () => {
  it("fast or large: boundary layer of potential flow, 4 pi mu a/depth", () => {
    const gas = { viscosity, density, angularFrequency: 2 * Math.PI * 1e4 };
    for (const radius of [0.01, 0.1]) {
      const { damping, addedMass } = cylinderDrag(gas, { radius, meanFreePath: 68e-9 });
      const depth = penetrationDepth(gas);
      // The next term is of the order depth/a: the layer theory is its first one.
      expect(Math.abs(damping / ((4 * Math.PI * viscosity * radius) / depth) - 1)).toBeLessThan(depth / radius);
      expect(Math.abs(addedMass / (Math.PI * radius ** 2 * density) - 1 - (2 * depth) / radius)).toBeLessThan(
        (depth / radius) ** 2,
      );
    }
  });

  it("slow or thin: 4 pi mu Re 1/(-ln(z/2) - gamma)", () => {
    // Expansion of K0 for small argument; what is left out is z² ln z.
    const gas = { viscosity, density, angularFrequency: 1 };
    const radius = 1e-5;
    const logarithm = -Math.log((radius * Math.sqrt(density / viscosity)) / 2) - 0.5772156649015329;
    const wanted = (4 * Math.PI * viscosity * logarithm) / (logarithm ** 2 + (Math.PI / 4) ** 2);
    expect(relative(cylinderDrag(gas, { radius, meanFreePath: 0 }).damping, wanted)).toBeLessThan(1e-4);
  });

  it("agrees with tabulated Kelvin functions at z = exp(i pi/4)", () => {
    // ker 1 = 0.2867062087, kei 1 = -0.4949946365; ker1 1 = -0.7403222768, kei1 1 = -0.2419959664 (Abramowitz & Stegun, table 9.12, from
    // memory, confirmed by their power series). K0(z) = ker + i kei; K1(z) = exp(i pi/2) (ker1 + i kei1).
    const gas = { viscosity: 1, density: 1, angularFrequency: 1 };
    const { damping, addedMass } = cylinderDrag(gas, { radius: 1, meanFreePath: 0 });
    const [re0, im0, re1, im1] = [0.2867062087, -0.4949946365, 0.2419959664, -0.7403222768];
    const squared = re0 ** 2 + im0 ** 2;
    const [re, im] = [(re1 * re0 + im1 * im0) / squared, (im1 * re0 - re1 * im0) / squared];
    // 4/z = (1 - i) 4/sqrt(2).
    const scale = 4 * Math.SQRT1_2;
    expect(relative(damping, -Math.PI * scale * (im - re))).toBeLessThan(1e-8);
    expect(relative(addedMass, Math.PI * (1 + scale * (re + im)))).toBeLessThan(1e-8);
  });

  it("refuses rarefied gas", () => {
    const gas = { viscosity, density, angularFrequency: 1e4 };
    expect(() => cylinderDrag(gas, { radius: 0.6e-6, meanFreePath: 68e-9 })).toThrow(/mean free path/);
    expect(() => cylinderDrag(gas, { radius: 0, meanFreePath: 0 })).toThrow(RangeError);
  });
});
