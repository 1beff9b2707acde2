/** Numbering of the unknowns of a planar frame: inner nodes first, joints last, so that the skyline of the tangent stays short. */
import { createSkyline, type SkylineMatrix } from "#numerics";

/** Numbering of the unknowns for one set of held motions, with the matrix that fits it. */
export interface Layout {
  readonly nUnknowns: number;
  /** [3 nNodes] unknown of every motion, -1 where it is held or fixed. */
  readonly unknownOf: Int32Array;
  /** [3 nNodes] place among the reactions, -1 where none is asked for. */
  readonly reactionOf: Int32Array;
  readonly heldValue: Float64Array;
  readonly reactions: Float64Array;
  readonly matrix: SkylineMatrix;
  readonly residual: Float64Array;
  /** [nUnknowns] 1 for displacements, 0 for rotations. */
  readonly isLength: Uint8Array;
  /** [nUnknowns] 1 for displacements of joints; inner nodes bow in ways that the linear answer does not know. */
  readonly isJoint: Uint8Array;
}

export interface LayoutOptions {
  /** Nodes at the two ends of every element. */
  readonly elements: readonly { readonly start: number; readonly end: number }[];
  readonly nNodes: number;
  /** Joints are the first nodes; true where all three motions are held. */
  readonly isFixed: readonly boolean[];
  /** Motions held one by one: their reactions are asked for, in this order. */
  readonly held: readonly { readonly joint: number; readonly motion: 0 | 1 | 2 }[];
}

export function createLayout(options: LayoutOptions): Layout {
  const { elements, nNodes, isFixed, held } = options;
  const nJoints = isFixed.length;
  const unknownOf = new Int32Array(3 * nNodes);
  const reactionOf = new Int32Array(3 * nNodes).fill(-1);
  const isHeld = new Uint8Array(3 * nNodes);
  isFixed.forEach((fixed, j) => {
    if (fixed) isHeld.fill(1, 3 * j, 3 * j + 3);
  });
  held.forEach(({ joint, motion }, index) => {
    isHeld[3 * joint + motion] = 1;
    reactionOf[3 * joint + motion] = index;
  });
  let nUnknowns = 0;
  const order = [
    ...Array.from({ length: nNodes - nJoints }, (_, i) => nJoints + i),
    ...Array.from({ length: nJoints }, (_, i) => i),
  ];
  const lengths: number[] = [];
  const ofJoints: number[] = [];
  for (const node of order) {
    for (let motion = 0; motion < 3; motion++) {
      const dof = 3 * node + motion;
      unknownOf[dof] = isHeld[dof] === 1 ? -1 : nUnknowns++;
      if (isHeld[dof] === 1) continue;
      lengths.push(motion < 2 ? 1 : 0);
      ofJoints.push(motion < 2 && node < nJoints ? 1 : 0);
    }
  }
  const firstColumn = Int32Array.from({ length: nUnknowns }, (_, i) => i);
  for (const { start, end } of elements) {
    const unknowns = [0, 1, 2]
      .flatMap((motion) => [unknownOf[3 * start + motion]!, unknownOf[3 * end + motion]!])
      .filter((unknown) => unknown >= 0);
    const lowest = Math.min(...unknowns);
    for (const unknown of unknowns) firstColumn[unknown] = Math.min(firstColumn[unknown]!, lowest);
  }
  return {
    nUnknowns,
    unknownOf,
    reactionOf,
    heldValue: new Float64Array(3 * nNodes),
    reactions: new Float64Array(held.length),
    matrix: createSkyline(firstColumn),
    residual: new Float64Array(nUnknowns),
    isLength: Uint8Array.from(lengths),
    isJoint: Uint8Array.from(ofJoints),
  };
}
