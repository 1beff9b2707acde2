/**
 * The sampled chance: the whole model is solved at points of a Latin hypercube over all causes of doubt, and what holds is counted.
 */
import { createRandomSource, latinHypercube } from "#base";
import type { Cause, Side } from "../evaluate/scope.ts";
import type { Chip } from "../predict/chip.ts";
import { Cancelled, type Progress } from "../predict/estimate.ts";
import type { MetricRequest, SideModel } from "../predict/side-model.ts";
import { deviationOf, type LinearMetric } from "./chance.ts";

export interface Samples {
  readonly n: number;
  readonly nRequests: number;
  /** [n × nRequests], row-major; NaN where a metric does not exist. */
  readonly values: Float64Array;
}

export interface SampleOptions {
  readonly side: Side;
  readonly requests: readonly MetricRequest[];
  readonly causes: ReadonlyMap<string, Cause>;
  readonly near: SideModel;
  /** First-order estimates of the requests: a run in time takes too long to be repeated, so its samples follow from these. */
  readonly estimates: readonly LinearMetric[];
  readonly n: number;
  readonly seed: number;
  readonly progress?: Progress;
}

export function sampleSide(chip: Chip, options: SampleOptions): Samples {
  const { side, requests, n, near, progress } = options;
  const causes = [...options.causes.values()];
  const points = latinHypercube(createRandomSource(options.seed), { count: n, dimensions: Math.max(1, causes.length) });
  const values = new Float64Array(n * requests.length);
  for (let sample = 0; sample < n; sample++) {
    if (progress?.(sample, n, `samples ${side === "drawn" ? "as drawn" : "as built"}`) === false) throw new Cancelled();
    const deviations = new Map(
      causes.map((cause, column) => [cause.name, deviationOf(cause, points[sample * causes.length + column]!)]),
    );
    const model = chip.side(side, { deviations, near });
    requests.forEach((request, i) => {
      values[sample * requests.length + i] =
        request.metric.timed === true ? linearValue(options.estimates[i]!, deviations) : model.valueOf(request).value;
    });
    model.forgetNear();
  }
  return { n, nRequests: requests.length, values };
}

/** A metric moved by its causes to first order. */
function linearValue({ value, shifts }: LinearMetric, deviations: ReadonlyMap<string, number>): number {
  return [...shifts].reduce((sum, [cause, shift]) => sum + shift * (deviations.get(cause) ?? 0), value);
}

/** One column of samples, sorted, without values that do not exist. */
export function sortedColumn(samples: Samples, column: number): Float64Array {
  const kept: number[] = [];
  for (let i = 0; i < samples.n; i++) {
    const value = samples.values[i * samples.nRequests + column]!;
    if (Number.isFinite(value)) kept.push(value);
  }
  return Float64Array.from(kept).sort();
}
