/** Where things stand on a rail: the shared scale, the fences, the sag of a snapped rail. Main test: rail-picture.test.ts. */
import type { Tokens } from "./tokens.ts";

export interface RailMark {
  /** Distance to the limit as a share of it, positive where the limit holds; of the half width from the lower limit if two-sided. */
  readonly margin: number;
  /** One standard deviation of the margin. */
  readonly sigma?: number;
}

export interface RailRow {
  readonly name: string;
  /** In words, for example "at least 6.0 µm". */
  readonly limit: string;
  /** Value as built with its doubt, for example "6.45 ± 0.22 µm". */
  readonly value: string;
  readonly verdict: "holds" | "likely" | "open" | "doubtful" | "fails" | "not yet computed" | "to test" | "not applicable";
  /** Chance that it holds, for example "97 in 100", or the reason why the row does not apply. */
  readonly chance: string;
  readonly twoSided?: boolean;
  readonly drawn?: RailMark;
  readonly built?: RailMark;
  readonly measured?: RailMark;
}

export const layout = {
  width: 1180,
  left: 28,
  limitEnd: 328,
  railStart: 344,
  railEnd: 858,
  value: 876,
  head: 84,
  row: 38,
  foot: 44,
} as const;

/** Where the second fence of a two-sided limit stands. */
export const upperFence = layout.railEnd - 24;
const sag = 9;

export interface Scale {
  readonly low: number;
  readonly high: number;
}

export interface RailLine {
  readonly row: RailRow;
  readonly y: number;
  readonly tokens: Tokens;
  readonly fence: number;
  readonly xOf: (margin: number) => number;
}

export function scaleOf(rows: readonly RailRow[]): Scale {
  const margins = rows
    .filter((row) => row.twoSided !== true && row.verdict !== "not applicable")
    .flatMap((row) => [row.drawn, row.built, row.measured].flatMap((mark) => (mark === undefined ? [] : [mark.margin])));
  const tens = (value: number): number => Math.round(value * 10) / 10;
  return {
    low: tens(Math.min(-0.3, Math.max(-0.6, Math.min(0, ...margins) - 0.1))),
    high: tens(Math.max(0.5, Math.min(1, Math.max(0, ...margins) + 0.1))),
  };
}

export function alongRail(margin: number, { low, high }: Scale): number {
  return layout.railStart + ((margin - low) / (high - low)) * (layout.railEnd - layout.railStart);
}

export const snapped = (row: RailRow): boolean => row.verdict === "fails" || row.verdict === "doubtful";

/** Height of the rail at x: a snapped rail sags toward its fence on the short side. */
export function railHeight({ row, y, fence }: RailLine, x: number): number {
  return snapped(row) && x < fence ? y + (sag * (x - layout.railStart)) / (fence - layout.railStart) : y;
}
