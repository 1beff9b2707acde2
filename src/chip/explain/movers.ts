/**
 * What moves a number from as drawn to as built: the edges of the etch, and each reading that stands in for a value of the text.
 *
 * Every side between the two is the built side with some causes switched off: edges by no undercut and no bias, a reading by the phrase
 * that the text has in its place. With all off it is the drawn side, with none the built one. Main test: explain.test.ts.
 */
import { type Amount, type Dimension, type Phrase, parsePhrase, type QuantityText } from "#base";
import { pathKey } from "../evaluate/addresses.ts";
import { inwardOf } from "../evaluate/chip-conditions.ts";
import type { Chip } from "../predict/chip.ts";
import type { MetricRequest, SideModel } from "../predict/side-model.ts";
import { quantityWords } from "../size/quantity-words.ts";

/** One cause, with what it does to each of the metrics asked for, SI. */
export interface Mover {
  /** "edges", or the path key of the quantity that was read. */
  readonly key: string;
  readonly name: string;
  /** What the cause itself is, as drawn and as built, SI; of the edges how far they lie inside their target. */
  readonly from: number;
  readonly to: number;
  readonly dimension: Dimension;
  /** Where the built value comes from, in the words of the text. */
  readonly source: string | undefined;
  /** [n] change from as drawn by this cause alone. */
  readonly alone: Float64Array;
  /** [n] change when it comes after those before it in the list. */
  readonly inTurn: Float64Array;
}

interface Cause extends Pick<Mover, "key" | "name" | "from" | "to" | "dimension" | "source"> {
  /** The built side without it: phrases that stand in. */
  readonly off: readonly { readonly quantity: QuantityText; readonly phrase: Phrase }[];
}

const edgePaths = ["undercut per edge", "bias per edge"] as const;

/** Everything that makes the built side another one than the drawn, edges first, then readings in the order of the text. */
export function causesOf(chip: Chip): readonly Cause[] {
  const causes: Cause[] = [];
  const { process } = chip.description.sections;
  const edges = edgePaths.flatMap((name) => process[name] ?? []);
  const { scope } = chip.side("built");
  const inward = inwardOf(process, scope);
  const undercut = process["undercut per edge"];
  if (edges.length > 0 && inward !== 0)
    causes.push({
      key: "edges",
      name: "edges inside their target",
      from: 0,
      to: inward,
      dimension: scope.amountOf(edges[0]!).dimension,
      source: undercut === undefined ? undefined : (chip.readings.substitutes.get(pathKey(undercut.path))?.text ?? undercut.text),
      off: edges.map((quantity) => ({ quantity, phrase: parsePhrase("0 m") })),
    });
  const { scope: drawn } = chip.side("drawn");
  for (const [key, reading] of chip.readings.substitutes) {
    const quantity = chip.addresses.at(key);
    if (quantity === undefined || edges.includes(quantity)) continue;
    const [before, after] = [drawn.amountOf(quantity), scope.amountOf(quantity)] as readonly [Amount, Amount];
    if (before.value === after.value) continue;
    causes.push({
      key,
      name: quantityWords(chip, quantity),
      from: before.value,
      to: after.value,
      dimension: before.dimension,
      source: reading.text,
      off: [{ quantity, phrase: quantity.phrase }],
    });
  }
  return causes;
}

/** The built side with only some of the causes at work. */
function sideWith(
  chip: Chip,
  work: { readonly causes: readonly Cause[]; readonly on: ReadonlySet<Cause>; near?: SideModel },
): SideModel {
  const off = work.causes.filter((cause) => !work.on.has(cause)).flatMap((cause) => cause.off);
  const switched = off.reduce((held, { quantity, phrase }) => held.withPhrase(quantity, phrase), chip);
  return switched.side("built", work.near === undefined ? {} : { near: work.near });
}

export interface Moved {
  /** [n] SI, as drawn and as built. */
  readonly drawn: Float64Array;
  readonly built: Float64Array;
  readonly movers: readonly Mover[];
  /** [n] what the causes do together beyond the sum of what each does alone. */
  readonly together: Float64Array;
}

/** Each cause alone, and one after the other, with what it does to the metrics asked for. Numbers that do not exist are NaN. */
export function moversOf(chip: Chip, requests: readonly MetricRequest[]): Moved {
  const causes = causesOf(chip);
  const valuesOf = (side: SideModel): Float64Array => Float64Array.from(requests, (request) => side.valueOf(request).value);
  const drawnSide = chip.side("drawn");
  const drawn = valuesOf(drawnSide);
  let before = drawn;
  let near = drawnSide;
  const movers = causes.map((cause, i): Mover => {
    const alone = i === 0 ? undefined : valuesOf(sideWith(chip, { causes, on: new Set([cause]), near: drawnSide }));
    const side = sideWith(chip, { causes, on: new Set(causes.slice(0, i + 1)), near });
    const after = valuesOf(side);
    side.forgetNear();
    near = side;
    const inTurn = after.map((value, k) => value - before[k]!);
    before = after;
    const { off: _, ...told } = cause;
    return { ...told, inTurn, alone: alone === undefined ? inTurn : alone.map((value, k) => value - drawn[k]!) };
  });
  const together = before.map((value, k) => value - drawn[k]! - movers.reduce((sum, { alone }) => sum + alone[k]!, 0));
  return { drawn, built: before, movers, together };
}
