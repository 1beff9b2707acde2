import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { baseUnitText, type DimensionName, dimensionless, dimensionNamed, sameDimension } from "./dimension.ts";
import { evaluateExpression } from "./expression.ts";
import { displayScale, formatNumber, formatQuantity } from "./format.ts";
import { type Phrase, parsePhrase } from "./phrase.ts";
import { parseUnit } from "./unit.ts";

const seed = 754;
const write = (value: number, dimension: DimensionName, options = {}): string =>
  formatQuantity(value, dimensionNamed(dimension), options);
const numberOf = (expression: Phrase["value"]): number =>
  evaluateExpression(expression, () => {
    throw new Error("no names here");
  }).value;

describe("formatQuantity", () => {
  it.each<[string, number, DimensionName, object]>([
    // the examples of the module header
    ["6.45 ± 0.22 µm", 6.45e-6, "length", { sigma: 2.2e-7 }],
    ["46.8 mA", 0.0468, "current", { digits: 3 }],
    ["565 K", 565, "temperature", { digits: 3 }],
    // two digits of the doubt, whatever its size (GUM 7.2.6, from memory)
    ["6.450 ± 0.022 µm", 6.45e-6, "length", { sigma: 2.2e-8 }],
    ["6.4 ± 2.2 µm", 6.45e-6, "length", { sigma: 2.2e-6 }],
    ["6.45 ± 0.10 µm", 6.45e-6, "length", { sigma: 0.996e-7 }],
    ["0 ± 22 µm", 1e-7, "length", { sigma: 2.2e-5 }],
    ["2.60e-6 ± 0.10e-6 1/K", 2.6e-6, "expansion coefficient", { sigma: 1e-7 }],
    ["5.00e24 ± 0.10e24 1/m^3", 5e24, "concentration", { sigma: 1e23 }],
    ["46.800 mA", 0.0468, "current", { sigma: 1e-12 }],
    ["46.80 ± ∞ mA", 0.0468, "current", { sigma: Number.POSITIVE_INFINITY }],
    ["46.80 mA", 0.0468, "current", { sigma: Number.NaN }],
    ["0.05000 V", 0.05, "voltage", { like: 12 }],
    ["\u22126.450 µm", -6.45e-6, "length", {}],
    ["\u22126.45 ± 0.22 µm", -6.45e-6, "length", { sigma: 2.2e-7 }],
    ["\u22121.000e25 1/m^3", -1e25, "concentration", {}],
    ["2.500°", (2.5 * Math.PI) / 180, "angle", {}],
    ["0 µm", 0, "length", {}],
    ["0 µm", -0, "length", {}],
    ["does not exist", Number.NaN, "length", {}],
    ["does not exist", Number.POSITIVE_INFINITY, "length", {}],
    // pure numbers: a share below one reads as per cent
    ["50.00 %", 0.5, "number", {}],
    ["2.000 %", 0.02, "number", {}],
    ["\u221230.00 %", -0.3, "number", {}],
    ["1.000", 1, "number", {}],
    ["20.00", 20, "number", {}],
    ["0", 0, "number", {}],
    ["1.000e-6", 1e-6, "number", {}],
    ["2.00 ± 0.10 %", 0.02, "number", { sigma: 1e-3 }],
  ])("%s", (text, value, dimension, options) => {
    expect(write(value, dimension, options)).toBe(text);
  });

  it("changes to the next unit at one of it", () => {
    expect(write(999e-9, "length")).toBe("999.0 nm");
    expect(write(1e-6, "length")).toBe("1.000 µm");
    expect(write(0.554, "power", { digits: 3 })).toBe("554 mW");
    expect(write(7200, "time")).toBe("2.000 h");
  });
});

const sizes = fc.double({ min: 1e-13, max: 1e9, noNaN: true }).chain((scale) => fc.constantFrom(scale, -scale));
const exponents = fc
  .tuple(fc.integer({ min: -12, max: 9 }), fc.integer({ min: 1000, max: 9999 }), fc.constantFrom(1, -1))
  .map(([e, m, sign]) => sign * m * 10 ** (e - 3));
const dimensions = fc.constantFrom<DimensionName>(
  ...("number length area mass time current angle frequency force stiffness pressure energy power voltage resistance resistivity capacitance density velocity".split(
    " ",
  ) as DimensionName[]),
  "thermal conductivity",
  "film coefficient",
  "expansion coefficient",
  "thermal resistance",
);

describe("what is written", () => {
  it("reads back as the same quantity, to the digits shown", () => {
    fc.assert(
      fc.property(fc.oneof(sizes, exponents), dimensions, fc.integer({ min: 3, max: 9 }), (value, name, digits) => {
        const text = write(value, name, { digits });
        const phrase = parsePhrase(text.replace(/°$/, " deg"));
        const amount = evaluateExpression(phrase.value, () => {
          throw new Error("no names here");
        });
        expect(sameDimension(amount.dimension, dimensionNamed(name)), text).toBe(true);
        // half a unit of the last digit shown, and the rounding of the unit
        expect(Math.abs(amount.value / value - 1), text).toBeLessThanOrEqual(0.5001 * 10 ** (1 - digits));
      }),
      { seed, numRuns: 1000 },
    );
  });

  it("reads back with its doubt, both to the last digit of the doubt", () => {
    fc.assert(
      fc.property(exponents, dimensions, fc.integer({ min: 2, max: 900 }), (value, name, share) => {
        const sigma = Math.abs(value) * share * 1e-3;
        const text = write(value, name, { sigma });
        const phrase = parsePhrase(text.replace(/°$/, " deg"));
        const found = numberOf(phrase.value);
        expect(phrase.spread?.kind, text).toBe("standard deviation");
        // "2.00 ± 0.10 %" is of a value in per cent, or of a number: a bare value is not lent per cent
        if (text.endsWith("%")) return;
        const step = 0.06 * sigma;
        expect(Math.abs(found - value), text).toBeLessThanOrEqual(step);
        expect(Math.abs(numberOf(phrase.spread!.amount) - sigma), text).toBeLessThanOrEqual(step);
      }),
      { seed, numRuns: 1000 },
    );
  });

  it("is never minus zero, and keeps the number of digits asked for", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e-3, max: 1e-3, noNaN: true }),
        fc.double({ min: 1e-9, max: 1, noNaN: true }),
        (value, sigma) => {
          expect(write(value, "resistivity", { sigma })).not.toMatch(/^[-\u2212]0(\.0*)? /);
        },
      ),
      { seed },
    );
    expect(formatNumber(-0, 3)).toBe("0");
    for (let e = -4; e < 6; e++)
      expect(
        formatNumber(10 ** e, 4)
          .replace(/^0\.0*/, "")
          .replace(".", "").length,
      ).toBe(Math.max(4, e + 1));
  });
});

it("shows units that the unit reader knows, with their factor", () => {
  for (const name of [
    "length",
    "area",
    "mass",
    "time",
    "current",
    "force",
    "power",
    "voltage",
    "resistance",
    "capacitance",
    "energy",
    "angle",
    "thermal conductance",
  ] as const) {
    for (let e = -18; e < 9; e++) {
      const scale = displayScale(10 ** e, dimensionNamed(name));
      expect(Math.abs(parseUnit(scale.text).factor / scale.factor - 1), scale.text).toBeLessThan(1e-14);
      expect(sameDimension(parseUnit(scale.text).dimension, dimensionNamed(name))).toBe(true);
    }
  }
  expect(displayScale(1, dimensionless)).toEqual({ text: "", factor: 1 });
  expect(displayScale(1, dimensionNamed("velocity")).text).toBe(baseUnitText(dimensionNamed("velocity")));
});
