/**
 * Between a condensed beam and its junctions: hinges eliminated, ends carried over rigid offsets.
 *
 * Source: static condensation and rigid links, common practice, no source. Main test: system.test.ts.
 */

/** Kept per hinged end: inverse pivot, then its row of the 6 x 6. */
export const hingeSize = 7;

/** Where a beam's numbers stand: its 6 x 6 in the blocks, its hinges, and 1 where its start, its end is hinged. */
export interface HingePlace {
  readonly blockAt: number;
  readonly hingesAt: number;
  readonly start: number;
  readonly end: number;
}

/** Eliminates the turns of hinged ends from a beam's 6 x 6, in place. Returns negative pivots, or -1 where one vanishes. */
export function eliminateHingesInto(blocks: Float64Array, hinges: Float64Array, place: HingePlace): number {
  const at = place.blockAt;
  let nNegative = 0;
  for (let end = 0; end < 2; end++) {
    if ((end === 0 ? place.start : place.end) === 0) continue;
    const r = end === 0 ? 2 : 5;
    const h = place.hingesAt + end * hingeSize;
    const pivot = blocks[at + 7 * r]!;
    if (!(Math.abs(pivot) > 0)) return -1;
    if (pivot < 0) nNegative++;
    hinges[h] = 1 / pivot;
    for (let k = 0; k < 6; k++) hinges[h + 1 + k] = k === r ? 0 : blocks[at + 6 * r + k]!;
    for (let i = 0; i < 6; i++) {
      const factor = hinges[h + 1 + i]! / pivot;
      for (let k = 0; k < 6; k++) blocks[at + 6 * i + k] = blocks[at + 6 * i + k]! - factor * hinges[h + 1 + k]!;
      blocks[at + 6 * i + r] = 0;
      blocks[at + 6 * r + i] = 0;
    }
  }
  return nNegative;
}

/** Forward pass of a right-hand side through the hinges of a beam whose end nodes stand at `first` and `last` of x. */
export function forwardHingesInto(
  x: Float64Array,
  hinges: Float64Array,
  options: { readonly place: HingePlace; readonly first: number; readonly last: number },
): void {
  const { place, first, last } = options;
  for (let end = 0; end < 2; end++) {
    if ((end === 0 ? place.start : place.end) === 0) continue;
    const h = place.hingesAt + end * hingeSize;
    const factor = x[(end === 0 ? first : last) + 2]! * hinges[h]!;
    for (let k = 0; k < 3; k++) {
      x[first + k] = x[first + k]! - factor * hinges[h + 1 + k]!;
      x[last + k] = x[last + k]! - factor * hinges[h + 4 + k]!;
    }
  }
}

/** Turns of the hinged ends, once all else of both ends is known. */
export function recoverHingesInto(
  x: Float64Array,
  hinges: Float64Array,
  options: { readonly place: HingePlace; readonly first: number; readonly last: number },
): void {
  const { place, first, last } = options;
  for (let end = 1; end >= 0; end--) {
    if ((end === 0 ? place.start : place.end) === 0) continue;
    const h = place.hingesAt + end * hingeSize;
    const node = end === 0 ? first : last;
    let sum = x[node + 2]!;
    for (let k = 0; k < 3; k++) {
      if (k < 2 || end === 1) sum -= hinges[h + 1 + k]! * x[first + k]!;
      if (k < 2 || end === 0) sum -= hinges[h + 4 + k]! * x[last + k]!;
    }
    x[node + 2] = sum * hinges[h]!;
  }
}

/** Carries a condensed 6 x 6 block from the beam's ends to its rigid junctions, in place. */
export function shiftBlockInto(block: Float64Array, at: number, options: { turned: Float64Array; beam: number }): void {
  for (let end = 0; end < 2; end++) {
    const ox = options.turned[4 * options.beam + 2 * end]!;
    const oy = options.turned[4 * options.beam + 2 * end + 1]!;
    if (ox === 0 && oy === 0) continue;
    const f = 3 * end;
    for (let i = 0; i < 6; i++) {
      const row = at + 6 * i + f;
      block[row + 2] = block[row + 2]! - oy * block[row]! + ox * block[row + 1]!;
    }
    const moment = at + 6 * (f + 2);
    for (let k = 0; k < 6; k++) {
      block[moment + k] = block[moment + k]! - oy * block[at + 6 * f + k]! + ox * block[at + 6 * (f + 1) + k]!;
    }
  }
}

/** x -= K (dx, dy, rotation of one end) for the element whose nodes stand at `start`. */
export function takeOffProductInto(
  x: Float64Array,
  start: number,
  options: { elements: Float64Array; at: number; end: number; dx: number; dy: number; rotation: number },
): void {
  const { elements: k, at, end, dx, dy, rotation } = options;
  const sign = end === 0 ? -1 : 1;
  const column = at + (end === 0 ? 3 : 5);
  // force on the end node per motion; the start node feels the opposite
  const fx = sign * (k[at]! * dx + k[at + 1]! * dy) + k[column]! * rotation;
  const fy = sign * (k[at + 1]! * dx + k[at + 2]! * dy) + k[column + 1]! * rotation;
  const m1 = sign * (k[at + 3]! * dx + k[at + 4]! * dy) + k[at + (end === 0 ? 7 : 8)]! * rotation;
  const m2 = sign * (k[at + 5]! * dx + k[at + 6]! * dy) + k[at + (end === 0 ? 8 : 9)]! * rotation;
  x[start] = x[start]! + fx;
  x[start + 1] = x[start + 1]! + fy;
  x[start + 2] = x[start + 2]! - m1;
  x[start + 3] = x[start + 3]! - fx;
  x[start + 4] = x[start + 4]! - fy;
  x[start + 5] = x[start + 5]! - m2;
}
