/**
 * Why a number is what it is, hop by hop: the numbers between what drives the device and what is asked for, as drawn and as built; what
 * moved each of them from the one to the other; and what to change to bring it to its aim. Main test: explain.test.ts.
 */
import type { Dimension } from "#base";
import type { Need } from "../brief/need.ts";
import { needOf } from "../brief/requirements.ts";
import { requestOf } from "../ledger/ledger.ts";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import { findMetric } from "../metrics/vocabulary.table.ts";
import type { Chip } from "../predict/chip.ts";
import type { MetricRequest } from "../predict/side-model.ts";
import { type AimedChange, changesTo } from "./aims.ts";
import { type Mover, moversOf } from "./movers.ts";
import { routes } from "./routes.table.ts";

/** A number on the way, SI; it may not exist on a side. */
export interface ExplainedHop {
  readonly word: string;
  /** What makes it from the one before. */
  readonly by: string;
  readonly dimension: Dimension;
  readonly drawn: number;
  readonly built: number;
}

export interface Explanation {
  readonly request: MetricRequest;
  readonly dimension: Dimension;
  /** From what drives the device to the number itself, which is the last. */
  readonly hops: readonly ExplainedHop[];
  /** What moved the hops; the numbers of `alone` and `inTurn` are in their order. */
  readonly movers: readonly Mover[];
  /** [nHops] change by all causes together beyond the sum of each alone. */
  readonly together: Float64Array;
  /** What was aimed at, SI; undefined where there is nothing to reach or it holds already. */
  readonly aim: number | undefined;
  /** The limits of the brief on this number. */
  readonly needs: readonly { readonly requirement: string; readonly text: string; readonly holds: boolean }[];
  /** One quantity at a time, smallest change first; as built. */
  readonly changes: readonly AimedChange[];
}

export interface ExplainOptions {
  /** Where the number is to come to, SI; what the brief asks for where left out. */
  readonly aim?: number;
  /** Changes that are solved in full. */
  readonly count: number;
}

const key = ({ metric, device, caseName, argument, where }: MetricRequest): string =>
  JSON.stringify([metric.word, device, metric.stands === "device" ? "" : caseName, argument, where]);

interface Asked {
  readonly requirement: string;
  readonly text: string;
  readonly need: Need;
}

/** Limits of the brief on the number. */
function needsOn(chip: Chip, request: MetricRequest): readonly Asked[] {
  const { scope } = chip.side("drawn");
  return chip.requirements.flatMap(({ name, limits }) =>
    limits.flatMap((limit): Asked[] => {
      const asked = requestOf(scope, limit);
      if (asked === undefined || key(asked) !== key(request)) return [];
      const need = needOf(scope, limit, { requirement: name, metric: request.metric });
      return [{ requirement: name, text: limit.text, need }];
    }),
  );
}

/** Nearest value at which a limit holds: its wanted value where it has one, else its end; undefined where it holds. */
function aimOf({ low, high, target, ofSize }: Need, value: number): number | undefined {
  const sign = ofSize && value < 0 ? -1 : 1;
  const size = sign * value;
  const isShort = low !== undefined && size < low;
  const isOver = high !== undefined && size > high;
  if (!isShort && !isOver) return undefined;
  return sign * (target ?? (isShort ? low : high!));
}

/** The numbers on the way to a metric; those that do not exist on either side, such as a current where none flows, are left out. */
function wayTo(request: MetricRequest): readonly { readonly request: MetricRequest; readonly by: string }[] {
  const { metric, device, caseName, argument, where } = request;
  const way = routes.get(metric.word) ?? [{ word: metric.word, by: "" }];
  return way.map(({ word, by }, i) => {
    const found = findMetric(word);
    if (found === undefined) throw new RangeError(`Cannot explain by "${word}": it is not a metric`);
    const isLast = i === way.length - 1;
    return {
      by,
      request: { metric: found, device, caseName, argument: isLast ? argument : undefined, where: isLast ? where : undefined },
    };
  });
}

/** Explains a metric at a case. Throws InputError or SolveError as predictions do. */
export function explain(chip: Chip, request: MetricRequest, options: ExplainOptions): Explanation {
  const isTimed = request.caseName !== undefined && !chip.names.steadyCases.includes(request.caseName);
  const way = isTimed ? [{ request, by: "a run in time" }] : wayTo(request);
  const moved = moversOf(
    chip,
    way.map((hop) => hop.request),
  );
  const last = way.length - 1;
  const kept = way.flatMap((_, i) =>
    i === last || Number.isFinite(moved.drawn[i]) || Number.isFinite(moved.built[i]) ? [i] : [],
  );
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]!);
  const value = moved.built[last]!;
  const asked = needsOn(chip, request);
  const unmet = asked.map(({ need }) => aimOf(need, value));
  const aim = options.aim ?? unmet.find((found) => found !== undefined);
  const model = chip.side("built");
  const start = aim === undefined || !Number.isFinite(value) ? undefined : model.valueOf(request).value;
  return {
    request,
    dimension: dimensionOf(request.metric),
    hops: kept.map((i) => {
      const { metric } = way[i]!.request;
      return {
        word: metric.word,
        by: way[i]!.by,
        dimension: dimensionOf(metric),
        drawn: moved.drawn[i]!,
        built: moved.built[i]!,
      };
    }),
    movers: moved.movers.map((mover) => ({ ...mover, alone: pick(mover.alone), inTurn: pick(mover.inTurn) })),
    together: pick(moved.together),
    aim,
    needs: asked.map(({ requirement, text }, i) => ({
      requirement,
      text,
      holds: Number.isFinite(value) && unmet[i] === undefined,
    })),
    changes:
      aim === undefined || start === undefined || start === aim
        ? []
        : changesTo(chip, { side: "built", request, aim, value: start, model }, options.count),
  };
}
