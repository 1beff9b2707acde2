import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createRandomSource } from "#base";
import { factorInPlace, solveInto } from "#numerics";
import { createSparseFactors, createSparsePattern, factorSparse, slotOf, solveSparseInto } from "./sparse-factors.ts";

describe("sparse factors with a dense tail", () => {
  it("solve random coupled groups as dense elimination does, with the sign of its determinant", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 40 }),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 1, max: 1e6 }),
        (n, nTail, seed) => {
          const random = createRandomSource(seed);
          const cliques = Array.from({ length: n }, () => Array.from({ length: 3 }, () => Math.floor(random.uniform() * n)));
          // tail rows have a zero diagonal, as ideal sources have: they hang on two sparse rows each
          for (let t = 0; t < nTail; t++) cliques.push([n + t, t % n, (t + 1) % n]);
          const size = n + nTail;
          const rankOf = Int32Array.from({ length: size }, (_, i) => (i < n ? i % 2 : 2));
          const pattern = createSparsePattern(cliques, { rankOf, tailRank: 2 });
          const factors = createSparseFactors(pattern);
          const dense = new Float64Array(size * size);
          const put = (row: number, column: number, value: number): void => {
            factors.values[slotOf(pattern, row, column)]! += value;
            dense[row * size + column]! += value;
          };
          for (let i = 0; i < n; i++) put(i, i, 4);
          for (const clique of cliques) {
            for (const a of clique) for (const b of clique) if (a !== b && (a < n || b < n)) put(a, b, random.uniform() - 0.5);
            for (const a of clique) if (a < n) put(a, a, 4);
          }
          const wanted = Float64Array.from({ length: size }, () => random.uniform());
          const rhs = wanted.map((_, i) => wanted.reduce((sum, x, j) => sum + dense[i * size + j]! * x, 0));
          const pivots = new Int32Array(size);
          const check = Float64Array.from(rhs);
          factorInPlace(dense, size, pivots);
          solveInto(check, dense, size, pivots);
          let sign = 1;
          for (let k = 0; k < size; k++) sign *= Math.sign(dense[k * size + k]!) * (pivots[k] === k ? 1 : -1);
          expect(factorSparse(factors)).toBe(sign);
          solveSparseInto(rhs, factors);
          // backward stable on well-conditioned matrices; the few ill-conditioned tails are compared with the dense answer's own error
          const denseError = check.reduce((max, x, i) => Math.max(max, Math.abs(x - wanted[i]!)), 0);
          const error = rhs.reduce((max, x, i) => Math.max(max, Math.abs(x - wanted[i]!)), 0);
          expect(error).toBeLessThan(1e-10 + 1e3 * denseError);
        },
      ),
      { seed: 3, numRuns: 60 },
    );
  });

  it("tells a singular matrix", () => {
    const pattern = createSparsePattern([[0, 1]], { rankOf: Int32Array.of(0, 0, 1), tailRank: 1 });
    const factors = createSparseFactors(pattern);
    for (const [row, column] of [
      [0, 0],
      [0, 1],
      [1, 0],
      [1, 1],
      [2, 2],
    ] as const)
      factors.values[slotOf(pattern, row, column)] = 1;
    expect(factorSparse(factors)).toBe(0);
  });
});
