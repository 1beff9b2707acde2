/**
 * Designs that differ from the chip text in a few quantities: their metrics, the derivatives of these by the quantities, and why a
 * design has no answer. Every number of a sizing study comes from here.
 */
import {
  type Dimension,
  ExpressionError,
  type Phrase,
  plainAmount,
  prettyUnits,
  pureNumber,
  type QuantityText,
  SolveError,
  sameDimension,
} from "#base";
import type { Need } from "../brief/need.ts";
import { type LimitOf, needOf } from "../brief/requirements.ts";
import { pathKey } from "../evaluate/addresses.ts";
import { EvaluationError, type Side } from "../evaluate/scope.ts";
import { requestOf } from "../ledger/ledger.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import type { Chip } from "../predict/chip.ts";
import { refuse, requireCase } from "../predict/choose.ts";
import type { MetricRequest, SideModel } from "../predict/side-model.ts";
import { handleOf } from "../prose/handle.ts";
import { quantityWords } from "./quantity-words.ts";

/** A quantity to vary, and between which values as written. */
export interface RangeOf {
  readonly name: string;
  readonly from: string;
  readonly to: string;
}

/** The same, understood. */
export interface Axis {
  /** The quantity in words, for example "length of legs of drive". */
  readonly name: string;
  readonly quantity: QuantityText;
  readonly dimension: Dimension;
  /** SI */
  readonly low: number;
  readonly high: number;
  /** Value in the text, SI. */
  readonly present: number;
}

/** One limit of the brief that a model computes. */
export interface SizeLimit {
  readonly requirement: string;
  /** Index of the requirement in the brief, and of the limit there. */
  readonly place: readonly [requirement: number, limit: number];
  /** The metric, its case and its limit in words, for example "supply current at hold, at most 80 mA". */
  readonly label: string;
  readonly limit: LimitOf;
  readonly need: Need;
  readonly dimension: Dimension;
  readonly request: MetricRequest;
}

function amountOf(chip: Chip, text: string) {
  try {
    return plainAmount(text);
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw refuse(chip, `Cannot size up to "${text}": ${error.message}. Write for example 5 um.`);
  }
}

/** The quantity itself, or the one that it only names. */
export function homeOf(chip: Chip, quantity: QuantityText): QuantityText {
  const home = handleOf(chip, quantity);
  return ("key" in home ? chip.addresses.at(home.key) : undefined) ?? quantity;
}

/** Understands the range of a quantity. Throws InputError. */
export function axisOf(chip: Chip, { name, from, to }: RangeOf): Axis {
  const found = chip.addresses.find(name);
  if (found.kind !== "one") throw refuse(chip, `Cannot vary "${name}": ${chip.addresses.explain(name, found)}`);
  const quantity = homeOf(chip, found.quantity);
  const present = chip.side("drawn").scope.amountOf(quantity);
  const [low, high] = [amountOf(chip, from), amountOf(chip, to)];
  for (const end of [low, high])
    if (!sameDimension(end.dimension, present.dimension))
      throw refuse(
        chip,
        `Cannot vary "${name}" from ${from} to ${to}: its present value is ${quantity.text}, which is another kind of quantity.`,
      );
  if (!(high.value > low.value))
    throw refuse(chip, `Cannot vary "${name}" from ${from} to ${to}: the second value must be above the first.`);
  return {
    name: quantityWords(chip, quantity),
    quantity,
    dimension: present.dimension,
    low: low.value,
    high: high.value,
    present: present.value,
  };
}

/** Axes of a study; each quantity once. Throws InputError. */
export function axesOf(chip: Chip, ranges: readonly RangeOf[]): readonly Axis[] {
  const axes = ranges.map((range) => axisOf(chip, range));
  const keys = axes.map(({ quantity }) => pathKey(quantity.path));
  const twice = keys.findIndex((key, i) => keys.indexOf(key) !== i);
  if (twice >= 0) throw refuse(chip, `"${axes[twice]!.name}" is varied twice: name different quantities.`);
  return axes;
}

/** The design [n, SI] at a place of the unit square, or cube, that the axes span. */
export function designAt(axes: readonly Axis[], ...place: readonly number[]): Float64Array {
  return Float64Array.from(axes, ({ low, high }, j) => low + place[j]! * (high - low));
}

/** Limits of the brief that a model computes, evaluated: all, or those at one case. Throws InputError where there are none. */
export function sizeLimits(chip: Chip, caseName?: string): readonly SizeLimit[] {
  if (caseName !== undefined) requireCase(chip, caseName);
  const { scope } = chip.side("drawn");
  const limits = chip.requirements.flatMap((requirement, i) =>
    requirement.limits.flatMap((limit, j): SizeLimit[] => {
      if (caseName !== undefined && limit.caseName !== caseName) return [];
      const request = requestOf(scope, limit);
      if (request === undefined) return [];
      const { metric } = request;
      const dimension = dimensionOf(metric);
      const need = needOf(scope, limit, { requirement: requirement.name, metric });
      const at = limit.caseName === undefined ? "" : ` at ${limit.caseName}`;
      return [
        {
          requirement: requirement.name,
          place: [i, j],
          label: `${metric.word}${at}, ${prettyUnits(limit.text)}`,
          limit,
          need,
          dimension,
          request,
        },
      ];
    }),
  );
  if (limits.length === 0)
    throw refuse(
      chip,
      caseName === undefined
        ? "The brief has no limit that a model computes: write at least one requirement with need and of, then size."
        : `The brief has no limit at "${caseName}" that a model computes: name another case, or none for all limits.`,
    );
  return limits;
}

/**
 * The same for a study over some axes. Throws InputError as well where a limit itself changes over them: it would have no fixed fence.
 */
export function limitsOver(chip: Chip, axes: readonly Axis[], caseName?: string): readonly SizeLimit[] {
  const limits = sizeLimits(chip, caseName);
  for (const axis of axes) {
    const elsewhere = sizeLimits(new DesignSpace(chip, [axis], "drawn").chipAt([axis.high]), caseName);
    const moved = limits.find(({ need, request }, i) => {
      const there = elsewhere[i]!;
      return (
        need.low !== there.need.low ||
        need.high !== there.need.high ||
        need.ofSize !== there.need.ofSize ||
        request.argument !== there.request.argument
      );
    });
    if (moved !== undefined && axis.high !== axis.present)
      throw refuse(
        chip,
        `Cannot vary "${axis.name}": the limit of "${moved.requirement}" is worked out from it. Write that limit as a plain value.`,
      );
  }
  return limits;
}

/** One design, worked out. */
export interface Solved {
  /** [n] the quantities, SI. */
  readonly x: Float64Array;
  /** [nRequests] NaN where a metric does not exist. */
  readonly values: Float64Array;
  /** [nRequests × n], row-major, per SI unit of each quantity; empty where not asked for. */
  readonly slopes: Float64Array;
  readonly reasons: readonly string[];
  readonly model: SideModel | undefined;
}

/** Step for a derivative, as a part of the range: what is left of the curvature lies below the errors of any surrogate here. */
const slopeStep = 1e-5;

export class DesignSpace {
  constructor(
    private readonly chip: Chip,
    readonly axes: readonly Axis[],
    private readonly side: Side,
  ) {}

  /** The chip with these values [n, SI]; a spread written in the text stays. */
  chipAt(x: ArrayLike<number>): Chip {
    return this.axes.reduce((chip, { quantity }, j) => {
      const present = this.chip.side("drawn").scope.amountOf(quantity);
      const phrase: Phrase = {
        ...quantity.phrase,
        value: {
          kind: "number",
          amount: { ...pureNumber(x[j]!), dimension: present.dimension, kind: present.kind },
          unit: "SI",
          at: 0,
        },
      };
      return chip.withPhrase(quantity, phrase);
    }, this.chip);
  }

  /** Metrics of one design, from the state of a design nearby where one is given; with derivatives by all quantities if wanted. */
  solve(
    x: Float64Array,
    requests: readonly MetricRequest[],
    options: { readonly near?: SideModel | undefined; readonly slopes: boolean },
  ): Solved {
    const n = this.axes.length;
    const values = new Float64Array(requests.length).fill(Number.NaN);
    const slopes = new Float64Array(options.slopes ? requests.length * n : 0).fill(Number.NaN);
    const reasons = new Set<string>();
    const attempt = (work: () => void): boolean => {
      try {
        work();
        return true;
      } catch (error) {
        // a design that cannot be put together, or never comes to rest, has no answer; the study goes on
        if (!(error instanceof EvaluationError || error instanceof SolveError)) throw error;
        reasons.add(error.message);
        return false;
      }
    };
    let model: SideModel | undefined;
    const solved = attempt(() => {
      model = this.chipAt(x).side(this.side, options.near === undefined ? {} : { near: options.near });
      requests.forEach((request, i) => {
        const found = model!.valueOf(request);
        values[i] = found.value;
        if (!Number.isFinite(found.value) && found.reason !== undefined) reasons.add(found.reason);
      });
    });
    if (!solved) return { x, values: values.fill(Number.NaN), slopes, reasons: [...reasons], model: undefined };
    for (let j = 0; options.slopes && j < n; j++) {
      const { low, high } = this.axes[j]!;
      const step = slopeStep * (high - low) * (x[j]! > (low + high) / 2 ? -1 : 1);
      const moved = x.slice();
      moved[j]! += step;
      attempt(() => {
        const neighbour = this.chipAt(moved).side(this.side, { near: model!, firstOrder: true });
        requests.forEach((request, i) => {
          if (Number.isFinite(values[i])) slopes[i * n + j] = (neighbour.valueOf(request).value - values[i]!) / step;
        });
      });
    }
    model!.forgetNear();
    return { x, values, slopes, reasons: [...reasons], model };
  }

  /** Metrics of a neighbour, to first order from the design at hand; undefined where there is no such design. */
  firstOrder(x: Float64Array, requests: readonly MetricRequest[], near: SideModel): Float64Array | undefined {
    try {
      const model = this.chipAt(x).side(this.side, { near, firstOrder: true });
      return Float64Array.from(requests, (request) => model.valueOf(request).value);
    } catch (error) {
      if (!(error instanceof EvaluationError || error instanceof SolveError)) throw error;
      return undefined;
    }
  }
}
