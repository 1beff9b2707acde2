import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Amount, exactAmount, pureNumber, standardDeviation, withCause } from "./amount.ts";
import { dimensionNamed } from "./dimension.ts";
import { evaluateExpression, functionNames, namesIn, parseExpression } from "./expression.ts";
import { ExpressionError } from "./expression-error.ts";

const seed = 1637;

function evaluate(text: string, values: Readonly<Record<string, Amount>> = {}): Amount {
  return evaluateExpression(parseExpression(text), (name, at) => {
    if (!Object.hasOwn(values, name)) throw new ExpressionError(`nothing is called "${name}"`, at);
    return values[name]!;
  });
}

function refusal(text: string, values: Readonly<Record<string, Amount>> = {}): ExpressionError {
  try {
    evaluate(text, values);
  } catch (error) {
    if (error instanceof ExpressionError) return error;
    throw error;
  }
  throw new Error(`"${text}" was read`);
}

describe("arithmetic", () => {
  it.each([
    ["1 + 2 * 3", 7],
    ["(1 + 2) * 3", 9],
    ["10 - 4 - 3", 3],
    ["64 / 4 / 2", 8],
    ["64 / 4 * 2", 32],
    ["2^3^2", 512],
    ["-2^2", -4],
    ["(-2)^2", 4],
    ["2^-1", 0.5],
    ["2 * -3", -6],
    ["2 - -3", 5],
    ["--3", 3],
    ["+3", 3],
    ["\u22123 + 5", 2],
    ["5 \u2212 3", 2],
    ["2 × 3", 6],
    ["2·3", 6],
    ["1e3", 1000],
    ["1.5E-3", 0.0015],
    [".5 + 1.", 1.5],
    ["2*pi", 2 * Math.PI],
    ["50 %", 0.5],
    ["20 ppm", 2e-5],
    ["min(3, 1, 2)", 1],
    ["max(3, 1, 2)", 3],
    ["min(7)", 7],
    ["sqrt(16)", 4],
    ["abs(-3)", 3],
    ["exp(1)", Math.E],
    ["ln(exp(2))", 2],
    ["log10(1000)", 3],
    ["sin(30 deg)", 0.5],
    ["cos(60°)", 0.5],
    ["tan(45 deg)", 1],
    ["sin(pi / 6)", 0.5],
    ["asin(1) / 90 deg", 1],
    ["acos(0) / 90 deg", 1],
    ["atan(1) / 45 deg", 1],
    ["6 um / 2 um", 3],
    ["5 V/2 V", 2.5],
    ["2 um * 3 / 1 um", 6],
  ])("%s", (text, value) => {
    const result = evaluate(text);
    // elementary functions of the engine are good to a few units in the last place
    expect(result.value).toBeCloseTo(value, 12);
    expect(result.kind).toBe("plain");
  });

  it.each([
    ["10 um", 1e-5, "length"],
    ["10um", 1e-5, "length"],
    ["6 \u00b5m + 4 \u03bcm", 1e-5, "length"],
    ["(3 um^2) * 2", 6e-12, "area"],
    ["2 ohm cm", 0.02, "resistivity"],
    ["120 W/(m K)", 120, "thermal conductivity"],
    ["5 V / (10 mA)", 500, "resistance"],
    ["2.6e-6/K", 2.6e-6, "expansion coefficient"],
    ["2.6e-6 1/K", 2.6e-6, "expansion coefficient"],
    ["1/K", 1, "expansion coefficient"],
    ["5e18 cm^-3", 5e24, "concentration"],
    ["sqrt(4 um^2)", 2e-6, "length"],
    ["abs(-3 um)", 3e-6, "length"],
    ["max(3 um, 1 mm)", 1e-3, "length"],
    ["sqrt((3 um)^2 + (4 um)^2)", 5e-6, "length"],
    ["10 um/s", 1e-5, "velocity"],
    ["1 h", 3600, "time"],
    ["90 deg", Math.PI / 2, "angle"],
  ] as const)("%s has its unit", (text, value, dimension) => {
    const result = evaluate(text);
    expect(result.dimension.map((e) => e + 0)).toEqual(dimensionNamed(dimension).map((e) => e + 0));
    expect(result.value / value).toBeCloseTo(1, 14);
  });

  it("keeps decimal values exact: 10 um is 1e-5 and no neighbour of it", () => {
    for (const [text, value] of [
      ["10 um", 1e-5],
      ["0.3 um", 3e-7],
      ["2.5 mA", 2.5e-3],
      ["3 %", 0.03],
    ] as const)
      expect(evaluate(text).value).toBe(value);
  });
});

describe("temperatures in sums", () => {
  it.each([
    ["25 °C", 298.15, "temperature"],
    ["25 degC", 298.15, "temperature"],
    ["-40 °C", 233.15, "temperature"],
    ["\u221240 °C", 233.15, "temperature"],
    ["(-40 °C) + 10 K", 243.15, "temperature"],
    ["20 °C + 5 K", 298.15, "temperature"],
    ["20 °C - 5 K", 288.15, "temperature"],
    ["30 °C - 20 °C", 10, "rise"],
    ["30 °C - -10 °C", 40, "rise"],
    ["300 K", 300, "kelvin"],
    ["300 K + 10 K", 310, "rise"],
    ["-5 K", -5, "rise"],
    ["max(20 °C, 300 K)", 300, "kelvin"],
  ])("%s", (text, value, kind) => {
    const result = evaluate(text);
    // 273.15 is no binary fraction: one rounding at 300
    expect(result.value).toBeCloseTo(value, 12);
    expect(result.kind).toBe(kind);
  });

  it.each([
    ["20 °C + 20 °C", "cannot add two temperatures"],
    ["2 * 20 °C", "cannot multiply a temperature in °C"],
    ["abs(20 °C)", "cannot take a function of a temperature in °C"],
    ["sqrt(20 °C)", "cannot take a function of a temperature in °C"],
    ["300 K - 20 °C", "write both in °C"],
    ["max(20 °C, 5 K + 5 K)", "max cannot compare a temperature and a temperature rise"],
  ])("refuses %s", (text, clause) => {
    expect(refusal(text).message).toContain(clause);
  });
});

describe("names", () => {
  const um = (value: number): Amount => exactAmount(value * 1e-6, dimensionNamed("length"));

  it("hold blanks and hyphens; a minus stands behind a blank", () => {
    const values = { a: um(5), b: um(3), "a-b": um(100), "slit pitch": um(20), "leg 2": um(8) };
    expect(evaluate("a-b", values).value).toBe(um(100).value);
    expect(evaluate("a - b", values).value).toBeCloseTo(2e-6, 20);
    expect(evaluate("a -b", values).value).toBeCloseTo(2e-6, 20);
    expect(evaluate("slit pitch / 2 - 2 um", values).value).toBeCloseTo(8e-6, 20);
    expect(evaluate("slit   pitch", values).value).toBeCloseTo(2e-5, 20);
    expect(evaluate("leg 2 * 2", values).value).toBeCloseTo(1.6e-5, 20);
  });

  it("may carry letters of any script and digits inside", () => {
    expect(evaluate("Länge_1 + β2", { Länge_1: um(1), β2: um(2) }).value).toBeCloseTo(3e-6, 20);
  });

  it("are listed once each, without pi", () => {
    expect(namesIn(parseExpression("max(leg width, 2 * pi * r) / leg width + -(r ^ n-th)"))).toEqual(["leg width", "r", "n-th"]);
  });

  it.each(["constructor", "toString", "hasOwnProperty", "__proto__", "valueOf"])(
    "that objects inherit are plain names: %s",
    (name) => {
      expect(namesIn(parseExpression(name))).toEqual([name]);
      expect(evaluate(name, Object.fromEntries([[name, um(1)]])).value).toBe(1e-6);
      expect(refusal(`${name}(1)`).message).toContain(`"${name}" is not a function known here`);
    },
  );
});

describe("refusals", () => {
  it.each([
    ["", "nothing stands here; a value is wanted", 0],
    ["2 +", "a value is missing at the end", 3],
    ["* 2", 'a value is wanted before "*"', 0],
    ["2 3", 'an operator (+ - * / ^) is missing before "3"', 2],
    ["(2", "a bracket is not closed", 0],
    ["2)", '")" is not expected here', 1],
    ["sin(1", "the bracket of sin is not closed", 0],
    ["sin(1, 2)", "sin takes one value, 2 were given", 0],
    ["sqr(1)", '"sqr" is not a function known here; the nearest is "sqrt"', 0],
    ["potential(1)", "known are sin, cos, tan", 0],
    ["2 $ 3", '"$" has no meaning in a sum', 2],
    ["2,5 um", '"2,5" can be read in two ways: write a decimal point, 2.5, and no mark for thousands', 0],
    ["1 + 1,000", '"1,000" can be read in two ways', 4],
    ["1.2.3", '"1.2." is not a number', 0],
    ["1_000", '"1_" is not a number', 0],
    ["1e999", "the number 1e999 is too large", 0],
    ["1e300 * 1e300", "the result is too large for a number", 6],
    ["exp(1000)", "the result is too large for a number", 0],
    ["5 microns", '"microns" is not a unit known here; the nearest is "um"', 2],
    ["5 Ohm", 'the nearest is "ohm"', 2],
    ["120 W/m K", "can be read in two ways: put what stands under the bar in brackets", 8],
    ["1 um + 2 V", "cannot add a length and a voltage", 5],
    ["1 um - 2", "cannot subtract a length and a pure number", 5],
    ["2 ^ 1 um", "cannot raise to a length", 2],
    ["1 / (2 - 2)", "cannot divide by zero", 2],
    ["sin(1 um)", "sin takes an angle, not a length", 0],
    ["exp(1 V)", "exp takes a pure number, not a voltage", 0],
    ["sqrt(-1)", "sqrt takes nothing below zero, not -1", 0],
    ["ln(0)", "ln takes a number above zero, not 0", 0],
    ["log10(-1)", "log10 takes a number above zero, not -1", 0],
    ["asin(1.1)", "asin takes a number between -1 and 1, not 1.1", 0],
    ["acos(-1.1)", "acos takes a number between -1 and 1, not -1.1", 0],
    ["max(1 um, 1 V)", "max cannot compare a length and a voltage", 0],
  ])("%j", (text, clause, at) => {
    const error = refusal(text);
    expect(error.message).toContain(clause);
    expect(error.at).toBe(at);
  });

  it("limit depth and length, and reach as far as a person would", () => {
    const nested = (depth: number): string => `${"(".repeat(depth)}1${")".repeat(depth)}`;
    expect(evaluate(nested(25)).value).toBe(1);
    for (const text of [nested(100), "-".repeat(399) + 1, Array.from({ length: 100 }, () => 2).join("^"), "sqrt(".repeat(60)]) {
      expect(refusal(text).message).toContain("nest too deeply");
    }
    const long = Array.from({ length: 100 }, () => "1").join(" + ");
    expect(long.length).toBeLessThanOrEqual(400);
    expect(evaluate(long).value).toBe(100);
    expect(refusal(`${long} + 1 + 1`).message).toContain("longer than 400 characters");
  });

  it("never end in another exception", () => {
    const pieces = fc.constantFrom(
      ..."1 2.5 um V ( ) + - * / ^ , sqrt( max( a-b pi °C % e5 µ Ω ² 1/K − × . _ to".split(" "),
      " ",
      "\t",
      "\u0000",
      "💥",
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 12 }), (parts) => {
        try {
          expect(Number.isFinite(evaluate(parts.join(""), { "a-b": pureNumber(2) }).value)).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(ExpressionError);
        }
      }),
      { seed, numRuns: 3000 },
    );
  });
});

/** A random sum, as this arithmetic writes it and as the engine does. */
interface Twin {
  readonly text: string;
  readonly code: string;
}

const twins = fc.letrec<{ node: Twin }>((tie) => ({
  node: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    fc.integer({ min: 1, max: 99 }).map((n) => ({ text: String(n / 10), code: String(n / 10) })),
    fc.constantFrom("x", "y z").map((name) => ({ text: name, code: name === "x" ? "x" : "yz" })),
    tie("node").map((of) => ({ text: `-(${of.text})`, code: `(-(${of.code}))` })),
    fc.tuple(fc.constantFrom("+", "-", "*", "/"), tie("node"), tie("node")).map(([sign, a, b]) => ({
      text: `(${a.text}) ${sign} (${b.text})`,
      code: `((${a.code}) ${sign} (${b.code}))`,
    })),
    // without brackets: precedence decides, on both sides alike
    fc
      .tuple(
        fc.constantFrom("+", "-", "*", "/"),
        fc.constantFrom("x", "3", "0.5"),
        fc.constantFrom("+", "-", "*", "/"),
        tie("node"),
      )
      .map(([first, middle, second, b]) => ({
        text: `(2 ${first} ${middle} ${second} (${b.text}))`,
        code: `(2 ${first} ${middle} ${second} (${b.code}))`,
      })),
    fc.tuple(tie("node"), fc.constantFrom(2, 3)).map(([a, n]) => ({ text: `(${a.text})^${n}`, code: `((${a.code}) ** ${n})` })),
    fc.tuple(fc.constantFrom("sin", "cos", "atan", "abs", "exp"), tie("node")).map(([name, a]) => ({
      text: name === "atan" ? `${name}(${a.text}) / 1 rad` : `${name}(${a.text})`,
      code: `(Math.${name}(${a.code}))`,
    })),
    fc
      .tuple(fc.constantFrom("min", "max"), tie("node"), tie("node"))
      .map(([name, a, b]) => ({ text: `${name}(${a.text}, ${b.text})`, code: `Math.${name}(${a.code}, ${b.code})` })),
  ),
})).node;

/** The oracle: the engine's own arithmetic. */
function byEngine(code: string, x: number, yz: number): number {
  return new Function("x", "yz", `"use strict"; return ${code};`)(x, yz) as number;
}

describe("random sums", () => {
  it("evaluate to what the engine makes of them", () => {
    let compared = 0;
    fc.assert(
      fc.property(twins, ({ text, code }) => {
        fc.pre(text.length <= 400);
        const wanted = byEngine(code, 1.25, 0.75);
        try {
          const found = evaluate(text, { x: pureNumber(1.25), "y z": pureNumber(0.75) }).value;
          // the same operations in the same order: the same double
          expect(found).toBe(wanted);
          compared++;
        } catch (error) {
          if (!(error instanceof ExpressionError)) throw error;
          // refused only where the engine leaves the finite numbers somewhere
          expect(error.message).toMatch(/divide by zero|too large|nest too deeply/);
        }
      }),
      { seed, numRuns: 1500 },
    );
    expect(compared).toBeGreaterThan(1200);
  });
});

describe("sensitivities", () => {
  const h = 1e-5;
  const at = (text: string, x: number, y: number): number => evaluate(text, { x: pureNumber(x), y: pureNumber(y) }).value;

  it.each([
    "x + y",
    "x - 2 * y",
    "x * y",
    "x / y",
    "x^3",
    "x^y",
    "-x^2",
    "sqrt(x)",
    "abs(-x)",
    "exp(x * y)",
    "ln(x)",
    "log10(x)",
    "sin(x)",
    "cos(x)",
    "tan(x)",
    "asin(x / 3) / 1 rad",
    "acos(y / 3) / 1 rad",
    "atan(x * y) / 1 rad",
    "min(x, y)",
    "max(x, y)^2",
    "sqrt(x^2 + y^2) / (x - x + 2)",
    "x * x * x / x",
  ])("of %s agree with central differences", (text) => {
    const [x, y] = [1.3, 0.7];
    const amount = evaluate(text, {
      x: withCause(pureNumber(x), { name: "x", shift: 1 }),
      y: withCause(pureNumber(y), { name: "y", shift: 1 }),
    });
    const byX = (at(text, x + h, y) - at(text, x - h, y)) / (2 * h);
    const byY = (at(text, x, y + h) - at(text, x, y - h)) / (2 * h);
    // central difference: h^2/6 of the third derivative (1200 for the tangent) and 1e-16/h of rounding
    expect(amount.sensitivities.get("x") ?? 0).toBeCloseTo(byX, 7);
    expect(amount.sensitivities.get("y") ?? 0).toBeCloseTo(byY, 7);
  });

  it("know that an amount is the same amount wherever it stands", () => {
    const x = withCause(pureNumber(2), { name: "x", shift: 0.1 });
    expect(standardDeviation(evaluate("x - x", { x }))).toBe(0);
    expect(standardDeviation(evaluate("x + x", { x }))).toBeCloseTo(0.2, 15);
    const y = withCause(pureNumber(2), { name: "y", shift: 0.1 });
    expect(standardDeviation(evaluate("x + y", { x, y }))).toBeCloseTo(0.1 * Math.SQRT2, 15);
  });

  it("are refused where the slope has no bound, and only with doubt", () => {
    const zero = withCause(pureNumber(0), { name: "x", shift: 0.1 });
    expect(refusal("sqrt(x)", { x: zero }).message).toContain("has no bound here");
    expect(refusal("x^0.5", { x: zero }).message).toContain("has no bound here");
    expect(refusal("asin(x + 1)", { x: zero }).message).toContain("has no bound here");
    expect(evaluate("sqrt(x)", { x: pureNumber(0) }).value).toBe(0);
    expect(evaluate("sqrt(x - x)", { x: zero }).value).toBe(0);
  });
});

it("knows the functions it says it knows", () => {
  for (const name of functionNames)
    expect(evaluate(`${name}(0.5)`).value, name).toBeCloseTo(
      name === "min" || name === "max" ? 0.5 : Math[name === "ln" ? "log" : (name as "sin")](0.5),
      14,
    );
});
