/**
 * The best design over a few quantities: the one whose least certain limit is surest, or the least or most of a metric with every limit
 * held with a chosen surety.
 *
 * The surety of a limit is its distance from the metric in standard deviations. The greatest least surety is a smooth problem with one
 * unknown more: t as large as it can be, every surety at least t. The spread is that of the design at the start, and again that of the
 * design found, from which the search goes on once. Every search yields before each design, so that it can be watched and stopped.
 * Main test: best-design.test.ts.
 */
import { createRandomSource, type Dimension, SolveError } from "#base";
import {
  type FrontPoint,
  type Minimum,
  type ProblemBounds,
  type ProblemValues,
  type Search,
  searchBestMinimum,
  searchFront,
  sobolPoints,
  type TwoAims,
} from "#numerics";
import { comparedWith, type Need } from "../brief/need.ts";
import { EvaluationError, type Side } from "../evaluate/scope.ts";
import { linearSigma } from "../ledger/chance.ts";
import type { Chip } from "../predict/chip.ts";
import { refuse } from "../predict/choose.ts";
import type { MetricRequest } from "../predict/side-model.ts";
import { allHold } from "./all-hold.ts";
import { type Axis, axesOf, DesignSpace, limitsOver, type RangeOf, type SizeLimit } from "./design-space.ts";
import { plainAxis, type RegionAxis } from "./region.ts";
import type { StudyStep } from "./study-step.ts";

export interface Aim {
  readonly request: MetricRequest;
  readonly way: "least" | "most";
}

export interface BestOptions {
  readonly vary: readonly RangeOf[];
  readonly side: Side;
  /** What to make small or large; the least surety is made large where left out. */
  readonly aim?: Aim;
  /** Standard deviations by which every limit must hold while an aim is followed. */
  readonly surety: number;
  /** Searches begin in the present design, in the middle, and then at scattered points; 2 where left out. */
  readonly starts?: number;
}

export interface BestLimit {
  readonly requirement: string;
  readonly label: string;
  readonly dimension: Dimension;
  readonly need: Need;
  /** SI */
  readonly value: number;
  /** Distance from the limit in standard deviations; below zero where it is broken. */
  readonly surety: number;
}

export interface BestDesign {
  readonly axes: readonly RegionAxis[];
  /** [n] SI */
  readonly x: Float64Array;
  /** Chance that all limits hold there, solved in full, and in the design of the text (NaN where that has no answer). */
  readonly chance: number;
  readonly chanceBefore: number;
  readonly limits: readonly BestLimit[];
  /** Value of the aim, SI; NaN without one. */
  readonly aim: number;
  readonly converged: boolean;
  readonly nDesigns: number;
}

/** Sureties are counted no further than this: what is surer than that does not matter. */
const enough = 6;
const effort = { tolerance: 1e-4, maxIterations: 25 };
/** Sureties may fall short by this many standard deviations: a fiftieth is less than anyone knows a standard deviation to. */
const allowedViolation = 0.02;
const seed = 20264;

/** One side of a limit. */
interface Fence {
  readonly column: number;
  readonly sign: 1 | -1;
  readonly at: number;
}

/** A design solved in full, with its doubt. */
interface Doubt {
  readonly values: readonly number[];
  readonly sigmas: readonly number[];
  readonly chance: number;
  readonly aim: number;
}

class BestStudy {
  readonly axes: readonly Axis[];
  readonly limits: readonly SizeLimit[];
  private readonly space: DesignSpace;
  readonly fences: readonly Fence[];
  private sigmas: readonly number[] = [];
  nDesigns = 0;

  constructor(
    chip: Chip,
    private readonly options: { readonly vary: readonly RangeOf[]; readonly side: Side },
    private readonly aims: readonly Aim[],
  ) {
    if (options.vary.length === 0) throw refuse(chip, "Say what may vary: at least one quantity with its range.");
    this.axes = axesOf(chip, options.vary);
    this.limits = limitsOver(chip, this.axes);
    this.space = new DesignSpace(chip, this.axes, options.side);
    this.fences = this.limits.flatMap(({ need }, column): Fence[] => [
      ...(need.low === undefined ? [] : [{ column, sign: 1 as const, at: need.low }]),
      ...(need.high === undefined ? [] : [{ column, sign: -1 as const, at: need.high }]),
    ]);
  }

  get bounds(): ProblemBounds {
    return {
      low: Float64Array.from(this.axes, ({ low }) => low),
      high: Float64Array.from(this.axes, ({ high }) => high),
    };
  }

  /** The design of the text, moved into the ranges. */
  present(): Float64Array {
    return Float64Array.from(this.axes, ({ low, high, present }) => Math.min(high, Math.max(low, present)));
  }

  /** `first`, then the middle, then points scattered over the ranges. */
  starts(first: Float64Array, count: number): readonly Float64Array[] {
    const n = this.axes.length;
    const scattered = sobolPoints({ count: Math.max(1, count), dimensions: n }, createRandomSource(seed));
    const at = (place: (j: number) => number): Float64Array =>
      Float64Array.from(this.axes, ({ low, high }, j) => low + place(j) * (high - low));
    return Array.from({ length: count }, (_, k) =>
      k === 0 ? first : k === 1 ? at(() => 0.5) : at((j) => scattered[(k - 2) * n + j]!),
    );
  }

  /** Values, standard deviations and the joint chance of a design; undefined where it has no answer. */
  doubtAt(x: Float64Array): Doubt | undefined {
    this.nDesigns++;
    try {
      const extra = this.aims.map(({ request }) => request);
      const { chance, estimates } = allHold(this.space.chipAt(x), { side: this.options.side, extra });
      const own = estimates.slice(0, this.limits.length);
      if (!own.every(({ value }) => Number.isFinite(value))) return undefined;
      const sigmas = own.map((estimate, i) =>
        // a metric without doubt is still not known better than this
        Math.max(
          linearSigma(estimate),
          1e-4 * Math.abs(estimate.value),
          1e-9 * Math.abs(this.fences.find(({ column }) => column === i)?.at ?? 1),
        ),
      );
      return {
        values: own.map(({ value }) => value),
        sigmas,
        chance,
        aim: estimates[this.limits.length]?.value ?? Number.NaN,
      };
    } catch (error) {
      if (!(error instanceof EvaluationError || error instanceof SolveError)) throw error;
      return undefined;
    }
  }

  takeDoubt(sigmas: readonly number[]): void {
    this.sigmas = sigmas;
  }

  suretyOf({ column, sign, at }: Fence, value: number): number {
    return (sign * (comparedWith(this.limits[column]!.need, value) - at)) / this.sigmas[column]!;
  }

  /** Sureties less `wanted`, and the aims to be made small, with their slopes. */
  evaluate(x: Float64Array, wanted: number) {
    this.nDesigns++;
    const n = this.axes.length;
    const requests = [...this.limits, ...this.aims].map(({ request }) => request);
    const solved = this.space.solve(x, requests, { slopes: true });
    const constraints = Float64Array.from(this.fences, (fence) => this.suretyOf(fence, solved.values[fence.column]!) - wanted);
    const jacobian = new Float64Array(this.fences.length * n);
    this.fences.forEach(({ column, sign }, row) => {
      // a size goes down where a value below zero goes up
      const way = this.limits[column]!.need.ofSize && solved.values[column]! < 0 ? -sign : sign;
      for (let j = 0; j < n; j++) jacobian[row * n + j] = (way * solved.slopes[column * n + j]!) / this.sigmas[column]!;
    });
    const aims = this.aims.map(({ way }, k) => {
      const sign = way === "least" ? 1 : -1;
      const column = this.limits.length + k;
      return {
        value: sign * solved.values[column]!,
        gradient: solved.slopes.slice(column * n, column * n + n).map((slope) => sign * slope),
      };
    });
    return { constraints, jacobian, aims };
  }

  /** Bounds with the least surety as one unknown more. */
  get boundsWithSurety(): ProblemBounds {
    const { low, high } = this.bounds;
    return { low: Float64Array.of(...low, -50), high: Float64Array.of(...high, enough) };
  }

  /** Least surety as large as it can be. */
  surest(xt: Float64Array): ProblemValues {
    const n = this.axes.length;
    const { constraints, jacobian } = this.evaluate(xt.slice(0, n), xt[n]!);
    const gradient = new Float64Array(n + 1);
    gradient[n] = -1;
    const wide = new Float64Array(constraints.length * (n + 1)).fill(-1);
    constraints.forEach((_, row) => {
      wide.set(jacobian.subarray(row * n, row * n + n), row * (n + 1));
    });
    return { value: -xt[n]!, gradient, constraints, jacobian: wide };
  }

  /** The one aim, every limit held by `surety`. */
  followAim(x: Float64Array, surety: number): ProblemValues {
    const { constraints, jacobian, aims } = this.evaluate(x, surety);
    return { ...aims[0]!, constraints, jacobian };
  }

  /** Runs a search, with a step before each design. */
  *run<Result, Found>(search: Search<Result, Found>, evaluate: (x: Float64Array) => Found): Generator<StudyStep, Result, void> {
    let step = search.next();
    while (step.done !== true) {
      yield { what: "designs tried", done: this.nDesigns, total: this.nDesigns + 1 };
      step = search.next(evaluate(step.value));
    }
    return step.value;
  }
}

/**
 * The best design within the ranges, step by step. Throws InputError at the first step where a range cannot be used, or where neither the
 * present design nor the middle has an answer.
 */
export function* bestInSteps(chip: Chip, options: BestOptions): Generator<StudyStep, BestDesign, void> {
  const { aim, surety } = options;
  const study = new BestStudy(chip, options, aim === undefined ? [] : [aim]);
  const n = study.axes.length;
  const nStarts = Math.max(1, options.starts ?? 2);
  yield { what: "doubt", done: 0, total: 1 };
  let x = study.present();
  const first = study.doubtAt(x);
  let doubt = first;
  if (doubt === undefined) {
    x = study.starts(x, 2)[1]!;
    doubt = study.doubtAt(x);
  }
  if (doubt === undefined)
    throw refuse(
      chip,
      "Neither the present design nor the middle of the ranges has a value for every limit: choose ranges about a design that works.",
    );
  let found: Minimum | undefined;
  for (let round = 0; round < 2; round++) {
    study.takeDoubt(doubt.sigmas);
    const starts = study.starts(x, round === 0 ? nStarts : 1);
    const manner = { ...effort, allowedViolation };
    found =
      aim === undefined
        ? yield* study.run(
            searchBestMinimum(
              study.boundsWithSurety,
              starts.map((start) => Float64Array.of(...start, 0)),
              manner,
            ),
            (xt) => study.surest(xt),
          )
        : yield* study.run(searchBestMinimum(study.bounds, starts, manner), (at) => study.followAim(at, surety));
    x = found.x.slice(0, n);
    yield { what: "doubt", done: 0, total: 1 };
    const there = study.doubtAt(x);
    if (there === undefined) break;
    doubt = there;
  }
  study.takeDoubt(doubt.sigmas);
  const { values, chance } = doubt;
  const isInside = study.axes.every(({ present, low, high }) => present >= low && present <= high);
  return {
    axes: study.axes.map(plainAxis),
    x,
    chance,
    chanceBefore: isInside ? (first?.chance ?? Number.NaN) : Number.NaN,
    limits: study.limits.map(({ requirement, label, dimension, need }, i) => ({
      requirement,
      label,
      dimension,
      need,
      value: values[i]!,
      surety: Math.min(...study.fences.filter(({ column }) => column === i).map((fence) => study.suretyOf(fence, values[i]!))),
    })),
    aim: doubt.aim,
    converged: found?.converged === true && found.violation <= allowedViolation,
    nDesigns: study.nDesigns,
  };
}

export interface Front {
  readonly axes: readonly RegionAxis[];
  /** Designs and both aims, SI, from the best in the first to the best in the second. */
  readonly points: readonly FrontPoint[];
}

/** The front of two aims with every limit held by `surety`, step by step. Throws InputError at the first step as above. */
export function* frontInSteps(
  chip: Chip,
  options: Omit<BestOptions, "aim" | "starts"> & { readonly aims: readonly [Aim, Aim]; readonly count: number },
): Generator<StudyStep, Front, void> {
  const study = new BestStudy(chip, options, options.aims);
  yield { what: "doubt", done: 0, total: 1 };
  const start = study.present();
  const doubt = study.doubtAt(start);
  if (doubt === undefined) throw refuse(chip, "The present design has no answer, so that no front can start from it.");
  study.takeDoubt(doubt.sigmas);
  const points = yield* study.run(searchFront(study.bounds, start, { ...effort, count: options.count }), (x): TwoAims => {
    const { constraints, jacobian, aims } = study.evaluate(x, options.surety);
    return {
      values: [aims[0]!.value, aims[1]!.value],
      gradients: [aims[0]!.gradient, aims[1]!.gradient],
      constraints,
      jacobian,
    };
  });
  const signs = options.aims.map(({ way }) => (way === "least" ? 1 : -1));
  return {
    axes: study.axes.map(plainAxis),
    points: points.map(({ x, values }) => ({ x, values: [signs[0]! * values[0], signs[1]! * values[1]] })),
  };
}
