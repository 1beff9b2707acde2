/**
 * An amount: an SI value with its dimension, and how it moves with each independent cause of doubt.
 *
 * Doubt is kept as sensitivities: for each cause, the change of the value when that cause goes up by one standard deviation.
 * Two amounts that share a cause are therefore correlated as they should be, and `width - width` has no doubt at all.
 * First order only (GUM, JCGM 100:2008, section 5.1, from memory); sampling is done by evaluating again with shifted causes.
 *
 * Temperatures: a value in °C is a temperature; kelvins in a sum count as a rise; a lone value in K takes the kind its place wants.
 */
import { ArithmeticError } from "./arithmetic-error.ts";
import {
  type Dimension,
  describeDimension,
  dimensionless,
  dimensionNamed,
  divideDimensions,
  multiplyDimensions,
  raiseDimension,
  sameDimension,
} from "./dimension.ts";
import { DimensionError } from "./errors.ts";

/** "kelvin" is a lone value in K, not yet told apart. Every amount that is not a temperature is "plain". */
export type TemperatureKind = "plain" | "kelvin" | "temperature" | "rise";

/** Change of the value per standard deviation of each cause, keyed by the cause's name. */
export type Sensitivities = ReadonlyMap<string, number>;

export interface Amount {
  readonly value: number;
  readonly dimension: Dimension;
  readonly kind: TemperatureKind;
  readonly sensitivities: Sensitivities;
}

const noDoubt: Sensitivities = new Map();
const temperature = dimensionNamed("temperature");

/** An amount without doubt. */
export function exactAmount(value: number, dimension: Dimension): Amount {
  return { value, dimension, kind: sameDimension(dimension, temperature) ? "kelvin" : "plain", sensitivities: noDoubt };
}

/** A pure number without doubt. */
export function pureNumber(value: number): Amount {
  return exactAmount(value, dimensionless);
}

/** Standard deviation of an amount: root of the sum of squares over its independent causes. */
export function standardDeviation(amount: Amount): number {
  let sum = 0;
  for (const shift of amount.sensitivities.values()) sum += shift * shift;
  return Math.sqrt(sum);
}

/** Covariance of two amounts through the causes they share. */
export function covariance(a: Amount, b: Amount): number {
  let sum = 0;
  for (const [cause, shift] of a.sensitivities) sum += shift * (b.sensitivities.get(cause) ?? 0);
  return sum;
}

/** Sensitivities of a function of amounts, from its partial derivatives. */
function chain(parts: readonly (readonly [Amount, number])[]): Sensitivities {
  const result = new Map<string, number>();
  for (const [amount, derivative] of parts) {
    for (const [cause, shift] of amount.sensitivities) {
      // no shift stays no shift, also where the derivative has no bound
      if (shift !== 0) result.set(cause, (result.get(cause) ?? 0) + derivative * shift);
    }
  }
  return result.size === 0 ? noDoubt : result;
}

/** What a person would call this amount: "a length", "a temperature rise". */
export function describeAmount(amount: Amount): string {
  if (amount.kind === "rise") return "a temperature rise";
  if (amount.kind === "kelvin") return "a value in kelvin";
  return describeDimension(amount.dimension);
}

function requireSame(a: Amount, b: Amount, verb: string): void {
  if (sameDimension(a.dimension, b.dimension)) return;
  throw new DimensionError(`cannot ${verb} ${describeAmount(a)} and ${describeAmount(b)}`);
}

function kindOfSum(a: Amount, b: Amount): TemperatureKind {
  if (a.kind === "plain") return "plain";
  if (a.kind === "temperature" && b.kind === "temperature") {
    throw new DimensionError("cannot add two temperatures: one of them must be a rise, in K");
  }
  return a.kind === "temperature" || b.kind === "temperature" ? "temperature" : "rise";
}

function kindOfDifference(a: Amount, b: Amount): TemperatureKind {
  if (a.kind === "plain") return "plain";
  if (a.kind === "temperature") return b.kind === "temperature" ? "rise" : "temperature";
  if (b.kind === "temperature") throw new DimensionError("cannot take a temperature in °C from a value in K: write both in °C");
  return "rise";
}

export function addAmounts(a: Amount, b: Amount): Amount {
  requireSame(a, b, "add");
  return {
    value: a.value + b.value,
    dimension: a.dimension,
    kind: kindOfSum(a, b),
    sensitivities: chain([
      [a, 1],
      [b, 1],
    ]),
  };
}

export function subtractAmounts(a: Amount, b: Amount): Amount {
  requireSame(a, b, "subtract");
  return {
    value: a.value - b.value,
    dimension: a.dimension,
    kind: kindOfDifference(a, b),
    sensitivities: chain([
      [a, 1],
      [b, -1],
    ]),
  };
}

function refuseTemperature(amount: Amount, verb: string): void {
  if (amount.kind === "temperature") throw new DimensionError(`cannot ${verb} a temperature in °C: write a rise, in K`);
}

/** Kind of a product: a rise times a number stays a rise; everything else is plain unless it is a temperature dimension again. */
function kindOf(dimension: Dimension): TemperatureKind {
  return sameDimension(dimension, temperature) ? "rise" : "plain";
}

export function multiplyAmounts(a: Amount, b: Amount): Amount {
  refuseTemperature(a, "multiply");
  refuseTemperature(b, "multiply");
  const dimension = multiplyDimensions(a.dimension, b.dimension);
  return {
    value: a.value * b.value,
    dimension,
    kind: kindOf(dimension),
    sensitivities: chain([
      [a, b.value],
      [b, a.value],
    ]),
  };
}

export function divideAmounts(a: Amount, b: Amount): Amount {
  refuseTemperature(a, "divide");
  refuseTemperature(b, "divide by");
  if (b.value === 0) throw new ArithmeticError("cannot divide by zero");
  const dimension = divideDimensions(a.dimension, b.dimension);
  return {
    value: a.value / b.value,
    dimension,
    kind: kindOf(dimension),
    sensitivities: chain([
      [a, 1 / b.value],
      [b, -(a.value / b.value) / b.value],
    ]),
  };
}

export function negateAmount(a: Amount): Amount {
  refuseTemperature(a, "negate");
  return { ...a, value: -a.value, kind: a.kind === "plain" ? "plain" : "rise", sensitivities: chain([[a, -1]]) };
}

/** Raises an amount to a pure number that carries no doubt worth keeping (its doubt is kept all the same). */
export function raiseAmount(a: Amount, exponent: Amount): Amount {
  refuseTemperature(a, "raise");
  if (!sameDimension(exponent.dimension, dimensionless)) {
    throw new DimensionError(`cannot raise to ${describeAmount(exponent)}: an exponent is a pure number`);
  }
  const value = a.value ** exponent.value;
  if (!Number.isFinite(value)) throw new ArithmeticError(`cannot raise ${a.value} to the power ${exponent.value}`);
  const dimension = raiseDimension(a.dimension, exponent.value);
  return {
    value,
    dimension,
    kind: kindOf(dimension),
    sensitivities: chain([
      [a, exponent.value === 0 ? 0 : exponent.value * a.value ** (exponent.value - 1)],
      [exponent, a.value > 0 ? value * Math.log(a.value) : 0],
    ]),
  };
}

/** A function of one amount, from its value and derivative at that amount. */
export function mapAmount(a: Amount, result: { value: number; derivative: number; dimension: Dimension }): Amount {
  refuseTemperature(a, "take a function of");
  return {
    value: result.value,
    dimension: result.dimension,
    kind: kindOf(result.dimension),
    sensitivities: chain([[a, result.derivative]]),
  };
}

/** The same amount with one more cause of doubt. `shift` [SI] is one standard deviation. */
export function withCause(a: Amount, cause: { name: string; shift: number }): Amount {
  const sensitivities = new Map(a.sensitivities);
  sensitivities.set(cause.name, (sensitivities.get(cause.name) ?? 0) + cause.shift);
  return { ...a, sensitivities };
}
