/**
 * Motion of a point under a harmonic force, from modes with given damping.
 *
 *   u/F = sum over modes of a b/(w_n^2 - w^2 + 2 i z_n w_n w) + (static flexibility - sum of a b/w_n^2),
 * a and b the mode's motion (modal mass 1) at the point of the answer and of the force. The last term stands for the modes that were
 * not computed, which follow as if static; with it the answer is exact at rest and good up to the last mode.
 * Source: Clough & Penzien, Dynamics of Structures (key clough1993, from memory). Main test: vibration-frequency-response.test.ts.
 */
import type { ModeSet } from "./vibration.ts";
import type { SmallMotionSystem } from "./vibration-matrices.ts";
import { motionOfPoint, pointRow, type SmallMotionPoint, solveSmallMotion } from "./vibration-response.ts";
import { motionsOfFamily } from "./vibration-unknowns.ts";

export interface FrequencyResponseOptions {
  readonly force: SmallMotionPoint;
  /** Where the motion is read. */
  readonly at: SmallMotionPoint;
  /** Damping ratio (1/(2 quality factor)) of every mode, or one per mode of the set. */
  readonly dampingRatios: number | Float64Array;
  /** [nFrequencies] Hz */
  readonly frequencies: Float64Array;
}

export interface FrequencyResponse {
  /** [nFrequencies] amplitude of the motion over that of the force, m/N (rad, N m accordingly). */
  readonly gain: Float64Array;
  /** [nFrequencies] rad, -pi..pi; negative where the motion lags. */
  readonly phase: Float64Array;
}

export function findFrequencyResponse(set: ModeSet, options: FrequencyResponseOptions): FrequencyResponse {
  const { force, at, dampingRatios, frequencies } = options;
  const family = motionsOfFamily["in plane"].includes(force.motion) ? "in plane" : "out of plane";
  const system = set.systems[family];
  if (system === undefined)
    throw new RangeError(`Cannot find a response to a force along ${force.motion}: wanted modes ${family}, found none`);
  const terms = set.modes.flatMap((mode, i) => {
    if (mode.family !== family) return [];
    if (!(mode.eigenvalue > 0)) {
      throw new RangeError("Cannot find a response: wanted a stable shape, found a mode that grows without a force");
    }
    const damping = typeof dampingRatios === "number" ? dampingRatios : dampingRatios[i]!;
    if (!(damping >= 0)) throw new RangeError(`Cannot find a response: wanted damping ratios of 0 or more, found ${damping}`);
    return [
      { product: motionIn(system, mode.vector, at) * motionIn(system, mode.vector, force), square: mode.eigenvalue, damping },
    ];
  });
  let rest = motionOfPoint(solveSmallMotion(system, { forces: [{ ...force, value: 1 }] }), at);
  for (const { product, square } of terms) rest -= product / square;
  const gain = new Float64Array(frequencies.length);
  const phase = new Float64Array(frequencies.length);
  frequencies.forEach((frequency, f) => {
    const w = 2 * Math.PI * frequency;
    let real = rest;
    let imaginary = 0;
    for (const { product, square, damping } of terms) {
      const a = square - w * w;
      const b = 2 * damping * Math.sqrt(square) * w;
      const size = a * a + b * b;
      real += (product * a) / size;
      imaginary -= (product * b) / size;
    }
    gain[f] = Math.hypot(real, imaginary);
    phase[f] = Math.atan2(imaginary, real);
  });
  return { gain, phase };
}

function motionIn(system: SmallMotionSystem, vector: Float64Array, point: SmallMotionPoint): number {
  const row = pointRow(system, point);
  if (row === undefined) return 0;
  let sum = 0;
  for (let i = 0; i < 3; i++) if (row.unknowns[i]! >= 0) sum += row.parts[i]! * vector[row.unknowns[i]!]!;
  return sum;
}
