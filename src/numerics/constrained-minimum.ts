/**
 * The least value of a smooth function of a few unknowns within bounds and under smooth constraints, gradients given by the caller.
 *
 * Sequential quadratic programming with damped BFGS (Nocedal & Wright, Numerical Optimization, 2nd ed., chapter 18): each step solves a
 * quadratic programme through `leastDistance`, its length follows from the l1 merit function. One evaluation a step as a rule, which
 * matters where an evaluation is a whole device. Starts from several points find the better of several minima. A point where the
 * function does not exist (NaN) only shortens the step. Main test: problems of Hock & Schittkowski, constrained-minimum.test.ts.
 */
import { leastDistance } from "./least-distance.ts";

/** What the caller answers at a point. */
export interface ProblemValues {
  readonly value: number;
  /** [n] */
  readonly gradient: Float64Array;
  /** [m] each wanted at least zero, or zero where `equal` says so. */
  readonly constraints: Float64Array;
  /** [m × n], row-major */
  readonly jacobian: Float64Array;
}

export interface ProblemBounds {
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Constraints that are equations; none where it is left out. */
  readonly equal?: readonly boolean[];
}

export interface ConstrainedProblem extends ProblemBounds {
  readonly evaluate: (x: Float64Array) => ProblemValues;
}

/** A search that yields each point at which it wants values, and is handed what `Found` is there: so that it can be watched and stopped. */
export type Search<Result, Found = ProblemValues> = Generator<Float64Array, Result, Found>;

/** Runs a search to its end. */
export function runSearch<Result, Found>(search: Search<Result, Found>, evaluate: (x: Float64Array) => Found): Result {
  let step = search.next();
  while (step.done !== true) step = search.next(evaluate(step.value));
  return step.value;
}

export interface MinimumOptions {
  /** Step, relative to the range of each unknown, below which it has arrived. */
  readonly tolerance: number;
  readonly maxIterations: number;
}

export interface Minimum {
  readonly x: Float64Array;
  readonly value: number;
  readonly constraints: Float64Array;
  /** Largest violation of a constraint. */
  readonly violation: number;
  readonly converged: boolean;
  readonly evaluations: number;
}

/** The problem in unknowns from 0 to 1, so that a metre and a volt weigh alike. */
function scalesOf({ low, high }: ProblemBounds) {
  const n = low.length;
  const range = low.map((value, j) => high[j]! - value);
  return {
    n,
    at: (t: Float64Array): Float64Array => t.map((value, j) => low[j]! + value * range[j]!),
    scaled: (found: ProblemValues): ProblemValues => ({
      ...found,
      gradient: found.gradient.map((value, j) => value * range[j]!),
      jacobian: found.jacobian.map((value, k) => value * range[k % n]!),
    }),
  };
}

/** Lower triangle L with L Lᵀ = b. */
function cholesky(b: Float64Array, n: number): Float64Array {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = b[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      l[i * n + j] = i === j ? Math.sqrt(Math.max(sum, 1e-14)) : sum / l[j * n + j]!;
    }
  }
  return l;
}

function forward(l: Float64Array, n: number, b: Float64Array): Float64Array {
  const x = b.slice();
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= l[i * n + k]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  return x;
}

function backward(l: Float64Array, n: number, b: Float64Array): Float64Array {
  const x = b.slice();
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= l[k * n + i]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  return x;
}

interface Quadratic {
  readonly n: number;
  readonly b: Float64Array;
  readonly gradient: Float64Array;
  /** [m × n] and [m]: rows · d >= right */
  readonly rows: Float64Array;
  readonly right: Float64Array;
}

/** Step of a quadratic programme: least d·b·d/2 + gradient·d with rows·d >= right. */
function quadraticStep({ n, b, gradient, rows, right }: Quadratic) {
  const m = right.length;
  const l = cholesky(b, n);
  const shift = forward(l, n, gradient);
  const g = new Float64Array(m * n);
  const h = new Float64Array(m);
  for (let row = 0; row < m; row++) {
    const turned = forward(l, n, rows.subarray(row * n, row * n + n));
    g.set(turned, row * n);
    h[row] = right[row]! + turned.reduce((sum, value, j) => sum + value * shift[j]!, 0);
  }
  const found = leastDistance(g, h, n);
  if (found === undefined) return undefined;
  return {
    step: backward(
      l,
      n,
      found.z.map((value, j) => value - shift[j]!),
    ),
    multipliers: found.multipliers,
  };
}

/** The programme of one step: bounds as rows, equations as two rows; `slack` adds an unknown that lets violated rows give. */
function programmeAt(
  t: Float64Array,
  b: Float64Array,
  found: ProblemValues,
  equal: readonly boolean[] | undefined,
  slack: boolean,
): Quadratic {
  const n = t.length;
  const wide = slack ? n + 1 : n;
  const m = found.constraints.length;
  const rows: number[] = [];
  const right: number[] = [];
  const push = (row: readonly number[], bound: number, give: number): void => {
    rows.push(...row, ...(slack ? [give] : []));
    right.push(bound);
  };
  for (let i = 0; i < m; i++) {
    const row = [...found.jacobian.subarray(i * n, i * n + n)];
    const value = found.constraints[i]!;
    push(row, -value, Math.max(0, -value));
    push(
      equal?.[i] === true ? row.map((entry) => -entry) : row.map(() => 0),
      equal?.[i] === true ? value : -1,
      equal?.[i] === true ? Math.max(0, value) : 0,
    );
  }
  for (let j = 0; j < n; j++) {
    const unit = Array.from({ length: n }, (_, k) => (k === j ? 1 : 0));
    push(unit, -t[j]!, 0);
    push(
      unit.map((entry) => -entry),
      t[j]! - 1,
      0,
    );
  }
  if (!slack) return { n, b, gradient: found.gradient, rows: Float64Array.from(rows), right: Float64Array.from(right) };
  const wideB = new Float64Array(wide * wide);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) wideB[i * wide + j] = b[i * n + j]!;
  wideB[wide * wide - 1] = 1e4 * Math.max(1, ...found.gradient.map(Math.abs));
  const gradient = new Float64Array(wide);
  gradient.set(found.gradient);
  return { n: wide, b: wideB, gradient, rows: Float64Array.from(rows), right: Float64Array.from(right) };
}

function violations(found: ProblemValues, equal: readonly boolean[] | undefined): Float64Array {
  return found.constraints.map((value, i) => (equal?.[i] === true ? Math.abs(value) : Math.max(0, -value)));
}

/** Powell's damped update, which keeps b positive. */
function updateCurvature(b: Float64Array, n: number, s: Float64Array, y: Float64Array): void {
  const bs = s.map((_, i) => s.reduce((sum, value, j) => sum + b[i * n + j]! * value, 0));
  const dot = (p: Float64Array, q: Float64Array): number => p.reduce((sum, value, j) => sum + value * q[j]!, 0);
  const sbs = dot(s, bs);
  if (!(sbs > 1e-300)) return;
  const sy = dot(s, y);
  const theta = sy >= 0.2 * sbs ? 1 : (0.8 * sbs) / (sbs - sy);
  const r = y.map((value, j) => theta * value + (1 - theta) * bs[j]!);
  const sr = dot(s, r);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) b[i * n + j]! += (r[i]! * r[j]!) / sr - (bs[i]! * bs[j]!) / sbs;
}

/** Gradient of the Lagrangian. */
function lagrangian(found: ProblemValues, lambda: Float64Array, n: number): Float64Array {
  return found.gradient.map((value, j) => lambda.reduce((sum, weight, i) => sum - weight * found.jacobian[i * n + j]!, value));
}

function isWhole(found: ProblemValues): boolean {
  return Number.isFinite(found.value) && found.constraints.every(Number.isFinite);
}

/** The minimum reached from one start. */
export function constrainedMinimum(problem: ConstrainedProblem, start: Float64Array, options: MinimumOptions): Minimum {
  return runSearch(searchMinimum(problem, start, options), problem.evaluate);
}

/** The same as a search. */
export function* searchMinimum(problem: ProblemBounds, start: Float64Array, options: MinimumOptions): Search<Minimum> {
  const { n, at, scaled } = scalesOf(problem);
  const { equal } = problem;
  let t: Float64Array = start.map((value, j) =>
    Math.min(1, Math.max(0, (value - problem.low[j]!) / (problem.high[j]! - problem.low[j]!))),
  );
  let found = scaled(yield at(t));
  let evaluations = 1;
  const m = found.constraints.length;
  const b = new Float64Array(n * n);
  const resetCurvature = (): void => {
    const size = Math.max(1e-6, Math.hypot(...found.gradient));
    b.fill(0);
    for (let j = 0; j < n; j++) b[j * n + j] = size;
  };
  resetCurvature();
  const weights = new Float64Array(m);
  const merit = (values: ProblemValues): number =>
    violations(values, equal).reduce((sum, value, i) => sum + weights[i]! * value, values.value);
  let converged = false;
  let failures = 0;
  for (let iteration = 0; iteration < options.maxIterations && isWhole(found); iteration++) {
    const solved = quadraticStep(programmeAt(t, b, found, equal, false)) ?? quadraticStep(programmeAt(t, b, found, equal, true));
    if (solved === undefined) break;
    const step = solved.step.slice(0, n);
    const lambda = Float64Array.from(
      { length: m },
      (_, i) => solved.multipliers[2 * i]! - (equal?.[i] === true ? solved.multipliers[2 * i + 1]! : 0),
    );
    const length = Math.max(...step.map(Math.abs));
    const broken = violations(found, equal);
    if (
      length < options.tolerance &&
      Math.max(0, ...broken) < 1e3 * options.tolerance * Math.max(1, ...found.jacobian.map(Math.abs))
    ) {
      converged = true;
      break;
    }
    for (let i = 0; i < m; i++) weights[i] = Math.max(1.5 * Math.abs(lambda[i]!), (weights[i]! + Math.abs(lambda[i]!)) / 2);
    const slope =
      step.reduce((sum, value, j) => sum + value * found.gradient[j]!, 0) -
      broken.reduce((sum, value, i) => sum + weights[i]! * value, 0);
    const before = merit(found);
    let part = 1;
    let next = found;
    let moved = t;
    let accepted = false;
    for (let halving = 0; halving < 25; halving++, part *= halving < 3 ? 0.5 : 0.25) {
      moved = t.map((value, j) => Math.min(1, Math.max(0, value + part * step[j]!)));
      next = scaled(yield at(moved));
      evaluations++;
      if (isWhole(next) && merit(next) <= before + 1e-4 * part * Math.min(0, slope) + 1e-15 * Math.abs(before)) {
        accepted = true;
        break;
      }
      if (part * length < 1e-3 * options.tolerance) break;
    }
    if (!accepted) {
      // once more with fresh curvature, then it is as good as rounding lets it be
      if (++failures > 1) break;
      resetCurvature();
      continue;
    }
    failures = 0;
    const s = moved.map((value, j) => value - t[j]!);
    const y = lagrangian(next, lambda, n).map((value, j) => value - lagrangian(found, lambda, n)[j]!);
    updateCurvature(b, n, s, y);
    t = moved;
    found = next;
  }
  return {
    x: at(t),
    value: found.value,
    constraints: found.constraints,
    violation: Math.max(0, ...violations(found, equal)),
    converged,
    evaluations,
  };
}

/** The best of the minima reached from several starts: the least value among those that keep the constraints, else the least violation. */
export function bestMinimum(
  problem: ConstrainedProblem,
  starts: readonly Float64Array[],
  options: MinimumOptions & { readonly allowedViolation: number },
): Minimum {
  return runSearch(searchBestMinimum(problem, starts, options), problem.evaluate);
}

/** The same as a search. */
export function* searchBestMinimum(
  problem: ProblemBounds,
  starts: readonly Float64Array[],
  options: MinimumOptions & { readonly allowedViolation: number },
): Search<Minimum> {
  if (starts.length === 0) throw new RangeError("Cannot look for a minimum: wanted at least one start, found none");
  const found: Minimum[] = [];
  for (const start of starts) found.push(yield* searchMinimum(problem, start, options));
  const rank = (a: Minimum, b: Minimum): number => {
    const [aKeeps, bKeeps] = [a.violation <= options.allowedViolation, b.violation <= options.allowedViolation];
    if (aKeeps !== bKeeps) return aKeeps ? -1 : 1;
    return aKeeps ? a.value - b.value : a.violation - b.violation;
  };
  return found.filter(({ value }) => Number.isFinite(value)).sort(rank)[0] ?? found[0]!;
}
