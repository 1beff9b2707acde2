/**
 * What a study asks about designs, and the answers: plain data, so that a question can be worked out in another worker than the one that
 * asks. Any number of workers, each with a solver of its own for the same chip and request, give the same answers to within the
 * tolerance of the models.
 */
import { SolveError } from "#base";
import { type Cause, EvaluationError, type Side } from "../evaluate/scope.ts";
import type { Chip } from "../predict/chip.ts";
import { estimateSide } from "../predict/estimate.ts";
import type { SideModel } from "../predict/side-model.ts";
import { axesOf, DesignSpace, limitsOver, type RangeOf } from "./design-space.ts";

export interface RegionRequest {
  readonly x: RangeOf;
  readonly y: RangeOf;
  readonly side: Side;
  /** Only limits at this operating case; all limits where left out. */
  readonly caseName?: string;
  /** Points a side of the grids of values and chances; 101 where left out. */
  readonly points?: number;
  /** Cells a side at most, as a power of two; 3 where left out, so 8 × 8 cells. */
  readonly halvings?: number;
}

export interface DesignQuestion {
  /** Values alone, values with slopes, or values with what each cause of doubt moves them by. */
  readonly kind: "values" | "slopes" | "doubt";
  /** [2] the two quantities, SI. */
  readonly x: Float64Array;
  /** Numbers of the limits asked about. */
  readonly limits: Uint16Array;
}

export interface DesignAnswer {
  /** [nLimits] NaN where there is no value. */
  readonly values: Float64Array;
  /** [nLimits × 2] per SI unit, row-major; empty unless asked for. */
  readonly slopes: Float64Array;
  /** Causes of doubt, and [nLimits × nCauses] shifts per standard deviation, row-major; empty unless asked for. */
  readonly causes: readonly Pick<Cause, "name" | "distribution">[];
  readonly shifts: Float64Array;
  /** Why values are missing, each reason once. */
  readonly reasons: readonly string[];
}

/** Whoever works out designs: a solver at hand, or the way to one in a worker. */
export type AskDesign = (question: DesignQuestion) => DesignAnswer | Promise<DesignAnswer>;

/** From further off, in parts of the plane, starting from a state takes longer than starting cold. */
const nearEnough = 0.13;

/** A solver of designs for the ranges of a request. Throws InputError where they cannot be used. */
export function createDesignSolver(chip: Chip, request: RegionRequest): (question: DesignQuestion) => DesignAnswer {
  const axes = axesOf(chip, [request.x, request.y]);
  const limits = limitsOver(chip, axes, request.caseName);
  const space = new DesignSpace(chip, axes, request.side);
  let last: { readonly model: SideModel; readonly x: Float64Array } | undefined;

  const nearTo = (x: Float64Array): SideModel | undefined =>
    last !== undefined && Math.hypot(...axes.map(({ low, high }, j) => (x[j]! - last!.x[j]!) / (high - low))) < nearEnough
      ? last.model
      : undefined;

  const doubtAt = (x: Float64Array, requests: Parameters<typeof estimateSide>[2]["requests"]): DesignAnswer => {
    const n = requests.length;
    try {
      const work = estimateSide(space.chipAt(x), request.side, { requests, doubt: true });
      const causes = [...work.causes.values()].map(({ name, distribution }) => ({ name, distribution }));
      const shifts = new Float64Array(n * causes.length);
      work.estimates.forEach((estimate, i) => {
        causes.forEach(({ name }, c) => {
          shifts[i * causes.length + c] = estimate.shifts.get(name) ?? 0;
        });
      });
      return {
        values: Float64Array.from(work.estimates, ({ value }) => value),
        slopes: new Float64Array(0),
        causes,
        shifts,
        reasons: [...new Set(work.estimates.flatMap(({ value, reason }) => (Number.isFinite(value) ? [] : (reason ?? []))))],
      };
    } catch (error) {
      // no such design: its neighbours speak for it
      if (!(error instanceof EvaluationError || error instanceof SolveError)) throw error;
      return {
        values: new Float64Array(n).fill(Number.NaN),
        slopes: new Float64Array(0),
        causes: [],
        shifts: new Float64Array(0),
        reasons: [error.message],
      };
    }
  };

  return ({ kind, x, limits: wanted }) => {
    const requests = [...wanted].map((number) => limits[number]!.request);
    if (kind === "doubt") return doubtAt(x, requests);
    const solved = space.solve(x, requests, { near: nearTo(x), slopes: kind === "slopes" });
    if (solved.model !== undefined) last = { model: solved.model, x };
    return { values: solved.values, slopes: solved.slopes, causes: [], shifts: new Float64Array(0), reasons: solved.reasons };
  };
}
