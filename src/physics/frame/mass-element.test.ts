import { describe, expect, it } from "vitest";
import { bendingMassInto } from "./mass-element.ts";

const massOf = (element: Parameters<typeof bendingMassInto>[1]): Float64Array => {
  const mass = new Float64Array(16);
  bendingMassInto(mass, element);
  return mass;
};

describe("consistent mass of a beam element", () => {
  it("is the classical matrix where the beam is stiff against shear", () => {
    // m l/420 [156, 22 l, 54, -13 l; ...] and rho I/(30 l) [36, 3 l, -36, 3 l; ...] (Clough & Penzien, key clough1993, from memory).
    const l = 1.7;
    const m = (2.3 * l) / 420;
    const r = 0.4 / (30 * l);
    const mass = massOf({ length: l, perLength: 2.3, rotary: 0.4, shear: 0 });
    const translation = [156, 22 * l, 54, -13 * l, 22 * l, 4 * l * l, 13 * l, -3 * l * l];
    const rotation = [36, 3 * l, -36, 3 * l, 3 * l, 4 * l * l, -3 * l, -l * l];
    for (let i = 0; i < 8; i++) expect(Math.abs(mass[i]! - m * translation[i]! - r * rotation[i]!)).toBeLessThan(1e-14);
    for (let i = 0; i < 4; i++) for (let j = 0; j < i; j++) expect(mass[4 * i + j]).toBe(mass[4 * j + i]);
  });

  it("holds the whole mass, and its moments, however soft the beam is in shear", () => {
    // A translation moves m l; a rigid turn about the start m l^3/3 + rho I l.
    for (const shear of [0, 0.3, 5, 1000]) {
      const l = 0.8;
      const mass = massOf({ length: l, perLength: 3, rotary: 0.2, shear });
      const product = (x: readonly number[], y: readonly number[]): number =>
        x.reduce((sum, a, i) => sum + y.reduce((inner, b, j) => inner + a * b * mass[4 * i + j]!, 0), 0);
      const lift = [1, 0, 1, 0];
      const turn = [0, 1, l, 1];
      expect(Math.abs(product(lift, lift) - 3 * l)).toBeLessThan(1e-14);
      expect(Math.abs(product(lift, turn) - (3 * l * l) / 2)).toBeLessThan(1e-14);
      expect(Math.abs(product(turn, turn) - l ** 3 - 0.2 * l)).toBeLessThan(1e-14);
    }
  });
});
