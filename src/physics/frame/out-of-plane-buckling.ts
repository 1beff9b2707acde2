/**
 * How far a planar shape is from buckling out of its plane.
 *
 * K0 + f KG, K0 the stiffness of the bent frame without its forces and KG that of the forces, turns indefinite at the factor f: found
 * by the count of negative pivots, which never falls as f grows.
 * Validity: the shape itself is kept, so that f far from 1 is a guide only; f = 1 is exact, and so is whether f lies above 1.
 * Error: 1e-6, and that of the elements. Source: Timoshenko & Gere, Theory of Elastic Stability (key timoshenko1961, from memory).
 * Main test: out-of-plane-buckling.test.ts.
 */
import { factorSkylineInPlace, shiftSkyline } from "#numerics";
import type { FrameNetwork, FrameShape } from "./network.ts";
import { createSmallMotionSystem, type SmallMotionOptions } from "./vibration-system.ts";

const relativeError = 1e-6;

export interface BucklingOptions extends SmallMotionOptions {
  /** Factors above this do not interest. */
  readonly largestFactor: number;
}

/** Factor on the forces of the shape at which it buckles out of its plane; infinite beyond `largestFactor` or where it never does. */
export function findBucklingFactor(network: FrameNetwork, shape: FrameShape, options: BucklingOptions): number {
  const { largestFactor, ...rest } = options;
  if (!(largestFactor > 0))
    throw new RangeError(`Cannot find a buckling factor: wanted a positive bound, found ${largestFactor}`);
  const free = createSmallMotionSystem(network, shape, { ...rest, family: "out of plane", stressFactor: 0 }).stiffness;
  const stressed = createSmallMotionSystem(network, shape, { ...rest, family: "out of plane" }).stiffness;
  const change = { ...free, values: stressed.values.map((value, i) => value - free.values[i]!) };
  const isStable = (factor: number): boolean => factorSkylineInPlace(shiftSkyline(free, change, { shift: -factor })) === 0;
  if (isStable(largestFactor)) return Number.POSITIVE_INFINITY;
  let above = largestFactor;
  while (above > relativeError * largestFactor && !isStable(above / 2)) above /= 2;
  let below = above / 2;
  while (above - below > relativeError * above) {
    const middle = 0.5 * (below + above);
    if (isStable(middle)) below = middle;
    else above = middle;
  }
  return 0.5 * (below + above);
}
