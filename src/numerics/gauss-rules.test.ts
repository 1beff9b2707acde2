import { describe, expect, it } from "vitest";
import {
  barycentricWeights,
  differentiationMatrix,
  gaussLegendreRule,
  gaussLobattoRule,
  lagrangeValuesInto,
} from "./gauss-rules.ts";

/** Integral of x^k over [-1, 1]. */
const monomial = (k: number): number => (k % 2 === 0 ? 2 / (k + 1) : 0);

describe("Gauss rules", () => {
  it.each([1, 2, 3, 5, 8, 13, 24])("Legendre with %i points is exact up to degree 2n - 1 and no further", (n) => {
    const { nodes, weights } = gaussLegendreRule(n);
    const integral = (k: number): number => nodes.reduce((sum, x, i) => sum + weights[i]! * x ** k, 0);
    for (let k = 0; k < 2 * n; k++) expect(Math.abs(integral(k) - monomial(k))).toBeLessThan(2e-15);
    // The first degree missed is off by about 4^-n: told from rounding up to n = 13.
    if (n <= 13) expect(Math.abs(integral(2 * n) - monomial(2 * n))).toBeGreaterThan(1e-9 * 4 ** (5 - n));
  });

  it.each([1, 2, 4, 8, 10, 16])("Lobatto of degree %i holds both ends and is exact up to degree 2p - 1", (p) => {
    const { nodes, weights } = gaussLobattoRule(p);
    expect([nodes[0], nodes[p]]).toEqual([-1, 1]);
    const integral = (k: number): number => nodes.reduce((sum, x, i) => sum + weights[i]! * x ** k, 0);
    for (let k = 0; k < 2 * p; k++) expect(Math.abs(integral(k) - monomial(k))).toBeLessThan(2e-15);
    for (let i = 0; i <= p; i++) expect(nodes[i]! + nodes[p - i]!).toBeCloseTo(0, 15);
  });

  it("has the published nodes of the 5-point Lobatto rule", () => {
    // Abramowitz & Stegun 25.4.32 (from memory): 0, +-sqrt(3/7), +-1 with weights 32/45, 49/90, 1/10.
    const { nodes, weights } = gaussLobattoRule(4);
    expect(nodes[3]).toBeCloseTo(Math.sqrt(3 / 7), 15);
    expect(weights[2]).toBeCloseTo(32 / 45, 15);
    expect(weights[3]).toBeCloseTo(49 / 90, 15);
    expect(weights[4]).toBeCloseTo(0.1, 15);
  });

  it("refuses no points", () => {
    expect(() => gaussLegendreRule(0)).toThrow(RangeError);
    expect(() => gaussLobattoRule(0)).toThrow(RangeError);
  });
});

describe("interpolation through Lobatto nodes", () => {
  const { nodes } = gaussLobattoRule(10);
  const values = Float64Array.from(nodes, (x) => x ** 9 - 3 * x ** 4 + x);

  it("reproduces a polynomial of its degree, at the nodes too", () => {
    const row = new Float64Array(nodes.length);
    const barycentric = barycentricWeights(nodes);
    for (const x of [-1, -0.73, nodes[3]!, 0.1, 1]) {
      lagrangeValuesInto(row, x, { nodes, barycentric });
      const found = row.reduce((sum, part, i) => sum + part * values[i]!, 0);
      expect(found).toBeCloseTo(x ** 9 - 3 * x ** 4 + x, 13);
    }
  });

  it("differentiates it exactly and a constant to nothing", () => {
    const D = differentiationMatrix(nodes);
    for (let q = 0; q < nodes.length; q++) {
      const x = nodes[q]!;
      let slope = 0;
      let ofOne = 0;
      for (let j = 0; j < nodes.length; j++) {
        slope += D[q * nodes.length + j]! * values[j]!;
        ofOne += D[q * nodes.length + j]!;
      }
      // Entries up to 30 times rounding.
      expect(Math.abs(slope - (9 * x ** 8 - 12 * x ** 3 + 1))).toBeLessThan(1e-12);
      expect(Math.abs(ofOne)).toBeLessThan(1e-13);
    }
  });
});
