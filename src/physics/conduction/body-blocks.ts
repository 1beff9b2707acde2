/**
 * Solves the potential equations of several bodies: GMRES [saad1986] FROM MEMORY, each body by itself exactly in between.
 *
 * A body acts on its own panels far more than on those of others, so some fifteen steps reach the tolerance where an elimination costs n³/3:
 * a fifth of its time at 256 panels. Bodies that almost touch couple strongly; where 40 steps are not enough the elimination
 * is done after all, so the answer is never worse than the tolerance. Main test: body-blocks.test.ts.
 */

import { factorInPlace, solveInto } from "#numerics";

/** Residual over right-hand side at which the steps end: far below the error of the panels. */
const tolerance = 1e-8;
const mostSteps = 40;

/** The equations: `matrix` [n × n, row-major], and the block to which each row belongs; rows of a block follow one another. */
export interface BlockEquations {
  readonly matrix: Float64Array;
  readonly n: number;
  readonly owner: Int32Array;
}

/** Solutions [n] for each right-hand side [n]. Overwrites the matrix where it has to eliminate. */
export function solveByBlocks(equations: BlockEquations, rights: readonly Float64Array[]): Float64Array[] {
  const { n } = equations;
  const blocks = factorBlocks(equations);
  const solutions: Float64Array[] = [];
  if (blocks.length > 1) {
    for (const right of rights) {
      const solution = iterate(equations, blocks, right);
      if (solution === undefined) break;
      solutions.push(solution);
    }
  }
  if (solutions.length === rights.length) return solutions;
  const pivots = new Int32Array(n);
  factorInPlace(equations.matrix, n, pivots);
  return rights.map((right) => {
    const x = right.slice();
    solveInto(x, equations.matrix, n, pivots);
    return x;
  });
}

interface Block {
  readonly start: number;
  readonly size: number;
  readonly factors: Float64Array;
  readonly pivots: Int32Array;
}

function factorBlocks({ matrix, n, owner }: BlockEquations): Block[] {
  const blocks: Block[] = [];
  for (let start = 0; start < n; ) {
    let end = start;
    while (end < n && owner[end] === owner[start]) end++;
    const size = end - start;
    // A single block would be factored here only to be factored again.
    if (size === n) return [{ start, size, factors: new Float64Array(0), pivots: new Int32Array(0) }];
    const factors = new Float64Array(size * size);
    for (let i = 0; i < size; i++) factors.set(matrix.subarray((start + i) * n + start, (start + i) * n + end), i * size);
    const pivots = new Int32Array(size);
    factorInPlace(factors, size, pivots);
    blocks.push({ start, size, factors, pivots });
    start = end;
  }
  return blocks;
}

function solveBlocks(blocks: readonly Block[], right: Float64Array): Float64Array {
  const x = right.slice();
  for (const { start, size, factors, pivots } of blocks) solveInto(x.subarray(start, start + size), factors, size, pivots);
  return x;
}

function multiply({ matrix, n }: BlockEquations, x: Float64Array): Float64Array {
  const product = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    // Two sums: one alone would wait for each addition.
    let even = 0;
    let odd = 0;
    let j = 0;
    for (; j + 1 < n; j += 2) {
      even += matrix[row + j]! * x[j]!;
      odd += matrix[row + j + 1]! * x[j + 1]!;
    }
    product[i] = even + odd + (j < n ? matrix[row + j]! * x[j]! : 0);
  }
  return product;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** GMRES with the blocks' inverses to the right; undefined where it does not reach the tolerance. */
function iterate(equations: BlockEquations, blocks: readonly Block[], right: Float64Array): Float64Array | undefined {
  const size = Math.sqrt(dot(right, right));
  if (size === 0) return new Float64Array(equations.n);
  const basis = [right.map((value) => value / size)];
  const columns: Float64Array[] = [];
  // Rotations that make the columns triangular, and the right-hand side they leave.
  const cosines: number[] = [];
  const sines: number[] = [];
  const rest = [size];
  for (let step = 0; step < mostSteps; step++) {
    const next = multiply(equations, solveBlocks(blocks, basis[step]!));
    const column = new Float64Array(step + 2);
    for (let k = 0; k <= step; k++) {
      const part = dot(next, basis[k]!);
      column[k] = part;
      for (let i = 0; i < next.length; i++) next[i] = next[i]! - part * basis[k]![i]!;
    }
    const length = Math.sqrt(dot(next, next));
    column[step + 1] = length;
    for (let k = 0; k < step; k++) rotate(column, k, cosines[k]!, sines[k]!);
    const radius = Math.hypot(column[step]!, length);
    cosines.push(column[step]! / radius);
    sines.push(length / radius);
    rotate(column, step, cosines[step]!, sines[step]!);
    columns.push(column);
    rest.push(-sines[step]! * rest[step]!);
    rest[step] = cosines[step]! * rest[step]!;
    if (Math.abs(rest[step + 1]!) <= tolerance * size) return combine(blocks, { basis, columns, rest });
    if (!(length > 0)) return undefined;
    basis.push(next.map((value) => value / length));
  }
  return undefined;
}

function rotate(column: Float64Array, k: number, cosine: number, sine: number): void {
  const upper = column[k]!;
  const lower = column[k + 1]!;
  column[k] = cosine * upper + sine * lower;
  column[k + 1] = cosine * lower - sine * upper;
}

/** The combination of basis vectors that the triangular columns call for. */
function combine(
  blocks: readonly Block[],
  found: { readonly basis: readonly Float64Array[]; readonly columns: readonly Float64Array[]; readonly rest: readonly number[] },
): Float64Array {
  const { basis, columns, rest } = found;
  const weights = new Float64Array(columns.length);
  for (let i = columns.length - 1; i >= 0; i--) {
    let sum = rest[i]!;
    for (let k = i + 1; k < columns.length; k++) sum -= columns[k]![i]! * weights[k]!;
    weights[i] = sum / columns[i]![i]!;
  }
  const total = new Float64Array(basis[0]!.length);
  weights.forEach((weight, k) => {
    for (let i = 0; i < total.length; i++) total[i] = total[i]! + weight * basis[k]![i]!;
  });
  return solveBlocks(blocks, total);
}
