/** Adds element matrices to the rows of the unknowns that move their ends. Main test: vibration.test.ts. */
import { addToSkyline, type SkylineMatrix } from "#numerics";
import type { EndMap } from "./vibration-unknowns.ts";

const half = new Float64Array(12);

/** Adds a 6 x 6 element matrix to the rows of its ends. */
export function scatter(
  matrix: SkylineMatrix,
  block: Float64Array,
  ends: { readonly start: EndMap; readonly end: EndMap },
): void {
  for (let p = 0; p < 2; p++) {
    const rows = p === 0 ? ends.start : ends.end;
    for (let q = 0; q <= p; q++) {
      const columns = q === 0 ? ends.start : ends.end;
      const at = 18 * p + 3 * q;
      // half [3 x 4] = block times the columns of end q
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 4; j++) {
          half[4 * i + j] =
            columns.columns === undefined
              ? j < 3
                ? block[at + 6 * i + j]!
                : 0
              : block[at + 6 * i]! * columns.columns[j]! +
                block[at + 6 * i + 1]! * columns.columns[4 + j]! +
                block[at + 6 * i + 2]! * columns.columns[8 + j]!;
        }
      }
      for (let i = 0; i < 4; i++) {
        const row = rows.unknowns[i]!;
        if (row < 0) continue;
        for (let j = 0; j < 4; j++) {
          const column = columns.unknowns[j]!;
          if (column < 0 || (p === q && column > row)) continue;
          const value =
            rows.columns === undefined
              ? half[4 * i + j]!
              : rows.columns[i]! * half[j]! + rows.columns[4 + i]! * half[4 + j]! + rows.columns[8 + i]! * half[8 + j]!;
          addToSkyline(matrix, { row, column }, value);
        }
      }
    }
  }
}

/** Mass times a unit translation along direction d: held nodes move with the surroundings too. */
export function scatterInertia(
  inertia: Float64Array,
  mass: Float64Array,
  at: { readonly d: number; readonly start: EndMap; readonly end: EndMap },
): void {
  for (let p = 0; p < 2; p++) {
    const { unknowns, columns } = p === 0 ? at.start : at.end;
    for (let i = 0; i < 3; i++) {
      const force = mass[18 * p + 6 * i + at.d]! + mass[18 * p + 6 * i + 3 + at.d]!;
      for (let j = 0; j < 4; j++) {
        const part = columns === undefined ? (i === j ? 1 : 0) : columns[4 * i + j]!;
        const u = unknowns[j]!;
        if (u >= 0 && part !== 0) inertia[u] = inertia[u]! + part * force;
      }
    }
  }
}
