/**
 * The front of two aims that pull apart: the points at which neither gets better without the other getting worse.
 *
 * Normal-boundary intersection (Das & Dennis, SIAM J. Optim. 8 (1998) 631): from points evenly spaced on the straight line between the
 * two single optima, each step goes square to that line as far as the feasible set allows. The points come out evenly spread even where
 * the front is steep. Points that another one beats are dropped. Main test: two published fronts, trade-off-front.test.ts.
 */
import {
  type ConstrainedProblem,
  constrainedMinimum,
  type Minimum,
  type MinimumOptions,
  type ProblemValues,
} from "./constrained-minimum.ts";

/** Both aims, to be made small, and the constraints, as for one aim. */
export interface TwoAims {
  readonly values: readonly [number, number];
  /** [n] each */
  readonly gradients: readonly [Float64Array, Float64Array];
  readonly constraints: Float64Array;
  /** [m × n], row-major */
  readonly jacobian: Float64Array;
}

export interface FrontProblem {
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly evaluate: (x: Float64Array) => TwoAims;
}

export interface FrontPoint {
  readonly x: Float64Array;
  readonly values: readonly [number, number];
}

function single(problem: FrontProblem, aim: 0 | 1): ConstrainedProblem {
  const { low, high } = problem;
  return {
    low,
    high,
    evaluate: (x) => {
      const { values, gradients, constraints, jacobian } = problem.evaluate(x);
      return { value: values[aim], gradient: gradients[aim], constraints, jacobian };
    },
  };
}

/** The least of one aim; among points that are equal in it, the one that is better in the other, which a small weight decides. */
function endOf(problem: FrontProblem, aim: 0 | 1, start: Float64Array, options: MinimumOptions): Minimum {
  const first = constrainedMinimum(single(problem, aim), start, options);
  const slack = 1e-8 * Math.max(1e-12, Math.abs(first.value));
  const other = aim === 0 ? 1 : 0;
  const held: ConstrainedProblem = {
    low: problem.low,
    high: problem.high,
    evaluate: (x) => {
      const found = problem.evaluate(x);
      return {
        value: found.values[other],
        gradient: found.gradients[other],
        constraints: Float64Array.of(
          ...found.constraints,
          (first.value + slack - found.values[aim]) / Math.max(1e-12, Math.abs(first.value)),
        ),
        jacobian: Float64Array.of(
          ...found.jacobian,
          ...found.gradients[aim].map((value) => -value / Math.max(1e-12, Math.abs(first.value))),
        ),
      };
    },
  };
  const second = constrainedMinimum(held, first.x, options);
  return second.violation <= 1e-5 ? second : first;
}

/** Unknowns x and the way t along the normal; the larger t, the better. */
function alongNormal(
  problem: FrontProblem,
  base: readonly [number, number],
  range: readonly [number, number],
): ConstrainedProblem {
  const n = problem.low.length;
  return {
    low: Float64Array.of(...problem.low, -2),
    high: Float64Array.of(...problem.high, 2),
    evaluate: (xt): ProblemValues => {
      const found = problem.evaluate(xt.slice(0, n));
      const t = xt[n]!;
      const gradient = new Float64Array(n + 1);
      gradient[n] = -1;
      const m = found.constraints.length;
      const constraints = new Float64Array(m + 2);
      const jacobian = new Float64Array((m + 2) * (n + 1));
      constraints.set(found.constraints);
      for (let i = 0; i < m; i++) jacobian.set(found.jacobian.subarray(i * n, i * n + n), i * (n + 1));
      // each aim, in parts of its range, at most where the normal has come to: as an inequality, so that a front with a kink is passed too
      for (const aim of [0, 1] as const) {
        constraints[m + aim] = base[aim] - t - found.values[aim] / range[aim];
        for (let j = 0; j < n; j++) jacobian[(m + aim) * (n + 1) + j] = -found.gradients[aim][j]! / range[aim];
        jacobian[(m + aim) * (n + 1) + n] = -1;
      }
      return { value: -t, gradient, constraints, jacobian };
    },
  };
}

/** The front as at most `count` points, from the best in the first aim to the best in the second. */
export function tradeOffFront(
  problem: FrontProblem,
  start: Float64Array,
  options: MinimumOptions & { readonly count: number; readonly progress?: (done: number, total: number) => void },
): readonly FrontPoint[] {
  const { count } = options;
  if (!(count >= 2)) throw new RangeError(`Cannot draw a front: wanted at least 2 points, found ${count}`);
  const ends = [endOf(problem, 0, start, options), endOf(problem, 1, start, options)] as const;
  const at = (x: Float64Array): FrontPoint => ({ x, values: problem.evaluate(x).values });
  const [first, last] = [at(ends[0].x), at(ends[1].x)];
  const range: readonly [number, number] = [last.values[0] - first.values[0], first.values[1] - last.values[1]];
  // the aims do not pull apart: one point is the best for both
  if (!(range[0] > 0 && range[1] > 0)) return [first];
  const points = [first];
  let from = first.x;
  for (let k = 1; k < count - 1; k++) {
    options.progress?.(k, count);
    const part = k / (count - 1);
    const base = [first.values[0] / range[0] + part, last.values[1] / range[1] + 1 - part] as const;
    const found = constrainedMinimum(alongNormal(problem, base, range), Float64Array.of(...from, 0), options);
    if (found.violation > 1e-5) continue;
    from = found.x.slice(0, problem.low.length);
    points.push(at(from));
  }
  points.push(last);
  return points.filter(
    (point) =>
      !points.some(
        (other) => other !== point && other.values[0] <= point.values[0] && other.values[1] < point.values[1] - 1e-6 * range[1],
      ),
  );
}
