/**
 * A beam cut into elements, condensed to its two ends.
 *
 * The interior nodes are eliminated one after the other (block tridiagonal, 3 x 3), so the cost is linear in the number of elements.
 * Two right-hand sides go along: the unbalanced force (corrector) and the derivative with respect to the load factor
 * (predictor). Negative pivots are counted: with those of the junction system they give the inertia of the whole tangent.
 * Source: static condensation, common practice, no source. Main test: frame-theory.test.ts.
 */
import { type ElementShape, elementSize, evaluateElementInto, forceAt, strainForceAt, tangentAt } from "./beam-element.ts";

/** Columns of the chain: start x, y, rotation, end x, y, rotation, corrector, predictor. */
const nColumns = 8;
const corrector = 6;
const predictor = 7;
/** Kept for each eliminated node: 3 rows of the 8 columns, pivots solved. */
const nodeSize = 3 * nColumns;

export interface ChainState {
  readonly nElements: number;
  readonly shape: ElementShape;
  /** [(nElements + 1) x 3] x, y, rotation of every node, ends included. */
  readonly motions: Float64Array;
  /** Per element: free strain at load factor 0, its change up to load factor 1, modulus. */
  readonly strainStart: Float64Array;
  readonly strainChange: Float64Array;
  readonly moduli: Float64Array;
  /** [nElements x elementSize], see beam-element.ts. */
  readonly elements: Float64Array;
  readonly nodes: Float64Array;
  /** [6 x 8] row-major: condensed tangent, corrector and predictor right-hand sides. */
  readonly condensed: Float64Array;
  /** [(nElements + 1) x 3 x 2] corrector and predictor changes of every node. */
  readonly changes: Float64Array;
}

export function createChain(shape: ElementShape, nElements: number): ChainState {
  return {
    nElements,
    shape,
    motions: new Float64Array(3 * (nElements + 1)),
    strainStart: new Float64Array(nElements),
    strainChange: new Float64Array(nElements),
    moduli: new Float64Array(nElements),
    elements: new Float64Array(nElements * elementSize),
    nodes: new Float64Array(Math.max(0, nElements - 1) * nodeSize),
    condensed: new Float64Array(6 * nColumns),
    changes: new Float64Array(6 * (nElements + 1)),
  };
}

const full = new Float64Array(6 * nColumns);
const eliminated = new Float64Array(3 * 11);

/** Spreads element e into the 6 x 8 block `full`. */
function spreadElement(chain: ChainState, e: number): void {
  const { elements } = chain;
  const at = e * elementSize;
  const k = at + tangentAt;
  const xx = elements[k]!;
  const xy = elements[k + 1]!;
  const yy = elements[k + 2]!;
  const x1 = elements[k + 3]!;
  const y1 = elements[k + 4]!;
  const x2 = elements[k + 5]!;
  const y2 = elements[k + 6]!;
  const r12 = elements[k + 8]!;
  // Rows: start x, y, rotation, end x, y, rotation; the translation blocks differ in sign only.
  const f = full;
  f[0] = xx;
  f[1] = xy;
  f[2] = -x1;
  f[3] = -xx;
  f[4] = -xy;
  f[5] = -x2;
  f[8] = xy;
  f[9] = yy;
  f[10] = -y1;
  f[11] = -xy;
  f[12] = -yy;
  f[13] = -y2;
  f[16] = -x1;
  f[17] = -y1;
  f[18] = elements[k + 7]!;
  f[19] = x1;
  f[20] = y1;
  f[21] = r12;
  f[24] = -xx;
  f[25] = -xy;
  f[26] = x1;
  f[27] = xx;
  f[28] = xy;
  f[29] = x2;
  f[32] = -xy;
  f[33] = -yy;
  f[34] = y1;
  f[35] = xy;
  f[36] = yy;
  f[37] = y2;
  f[40] = -x2;
  f[41] = -y2;
  f[42] = r12;
  f[43] = x2;
  f[44] = y2;
  f[45] = elements[k + 9]!;
  const change = chain.strainChange[e]!;
  for (let i = 0; i < 6; i++) {
    f[i * nColumns + corrector] = -elements[at + forceAt + i]!;
    f[i * nColumns + predictor] = -change * elements[at + strainForceAt + i]!;
  }
}

/**
 * Gauss-Jordan on the 3 rows of `eliminated`: 3 x 3 symmetric block in front, 8 columns behind it. Returns the number of
 * negative pivots, or -1 when a pivot is exactly zero or not a number.
 */
function solveBlock(): number {
  let nNegative = 0;
  for (let k = 0; k < 3; k++) {
    const pivot = eliminated[k * 11 + k]!;
    if (pivot === 0 || Number.isNaN(pivot)) return -1;
    if (pivot < 0) nNegative++;
    const inverse = 1 / pivot;
    for (let j = k + 1; j < 11; j++) eliminated[k * 11 + j] = eliminated[k * 11 + j]! * inverse;
    for (let i = 0; i < 3; i++) {
      if (i === k) continue;
      const factor = eliminated[i * 11 + k]!;
      for (let j = k + 1; j < 11; j++) eliminated[i * 11 + j] = eliminated[i * 11 + j]! - factor * eliminated[k * 11 + j]!;
    }
  }
  return nNegative;
}

/**
 * Evaluates all elements at the chain's motions and load factor and condenses them.
 * Returns the number of negative pivots of the interior, or -1 when it is exactly singular.
 */
export function condenseChain(chain: ChainState, loadFactor: number): number {
  const { nElements, shape, motions, strainStart, strainChange, moduli, elements, nodes, condensed } = chain;
  let nNegative = 0;
  for (let e = 0; e < nElements; e++) {
    evaluateElementInto(elements, e * elementSize, {
      shape,
      youngsModulus: moduli[e]!,
      freeStrain: strainStart[e]! + loadFactor * strainChange[e]!,
      motions,
      start: 3 * e,
    });
    spreadElement(chain, e);
    if (e === 0) {
      condensed.set(full);
      continue;
    }
    for (let i = 0; i < 3; i++) {
      const c = (3 + i) * nColumns;
      const f = i * nColumns;
      const row = i * 11;
      for (let j = 0; j < 3; j++) {
        eliminated[row + j] = condensed[c + 3 + j]! + full[f + j]!;
        eliminated[row + 3 + j] = condensed[c + j]!;
        eliminated[row + 6 + j] = full[f + 3 + j]!;
      }
      eliminated[row + 9] = condensed[c + corrector]! + full[f + corrector]!;
      eliminated[row + 10] = condensed[c + predictor]! + full[f + predictor]!;
    }
    const negative = solveBlock();
    if (negative < 0) return -1;
    nNegative += negative;
    const slot = (e - 1) * nodeSize;
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < nColumns; j++) nodes[slot + i * nColumns + j] = eliminated[i * 11 + 3 + j]!;
    }
    // Start rows keep their own block and lose the eliminated node; end rows come from the new element.
    for (let i = 0; i < 3; i++) {
      const c = i * nColumns;
      const f = (3 + i) * nColumns;
      const a0 = condensed[c + 3]!;
      const a1 = condensed[c + 4]!;
      const a2 = condensed[c + 5]!;
      const b0 = full[f]!;
      const b1 = full[f + 1]!;
      const b2 = full[f + 2]!;
      for (let j = 0; j < nColumns; j++) {
        const x0 = nodes[slot + j]!;
        const x1 = nodes[slot + nColumns + j]!;
        const x2 = nodes[slot + 2 * nColumns + j]!;
        const keptStart = j < 3 || j >= 6 ? condensed[c + j]! : 0;
        const keptEnd = j >= 3 ? full[f + j]! : 0;
        condensed[c + j] = keptStart - a0 * x0 - a1 * x1 - a2 * x2;
        condensed[f + j] = keptEnd - b0 * x0 - b1 * x1 - b2 * x2;
      }
    }
  }
  return nNegative;
}

/** Recovers the changes of the interior nodes from those of the ends, which stand in `changes` already (both sides). */
export function recoverChain(chain: ChainState): void {
  const { nElements, nodes, changes } = chain;
  for (let n = nElements - 1; n >= 1; n--) {
    const slot = (n - 1) * nodeSize;
    const next = 6 * (n + 1);
    for (let i = 0; i < 3; i++) {
      const row = slot + i * nColumns;
      for (let side = 0; side < 2; side++) {
        let sum = nodes[row + corrector + side]!;
        for (let j = 0; j < 3; j++) {
          sum -= nodes[row + j]! * changes[2 * j + side]! + nodes[row + 3 + j]! * changes[next + 2 * j + side]!;
        }
        changes[6 * n + 2 * i + side] = sum;
      }
    }
  }
}
