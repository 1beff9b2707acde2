/**
 * Sizes that a study can be about: numbers that stand in the text, each with a range that is worth looking at, those first that the limits
 * of the brief feel most. Main test: size-choices.test.ts.
 */
import { formatNumber } from "#base";
import { pathKey } from "../evaluate/addresses.ts";
import type { Side } from "../evaluate/scope.ts";
import { marginOf } from "../ledger/margin.ts";
import type { Chip } from "../predict/chip.ts";
import { type Handle, handleOf } from "../prose/handle.ts";
import { numberOfPhrase } from "./adopt.ts";
import { DesignSpace, sizeLimits } from "./design-space.ts";
import { quantityWords } from "./quantity-words.ts";
import type { StudyStep } from "./study-step.ts";

export interface SizeChoice {
  /** The quantity in words, and its number in the text. */
  readonly name: string;
  readonly handle: Handle;
  /** True for a number of the drive; others are sizes of the drawing. */
  readonly isDrive: boolean;
  /** A number of the text in SI: number × perUnit + zero. */
  readonly perUnit: number;
  readonly zero: number;
  /** A range as one would write it, for example "400 um". */
  readonly from: string;
  readonly to: string;
  /** How much the margins that were asked about move, summed, when it grows by a hundredth of itself; NaN where that is not known. */
  readonly felt: number;
}

/** The range reaches from so much less to so much more than the present value. */
const reach = 0.4;

/** A bound to two digits, in the unit of the text. */
const rounded = (number: number): string => formatNumber(Number(number.toPrecision(2)), 2).replace("\u2212", "-");

/**
 * Sizes of the drawing and drives that hold a number of their own. Ranked by metrics whose words `rankedBy` accepts, those come first that
 * their limits feel most: one state and one derivative of it for each size are worked out; else they stand in the order of the text. Throws InputError where the brief has no
 * limit that a model computes.
 */
export function* sizeChoicesInSteps(
  chip: Chip,
  { side, rankedBy }: { readonly side: Side; readonly rankedBy?: ((metricWord: string) => boolean) | undefined },
): Generator<StudyStep, readonly SizeChoice[], void> {
  const found = chip.addresses.all.flatMap((quantity) => {
    const [section, , ...rest] = quantity.path;
    const isDrive = section === "drive" && rest.length > 0;
    if (!isDrive && section !== "parameters" && section !== "devices") return [];
    const written = numberOfPhrase(chip, pathKey(quantity.path));
    if (written === undefined || written.number === 0) return [];
    const handle = handleOf(chip, quantity);
    if (!("key" in handle) || (!isDrive && handle.evidence !== "drawn")) return [];
    return [{ quantity, written, handle }];
  });
  const limits = sizeLimits(chip).filter(({ request }) => rankedBy?.(request.metric.word) === true);
  const requests = limits.map(({ request }) => request);
  const { scope } = chip.side("drawn");
  const axes = found.map(({ quantity }) => {
    const { value, dimension } = scope.amountOf(quantity);
    const part = reach * Math.abs(value);
    return { name: quantityWords(chip, quantity), quantity, dimension, low: value - part, high: value + part, present: value };
  });
  const base =
    rankedBy !== undefined ? new DesignSpace(chip, [], side).solve(new Float64Array(0), requests, { slopes: false }) : undefined;
  const feltOf = (axis: (typeof axes)[number]): number => {
    if (base?.model === undefined) return Number.NaN;
    const step = 1e-4 * axis.present;
    const moved = new DesignSpace(chip, [axis], side).firstOrder(Float64Array.of(axis.present + step), requests, base.model);
    if (moved === undefined) return Number.NaN;
    const margin = (value: number, i: number): number => marginOf(value, limits[i]!.need, { found: base.values[i]! });
    return limits.reduce((sum, _, i) => {
      const change = Math.abs(margin(moved[i]!, i) - margin(base.values[i]!, i));
      return Number.isFinite(change) ? sum + change * 1e2 : sum;
    }, 0);
  };
  const choices: SizeChoice[] = [];
  for (const [k, { written, handle }] of found.entries()) {
    yield { what: "sizes that the limits feel", done: k, total: found.length };
    const axis = axes[k]!;
    const bound = (si: number): string => `${rounded(written.numberFor(si))} ${handle.unit}`.trim();
    choices.push({
      name: axis.name,
      handle,
      isDrive: axis.quantity.path[0] === "drive",
      perUnit: written.perUnit,
      zero: axis.present - written.number * written.perUnit,
      from: bound(axis.low),
      to: bound(axis.high),
      felt: feltOf(axis),
    });
  }
  const strength = ({ felt }: SizeChoice): number => (Number.isFinite(felt) ? felt : -1);
  return choices.sort((a, b) => strength(b) - strength(a));
}
