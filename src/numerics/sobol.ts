/**
 * Sobol points: a sequence that fills the unit cube evenly, so that means over it converge faster than over random points.
 *
 * Order of the Gray code (Antonov & Saleev 1979), 32 bits; direction numbers of Joe & Kuo (sobol-directions.table.ts). With a source of
 * random numbers each column is moved by a digital shift (exclusive or with 32 random bits), which keeps its evenness and makes every
 * point uniform. Main test: published points, sobol.test.ts.
 */
import type { RandomSource } from "#base";
import { directionRows } from "./sobol-directions.table.ts";

/** Most dimensions that the table serves. */
export const sobolDimensions = directionRows.length + 1;

const nBits = 32;

/** The 32 direction numbers of a column, highest bit first. */
function directionsOf(column: number): Uint32Array {
  const v = new Uint32Array(nBits);
  if (column === 0) return v.map((_, k) => 2 ** (nBits - 1 - k));
  const { s, a, m } = directionRows[column - 1]!;
  for (let k = 0; k < nBits; k++) {
    if (k < s) {
      v[k] = m[k]! * 2 ** (nBits - 1 - k);
      continue;
    }
    let next = v[k - s]! ^ (v[k - s]! >>> s);
    for (let i = 1; i < s; i++) if (((a >>> (s - 1 - i)) & 1) === 1) next ^= v[k - i]!;
    v[k] = next;
  }
  return v;
}

/**
 * The first `count` points, [count × dimensions], row-major. Without `shift` point 0 is the origin and all values lie in [0, 1);
 * with it, in (0, 1).
 */
export function sobolPoints(size: { readonly count: number; readonly dimensions: number }, shift?: RandomSource): Float64Array {
  const { count, dimensions } = size;
  if (!(dimensions >= 1 && dimensions <= sobolDimensions))
    throw new RangeError(
      `Cannot make Sobol points in ${dimensions} dimensions: there are direction numbers for 1 to ${sobolDimensions}`,
    );
  const points = new Float64Array(count * dimensions);
  for (let column = 0; column < dimensions; column++) {
    const directions = directionsOf(column);
    const moved = shift === undefined ? 0 : shift.whole(2 ** nBits);
    let bits = 0;
    for (let row = 0; row < count; row++) {
      // the Gray code changes at the lowest zero bit of row - 1
      if (row > 0) bits ^= directions[31 - Math.clz32(row & -row)]!;
      const value = ((bits ^ moved) >>> 0) / 2 ** nBits;
      points[row * dimensions + column] = shift === undefined ? value : value + 0.5 / 2 ** nBits;
    }
  }
  return points;
}
