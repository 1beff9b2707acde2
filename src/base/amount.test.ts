import { describe, expect, it } from "vitest";
import {
  type Amount,
  addAmounts,
  covariance,
  describeAmount,
  divideAmounts,
  exactAmount,
  mapAmount,
  multiplyAmounts,
  negateAmount,
  pureNumber,
  raiseAmount,
  standardDeviation,
  subtractAmounts,
  type TemperatureKind,
  withCause,
} from "./amount.ts";
import { dimensionless, dimensionNamed } from "./dimension.ts";

const length = dimensionNamed("length");
const kelvin = dimensionNamed("temperature");
const withKind = (kind: TemperatureKind): Amount => ({ ...exactAmount(300, kelvin), kind });
const doubtful = (value: number, cause: string, shift: number): Amount =>
  withCause(exactAmount(value, length), { name: cause, shift });

describe("doubt (GUM, JCGM 100:2008, 5.1 and 5.2, from memory)", () => {
  it("vanishes in a difference of an amount with itself, and in a quotient", () => {
    const a = doubtful(6e-6, "width", 3e-7);
    expect(standardDeviation(subtractAmounts(a, a))).toBe(0);
    // one rounding of 1/a against a/a^2
    expect(standardDeviation(divideAmounts(a, a))).toBeLessThan(1e-16);
  });

  it("adds in square over independent causes", () => {
    const sum = addAmounts(doubtful(1, "a", 3), doubtful(2, "b", 4));
    expect(standardDeviation(sum)).toBe(5);
    expect(standardDeviation(subtractAmounts(doubtful(1, "a", 3), doubtful(2, "b", 4)))).toBe(5);
  });

  it("adds linearly over a shared cause, with its sign", () => {
    expect(standardDeviation(addAmounts(doubtful(1, "etch", 3), doubtful(2, "etch", 4)))).toBe(7);
    expect(standardDeviation(subtractAmounts(doubtful(1, "etch", 3), doubtful(2, "etch", 4)))).toBe(1);
  });

  it("gives the covariance of what is shared alone", () => {
    const a = withCause(doubtful(1, "shared", 3), { name: "own", shift: 10 });
    const b = doubtful(1, "shared", -2);
    expect(covariance(a, b)).toBe(-6);
    expect(covariance(a, doubtful(1, "other", 1))).toBe(0);
    expect(covariance(a, a)).toBe(109);
  });

  it("adds up in relative square in products and quotients (GUM 5.1.6)", () => {
    const a = doubtful(2, "a", 0.06);
    const b = doubtful(5, "b", 0.2);
    // 3 % and 4 % give 5 %, to the rounding of a double
    expect(standardDeviation(multiplyAmounts(a, b)) / 10).toBeCloseTo(0.05, 15);
    expect(standardDeviation(divideAmounts(a, b)) / 0.4).toBeCloseTo(0.05, 15);
    expect(standardDeviation(raiseAmount(a, pureNumber(3))) / 8).toBeCloseTo(0.09, 15);
  });

  it("keeps the doubt of an exponent", () => {
    const exponent = withCause(pureNumber(2), { name: "n", shift: 0.1 });
    // d(3^n) = 3^n ln 3 dn
    expect(standardDeviation(raiseAmount(pureNumber(3), exponent))).toBeCloseTo(9 * Math.log(3) * 0.1, 14);
  });

  it("grows when one cause is named twice", () => {
    expect(standardDeviation(withCause(doubtful(1, "etch", 3), { name: "etch", shift: 4 }))).toBe(7);
  });

  it("does not change the amount it is added to", () => {
    const a = doubtful(1, "a", 3);
    withCause(a, { name: "b", shift: 1 });
    expect([...a.sensitivities]).toEqual([["a", 3]]);
  });

  it("of zero size stays zero where a slope has no bound", () => {
    const still = withCause(pureNumber(0), { name: "a", shift: 0 });
    expect(
      standardDeviation(mapAmount(still, { value: 0, derivative: Number.POSITIVE_INFINITY, dimension: dimensionless })),
    ).toBe(0);
  });
});

type Outcome = TemperatureKind | "refused";

function kindOf(work: () => Amount): Outcome {
  try {
    return work().kind;
  } catch (error) {
    expect((error as Error).name).toBe("DimensionError");
    return "refused";
  }
}

describe("temperatures against rises", () => {
  // rules of the module header: °C is a temperature, kelvins in a sum count as a rise
  const sums: readonly (readonly [TemperatureKind, TemperatureKind, Outcome, Outcome])[] = [
    ["temperature", "temperature", "refused", "rise"],
    ["temperature", "rise", "temperature", "temperature"],
    ["temperature", "kelvin", "temperature", "temperature"],
    ["rise", "temperature", "temperature", "refused"],
    ["rise", "rise", "rise", "rise"],
    ["rise", "kelvin", "rise", "rise"],
    ["kelvin", "temperature", "temperature", "refused"],
    ["kelvin", "rise", "rise", "rise"],
    ["kelvin", "kelvin", "rise", "rise"],
  ];
  it.each(sums)("%s with %s gives a sum: %s, a difference: %s", (a, b, sum, difference) => {
    expect(kindOf(() => addAmounts(withKind(a), withKind(b)))).toBe(sum);
    expect(kindOf(() => subtractAmounts(withKind(a), withKind(b)))).toBe(difference);
  });

  it("refuses to scale a temperature in °C, and scales a rise", () => {
    const two = pureNumber(2);
    const hot = withKind("temperature");
    for (const work of [
      () => multiplyAmounts(hot, two),
      () => multiplyAmounts(two, hot),
      () => divideAmounts(hot, two),
      () => divideAmounts(two, hot),
      () => negateAmount(hot),
      () => raiseAmount(hot, two),
      () => mapAmount(hot, { value: 1, derivative: 1, dimension: kelvin }),
    ]) {
      expect(kindOf(work)).toBe("refused");
    }
    for (const kind of ["rise", "kelvin"] as const) {
      expect(multiplyAmounts(withKind(kind), two).kind).toBe("rise");
      expect(divideAmounts(withKind(kind), two).kind).toBe("rise");
      expect(negateAmount(withKind(kind)).kind).toBe("rise");
    }
  });

  it("makes a rise of a power times a thermal resistance", () => {
    expect(
      multiplyAmounts(exactAmount(0.05, dimensionNamed("power")), exactAmount(2000, dimensionNamed("thermal resistance"))).kind,
    ).toBe("rise");
    expect(divideAmounts(withKind("rise"), withKind("rise")).kind).toBe("plain");
  });
});

describe("refusals", () => {
  it("name both sides", () => {
    const width = exactAmount(1, length);
    const supply = exactAmount(1, dimensionNamed("voltage"));
    expect(() => addAmounts(width, supply)).toThrow("cannot add a length and a voltage");
    expect(() => subtractAmounts(width, pureNumber(1))).toThrow("cannot subtract a length and a pure number");
    expect(() => addAmounts(withKind("rise"), width)).toThrow("cannot add a temperature rise and a length");
    expect(() => addAmounts(exactAmount(1, [0, 1, 1, 0, 0, 0]), exactAmount(1, kelvin))).toThrow(
      "cannot add a quantity in kg s and a value in kelvin",
    );
    expect(() => raiseAmount(width, width)).toThrow("cannot raise to a length: an exponent is a pure number");
  });

  it("stop a division by zero and powers that are no real number", () => {
    expect(() => divideAmounts(pureNumber(1), pureNumber(0))).toThrow("cannot divide by zero");
    expect(() => raiseAmount(pureNumber(-8), pureNumber(1 / 3))).toThrow("cannot raise -8 to the power");
    expect(() => raiseAmount(pureNumber(0), pureNumber(-1))).toThrow("cannot raise 0 to the power");
    expect(raiseAmount(pureNumber(0), pureNumber(0)).value).toBe(1);
    expect(raiseAmount(pureNumber(-2), pureNumber(3)).value).toBe(-8);
  });

  it("describe every kind in words", () => {
    expect(describeAmount(withKind("temperature"))).toBe("a temperature");
    expect(describeAmount(withKind("kelvin"))).toBe("a value in kelvin");
    expect(describeAmount(withKind("rise"))).toBe("a temperature rise");
    expect(exactAmount(1, length).kind).toBe("plain");
    expect(exactAmount(1, kelvin).kind).toBe("kelvin");
  });
});
