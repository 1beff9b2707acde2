/**
 * Small motion of a frame out of its plane about a bent planar shape: a grillage of beams that bend about their flat side and twist.
 *
 * z and the turns about x and y of every node; E w t^3/12, shear, Saint-Venant torsion of the rectangle, stiffness from the forces and
 * moments of the shape (so that buckling out of the plane shows as a negative pivot), rigid bodies with offsets, springs.
 * Hinges turn freely in the plane only and are stiff here. Sections are free to warp: a short wide beam is stiffer in torsion.
 * Validity: motion small against the thickness. Error: none for a straight unstressed beam loaded at its ends; buckling loads are high by
 * (k h)^4/720 in bending and (k h)^2/12 in twist, k the wave number, h the element. Main test: out-of-plane.test.ts.
 */
import type { FrameNetwork, FrameShape, OutOfPlaneMotion } from "./network.ts";
import type { SmallMotionSystem } from "./vibration-matrices.ts";
import {
  type BeamEndLoads,
  endLoadsOf,
  motionOfPoint,
  type SmallMotionPoint,
  type SmallResponse,
  solveSmallMotion,
  stiffnessOfPoint,
} from "./vibration-response.ts";
import { createSmallMotionSystem, type SmallMotionOptions } from "./vibration-system.ts";

export interface OutOfPlanePoint extends SmallMotionPoint {
  readonly motion: OutOfPlaneMotion;
}

export interface OutOfPlaneLoad {
  /** Forces along z [N] and moments about x and y [N m] at junctions or points of their bodies. */
  readonly forces?: readonly (OutOfPlanePoint & { readonly value: number })[];
  /** Acceleration of the surroundings along z, [m/s^2]: acts as a force -a on every mass. */
  readonly acceleration?: number;
}

export interface OutOfPlaneAnswer {
  readonly response: SmallResponse;
  /** m or rad */
  readonly motionOf: (point: OutOfPlanePoint) => number;
  /** Loads and stresses at the two ends of a beam. */
  readonly endLoads: (beam: number) => readonly [from: BeamEndLoads, to: BeamEndLoads];
}

export interface OutOfPlaneModel {
  readonly system: SmallMotionSystem;
  /** False where the shape buckles out of its plane; answers then belong to an unstable state. */
  readonly isStable: boolean;
  readonly solve: (load: OutOfPlaneLoad) => OutOfPlaneAnswer;
  /** Force or moment over its own motion at a point, everything else free, N/m or N m/rad. */
  readonly stiffnessOf: (point: OutOfPlanePoint) => number;
}

export function createOutOfPlaneModel(
  network: FrameNetwork,
  shape: FrameShape,
  options: SmallMotionOptions = {},
): OutOfPlaneModel {
  const system = createSmallMotionSystem(network, shape, { ...options, family: "out of plane" });
  return {
    system,
    isStable: system.nNegative === 0,
    solve: ({ forces = [], acceleration = 0 }) => {
      const response = solveSmallMotion(system, { forces, acceleration: [0, 0, acceleration] });
      return {
        response,
        motionOf: (point) => motionOfPoint(response, point),
        endLoads: (beam) => endLoadsOf(response, beam),
      };
    },
    stiffnessOf: (point) => stiffnessOfPoint(system, point),
  };
}
