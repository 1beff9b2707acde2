/**
 * Requirements that cannot all hold, whatever the design: found from their limits alone, without a model.
 * Main test: contradictions.test.ts.
 */
import { type Finding, formatQuantity } from "#base";
import { dimensionOf } from "../metrics/dimension-of-metric.ts";
import { subjectWords } from "../metrics/subject-words.ts";
import type { Metric } from "../metrics/vocabulary.table.ts";
import type { Chip } from "../predict/chip.ts";
import type { Need } from "./need.ts";
import { type LimitOf, needOf } from "./requirements.ts";

/** Values from low to high, both included [SI of the metric]; open ends are infinite. */
export interface Stretch {
  readonly low: number;
  readonly high: number;
}

/** Where a limit holds: one stretch, or one on either side of zero where it is about a size. */
export function stretchesOf({
  low = Number.NEGATIVE_INFINITY,
  high = Number.POSITIVE_INFINITY,
  ofSize,
}: Need): readonly Stretch[] {
  if (!ofSize) return [{ low, high }];
  return low <= 0
    ? [{ low: -high, high }]
    : [
        { low: -high, high: -low },
        { low, high },
      ];
}

/** What holds in both; empty where nothing does. */
const common = (a: readonly Stretch[], b: readonly Stretch[]): readonly Stretch[] =>
  a.flatMap((one) =>
    b.flatMap((other) => {
      const low = Math.max(one.low, other.low);
      const high = Math.min(one.high, other.high);
      return low <= high ? [{ low, high }] : [];
    }),
  );

const shares = /^(?:chance|share|light) /;
const neverBelowZero = new Set(["temperature", "time", "resistance", "frequency", "damping coefficient"]);
/** Sizes by their own description in the vocabulary, never signed. */
const sizes =
  /^(?:peak |hottest |highest |sag|side play|rotation|states of balance|quality factor|thermal motion|acceleration noise)/;

/**
 * What a metric can be at all, by what it is: a chance or a part of a whole lies between 0 and 1, an absolute temperature, a time, a
 * resistance, a frequency and a size are not below zero.
 */
export function possible(metric: Metric): Stretch {
  if (shares.test(metric.word)) return { low: 0, high: 1 };
  const isSize = metric.sign === undefined && (neverBelowZero.has(metric.dimension) || sizes.test(metric.word));
  return { low: isSize ? 0 : Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
}

interface Placed {
  readonly name: string;
  readonly limit: LimitOf;
  readonly metric: Metric;
  readonly holds: readonly Stretch[];
  /** Same for limits on the same number. */
  readonly subject: string;
}

function placedLimits(chip: Chip): readonly Placed[] {
  const { scope } = chip.side("drawn");
  return chip.requirements.flatMap(({ name, limits }) =>
    limits.flatMap((limit) => {
      const { metric, argument, place } = limit;
      if (metric === undefined) return [];
      const need = needOf(scope, limit, { requirement: name, metric });
      const value = argument === undefined ? "" : scope.evaluatePhrase(argument, { place, name: metric.word }).value;
      const caseName = metric.stands === "device" ? "" : limit.caseName;
      const subject = JSON.stringify([metric.word, limit.device, caseName, limit.where, value]);
      return [{ name, limit, metric, holds: stretchesOf(need), subject }];
    }),
  );
}

function ofItself(placed: Placed): readonly Finding[] {
  const { name, metric, limit, holds } = placed;
  const can = possible(metric);
  const base = { where: `brief, ${name}` };
  const ends =
    can.high === 1 ? "lies between 0 and 1" : `is never below ${formatQuantity(0, dimensionOf(metric), { digits: 1 })}`;
  if (common(holds, [can]).length === 0)
    return [
      {
        ...base,
        code: "limit-out-of-reach",
        severity: "error",
        message: `"${limit.text}" can never hold: ${metric.word} ${ends}. Change the limit.`,
      },
    ];
  if (holds.some(({ low, high }) => low <= can.low && high >= can.high) && Number.isFinite(can.low))
    return [
      {
        ...base,
        code: "limit-without-effect",
        severity: "note",
        message: `"${limit.text}" always holds: ${metric.word} ${ends}. Tighten the limit or remove it.`,
      },
    ];
  return [];
}

/** How two limits on the same number go together; undefined where they do. */
function ofBoth(a: Placed, b: Placed): Finding | undefined {
  const both = common(a.holds, b.holds);
  const rows = a.name === b.name ? `Two limits of "${a.name}"` : `"${a.name}" and "${b.name}"`;
  const base = { where: a.name === b.name ? `brief, ${a.name}` : `brief, ${a.name} and ${b.name}` };
  const words = `"${a.limit.text}" and "${b.limit.text}" for ${subjectWords({ ...a.limit, metric: a.metric })}`;
  if (both.length === 0)
    return {
      ...base,
      code: "limits-exclude-each-other",
      severity: "error",
      message: `${rows} cannot both hold: ${words}. Change one of them.`,
    };
  if (both.every(({ low, high }) => low === high))
    return {
      ...base,
      code: "limits-leave-one-value",
      severity: "error",
      message: `${rows} leave one value alone, which nothing made will meet: ${words}. Give them room.`,
    };
  const isSame =
    a.holds.length === b.holds.length &&
    a.holds.every(({ low, high }, i) => low === b.holds[i]!.low && high === b.holds[i]!.high);
  return isSame
    ? { ...base, code: "limit-said-twice", severity: "note", message: `${rows} say the same: ${words}. Remove one of them.` }
    : undefined;
}

/**
 * What of a brief cannot hold, whatever the design: two limits on the same number (metric, device, case, place and "for") that exclude
 * each other or leave one value alone, and limits outside what a metric can be. Those that say the same, or nothing, are notes.
 */
export function contradictionsOf(chip: Chip): readonly Finding[] {
  const placed = placedLimits(chip);
  const pairs = placed.flatMap((a, i) =>
    placed.slice(i + 1).flatMap((b) => (a.subject === b.subject ? (ofBoth(a, b) ?? []) : [])),
  );
  return [...placed.flatMap(ofItself), ...pairs];
}
