/**
 * Twice the strain energy of a small motion, x^T K x, from the stretch, bending and twist of every element.
 *
 * The product with the assembled matrix takes nearly equal forces of stout elements from each other and loses as many digits as the
 * stoutest element is stiffer than the motion; here rounding enters squared. Main test: vibration-bent.test.ts (against the product).
 */
import { multiplySkylineInto } from "#numerics";
import type { ElementFrame, SmallMotionSystem } from "./vibration-matrices.ts";
import { expandMotions } from "./vibration-motions.ts";

export function energyOfMotion(system: SmallMotionSystem, x: Float64Array): number {
  const { elements, family, atJunctions } = system;
  const { beamMotions } = expandMotions(system, x);
  const energyOf = family === "in plane" ? planarEnergy : liftedEnergy;
  let sum = 0;
  elements.forEach((frames, b) => {
    for (let e = 0; e < frames.length; e++) sum += energyOf(frames[e]!, beamMotions[b]!.subarray(3 * e, 3 * e + 6));
  });
  const product = new Float64Array(x.length);
  multiplySkylineInto(product, atJunctions, x);
  for (let i = 0; i < x.length; i++) sum += product[i]! * x[i]!;
  return sum;
}

function planarEnergy({ cos, sin, length, own }: ElementFrame, motions: Float64Array): number {
  const dx = motions[3]! - motions[0]!;
  const dy = motions[4]! - motions[1]!;
  const stretch = cos * dx + sin * dy;
  const chord = (cos * dy - sin * dx) / length;
  const t1 = motions[2]! - chord;
  const t2 = motions[5]! - chord;
  const [k00, k01, k02, k11, k12, k22, axialForce, shearForce] = own;
  return (
    k00! * stretch * stretch +
    2 * stretch * (k01! * t1 + k02! * t2) +
    k11! * t1 * t1 +
    2 * k12! * t1 * t2 +
    k22! * t2 * t2 +
    // what the forces of the shape do along the second-order parts of the lengthening and of the turn of the chord
    axialForce! * length * chord * chord +
    2 * shearForce! * stretch * chord
  );
}

const half = Math.sqrt(3) / 6;

function liftedEnergy({ cos, sin, length, own }: ElementFrame, motions: Float64Array): number {
  const [turn1, far, turn2, twisting, axialForce, startMoment, endMoment] = own;
  const [twist1, twist2] = [cos * motions[1]! + sin * motions[2]!, cos * motions[4]! + sin * motions[5]!];
  const [slope1, slope2] = [sin * motions[1]! - cos * motions[2]!, sin * motions[4]! - cos * motions[5]!];
  const chord = (motions[3]! - motions[0]!) / length;
  const [t1, t2] = [slope1 - chord, slope2 - chord];
  let sum =
    turn1! * t1 * t1 +
    2 * far! * t1 * t2 +
    turn2! * t2 * t2 +
    axialForce! * length * chord * chord +
    twisting! * (twist2 - twist1) ** 2;
  if (startMoment === 0 && endMoment === 0) return sum;
  // the part of the moment, see out-of-plane-element.ts
  const shearForce = -(startMoment! + endMoment!) / length;
  const twistRate = (twist2 - twist1) / length;
  for (const s of [0.5 - half, 0.5 + half]) {
    const moment = endMoment! * s - startMoment! * (1 - s);
    const twist = twist1 * (1 - s) + twist2 * s;
    const slope = chord + (1 - 4 * s + 3 * s * s) * t1 + (3 * s * s - 2 * s) * t2;
    const curvature = ((6 * s - 4) * t1 + (6 * s - 2) * t2) / length;
    sum += 0.5 * length * (shearForce * twist * slope + moment * (twist * curvature - slope * twistRate));
  }
  return sum;
}
