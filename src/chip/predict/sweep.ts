/** A sweep: one quantity of the text taken through a range, and any metrics read at every step. */
import { type Dimension, ExpressionError, type Phrase, plainAmount, pureNumber, sameDimension } from "#base";
import { EvaluationError } from "../evaluate/scope.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import type { Chip } from "./chip.ts";
import { refuse } from "./choose.ts";
import { Cancelled, type Progress } from "./estimate.ts";
import type { MetricRequest } from "./side-model.ts";

export interface SweepRequest {
  /** Name of the quantity, for example "leg width" or "hold pads". */
  readonly name: string;
  /** First and last value as written, for example "5 um" and "8 um". */
  readonly from: string;
  readonly to: string;
  readonly steps: number;
  readonly metrics: readonly MetricRequest[];
  readonly side: "drawn" | "built";
  readonly progress?: Progress;
}

export interface Sweep {
  readonly name: string;
  readonly dimension: Dimension;
  /** [n] SI */
  readonly values: Float64Array;
  readonly metrics: readonly MetricRequest[];
  readonly dimensions: readonly Dimension[];
  /** [n × nMetrics], row-major; NaN where a metric does not exist. */
  readonly results: Float64Array;
  /** Why some points have no answer, each reason once. */
  readonly reasons: readonly string[];
}

function amountOf(chip: Chip, text: string): { value: number; dimension: Dimension } {
  try {
    return plainAmount(text);
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw refuse(chip, `Cannot sweep to "${text}": ${error.message}. Write for example 5 um.`);
  }
}

/** Runs a sweep. Throws InputError where names or values do not fit. */
export function runSweep(chip: Chip, request: SweepRequest): Sweep {
  const { name, steps, metrics, side, progress } = request;
  if (!Number.isInteger(steps) || steps < 2 || steps > 10_000)
    throw refuse(chip, `A sweep takes from 2 to 10000 steps, not ${steps}.`);
  const found = chip.addresses.find(name);
  if (found.kind !== "one") throw refuse(chip, `Cannot sweep "${name}": ${chip.addresses.explain(name, found)}`);
  const present = chip.side(side).scope.amountOf(found.quantity);
  const [first, last] = [amountOf(chip, request.from), amountOf(chip, request.to)];
  for (const end of [first, last]) {
    if (!sameDimension(end.dimension, present.dimension))
      throw refuse(
        chip,
        `Cannot sweep "${name}" from ${request.from} to ${request.to}: its present value is ${found.quantity.text}, which is another kind of quantity.`,
      );
  }
  const values = new Float64Array(steps);
  const results = new Float64Array(steps * metrics.length);
  const reasons = new Set<string>();
  let near: ReturnType<Chip["side"]> | undefined;
  for (let step = 0; step < steps; step++) {
    if (progress?.(step, steps, `sweep of ${name}`) === false) throw new Cancelled();
    const value = first.value + ((last.value - first.value) * step) / (steps - 1);
    values[step] = value;
    const phrase: Phrase = {
      value: {
        kind: "number",
        amount: { ...pureNumber(value), dimension: present.dimension, kind: present.kind },
        unit: "SI",
        at: 0,
      },
    };
    const model = chip.withPhrase(found.quantity, phrase).side(side, near === undefined ? {} : { near });
    try {
      metrics.forEach((metric, i) => {
        results[step * metrics.length + i] = model.valueOf(metric).value;
      });
      model.forgetNear();
      near = model;
    } catch (error) {
      // a value at which the parts do not fit together has no answer; the sweep goes on
      if (!(error instanceof EvaluationError)) throw error;
      results.fill(Number.NaN, step * metrics.length, (step + 1) * metrics.length);
      reasons.add(error.message);
    }
  }
  return {
    name,
    dimension: present.dimension,
    values,
    metrics,
    dimensions: metrics.map(({ metric }) => dimensionOf(metric)),
    results,
    reasons: [...reasons],
  };
}
