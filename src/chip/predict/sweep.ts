/** A sweep: one quantity of the text taken through a range, and any metrics read at every step. */
import {
  type Dimension,
  ExpressionError,
  evaluateExpression,
  InputError,
  type Phrase,
  parsePhrase,
  pureNumber,
  sameDimension,
} from "#base";
import { unknownWord } from "../brief/requirements.ts";
import { EvaluationError } from "../evaluate/scope.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import { findMetric, metricWords } from "../metrics/vocabulary.table.ts";
import type { Chip } from "./chip.ts";
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

function refuse(chip: Chip, message: string): InputError {
  return new InputError([{ place: { file: chip.description.file, line: 1, column: 1 }, message }]);
}

/** The request for a metric by its word, at a case and device that may be left out where there is only one. */
export function metricRequest(
  chip: Chip,
  word: string,
  at: {
    readonly caseName?: string | undefined;
    readonly device?: string | undefined;
    readonly argument?: number;
    readonly where?: string;
  },
): MetricRequest {
  const metric = findMetric(word);
  if (metric === undefined) throw refuse(chip, unknownWord("a metric", word, metricWords));
  if (!metric.computed) throw refuse(chip, `The metric "${word}" is not yet computed by a model of this program.`);
  const { cases, devices } = chip.names;
  const device = at.device ?? (devices.length === 1 ? devices[0] : undefined);
  if (device === undefined || !devices.includes(device))
    throw refuse(
      chip,
      device === undefined ? `Say which device: ${devices.join(", ")}.` : unknownWord("a device of this chip", device, devices),
    );
  const caseName = metric.stands === "device" ? undefined : (at.caseName ?? cases[0]);
  if (caseName !== undefined && !cases.includes(caseName)) throw refuse(chip, unknownWord("an operating case", caseName, cases));
  if (metric.stands === "case" && caseName === undefined) throw refuse(chip, "The section drive has no operating case.");
  if (metric.needs !== undefined && at.argument === undefined)
    throw refuse(chip, `The metric "${word}" needs ${metric.needs.about}.`);
  if ((metric.where === undefined) !== (at.where === undefined))
    throw refuse(
      chip,
      metric.where === undefined
        ? `The metric "${word}" is of the whole device and takes no place.`
        : `The metric "${word}" needs the name of a ${metric.where}.`,
    );
  if (at.where !== undefined) {
    const missing = chip.side("drawn").missingSubject(device, metric, at.where);
    if (missing !== undefined) throw refuse(chip, missing);
  }
  return { metric, device, caseName, argument: at.argument, where: at.where };
}

function amountOf(chip: Chip, text: string): { value: number; dimension: Dimension } {
  let phrase: Phrase;
  try {
    phrase = parsePhrase(text);
    return evaluateExpression(phrase.value, (name) => {
      throw new ExpressionError(`a plain value is wanted, not the name "${name}"`, 0);
    });
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
