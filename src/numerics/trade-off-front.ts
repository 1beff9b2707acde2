/**
 * The front of two aims that pull apart: the points at which neither gets better without the other getting worse.
 *
 * Normal-boundary intersection (Das & Dennis, SIAM J. Optim. 8 (1998) 631): from points evenly spaced on the straight line between the
 * two single optima, each step goes square to that line as far as the feasible set allows. The points come out evenly spread even where
 * the front is steep. Points that another one beats are dropped. Main test: two published fronts, trade-off-front.test.ts.
 */
import {
  type Minimum,
  type MinimumOptions,
  type ProblemBounds,
  type ProblemValues,
  runSearch,
  type Search,
  searchMinimum,
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

export interface FrontProblem extends Pick<ProblemBounds, "low" | "high"> {
  readonly evaluate: (x: Float64Array) => TwoAims;
}

export interface FrontPoint {
  readonly x: Float64Array;
  readonly values: readonly [number, number];
}

type FrontBounds = Pick<ProblemBounds, "low" | "high">;

/** A problem of one aim made of both: its bounds, which design one of its points is, and what it takes from the aims there. */
interface Part {
  readonly bounds: ProblemBounds;
  readonly designOf: (point: Float64Array) => Float64Array;
  readonly valuesOf: (found: TwoAims, point: Float64Array) => ProblemValues;
}

/** The minimum of a part, asking for both aims. */
function* searchPart(part: Part, start: Float64Array, options: MinimumOptions): Search<Minimum, TwoAims> {
  const search = searchMinimum(part.bounds, start, options);
  let step = search.next();
  while (step.done !== true) step = search.next(part.valuesOf(yield part.designOf(step.value), step.value));
  return step.value;
}

function single(bounds: FrontBounds, aim: 0 | 1): Part {
  return {
    bounds,
    designOf: (x) => x,
    valuesOf: ({ values, gradients, constraints, jacobian }) => ({
      value: values[aim],
      gradient: gradients[aim],
      constraints,
      jacobian,
    }),
  };
}

/** The other aim, with one held at what it has come to. */
function heldAt(bounds: FrontBounds, aim: 0 | 1, least: number): Part {
  const other = aim === 0 ? 1 : 0;
  const size = Math.max(1e-12, Math.abs(least));
  return {
    bounds,
    designOf: (x) => x,
    valuesOf: ({ values, gradients, constraints, jacobian }) => ({
      value: values[other],
      gradient: gradients[other],
      constraints: Float64Array.of(...constraints, (least - values[aim]) / size + 1e-8),
      jacobian: Float64Array.of(...jacobian, ...gradients[aim].map((value) => -value / size)),
    }),
  };
}

/** The least of one aim; among points that are equal in it, the one that is better in the other. */
function* endOf(bounds: FrontBounds, aim: 0 | 1, start: Float64Array, options: MinimumOptions): Search<Minimum, TwoAims> {
  const first = yield* searchPart(single(bounds, aim), start, options);
  const second = yield* searchPart(heldAt(bounds, aim, first.value), first.x, options);
  return second.violation <= 1e-5 ? second : first;
}

/** Unknowns x and the way t along the normal; the larger t, the better. */
function alongNormal({ low, high }: FrontBounds, base: readonly [number, number], range: readonly [number, number]): Part {
  const n = low.length;
  return {
    bounds: { low: Float64Array.of(...low, -2), high: Float64Array.of(...high, 2) },
    designOf: (xt) => xt.slice(0, n),
    valuesOf: (found, xt) => {
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
  options: MinimumOptions & { readonly count: number },
): readonly FrontPoint[] {
  return runSearch(searchFront(problem, start, options), problem.evaluate);
}

/** The same as a search. */
export function* searchFront(
  bounds: FrontBounds,
  start: Float64Array,
  options: MinimumOptions & { readonly count: number },
): Search<readonly FrontPoint[], TwoAims> {
  const { count } = options;
  if (!(count >= 2)) throw new RangeError(`Cannot draw a front: wanted at least 2 points, found ${count}`);
  const ends = [yield* endOf(bounds, 0, start, options), yield* endOf(bounds, 1, start, options)] as const;
  const first: FrontPoint = { x: ends[0].x, values: (yield ends[0].x).values };
  const last: FrontPoint = { x: ends[1].x, values: (yield ends[1].x).values };
  const range: readonly [number, number] = [last.values[0] - first.values[0], first.values[1] - last.values[1]];
  // the aims do not pull apart: one point is the best for both
  if (!(range[0] > 0 && range[1] > 0)) return [first];
  const points = [first];
  let from = first.x;
  for (let k = 1; k < count - 1; k++) {
    const part = k / (count - 1);
    const base = [first.values[0] / range[0] + part, last.values[1] / range[1] + 1 - part] as const;
    const found = yield* searchPart(alongNormal(bounds, base, range), Float64Array.of(...from, 0), options);
    if (found.violation > 1e-5) continue;
    from = found.x.slice(0, bounds.low.length);
    points.push({ x: from, values: (yield from).values });
  }
  points.push(last);
  return points.filter(
    (point) =>
      !points.some(
        (other) => other !== point && other.values[0] <= point.values[0] && other.values[1] < point.values[1] - 1e-6 * range[1],
      ),
  );
}
