/** What a system of small motion consists of. Made in vibration-system.ts. */
import type { SkylineMatrix } from "#numerics";
import type { FrameNetwork, FrameShape } from "./network.ts";
import type { MotionFamily, Unknowns } from "./vibration-unknowns.ts";

/** What the answers need of one element: [m], [N], [N m]. */
export interface ElementFrame {
  readonly cos: number;
  readonly sin: number;
  readonly length: number;
  /** [6 x 6] row-major stiffness and mass in the motions of its two ends. */
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  /**
   * Stiffness in its own motions. In the plane: stretch and turns against the chord 00, 01, 02, 11, 12, 22, axial and shear force of
   * the shape; out of it: turns against the chord 11, 12, 22, twist, axial force, start and end moment of the shape.
   */
  readonly own: Float64Array;
}

export interface SmallMotionSystem {
  readonly family: MotionFamily;
  readonly network: FrameNetwork;
  readonly shape: FrameShape;
  readonly unknowns: Unknowns;
  readonly stiffness: SkylineMatrix;
  readonly mass: SkylineMatrix;
  /** The part of the stiffness that is not of elements: springs, contacts, forces that turn. */
  readonly atJunctions: SkylineMatrix;
  /** The stiffness, factored. */
  readonly factored: SkylineMatrix;
  /** Number of negative eigenvalues of the stiffness: 0 where the shape is stable in this family. */
  readonly nNegative: number;
  /** Force on the unknowns per acceleration of the surroundings against a direction, [nUnknowns] kg: x and y, or z alone. */
  readonly inertia: readonly Float64Array[];
  /** Per beam and element. */
  readonly elements: readonly (readonly ElementFrame[])[];
}
