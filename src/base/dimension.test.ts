import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  baseUnitText,
  type Dimension,
  type DimensionName,
  describeDimension,
  dimensionless,
  dimensionNamed,
  divideDimensions,
  multiplyDimensions,
  raiseDimension,
  sameDimension,
} from "./dimension.ts";
import { parseUnit } from "./unit.ts";

const seed = 1960;
const exponents = fc.integer({ min: -4, max: 4 });
const dimensions: fc.Arbitrary<Dimension> = fc.tuple(exponents, exponents, exponents, exponents, exponents, exponents);

/** Coherent derived units, SI brochure (2019), tables 4 and 5 (from memory); a name stands for the unit beside it. */
const coherent: Readonly<Record<DimensionName, string>> = {
  number: "%",
  length: "m",
  area: "m^2",
  volume: "m^3",
  mass: "kg",
  time: "s",
  current: "A",
  temperature: "K",
  angle: "rad",
  frequency: "Hz",
  velocity: "m/s",
  acceleration: "m/s^2",
  force: "N",
  stiffness: "N/m",
  "damping coefficient": "N s/m",
  pressure: "N/m^2",
  energy: "N m",
  power: "J/s",
  voltage: "W/A",
  resistance: "V/A",
  resistivity: "ohm m",
  charge: "A s",
  capacitance: "C/V",
  density: "kg/m^3",
  concentration: "m^-3",
  "thermal conductivity": "W/(m K)",
  "thermal conductance": "W/K",
  "thermal resistance": "K/W",
  "film coefficient": "W/(m^2 K)",
  "specific heat": "J/(kg K)",
  "expansion coefficient": "1/K",
};

describe("named dimensions", () => {
  it.each(Object.entries(coherent))("%s is that of %s", (name, unit) => {
    expect(sameDimension(dimensionNamed(name as DimensionName), parseUnit(unit).dimension)).toBe(true);
  });

  it("differ from each other", () => {
    const names = Object.keys(coherent) as DimensionName[];
    for (const a of names)
      for (const b of names) expect(sameDimension(dimensionNamed(a), dimensionNamed(b)), `${a}, ${b}`).toBe(a === b);
  });

  it("are told in words, the others by their SI unit", () => {
    expect(describeDimension(dimensionNamed("film coefficient"))).toBe("a film coefficient (power per area and kelvin)");
    expect(describeDimension(dimensionless)).toBe("a pure number");
    expect(describeDimension([0, 1, 1, 0, 0, 0])).toBe("a quantity in kg s");
  });

  it("refuse a name that there is none of", () => {
    expect(() => dimensionNamed("constructor" as DimensionName)).toThrow('Cannot find the dimension "constructor"');
  });
});

describe("arithmetic of dimensions", () => {
  it("divides back what it multiplied, and raises as it multiplies", () => {
    fc.assert(
      fc.property(dimensions, dimensions, (a, b) => {
        expect(sameDimension(divideDimensions(multiplyDimensions(a, b), b), a)).toBe(true);
        expect(sameDimension(raiseDimension(a, 3), multiplyDimensions(a, multiplyDimensions(a, a)))).toBe(true);
        expect(sameDimension(raiseDimension(raiseDimension(a, 1 / 3), 3), a)).toBe(true);
      }),
      { seed },
    );
  });

  it("writes units that read back as the same dimension", () => {
    fc.assert(
      fc.property(dimensions, (a) => {
        const text = baseUnitText(a);
        if (text !== "1") expect(sameDimension(parseUnit(text).dimension, a), text).toBe(true);
        else expect(sameDimension(a, dimensionless)).toBe(true);
      }),
      { seed, numRuns: 300 },
    );
  });

  it("writes broken powers", () => {
    expect(baseUnitText([0.5, 0, -1, 0, 0, 0])).toBe("m^0.5/s");
    expect(sameDimension(parseUnit("m^0.5/s").dimension, [0.5, 0, -1, 0, 0, 0])).toBe(true);
  });
});
