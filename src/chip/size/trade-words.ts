/** What could be traded, in words, and how every metric answers to every size, as a table. Main test: trade-words.test.ts. */
import { csvCell, formatNumber, formatQuantity, siUnitText } from "#base";
import type { LimitChange, Relaxation, Trade, Trades } from "./trades.ts";

/** The metric of a limit and its case, without the limit itself. */
const subjectOf = (label: string): string => label.slice(0, label.lastIndexOf(", "));

function changeWords({ limits }: Trades, { limit, before, after, marginBefore, marginAfter }: LimitChange): string {
  const { label, need, dimension } = limits[limit]!;
  const like = need.high ?? need.low ?? before;
  const to = Number.isFinite(after) ? formatQuantity(after, dimension, { like }) : "no value";
  const percent = (margin: number): string => (100 * margin).toFixed(0);
  return `${subjectOf(label)} ${formatQuantity(before, dimension, { like })} → ${to} (margin ${percent(marginBefore)} → ${percent(marginAfter)} %)`;
}

/** A step of a size, what it gives and what it costs: the three largest changes of each, and how many more there are. */
export interface TradeWords {
  readonly step: string;
  readonly gives: readonly string[];
  readonly costs: readonly string[];
}

export function tradeWords(found: Trades, { name, dimension, from, to, changes }: Trade): TradeWords {
  const size = (value: number): string => formatQuantity(value, dimension, { like: from });
  const part = (of: readonly LimitChange[]): readonly string[] => [
    ...of.slice(0, 3).map((change) => changeWords(found, change)),
    ...(of.length > 3 ? [`and ${of.length - 3} more`] : []),
  ];
  const gives = changes.filter(({ marginBefore, marginAfter }) => marginAfter > marginBefore);
  return {
    step: `${name} ${size(from)} → ${size(to)}`,
    gives: part(gives),
    costs: part(changes.filter((change) => !gives.includes(change))),
  };
}

/** A limit that would ask for less. */
export function relaxationWords({ limits }: Trades, { limit, kind, from, to }: Relaxation): string {
  const { requirement, label, dimension } = limits[limit]!;
  const value = (si: number): string => formatQuantity(si, dimension, { like: from });
  return `${requirement}, ${subjectOf(label)} ${kind} ${value(to)}, not ${value(from)}`;
}

/** By how many per cent each metric moves when a size grows by one per cent, as CSV. */
export function sensitivityTable({ limits, sensitivities }: Trades): string {
  const heads = ["size", "value", "unit", ...limits.map(({ label }) => `${subjectOf(label)} (% per %)`)];
  const rows = sensitivities.map(({ name, value, dimension, slopes }) => [
    name,
    formatNumber(value, 6).replace("\u2212", "-"),
    siUnitText(dimension),
    ...limits.map((limit, i) => {
      const relative = (slopes[i]! * value) / limit.value;
      return Number.isFinite(relative) ? relative.toPrecision(4) : "";
    }),
  ]);
  return [heads, ...rows].map((row) => `${row.map(csvCell).join(",")}\n`).join("");
}
