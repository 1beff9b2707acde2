import { describe, expect, it } from "vitest";
import { crowdingSquares } from "./crowding.ts";

/**
 * Excess resistance of half a step (an edge of symmetry along y = 0) by matching cosine modes of both strips: widths a and 1, unit
 * current. From below as modes are added: the corner's flux of r^(-1/3) is built from smooth modes.
 */
function matchedModes(a: number, nModes: number): number {
  // narrow: phi = x/a + sum p_n cos(n pi y/a) exp(n pi x/a); wide: phi = x + R + sum q_m cos(m pi y) exp(-m pi x).
  // Flux into the wide strip gives q_m from p_n, potential on the opening gives p_n back: one linear system for p.
  const nWide = Math.ceil(nModes / a);
  // integral of cos(n pi y/a) cos(m pi y) over the opening, normalised as needed
  const overlap = (n: number, m: number): number => {
    const [k, l] = [(n * Math.PI) / a, m * Math.PI];
    if (Math.abs(k - l) < 1e-12) return a / 2;
    return Math.sin((k - l) * a) / (2 * (k - l)) + Math.sin((k + l) * a) / (2 * (k + l));
  };
  // q_m m pi / 2 = -(integral of flux cos(m pi y)), flux = 1/a + sum p_n (n pi/a) cos(n pi y/a)
  const matrix = Array.from({ length: nModes }, (_, i) =>
    Array.from({ length: nModes }, (_, j) => {
      let sum = i === j ? a / 2 : 0;
      for (let m = 1; m <= nWide; m++)
        sum += (2 / (m * Math.PI)) * overlap(i + 1, m) * overlap(j + 1, m) * (((j + 1) * Math.PI) / a);
      return sum;
    }),
  );
  const right = Array.from({ length: nModes }, (_, i) => {
    let sum = 0;
    for (let m = 1; m <= nWide; m++)
      sum -= (2 / (m * Math.PI)) * overlap(i + 1, m) * (Math.sin(m * Math.PI * a) / (m * Math.PI * a));
    return sum;
  });
  const p = solve(matrix, right);
  // mean potential of the opening: 0 on the narrow side
  let resistance = 0;
  for (let m = 1; m <= nWide; m++) {
    const mean = Math.sin(m * Math.PI * a) / (m * Math.PI * a);
    let flux = mean;
    p.forEach((value, j) => {
      flux += value * (((j + 1) * Math.PI) / a) * overlap(j + 1, m);
    });
    resistance += (2 / (m * Math.PI)) * flux * mean;
  }
  return resistance;
}

function solve(matrix: number[][], right: number[]): number[] {
  const n = right.length;
  for (let i = 0; i < n; i++) {
    for (let k = i + 1; k < n; k++) {
      const f = matrix[k]![i]! / matrix[i]![i]!;
      for (let j = i; j < n; j++) matrix[k]![j]! -= f * matrix[i]![j]!;
      right[k]! -= f * right[i]!;
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let j = i + 1; j < n; j++) right[i]! -= matrix[i]![j]! * right[j]!;
    right[i]! /= matrix[i]![i]!;
  }
  return right;
}

describe("a strip that widens", () => {
  it.each([0.1, 0.2, 0.4, 0.7])("resists as much more as matched modes say, at %f of the width", (a) => {
    // two halves side by side carry half of the current each; 40 modes leave 1e-3 at the corner's singularity
    expect(Math.abs(crowdingSquares(a, 1) - matchedModes(a, 40) / 2)).toBeLessThan(1e-3);
  });
  it("that does not widen has nothing more", () => {
    expect(crowdingSquares(1, 1)).toBe(0);
    expect(crowdingSquares(2, 1)).toBe(0);
    expect(crowdingSquares(0.99998, 1)).toBeLessThan(1e-8);
  });
});
