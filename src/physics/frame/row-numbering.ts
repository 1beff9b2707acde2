/** Rows of the junction system for one set of held motions, with the skyline matrix that fits it and the places of every beam in it. */
import { createSkyline, type SkylineMatrix } from "#numerics";
import { orderJunctions } from "./junction-order.ts";
import type { FrameTopology } from "./topology.ts";

export interface RowNumbering {
  readonly nRows: number;
  /** [3 nJunctions] row of every junction motion, -1 where it is held. */
  readonly rowOfMotion: Int32Array;
  readonly matrix: SkylineMatrix;
  /** [nBeams × 21] place in the matrix of the lower triangle of each beam's 6 x 6 tangent, row by row; -1 where held. */
  readonly beamPlaces: Int32Array;
  /** [nJunctions × 6] the same for a junction's own 3 x 3. */
  readonly junctionPlaces: Int32Array;
  /** [nRows] diagonal of the matrix before it was factored, and the right-hand side. */
  readonly diagonal: Float64Array;
  readonly side: Float64Array;
}

/** `isHeld` [3 nJunctions]: 1 where a motion is held, for ever or by the load. */
export function numberRows(topology: FrameTopology, isHeld: Uint8Array): RowNumbering {
  const { nJunctions, from, to } = topology;
  const hasRows = (j: number): boolean => isHeld[3 * j] === 0 || isHeld[3 * j + 1] === 0 || isHeld[3 * j + 2] === 0;
  const rowOfMotion = new Int32Array(3 * nJunctions).fill(-1);
  const firstRow = new Int32Array(nJunctions).fill(-1);
  let nRows = 0;
  for (const j of orderJunctions(topology, hasRows)) {
    firstRow[j] = nRows;
    for (let k = 0; k < 3; k++) if (isHeld[3 * j + k] === 0) rowOfMotion[3 * j + k] = nRows++;
  }
  const reach = Int32Array.from(firstRow);
  for (let b = 0; b < from.length; b++) {
    const i = from[b]!;
    const j = to[b]!;
    if (!hasRows(i) || !hasRows(j)) continue;
    const lowest = Math.min(firstRow[i]!, firstRow[j]!);
    reach[i] = Math.min(reach[i]!, lowest);
    reach[j] = Math.min(reach[j]!, lowest);
  }
  const firstColumn = new Int32Array(nRows);
  for (let j = 0; j < nJunctions; j++) {
    for (let k = 0; k < 3; k++) {
      const row = rowOfMotion[3 * j + k]!;
      if (row >= 0) firstColumn[row] = reach[j]!;
    }
  }
  const matrix = createSkyline(firstColumn);
  const placeOf = (a: number, b: number): number => {
    if (a < 0 || b < 0) return -1;
    const row = Math.max(a, b);
    return matrix.start[row]! + Math.min(a, b) - firstColumn[row]!;
  };
  const beamPlaces = new Int32Array(21 * from.length);
  for (let b = 0; b < from.length; b++) {
    const rowAt = (k: number): number => rowOfMotion[3 * (k < 3 ? from[b]! : to[b]!) + (k % 3)]!;
    let at = 21 * b;
    for (let i = 0; i < 6; i++) for (let j = 0; j <= i; j++) beamPlaces[at++] = placeOf(rowAt(i), rowAt(j));
  }
  const junctionPlaces = new Int32Array(6 * nJunctions);
  for (let j = 0; j < nJunctions; j++) {
    let at = 6 * j;
    for (let i = 0; i < 3; i++) {
      for (let k = 0; k <= i; k++) junctionPlaces[at++] = placeOf(rowOfMotion[3 * j + i]!, rowOfMotion[3 * j + k]!);
    }
  }
  return {
    nRows,
    rowOfMotion,
    matrix,
    beamPlaces,
    junctionPlaces,
    diagonal: new Float64Array(nRows),
    side: new Float64Array(nRows),
  };
}
