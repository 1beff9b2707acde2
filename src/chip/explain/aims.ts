/**
 * What to change so that a number comes to its aim: one quantity of the text at a time, first by its derivative, then solved until the
 * model is there. Main test: explain.test.ts.
 */
import type { Dimension, QuantityText } from "#base";
import { pathKey } from "../evaluate/addresses.ts";
import type { Side } from "../evaluate/scope.ts";
import type { Chip } from "../predict/chip.ts";
import type { MetricRequest, SideModel } from "../predict/side-model.ts";
import { numberOfPhrase } from "../size/adopt.ts";
import { DesignSpace } from "../size/design-space.ts";
import { quantityWords } from "../size/quantity-words.ts";

/** One quantity changed until the number is at its aim. */
export interface AimedChange {
  readonly key: string;
  readonly name: string;
  readonly dimension: Dimension;
  /** SI */
  readonly from: number;
  readonly to: number;
  /** Derivative of the number by the quantity where the text stands, SI. */
  readonly slope: number;
  /** What the model gives with the change, SI: the aim to a ten-thousandth of it. */
  readonly reached: number;
}

export interface Aim {
  readonly side: Side;
  readonly request: MetricRequest;
  /** Where the number is to come to, SI. */
  readonly aim: number;
  /** Where it is, and the state that it was read off. */
  readonly value: number;
  readonly model: SideModel;
}

/** Steps of the secant. */
const nSteps = 8;
/** Furthest change as a factor: what is more than doubled or halved is another design. */
const furthest = 2;
/** As a part of the aim. */
const closeness = 1e-4;

/** Sizes and what drives the case, where the text has a number of its own that is meant, not found. */
function isFree(chip: Chip, quantity: QuantityText, caseName: string | undefined): boolean {
  const [root, cases, name] = quantity.path;
  const isSize = root === "parameters" || root === "devices";
  const isDrive = root === "drive" && cases === "cases" && name === caseName;
  const isDrawn = (quantity.phrase.evidence ?? quantity.shape.evidence) === "drawn";
  const key = pathKey(quantity.path);
  // where a reading stands in, the text no longer says what is built
  if (chip.readings.substitutes.has(key)) return false;
  return ((isSize && isDrawn) || isDrive) && numberOfPhrase(chip, key) !== undefined;
}

interface Lever {
  readonly quantity: QuantityText;
  readonly name: string;
  readonly dimension: Dimension;
  readonly from: number;
  readonly slope: number;
  readonly space: DesignSpace;
  /** Where the straight line meets the aim. */
  readonly to: number;
}

function leversOf(chip: Chip, { side, request, aim, value, model }: Aim): readonly Lever[] {
  const { scope } = chip.side("drawn");
  return chip.addresses.all
    .filter((quantity) => isFree(chip, quantity, request.caseName))
    .flatMap((quantity): Lever[] => {
      const { value: from, dimension } = scope.amountOf(quantity);
      if (from === 0) return [];
      const name = quantityWords(chip, quantity);
      const space = new DesignSpace(chip, [{ name, quantity, dimension, low: from / 2, high: 2 * from, present: from }], side);
      const small = 1e-6 * from;
      const near = space.firstOrder(Float64Array.of(from + small), [request], model);
      const slope = near === undefined ? Number.NaN : (near[0]! - value) / small;
      const to = from + (aim - value) / slope;
      if (!Number.isFinite(to) || !isWithin(to / from)) return [];
      return [{ quantity, name, dimension, from, slope, space, to }];
    });
}

const isWithin = (factor: number): boolean => factor >= 1 / furthest && factor <= furthest;

/** The secant from the present value to the aim; undefined where it leaves what can be worked out, or does not come there. */
function solved(lever: Lever, { request, aim, value, model }: Aim): AimedChange | undefined {
  const { quantity, name, dimension, from, slope, space } = lever;
  let [x0, y0, x1] = [from, value, lever.to];
  for (let i = 0; i < nSteps; i++) {
    const reached = space.solve(Float64Array.of(x1), [request], { near: model, slopes: false }).values[0]!;
    if (!Number.isFinite(reached)) return undefined;
    if (Math.abs(reached - aim) <= closeness * Math.abs(aim))
      return { key: pathKey(quantity.path), name, dimension, from, to: x1, slope, reached };
    const next = x1 + ((aim - reached) * (x1 - x0)) / (reached - y0);
    if (!Number.isFinite(next) || !isWithin(next / from)) return undefined;
    [x0, y0, x1] = [x1, reached, next];
  }
  return undefined;
}

/** What brings the number to its aim, one quantity at a time, the smallest part of itself first; at most `count`, each solved in full. */
export function changesTo(chip: Chip, aim: Aim, count: number): readonly AimedChange[] {
  const changes: AimedChange[] = [];
  const part = ({ from, to }: { readonly from: number; readonly to: number }): number => Math.abs(to / from - 1);
  for (const lever of [...leversOf(chip, aim)].sort((a, b) => part(a) - part(b))) {
    if (changes.length === count) break;
    const change = solved(lever, aim);
    if (change !== undefined) changes.push(change);
  }
  return changes.sort((a, b) => part(a) - part(b));
}
