/**
 * Newton's method for a whole electro-thermal frame.
 *
 * Exact tangents, so that convergence is quadratic; steps are bounded because laws hold only over a finite range of temperature.
 * A solution is accepted only if it is thermally stable: the determinant must keep the sign it has without current (a real
 * eigenvalue that crossed zero would have flipped it), and no point may be colder than the coldest surroundings.
 * Beyond a run-away current Newton's equations often still have a solution; it fails this test.
 */
import { type Drive, evaluateResidualInto, type FrameEquations, linearise, solveFrameInto } from "./frame-equations.ts";
import type { FrameLayout } from "./frame-layout.ts";

/** Largest temperature change that one step may make [K]. */
const largestStep = 400;
const maxIterations = 25;

/** Relative change of the currents below which their heat is known as well as the temperatures are. */
const currentTolerance = 1e-6;
/** What a step may leave, in units of the tolerance of a step, where convergence is seen to be quadratic. */
const largestLeft = 1e-3;
/** What a step may leave, in the same units, for the next one to make do with its tangent. */
const leftForOldTangent = 100;
/** Current whose heat matters in no frame [A]; after switching off only rounding is left to settle. */
const currentFloor = 1e-12;

/** Largest of the temperature entries of a vector; NaN is kept. */
export function largestTemperature(vector: Float64Array, layout: FrameLayout): number {
  let largest = 0;
  for (let k = 0; k < layout.nTemperatures; k++) {
    const size = Math.abs(vector[k]!);
    // Written so that NaN is kept: a comparison with NaN is false.
    if (!(size <= largest)) largest = size;
  }
  return largest;
}

/** True where the branch currents of `x` are known well enough when `share` of their last change is still wrong. */
export function haveCurrentsSettled(
  x: Float64Array,
  change: Float64Array,
  options: { readonly layout: FrameLayout; readonly share: number },
): boolean {
  const { layout, share } = options;
  let largestCurrent = 0;
  let largestChange = 0;
  for (let k = layout.nTemperatures; k < layout.potentialEntry; k++) {
    largestCurrent = Math.max(largestCurrent, Math.abs(x[k]!));
    largestChange = Math.max(largestChange, Math.abs(change[k]!));
  }
  return share * largestChange <= currentTolerance * largestCurrent + currentFloor;
}

export interface NewtonOutcome {
  readonly isConverged: boolean;
  readonly iterations: number;
  /** Sign of the determinant at the last linearisation. */
  readonly sign: number;
  /** Last temperature change [K]. */
  readonly lastChange: number;
}

/**
 * Iterates `x` in place until the last full step is below `tolerance` [K], or has left less than a thousandth of it as the steps before
 * foretell. Because convergence is quadratic, what is left after a step is far smaller than the step itself.
 *
 * A tangent costs three residuals. Two steps make do with one that stands: the first, where the equations stand factored next to `x`;
 * and the one after a step that foretells to leave next to nothing, of which an old tangent leaves as little again.
 */
export function iterateNewton(
  x: Float64Array,
  equations: FrameEquations,
  options: { readonly drive: Drive; readonly tolerance: number; readonly isFactored?: boolean },
): NewtonOutcome {
  const { layout } = equations;
  const { drive, tolerance } = options;
  const step = new Float64Array(x.length);
  let sign = 0;
  let largest = Number.POSITIVE_INFINITY;
  let before = Number.POSITIVE_INFINITY;
  let isOld = options.isFactored === true;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    if (isOld) evaluateResidualInto(step, equations, { x, drive });
    else {
      sign = linearise(step, equations, { x, drive }).sign;
      if (sign === 0 || Number.isNaN(sign)) return { isConverged: false, iterations: iteration, sign: 0, lastChange: largest };
    }
    solveFrameInto(step, equations);
    largest = largestTemperature(step, layout);
    if (Number.isNaN(largest)) return { isConverged: false, iterations: iteration, sign, lastChange: largest };
    const scale = Math.min(1, largestStep / largest);
    // What follows from the temperatures at once is linear in the step but for the currents: they need no bound of their own.
    for (let k = 0; k < x.length; k++) x[k] = x[k]! - (k < layout.potentialEntry ? scale : 1) * step[k]!;
    // Errors go as e' = C e^2: two steps in a row tell C, and with it what the last one left.
    const left = largest * (largest / before) ** 2;
    const share = !isOld && Number.isFinite(before) && left <= largestLeft * tolerance ? largest / before : 1;
    // From zero current the first step finds the current but none of its heat: the current must have settled as well.
    // A state is told with the sign of a tangent of its own.
    if (sign !== 0 && scale === 1 && (largest <= tolerance || share < 1) && haveCurrentsSettled(x, step, { layout, share }))
      return { isConverged: true, iterations: iteration, sign, lastChange: largest };
    isOld = !isOld && Number.isFinite(before) && left <= leftForOldTangent * tolerance;
    before = scale === 1 ? largest : Number.POSITIVE_INFINITY;
  }
  return { isConverged: false, iterations: maxIterations, sign, lastChange: largest };
}
