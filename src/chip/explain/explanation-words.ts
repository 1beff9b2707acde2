/** An explanation in words and printed numbers, as the terminal and the page show it. Main test: explain.test.ts. */
import { type Dimension, formatQuantity, prettyUnits } from "#base";
import { subjectWords } from "../metrics/subject-words.ts";
import type { Explanation } from "./explain.ts";

export interface ExplanationWords {
  /** "steady travel at hold" */
  readonly subject: string;
  readonly hops: readonly { readonly word: string; readonly drawn: string; readonly built: string; readonly by: string }[];
  /** The number from as drawn to as built, cause by cause. */
  readonly movers: readonly {
    readonly name: string;
    readonly from: string;
    readonly to: string;
    readonly source: string | undefined;
    /** Change by this cause alone, with its sign. */
    readonly alone: string;
    /** The number once this cause is at work too. */
    readonly after: string;
    /** The same from as drawn to as built as parts of the way, for a picture: 0 as drawn, 1 as built. */
    readonly part: readonly [from: number, to: number];
  }[];
  /** What the causes do together beyond the sum of each alone, and what the sum leaves of the whole. */
  readonly together: string;
  readonly limits: readonly string[];
  readonly aim: string | undefined;
  readonly changes: readonly {
    readonly key: string;
    readonly name: string;
    readonly from: string;
    readonly to: string;
    readonly reached: string;
  }[];
}

const text = (value: number, dimension: Dimension): string =>
  Number.isFinite(value) ? formatQuantity(value, dimension, { digits: 4 }) : "does not exist";

/** Digits down to a thousandth of what it is a change of. */
function signed(change: number, dimension: Dimension, like: number): string {
  if (!Number.isFinite(change)) return "unknown";
  if (Math.abs(change) < 5e-5 * Math.abs(like)) return "no change";
  const size = formatQuantity(Math.abs(change), dimension, { digits: Math.abs(change) < 0.01 * Math.abs(like) ? 2 : 3 });
  return `${change < 0 ? "\u2212" : "+"}${size}`;
}

export function explanationWords(found: Explanation): ExplanationWords {
  const { request, dimension, hops, movers, together, aim } = found;
  const last = hops.length - 1;
  const { drawn, built } = hops[last]!;
  const whole = built - drawn;
  const caseName = request.metric.stands === "device" ? undefined : request.caseName;
  let so = drawn;
  return {
    subject: subjectWords({ ...request, caseName }),
    hops: hops.map(({ word, by, dimension: own, ...side }) => ({
      word,
      by,
      drawn: text(side.drawn, own),
      built: text(side.built, own),
    })),
    movers: movers.map((mover) => {
      const before = so;
      so += mover.inTurn[last]!;
      const part = (value: number): number => (whole === 0 ? 0 : (value - drawn) / whole);
      return {
        name: mover.name,
        from: text(mover.from, mover.dimension),
        to: text(mover.to, mover.dimension),
        source: mover.source === undefined ? undefined : prettyUnits(mover.source),
        alone: signed(mover.alone[last]!, dimension, drawn),
        after: text(so, dimension),
        part: [part(before), part(so)],
      };
    }),
    together:
      movers.length < 2
        ? ""
        : `Each alone they make ${signed(whole - together[last]!, dimension, drawn)}, together ${signed(whole, dimension, drawn)}: ${signed(together[last]!, dimension, drawn)} comes of their meeting.`,
    limits: found.needs.map(
      ({ requirement, text: limit, holds }) =>
        `${requirement}: ${prettyUnits(limit)}, ${holds ? "holds" : "does not hold"} as built`,
    ),
    aim: aim === undefined ? undefined : text(aim, dimension),
    changes: found.changes.map(({ key, name, dimension: own, from, to, reached }) => ({
      key,
      name,
      from: text(from, own),
      to: text(to, own),
      reached: text(reached, dimension),
    })),
  };
}
