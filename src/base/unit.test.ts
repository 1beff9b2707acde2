import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Dimension, dimensionNamed, divideDimensions, multiplyDimensions, sameDimension } from "./dimension.ts";
import { unitPrefixes, unitSymbols } from "./unit.table.ts";
import { findUnitSymbol, parseUnit, UnitError } from "./unit.ts";

const seed = 20190520;

function refusal(text: string): UnitError {
  try {
    parseUnit(text);
  } catch (error) {
    if (error instanceof UnitError) return error;
    throw error;
  }
  throw new Error(`"${text}" was read`);
}

/** Independent list: symbol, SI value, exponents of [m, kg, s, A, K, rad]. SI brochure (2019), tables 2 to 8; NIST SP 811, appendix B. From memory. */
const published: readonly (readonly [string, number, Dimension])[] = [
  ["m", 1, [1, 0, 0, 0, 0, 0]],
  ["g", 0.001, [0, 1, 0, 0, 0, 0]],
  ["s", 1, [0, 0, 1, 0, 0, 0]],
  ["A", 1, [0, 0, 0, 1, 0, 0]],
  ["K", 1, [0, 0, 0, 0, 1, 0]],
  ["rad", 1, [0, 0, 0, 0, 0, 1]],
  ["min", 60, [0, 0, 1, 0, 0, 0]],
  ["h", 3600, [0, 0, 1, 0, 0, 0]],
  ["day", 86400, [0, 0, 1, 0, 0, 0]],
  ["days", 86400, [0, 0, 1, 0, 0, 0]],
  ["week", 604800, [0, 0, 1, 0, 0, 0]],
  ["weeks", 604800, [0, 0, 1, 0, 0, 0]],
  ["degC", 1, [0, 0, 0, 0, 1, 0]],
  ["°C", 1, [0, 0, 0, 0, 1, 0]],
  ["deg", 0.017453292519943295, [0, 0, 0, 0, 0, 1]],
  ["°", 0.017453292519943295, [0, 0, 0, 0, 0, 1]],
  ["Hz", 1, [0, 0, -1, 0, 0, 0]],
  ["N", 1, [1, 1, -2, 0, 0, 0]],
  ["Pa", 1, [-1, 1, -2, 0, 0, 0]],
  ["J", 1, [2, 1, -2, 0, 0, 0]],
  ["W", 1, [2, 1, -3, 0, 0, 0]],
  ["C", 1, [0, 0, 1, 1, 0, 0]],
  ["V", 1, [2, 1, -3, -1, 0, 0]],
  ["F", 1, [-2, -1, 4, 2, 0, 0]],
  ["ohm", 1, [2, 1, -3, -2, 0, 0]],
  ["\u03a9", 1, [2, 1, -3, -2, 0, 0]],
  ["\u2126", 1, [2, 1, -3, -2, 0, 0]],
  ["S", 1, [-2, -1, 3, 2, 0, 0]],
  ["H", 1, [2, 1, -2, -2, 0, 0]],
  ["T", 1, [0, 1, -2, -1, 0, 0]],
  ["eV", 1.602176634e-19, [2, 1, -2, 0, 0, 0]],
  ["bar", 100000, [-1, 1, -2, 0, 0, 0]],
  ["atm", 101325, [-1, 1, -2, 0, 0, 0]],
  ["Torr", 133.32236842105263, [-1, 1, -2, 0, 0, 0]],
  ["gn", 9.80665, [1, 0, -2, 0, 0, 0]],
  ["sq", 1, [0, 0, 0, 0, 0, 0]],
  ["%", 0.01, [0, 0, 0, 0, 0, 0]],
  ["ppm", 1e-6, [0, 0, 0, 0, 0, 0]],
  ["ppb", 1e-9, [0, 0, 0, 0, 0, 0]],
];

/** SI brochure (2019), table 7: decimal prefixes. From memory. */
const publishedPrefixes: readonly (readonly [string, number])[] = [
  ["a", 1e-18],
  ["f", 1e-15],
  ["p", 1e-12],
  ["n", 1e-9],
  ["u", 1e-6],
  ["\u00b5", 1e-6],
  ["\u03bc", 1e-6],
  ["m", 1e-3],
  ["c", 1e-2],
  ["d", 1e-1],
  ["k", 1e3],
  ["M", 1e6],
  ["G", 1e9],
  ["T", 1e12],
];

describe("unit table", () => {
  it.each(published)("%s has its published SI value and dimension", (symbol, factor, dimension) => {
    const unit = parseUnit(symbol);
    // two roundings of a double at most
    expect(Math.abs(unit.factor / factor - 1)).toBeLessThan(5e-16);
    expect(unit.dimension).toEqual(dimension);
  });

  it("has no symbol beyond the published list, and none twice", () => {
    expect(unitSymbols.map((unit) => unit.symbol).sort()).toEqual(published.map(([symbol]) => symbol).sort());
    expect([...unitPrefixes].sort()).toEqual([...publishedPrefixes].sort());
  });

  it("sets the zero of degree Celsius at 273.15 K, and of no other unit (SI brochure, 2.3.1)", () => {
    for (const { symbol } of unitSymbols)
      expect(parseUnit(symbol).offset).toBe(symbol === "°C" || symbol === "degC" ? 273.15 : 0);
  });

  it("takes every prefix before every unit that allows one, and before no other", () => {
    for (const { symbol, factor, prefixable } of unitSymbols) {
      for (const [prefix, scale] of publishedPrefixes) {
        const found = findUnitSymbol(prefix + symbol);
        // a symbol of its own wins over a prefix: min is a minute, not a milli-inch
        if (unitSymbols.some((other) => other.symbol === prefix + symbol)) continue;
        if (prefixable) expect(Math.abs(found!.factor / (scale * factor) - 1), prefix + symbol).toBeLessThan(5e-16);
        else expect(found, prefix + symbol).toBeUndefined();
      }
    }
  });

  it("never lets a prefixed unit hide another unit of the table", () => {
    const plain = new Set(unitSymbols.map((unit) => unit.symbol));
    const hidden = unitSymbols.flatMap(({ symbol, prefixable }) =>
      prefixable ? [...unitPrefixes.keys()].map((prefix) => prefix + symbol).filter((word) => plain.has(word)) : [],
    );
    expect(hidden).toEqual([]);
  });
});

describe("parseUnit", () => {
  it.each([
    ["um", 1e-6, "length"],
    ["\u00b5m", 1e-6, "length"],
    ["\u03bcm", 1e-6, "length"],
    ["um^2", 1e-12, "area"],
    ["µm²", 1e-12, "area"],
    ["um2", 1e-12, "area"],
    ["cm^-3", 1e6, "concentration"],
    ["cm⁻³", 1e6, "concentration"],
    ["1/cm^3", 1e6, "concentration"],
    ["ohm cm", 1e-2, "resistivity"],
    ["mΩ·cm", 1e-5, "resistivity"],
    ["m\u2126*cm", 1e-5, "resistivity"],
    ["W/(m K)", 1, "thermal conductivity"],
    ["W m^-1 K^-1", 1, "thermal conductivity"],
    ["W/m/K", 1, "thermal conductivity"],
    ["W / (m K)", 1, "thermal conductivity"],
    ["mW/(mm K)", 1, "thermal conductivity"],
    ["W/(m² K)", 1, "film coefficient"],
    ["N/m", 1, "stiffness"],
    ["uN/um", 1, "stiffness"],
    ["g/cm^3", 1000, "density"],
    ["J/(kg K)", 1, "specific heat"],
    ["1/K", 1, "expansion coefficient"],
    ["ppm/K", 1e-6, "expansion coefficient"],
    ["ppm/°C", 1e-6, "expansion coefficient"],
    ["K/W", 1, "thermal resistance"],
    ["m/s^2", 1, "acceleration"],
    ["s^-1", 1, "frequency"],
    ["kg m/s^2", 1, "force"],
    ["um^(2)", 1e-12, "area"],
    ["N/um^2", 1e12, "pressure"],
    [" V ", 1, "voltage"],
  ] as const)("reads %s", (text, factor, dimension) => {
    const unit = parseUnit(text);
    // a power or product of prefixes rounds a few times
    expect(Math.abs(unit.factor / factor - 1)).toBeLessThan(1e-15);
    expect(sameDimension(unit.dimension, dimensionNamed(dimension))).toBe(true);
  });

  it("raises to a broken power", () => {
    const unit = parseUnit("MPa^0.5");
    expect(unit.factor).toBeCloseTo(1000, 10);
    expect(unit.dimension).toEqual([-0.5, 0.5, -1, 0, 0, 0]);
  });

  it("loses the zero of degree Celsius inside a product", () => {
    expect(parseUnit("mW/°C").offset).toBe(0);
    expect(parseUnit("°C^2").offset).toBe(0);
  });

  it("refuses a bar followed by a product, with the way out", () => {
    for (const text of ["W/m K", "W/m*K", "W/m·K", "J/kg K"]) {
      expect(refusal(text).message).toBe(
        `"${text}" can be read in two ways: put what stands under the bar in brackets, as in W/(m K)`,
      );
    }
    expect(refusal("W/m K").at).toBe(4);
  });

  it.each([
    ["microns", "um"],
    ["micron", "um"],
    ["micrometers", "um"],
    ["Ohm", "ohm"],
    ["ohms", "ohm"],
    ["volts", "V"],
    ["degrees", "deg"],
    ["celsius", "degC"],
    ["torr", "Torr"],
    ["percent", "%"],
    ["Mpa", "MPa"],
    ["khz", "kHz"],
  ])("names the nearest unit for %s", (word, meant) => {
    expect(refusal(word).message).toBe(`"${word}" is not a unit known here; the nearest is "${meant}"`);
  });

  it("gives examples where nothing is near", () => {
    expect(refusal("furlongs").message).toBe(
      '"furlongs" is not a unit known here; examples of units are um, V, mA, K, MPa, W/(m K)',
    );
  });

  it.each(["", "/", "(m", "m)", "m //s", "m/", "((((((m))))))", "m^", "5", "m,", "constructor", "__proto__", "m".repeat(81)])(
    "refuses %j",
    (text) => {
      expect(refusal(text).message).not.toBe("");
    },
  );

  const word = fc.constantFrom(..."m um cm g kg s ms A mA K rad V ohm W N Pa Hz F C J T H S % ppm".split(" "));
  const power = fc.constantFrom("", "^2", "^-1", "^-3", "²", "⁻²", "3");
  const factor = fc.tuple(word, power).map(([symbol, exponent]) => symbol + exponent);

  it("gives the product of the parts for a product, the quotient for a quotient", () => {
    fc.assert(
      fc.property(factor, factor, fc.constantFrom(" ", "*", "·", " * "), (left, right, sign) => {
        const a = parseUnit(left);
        const b = parseUnit(right);
        const product = parseUnit(left + sign + right);
        const quotient = parseUnit(`${left}/(${right})`);
        // one rounding each
        expect(Math.abs(product.factor / (a.factor * b.factor) - 1)).toBeLessThan(5e-16);
        expect(Math.abs((quotient.factor * b.factor) / a.factor - 1)).toBeLessThan(1e-15);
        expect(sameDimension(product.dimension, multiplyDimensions(a.dimension, b.dimension))).toBe(true);
        expect(sameDimension(quotient.dimension, divideDimensions(a.dimension, b.dimension))).toBe(true);
      }),
      { seed, numRuns: 300 },
    );
  });

  it("either reads or refuses any text, and never fails otherwise", () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(..."mKsVW/(^)*· 123-µΩ°%²⁻oh."), maxLength: 14 }), (text) => {
        try {
          expect(Number.isFinite(parseUnit(text).factor)).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(UnitError);
        }
      }),
      { seed, numRuns: 2000 },
    );
  });
});
