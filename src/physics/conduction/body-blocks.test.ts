import { describe, expect, it } from "vitest";
import { createRandomSource } from "#base";
import { factorInPlace, solveInto } from "#numerics";
import { solveByBlocks } from "./body-blocks.ts";

/** Blocks of `size`, strong inside, `coupling` to one another. */
function equations(size: number, options: { nBlocks: number; coupling: number; seed: number }) {
  const { nBlocks, coupling, seed } = options;
  const random = createRandomSource(seed);
  const n = size * nBlocks;
  const owner = Int32Array.from({ length: n }, (_, i) => Math.floor(i / size));
  const matrix = Float64Array.from({ length: n * n }, (_, at) => {
    const [i, j] = [Math.floor(at / n), at % n];
    return owner[i] === owner[j] ? random.normal() + (i === j ? 8 : 0) : coupling * random.normal();
  });
  return { matrix, n, owner, right: Float64Array.from({ length: n }, () => random.normal()) };
}

function residual(problem: { matrix: Float64Array; n: number; right: Float64Array }, x: Float64Array): number {
  const { matrix, n, right } = problem;
  let [sum, size] = [0, 0];
  for (let i = 0; i < n; i++) {
    let row = right[i]!;
    for (let j = 0; j < n; j++) row -= matrix[i * n + j]! * x[j]!;
    sum += row * row;
    size += right[i]! ** 2;
  }
  return Math.sqrt(sum / size);
}

describe("equations in blocks", () => {
  it("are solved to the tolerance where blocks couple weakly, without touching the matrix", () => {
    const problem = equations(12, { nBlocks: 5, coupling: 0.05, seed: 3 });
    const kept = problem.matrix.slice();
    const [x] = solveByBlocks(problem, [problem.right]);
    expect(residual(problem, x!)).toBeLessThan(1.01e-8);
    expect(problem.matrix).toEqual(kept);
  });

  it("are eliminated where steps do not help", () => {
    const problem = equations(2, { nBlocks: 40, coupling: 3, seed: 5 });
    const kept = { ...problem, matrix: problem.matrix.slice() };
    const [x] = solveByBlocks(problem, [problem.right]);
    expect(problem.matrix).not.toEqual(kept.matrix);
    // Elimination: rounding times the condition of a random matrix.
    expect(residual(kept, x!)).toBeLessThan(1e-10);
  });

  it("of a single block are the elimination itself", () => {
    const problem = equations(9, { nBlocks: 1, coupling: 0, seed: 7 });
    const lu = problem.matrix.slice();
    const pivots = new Int32Array(9);
    const wanted = problem.right.slice();
    factorInPlace(lu, 9, pivots);
    solveInto(wanted, lu, 9, pivots);
    expect(solveByBlocks(problem, [problem.right])[0]).toEqual(wanted);
  });

  it("answers every right-hand side, zero included", () => {
    const problem = equations(6, { nBlocks: 3, coupling: 0.1, seed: 9 });
    const [x, zero] = solveByBlocks(problem, [problem.right, new Float64Array(18)]);
    expect(residual(problem, x!)).toBeLessThan(1.01e-8);
    expect(zero!.every((value) => value === 0)).toBe(true);
  });
});
