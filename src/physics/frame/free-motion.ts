/**
 * Names the motion that nothing resists: a floating part, a missing support, too many hinges.
 *
 * The candidate is the motion that belongs to the smallest pivot of the tangent at rest. It is a free motion where it strains the
 * elements by nothing (found from their own stretch and bending, so that rounding enters squared). Main test: frame-traps.test.ts.
 */
import { FreeMotionError } from "./free-motion-error.ts";
import type { FrameSystem } from "./system.ts";
import { motionNames } from "./topology.ts";

/** Pivot against diagonal below which the motion is looked at: 200 junctions in a row still stay above 1e-9. */
const suspicious = 1e-6;
/** Strain energy of a candidate against that of its motions taken alone: rounding leaves less than 1e-14, slender chains far more. */
const free = 1e-13;

/** Throws a FreeMotionError where the frame at rest, evaluated and factored with the outcome `nNegative`, has a free motion. */
export function refuseFreeMotion(system: FrameSystem, nNegative: number): void {
  const { matrix, diagonal, nRows, rowOfMotion } = system.rows;
  let row = -1;
  let least = suspicious;
  for (let i = 0; i < nRows; i++) {
    // anew from the factors: a pivot that vanished was not written
    const at = matrix.start[i]! - matrix.firstColumn[i]!;
    let pivot = diagonal[i]!;
    for (let k = matrix.firstColumn[i]!; k < i; k++) {
      pivot -= matrix.values[at + k]! ** 2 * matrix.values[matrix.start[k + 1]! - 1]!;
    }
    const ratio = diagonal[i]! > 0 ? Math.abs(pivot) / diagonal[i]! : 0;
    if (!(ratio >= least)) {
      least = Number.isNaN(ratio) ? 0 : ratio;
      row = i;
    }
    // rows behind a vanished pivot were never factored
    if (nNegative < 0 && ratio < 1e-13) break;
  }
  if (nNegative < 0 && row < 0) throw refusal(-1, system, "a beam inside is a mechanism");
  if (row < 0) return;
  const v = new Float64Array(nRows);
  v[row] = 1;
  for (let i = row; i >= 0; i--) {
    const at = matrix.start[i]! - matrix.firstColumn[i]!;
    for (let k = matrix.firstColumn[i]!; k < i; k++) v[k] = v[k]! - matrix.values[at + k]! * v[i]!;
  }
  const x = new Float64Array(system.motions.length);
  let alone = 0;
  for (let i = 0; i < rowOfMotion.length; i++) {
    const r = rowOfMotion[i]!;
    if (r < 0) continue;
    x[i] = v[r]!;
    alone += diagonal[r]! * v[r]! * v[r]!;
  }
  if (nNegative >= 0 && system.energyOf(x) > free * alone) return;
  throw refusal(leadingMotion(x, system), system, "nothing holds it");
}

/** Junction motion that moves most; a turn counts by the size of the frame. */
function leadingMotion(x: Float64Array, system: FrameSystem): number {
  const { junctions } = system.numbers.network;
  const span = Math.hypot(
    Math.max(...junctions.map((j) => j.x)) - Math.min(...junctions.map((j) => j.x)),
    Math.max(...junctions.map((j) => j.y)) - Math.min(...junctions.map((j) => j.y)),
  );
  let leading = -1;
  let largest = 0;
  for (let i = 0; i < 3 * junctions.length; i++) {
    const size = Math.abs(x[i]!) * (i % 3 === 2 ? 0.5 * span : 1);
    if (size <= largest) continue;
    largest = size;
    leading = i;
  }
  return leading;
}

function refusal(motion: number, system: FrameSystem, why: string): FreeMotionError {
  const junction = system.numbers.network.junctions[Math.floor(motion / 3)];
  const name = motionNames[motion % 3];
  if (motion < 0 || junction === undefined || name === undefined)
    return new FreeMotionError(`Cannot solve the frame: ${why}`, undefined);
  return new FreeMotionError(`Cannot solve the frame: junction "${junction.name}" is free to move (${name}): ${why}`, {
    junction: junction.name,
    motion: name,
  });
}
