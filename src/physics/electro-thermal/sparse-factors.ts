/**
 * LU factors of the sparse, unsymmetric skeleton of a frame on a pattern that is found once and used for every factorisation.
 *
 * Rows are eliminated in an order of least degree within ranks; within the sparse part the diagonal is the pivot, which the equations
 * of heat and of branch currents allow. The last rows, the tail, are eliminated as a dense block with exchanges of rows: there stand
 * terminals and sources, whose diagonal may be zero. Source: minimum degree and factorisation by rows, George & Liu, Computer
 * Solution of Large Sparse Positive Definite Systems (1981), from memory (key george1981).
 * Validity: a pivot that cancels to 1e-13 of its row is told as singular. Main test: sparse-factors.test.ts, against dense elimination.
 */
import { SolveError } from "#base";
import { factorInPlace, solveInto } from "#numerics";

export interface SparsePattern {
  readonly n: number;
  /** Rows before this position are eliminated sparsely; the rest is dense. */
  readonly nSparse: number;
  /** [n] position of each row in the order of elimination. */
  readonly positionOf: Int32Array;
  /** [n] row at each position. */
  readonly rowAt: Int32Array;
  /** [n + 1] first slot of each position's row; the columns are positions in rising order. */
  readonly rowStart: Int32Array;
  readonly columns: Int32Array;
  /** [n] slot of the diagonal of each position. */
  readonly diagonal: Int32Array;
}

/** Factors of one matrix: `values` holds the matrix before and the factors after factorisation. */
export interface SparseFactors {
  readonly pattern: SparsePattern;
  readonly values: Float64Array;
  /** [nTail x nTail] */
  readonly tail: Float64Array;
  readonly tailPivots: Int32Array;
  /** [nTail] factors by which the rows of the tail were scaled. */
  readonly tailScales: Float64Array;
  readonly tailWork: Float64Array;
  readonly work: Float64Array;
  readonly slotOfColumn: Int32Array;
}

/** Groups of rows that are coupled with each other. Negative rows are passed over. */
export type Cliques = readonly (readonly number[])[];

function countBits(word: number): number {
  let v = word - ((word >>> 1) & 0x55555555);
  v = (v & 0x33333333) + ((v >>> 2) & 0x33333333);
  return Math.imul((v + (v >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

/** Finds the order and the filled pattern. `rankOf` [n]: lower ranks are eliminated first; the highest rank `tailRank` is the tail. */
export function createSparsePattern(cliques: Cliques, options: { rankOf: Int32Array; tailRank: number }): SparsePattern {
  const { rankOf, tailRank } = options;
  const n = rankOf.length;
  const nWords = (n + 31) >>> 5;
  const bits = new Int32Array(n * nWords);
  const set = (row: number, column: number): void => {
    const word = row * nWords + (column >>> 5);
    bits[word] = bits[word]! | (1 << (column & 31));
  };
  for (let i = 0; i < n; i++) set(i, i);
  for (const clique of cliques) {
    for (const a of clique) {
      if (a < 0) continue;
      for (const b of clique) if (b >= 0) set(a, b);
    }
  }
  const tail: number[] = [];
  for (let i = 0; i < n; i++) if (rankOf[i] === tailRank) tail.push(i);
  for (const a of tail) for (const b of tail) set(a, b);
  const nSparse = n - tail.length;
  const degrees = new Int32Array(n);
  const measure = (row: number): void => {
    let degree = 0;
    for (let w = row * nWords; w < (row + 1) * nWords; w++) degree += countBits(bits[w]!);
    degrees[row] = degree;
  };
  for (let i = 0; i < n; i++) measure(i);
  const rowAt = new Int32Array(n);
  const positionOf = new Int32Array(n).fill(-1);
  const upper: Int32Array[] = [];
  for (let position = 0; position < n; position++) {
    let best = -1;
    if (position >= nSparse) best = tail[position - nSparse]!;
    else {
      for (let i = 0; i < n; i++) {
        if (positionOf[i]! >= 0 || rankOf[i] === tailRank) continue;
        if (best < 0 || rankOf[i]! < rankOf[best]! || (rankOf[i] === rankOf[best] && degrees[i]! < degrees[best]!)) best = i;
      }
    }
    rowAt[position] = best;
    positionOf[best] = position;
    const neighbours: number[] = [];
    for (let w = 0; w < nWords; w++) {
      let word = bits[best * nWords + w]!;
      while (word !== 0) {
        const bit = 31 - Math.clz32(word & -word);
        word &= word - 1;
        neighbours.push((w << 5) + bit);
      }
    }
    const later = neighbours.filter((row) => row !== best);
    upper.push(Int32Array.from(later));
    for (const row of later) {
      const at = row * nWords;
      for (let w = 0; w < nWords; w++) bits[at + w] = bits[at + w]! | bits[best * nWords + w]!;
      bits[at + (best >>> 5)] = bits[at + (best >>> 5)]! & ~(1 << (best & 31));
      measure(row);
    }
  }
  return filledPattern({ n, nSparse, positionOf, rowAt }, upper);
}

/** Rows with lower and upper part from the upper parts alone: the pattern is symmetric. */
function filledPattern(
  order: Pick<SparsePattern, "n" | "nSparse" | "positionOf" | "rowAt">,
  upper: readonly Int32Array[],
): SparsePattern {
  const { n, positionOf } = order;
  const lengths = new Int32Array(n + 1);
  const sorted = upper.map((rows) => Int32Array.from(rows, (row) => positionOf[row]!).sort());
  sorted.forEach((later, position) => {
    lengths[position] = lengths[position]! + 1 + later.length;
    for (const p of later) lengths[p] = lengths[p]! + 1;
  });
  const rowStart = new Int32Array(n + 1);
  for (let i = 0; i < n; i++) rowStart[i + 1] = rowStart[i]! + lengths[i]!;
  const columns = new Int32Array(rowStart[n]!);
  const next = rowStart.slice(0, n);
  const diagonal = new Int32Array(n);
  // Positions are visited in rising order, so every row receives its lower columns in rising order before its own.
  sorted.forEach((later, position) => {
    diagonal[position] = next[position]!;
    columns[next[position]!] = position;
    let slot = next[position]! + 1;
    for (const p of later) {
      columns[slot++] = p;
      columns[next[p]!] = position;
      next[p] = next[p]! + 1;
    }
  });
  return { ...order, rowStart, columns, diagonal };
}

/** Slot of an entry (rows as given to the pattern); -1 where one of them is negative. The entry must be in the pattern. */
export function slotOf(pattern: SparsePattern, row: number, column: number): number {
  if (row < 0 || column < 0) return -1;
  const { positionOf, rowStart, columns } = pattern;
  const wanted = positionOf[column]!;
  let low = rowStart[positionOf[row]!]!;
  let high = rowStart[positionOf[row]! + 1]! - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (columns[middle]! < wanted) low = middle + 1;
    else high = middle;
  }
  if (columns[low] !== wanted) throw new RangeError(`Cannot find entry (${row}, ${column}): it is not in the pattern`);
  return low;
}

export function createSparseFactors(pattern: SparsePattern): SparseFactors {
  const nTail = pattern.n - pattern.nSparse;
  return {
    pattern,
    values: new Float64Array(pattern.columns.length),
    tail: new Float64Array(nTail * nTail),
    tailPivots: new Int32Array(nTail),
    tailScales: new Float64Array(nTail),
    tailWork: new Float64Array(nTail),
    work: new Float64Array(pattern.n),
    slotOfColumn: new Int32Array(pattern.n),
  };
}

/** Part of the largest entry of its row below which a pivot is lost in rounding. */
const leastPivot = 1e-13;

/** Factors in place. Returns the sign of the determinant; 0 where the matrix is singular to rounding or not finite. */
export function factorSparse(factors: SparseFactors): number {
  const { pattern, values, tail, tailPivots, tailScales, slotOfColumn } = factors;
  const { n, nSparse, rowStart, columns, diagonal } = pattern;
  let sign = 1;
  for (let i = 0; i < n; i++) {
    const end = rowStart[i + 1]!;
    let largest = 0;
    for (let p = rowStart[i]!; p < end; p++) {
      slotOfColumn[columns[p]!] = p;
      largest = Math.max(largest, Math.abs(values[p]!));
    }
    const stop = i < nSparse ? diagonal[i]! : end;
    for (let p = rowStart[i]!; p < stop; p++) {
      const k = columns[p]!;
      if (k >= nSparse) break;
      const factor = values[p]! / values[diagonal[k]!]!;
      values[p] = factor;
      if (factor === 0) continue;
      const endK = rowStart[k + 1]!;
      for (let q = diagonal[k]! + 1; q < endK; q++) {
        const slot = slotOfColumn[columns[q]!]!;
        values[slot] = values[slot]! - factor * values[q]!;
      }
    }
    if (i >= nSparse) continue;
    const pivot = values[diagonal[i]!]!;
    if (!(Math.abs(pivot) > leastPivot * largest && Math.abs(pivot) < Number.POSITIVE_INFINITY)) return 0;
    if (pivot < 0) sign = -sign;
  }
  const nTail = n - nSparse;
  for (let i = 0; i < nTail; i++) {
    const first = rowStart[nSparse + i + 1]! - nTail;
    let largest = 0;
    for (let j = 0; j < nTail; j++) largest = Math.max(largest, Math.abs(values[first + j]!));
    // Rows of volts and of amperes meet as equals in the choice of pivots.
    const scale = largest > 0 ? 1 / largest : 1;
    tailScales[i] = scale;
    for (let j = 0; j < nTail; j++) tail[i * nTail + j] = values[first + j]! * scale;
  }
  try {
    factorInPlace(tail, nTail, tailPivots);
  } catch (error) {
    if (error instanceof SolveError) return 0;
    throw error;
  }
  for (let k = 0; k < nTail; k++) {
    if (tailPivots[k] !== k) sign = -sign;
    if (tail[k * nTail + k]! < 0) sign = -sign;
  }
  return sign;
}

/** Replaces the right-hand side `x` [n, by rows] by the solution. */
export function solveSparseInto(x: Float64Array, factors: SparseFactors): void {
  const { pattern, values, tail, tailPivots, tailScales, tailWork, work: ordered } = factors;
  const { n, nSparse, rowAt, rowStart, columns, diagonal } = pattern;
  for (let i = 0; i < n; i++) {
    let sum = x[rowAt[i]!]!;
    const stop = i < nSparse ? diagonal[i]! : rowStart[i + 1]! - (n - nSparse);
    for (let p = rowStart[i]!; p < stop; p++) sum -= values[p]! * ordered[columns[p]!]!;
    ordered[i] = sum;
  }
  for (let i = nSparse; i < n; i++) tailWork[i - nSparse] = ordered[i]! * tailScales[i - nSparse]!;
  solveInto(tailWork, tail, n - nSparse, tailPivots);
  for (let i = nSparse; i < n; i++) ordered[i] = tailWork[i - nSparse]!;
  for (let i = nSparse - 1; i >= 0; i--) {
    let sum = ordered[i]!;
    const at = diagonal[i]!;
    const end = rowStart[i + 1]!;
    for (let p = at + 1; p < end; p++) sum -= values[p]! * ordered[columns[p]!]!;
    ordered[i] = sum / values[at]!;
  }
  for (let i = 0; i < n; i++) x[rowAt[i]!] = ordered[i]!;
}
