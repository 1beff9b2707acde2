/** A question for one metric: its word, where it stands, and what else it needs, told as a user writes it. */
import { describeDimension, dimensionNamed, ExpressionError, plainAmount, sameDimension } from "#base";
import { unknownWord } from "../brief/requirements.ts";
import { findMetric, type Metric, metricWords } from "../metrics/vocabulary.table.ts";
import type { Chip } from "./chip.ts";
import { chooseDevice, refuse } from "./choose.ts";
import type { MetricRequest } from "./side-model.ts";

export interface MetricAt {
  readonly caseName?: string | undefined;
  readonly device?: string | undefined;
  /** SI value of what the metric needs under "for". */
  readonly argument?: number;
  /** The same as a user writes it, for example "500 gn". */
  readonly for?: string | undefined;
  /** Point or part. */
  readonly where?: string | undefined;
}

/** The request for a metric by its word, at a case and device that may be left out where there is only one. Throws InputError. */
export function metricRequest(chip: Chip, word: string, at: MetricAt): MetricRequest {
  const metric = findMetric(word);
  if (metric === undefined) throw refuse(chip, unknownWord("a metric", word, metricWords));
  if (!metric.computed) throw refuse(chip, `The metric "${word}" is not yet computed by a model of this program.`);
  const device = chooseDevice(chip, at.device);
  const { cases } = chip.names;
  const caseName = metric.stands === "device" ? undefined : (at.caseName ?? cases[0]);
  if (caseName !== undefined && !cases.includes(caseName)) throw refuse(chip, unknownWord("an operating case", caseName, cases));
  if (metric.stands === "case" && caseName === undefined) throw refuse(chip, "The section drive has no operating case.");
  const argument = argumentOf(chip, metric, at);
  requireSubject(chip, metric, { device, where: at.where });
  return { metric, device, caseName, argument, where: at.where };
}

function argumentOf(chip: Chip, metric: Metric, at: MetricAt): number | undefined {
  const { needs, word } = metric;
  if (needs === undefined) {
    if (at.for !== undefined || at.argument !== undefined)
      throw refuse(chip, `The metric "${word}" needs nothing under "for", found ${at.for ?? at.argument}.`);
    return undefined;
  }
  if (at.argument !== undefined) return at.argument;
  const dimension = dimensionNamed(needs.dimension);
  if (at.for === undefined)
    throw refuse(chip, `The metric "${word}" needs ${needs.about}: say ${describeDimension(dimension)} under "for".`);
  try {
    const amount = plainAmount(at.for);
    if (sameDimension(amount.dimension, dimension)) return amount.value;
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw refuse(chip, `Cannot read "for" of the metric "${word}": ${error.message}.`);
  }
  throw refuse(chip, `The metric "${word}" needs ${needs.about}, ${describeDimension(dimension)}, found "${at.for}".`);
}

function requireSubject(chip: Chip, metric: Metric, at: { readonly device: string; readonly where: string | undefined }): void {
  const { device, where } = at;
  if ((metric.where === undefined) !== (where === undefined))
    throw refuse(
      chip,
      metric.where === undefined
        ? `The metric "${metric.word}" is of the whole device and takes no place.`
        : `The metric "${metric.word}" needs the name of a ${metric.where} under "where".`,
    );
  const missing = chip.side("drawn").missingSubject(device, metric, where);
  if (missing !== undefined) throw refuse(chip, missing);
}
