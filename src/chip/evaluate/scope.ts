/**
 * Evaluating the quantities of a text on one of its two sides.
 *
 * As drawn: the text as it stands. As built: a reading, where there is one, stands in for the quantity it was found for; readings never
 * overwrite an intention. An override (a drag, a sweep, a what-if) stands in for both. Which size is used for what is in chip-conditions.ts.
 */
import {
  type Amount,
  describeAmount,
  describeDimension,
  dimensionNamed,
  type EvidenceKind,
  ExpressionError,
  evaluateExpression,
  formatQuantity,
  type Phrase,
  type Place,
  type QuantityText,
  type Scope as SpreadScope,
  sameDimension,
  withCause,
} from "#base";
import { type Addresses, pathKey } from "./addresses.ts";

export type Side = "drawn" | "built";

/** One independent cause of doubt. */
export interface Cause {
  readonly name: string;
  /** Normal, or equally likely inside hard limits. */
  readonly distribution: "normal" | "uniform";
  readonly evidence: EvidenceKind;
  readonly scope: SpreadScope | undefined;
  /** One standard deviation [SI of the quantity]. */
  readonly sigma: number;
}

/** A reading that stands in for a quantity as built. */
export interface Substitute {
  readonly phrase: Phrase;
  /** The phrase as written. */
  readonly text: string;
  readonly place: Place;
}

export interface ScopeOptions {
  readonly addresses: Addresses;
  readonly side: Side;
  /** What-if values by path key. They carry no doubt of their own. */
  readonly overrides: ReadonlyMap<string, Phrase>;
  /** Readings by path key. */
  readonly readings: ReadonlyMap<string, Substitute>;
  /** Shift of each cause, in standard deviations. */
  readonly deviations: ReadonlyMap<string, number>;
}

/** A quantity that cannot be evaluated; the message is a whole sentence. */
export class EvaluationError extends Error {
  override readonly name = "EvaluationError";
  readonly place: Place;

  constructor(message: string, place: Place) {
    super(message);
    this.place = place;
  }
}

export interface Scope {
  readonly side: Side;
  /** Causes met so far, by name. */
  readonly causes: ReadonlyMap<string, Cause>;
  /** Value of a quantity with its doubt. Throws EvaluationError. */
  amountOf(quantity: QuantityText): Amount;
  /** Value in SI. */
  valueOf(quantity: QuantityText): number;
  /** Evidence for a quantity on this side. */
  evidenceOf(quantity: QuantityText): { kind: EvidenceKind; source?: string; date?: string };
  /** A factor of 1 with the doubt of a published law; `name` is its cause. */
  factor(name: string, relativeSpread: number): number;
  /** Present shift of a cause, in standard deviations. */
  deviation(cause: string): number;
  /** Every shift that is not zero. */
  readonly deviations: ReadonlyMap<string, number>;
  /** A phrase that is not a quantity of the text itself, such as a limit of the brief. */
  evaluatePhrase(phrase: Phrase, at: { place: Place; name: string }): Amount;
}

export function createScope(options: ScopeOptions): Scope {
  return new EvaluatingScope(options);
}

class EvaluatingScope implements Scope {
  readonly causes = new Map<string, Cause>();
  private readonly done = new Map<string, Amount>();
  /** What could not be worked out, so that it is told once and not again for whatever refers to it. */
  private readonly failed = new Map<string, EvaluationError>();
  private readonly open: string[] = [];

  constructor(private readonly options: ScopeOptions) {}

  get side(): Side {
    return this.options.side;
  }

  get deviations(): ReadonlyMap<string, number> {
    return this.options.deviations;
  }

  amountOf(quantity: QuantityText): Amount {
    const key = pathKey(quantity.path);
    const known = this.done.get(key);
    if (known !== undefined) return known;
    const failure = this.failed.get(key);
    if (failure !== undefined) throw failure;
    const cycleStart = this.open.indexOf(key);
    if (cycleStart >= 0) {
      const chain = [...this.open.slice(cycleStart), key].map((entry) => this.options.addresses.shortest(entry));
      throw new EvaluationError(
        `These quantities refer to each other in a circle: ${chain.join(" → ")}. Give one of them a value of its own.`,
        quantity.place,
      );
    }
    this.open.push(key);
    try {
      const source = this.sourceOf(quantity);
      const amount = this.checkAgainstShape(
        this.evaluatePhrase(source.phrase, { place: source.place, name: key, quantity }),
        quantity,
        source,
      );
      this.done.set(key, amount);
      return amount;
    } catch (error) {
      if (error instanceof EvaluationError) this.failed.set(key, error);
      throw error;
    } finally {
      this.open.pop();
    }
  }

  valueOf(quantity: QuantityText): number {
    return this.amountOf(quantity).value;
  }

  evidenceOf(quantity: QuantityText): { kind: EvidenceKind; source?: string; date?: string } {
    const { phrase } = this.sourceOf(quantity);
    return {
      kind: phrase.evidence ?? quantity.shape.evidence,
      ...(phrase.source !== undefined && { source: phrase.source }),
      ...(phrase.date !== undefined && { date: phrase.date }),
    };
  }

  factor(name: string, relativeSpread: number): number {
    this.causes.set(name, { name, distribution: "normal", evidence: "assumed", scope: undefined, sigma: relativeSpread });
    return 1 + relativeSpread * this.deviation(name);
  }

  deviation(cause: string): number {
    return this.options.deviations.get(cause) ?? 0;
  }

  evaluatePhrase(phrase: Phrase, at: { place: Place; name: string; quantity?: QuantityText }): Amount {
    const lookUp = (name: string, offset: number): Amount => this.lookUp(name, { ...at, offset });
    try {
      const value = evaluateExpression(phrase.value, lookUp);
      return phrase.spread === undefined ? value : this.spreadOut(value, phrase, { ...at, lookUp });
    } catch (error) {
      if (!(error instanceof ExpressionError)) throw error;
      throw new EvaluationError(`Cannot work out ${at.name}: ${error.message}.`, {
        ...at.place,
        column: at.place.column + error.at,
      });
    }
  }

  /** The phrase that counts for a quantity; `isText` where it is the text's own, not a reading or an override. */
  private sourceOf(quantity: QuantityText): { phrase: Phrase; place: Place; isText: boolean } {
    const key = pathKey(quantity.path);
    const override = this.options.overrides.get(key);
    if (override !== undefined) return { phrase: override, place: quantity.place, isText: false };
    const reading = this.side === "built" ? this.options.readings.get(key) : undefined;
    return reading === undefined
      ? { phrase: quantity.phrase, place: quantity.place, isText: true }
      : { ...reading, isText: false };
  }

  private lookUp(name: string, at: { place: Place; name: string; offset: number }): Amount {
    const found = this.options.addresses.find(name);
    if (found.kind === "one") return this.amountOf(found.quantity);
    throw new EvaluationError(`Cannot work out ${at.name}: ${this.options.addresses.explain(name, found)}`, {
      ...at.place,
      column: at.place.column + at.offset,
    });
  }

  /** Adds the doubt of a phrase as a cause of its own, or of the cause it shares. */
  private spreadOut(
    value: Amount,
    phrase: Phrase,
    at: { place: Place; name: string; quantity?: QuantityText; lookUp: (name: string, offset: number) => Amount },
  ): Amount {
    const spread = phrase.spread!;
    const given = evaluateExpression(spread.amount, at.lookUp);
    if (!spread.relative && !sameDimension(given.dimension, value.dimension)) {
      throw new ExpressionError(
        `the value is ${describeAmount(value)} but its spread is ${describeAmount(given)}`,
        spread.amount.at,
      );
    }
    if (!spread.relative && spread.kind !== "up to" && given.kind === "temperature") {
      throw new ExpressionError("a spread of a temperature is a rise, in K", spread.amount.at);
    }
    const size = spread.relative ? Math.abs(value.value) * given.value : given.value;
    if (spread.kind === "up to" && size <= value.value)
      throw new ExpressionError("the second value must be above the first", spread.amount.at);
    if (size < 0 && spread.kind !== "up to") throw new ExpressionError("a spread cannot be below zero", spread.amount.at);
    const halfWidth = spread.kind === "up to" ? (size - value.value) / 2 : size;
    const middle = spread.kind === "up to" ? value.value + halfWidth : value.value;
    const isNormal = spread.kind === "standard deviation";
    const sigma = isNormal ? size : halfWidth / Math.sqrt(3);
    const name = phrase.sharedCause ?? at.name;
    this.causes.set(name, {
      name,
      distribution: isNormal ? "normal" : "uniform",
      evidence: phrase.evidence ?? at.quantity?.shape.evidence ?? "assumed",
      scope: phrase.scope,
      sigma,
    });
    return withCause({ ...value, value: middle + sigma * this.deviation(name) }, { name, shift: sigma });
  }

  private checkAgainstShape(amount: Amount, quantity: QuantityText, source: { place: Place; isText: boolean }): Amount {
    if (quantity.path[0] === "parameters") return amount;
    const { place, isText } = source;
    const { shape } = quantity;
    const wanted = dimensionNamed(shape.dimension);
    const name = pathKey(quantity.path);
    if (!sameDimension(amount.dimension, wanted)) {
      throw new EvaluationError(
        `Cannot read ${name}: expected ${wantedText(quantity)}, found ${describeAmount(amount)}${isText ? ` ("${quantity.text}")` : ""}. An example is ${shape.example}.`,
        place,
      );
    }
    if (shape.as === "temperature" && amount.kind === "rise") {
      throw new EvaluationError(
        `Cannot read ${name}: expected a temperature, found a temperature rise ("${quantity.text}"; kelvins in a sum count as a rise). Write the temperature in °C, or alone in K.`,
        place,
      );
    }
    if (shape.as === "rise" && amount.kind === "temperature") {
      throw new EvaluationError(
        `Cannot read ${name}: expected a temperature rise in K, found a temperature in °C ("${quantity.text}"). Write the rise, for example ${shape.example}.`,
        place,
      );
    }
    this.checkRange(amount.value, quantity, place);
    return amount;
  }

  private checkRange(value: number, quantity: QuantityText, place: Place): void {
    const { shape } = quantity;
    const shifted = this.options.deviations.size > 0;
    const low = (shape.least !== undefined && value < shape.least) || (shape.above !== undefined && value <= shape.above);
    const high = shape.most !== undefined && value > shape.most;
    if ((low || high) && !shifted) {
      throw new EvaluationError(
        `Cannot read ${pathKey(quantity.path)}: ${shown(value, quantity)} is ${low ? "too small" : "too large"}; allowed is ${allowedText(quantity)}. An example is ${shape.example}.`,
        place,
      );
    }
    if (!Number.isFinite(value))
      throw new EvaluationError(`Cannot work out ${pathKey(quantity.path)}: the result is not a number.`, place);
  }
}

function wantedText(quantity: QuantityText): string {
  if (quantity.shape.as === "rise") return "a temperature rise";
  return describeDimension(dimensionNamed(quantity.shape.dimension));
}

/** A value in the unit of its quantity, as a reader knows it. */
function shown(value: number, quantity: QuantityText): string {
  const text = formatQuantity(value, dimensionNamed(quantity.shape.dimension));
  return text.replace(/(\.\d*?)0+(?=\D|$)/, "$1").replace(/\.(?=\D|$)/, "");
}

function allowedText(quantity: QuantityText): string {
  const { least, above, most } = quantity.shape;
  const lower =
    above !== undefined ? `above ${shown(above, quantity)}` : least !== undefined ? `at least ${shown(least, quantity)}` : "";
  const upper = most !== undefined ? `at most ${shown(most, quantity)}` : "";
  return [lower, upper].filter((part) => part !== "").join(" and ");
}
