import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ExpansionLaw, Law } from "#base";
import { expansionFromLaw } from "./expansion.ts";
import { constantLaw, tableLaw } from "./law-makers.ts";
import { checkLawRange } from "./law-range.ts";
import { findGas, findMaterial, gasNames, materialNames } from "./library.ts";
import { siliconMaterial } from "./silicon.ts";

const bibliography = readFileSync(new URL("../../docs/references.bib", import.meta.url), "utf8");

function isLaw(value: unknown): value is Law {
  return typeof value === "object" && value !== null && "slopeAt" in value && "at" in value;
}

function lawsOf(record: object, owner: string): [string, Law][] {
  return Object.entries(record).flatMap(([name, value]): [string, Law][] => (isLaw(value) ? [[`${owner}: ${name}`, value]] : []));
}

const deviceSilicon = siliconMaterial({ dopant: "phosphorus", resistivityAt300: 1e-4, waferPlane: "100", axisAngle: 0.2 });
const thinSilicon = siliconMaterial({ dopant: "boron", concentration: 2e25, waferPlane: "111", axisAngle: 0, thickness: 1e-6 });

const laws: [string, Law][] = [
  ...materialNames().flatMap((name) => lawsOf(findMaterial(name)!, name)),
  ...lawsOf(deviceSilicon, "silicon of a device"),
  ...lawsOf(thinSilicon, "thin silicon"),
];

/** Quantities that may be negative or zero. */
const signed = /residualStress/;

describe("every law of the library", () => {
  it("is there", () => {
    expect(laws.length).toBeGreaterThan(130);
    expect(materialNames()).toHaveLength(22);
  });

  it.each(laws)("%s keeps the contract", (name, law) => {
    const { from, to } = law.range;
    expect(to).toBeGreaterThan(from);
    expect(law.relativeSpread).toBeGreaterThan(0);
    expect(law.relativeSpread).toBeLessThanOrEqual(0.5);
    expect(law.source.key === "common practice" || bibliography.includes(`{${law.source.key},`)).toBe(true);
    // Steps that never land on a row of a table, where the slope jumps.
    for (let i = 0; i < 40; i++) {
      const T = from + ((i + 0.437) / 40) * (to - from);
      const value = law.at(T);
      expect(Number.isFinite(value)).toBe(true);
      if (!signed.test(name)) expect(value).toBeGreaterThan(0);
      const h = 1e-3;
      const difference = (law.at(T + h) - law.at(T - h)) / (2 * h);
      // Rounding of the difference is about 1e-16/1e-3 of the value; its curvature error is below that.
      expect(Math.abs(difference - law.slopeAt(T))).toBeLessThan(1e-6 * Math.abs(law.slopeAt(T)) + (2e-12 * Math.abs(value)) / h);
    }
    expect(checkLawRange(law, (from + to) / 2, name)).toBeUndefined();
    expect(checkLawRange(law, to * 1.01, name)?.severity).toBe("warning");
    expect(checkLawRange(law, to * 1.2, name)?.severity).toBe("error");
  });

  it.each(laws.filter((entry): entry is [string, ExpansionLaw] => "strainBetween" in entry[1]))(
    "%s integrates its coefficient",
    (_, law) => {
      const { from, to } = law.range;
      const temperature = fc.double({ min: from, max: to, noNaN: true });
      const numerical = expansionFromLaw(law);
      fc.assert(
        fc.property(temperature, temperature, temperature, (a, b, c) => {
          expect(Math.abs(law.strainBetween(a, b) + law.strainBetween(b, c) - law.strainBetween(a, c))).toBeLessThan(1e-15);
          // Three-point Gauss over 5 K on a smooth law reaches rounding.
          expect(Math.abs(law.strainBetween(a, b) - numerical.strainBetween(a, b))).toBeLessThan(1e-14);
        }),
        { seed: 11, numRuns: 30 },
      );
    },
  );
});

describe("looking up", () => {
  it("finds trade names whatever their capitals, and says when there is none", () => {
    expect(findMaterial("Borosilicate glass 3.3")?.name).toBe("borosilicate glass 3.3");
    expect(findMaterial("silicon")?.kind).toBe("crystal");
    expect(findMaterial("unobtainium")).toBeUndefined();
    expect(findGas("AIR")?.name).toBe("air");
    expect(findGas("gold")).toBeUndefined();
    expect(gasNames()).toEqual(["air", "nitrogen", "helium", "argon"]);
  });
});

describe("metals", () => {
  it.each([
    ["aluminium", 2.14],
    ["copper", 2.3],
    ["gold", 2.4],
    ["nickel", 2.15],
    ["tungsten", 3.14],
    ["titanium", 3.14],
    ["chromium", 4.0],
  ])("%s has k rho/T = %d e-8 V²/K² at 293 K (Wiedemann-Franz, ideal 2.44)", (name, ratio) => {
    const metal = findMaterial(name)!;
    const found = (metal.conductivity!.at(293.15) * metal.resistivity!.at(293.15)) / 293.15;
    expect(Math.abs(found * 1e8 - ratio)).toBeLessThan(0.011);
  });
});

describe("glasses and films", () => {
  it("states the resistivity of glass with the right unit", () => {
    expect(findMaterial("borosilicate glass 3.3")!.notes!.join(" ")).toMatch(/10\^8\.0 ohm cm at 250 degC/);
  });

  it("does not take dense ceramic for a nitride film, nor the misprint 0.073 W/(cm K) for SU-8", () => {
    expect(findMaterial("silicon nitride")!.conductivity!.at(300)).toBeLessThan(4);
    expect(findMaterial("SU-8")!.conductivity!.at(300)).toBeLessThan(0.25);
  });

  it("gives silica 742 J/(kg K) at 298 K (Shomate form, NIST-JANAF)", () => {
    expect(Math.abs(findMaterial("fused silica")!.heatCapacity!.at(298.15) - 742)).toBeLessThan(0.6);
  });
});

describe("a finding about the range", () => {
  const label = {
    unit: "W/(m K)",
    range: { from: 300, to: 800 },
    relativeSpread: 0.1,
    source: { key: "okada1984", consulted: "read", note: "test" },
  } as const;
  it("names quantity, range, temperature found and source", () => {
    const finding = checkLawRange(constantLaw(1, label), 850, "drive, case hold")!;
    expect(finding.code).toBe("outside-law-range");
    expect(finding.message).toMatch(/thermal conductivity.*300 to 800 K, found 850 K/);
    expect(finding.source).toMatch(/okada1984.*test/);
    expect([finding.measured, finding.limit, finding.unit, finding.severity]).toEqual([850, 800, "K", "warning"]);
    expect(checkLawRange(constantLaw(1, label), 200, "x")?.severity).toBe("error");
    expect(checkLawRange(constantLaw(1, label), Number.NaN, "x")?.severity).toBe("error");
  });
});

describe("table laws", () => {
  const label = { unit: "1/K", relativeSpread: 0.1, source: { key: "mine", consulted: "given by the user" } } as const;
  it("are straight between rows and go on beyond them", () => {
    const law = tableLaw([300, 400, 600], [1, 3, 2], { ...label, interpolation: "linear" });
    expect([law.at(350), law.at(500), law.at(700), law.at(250)]).toEqual([2, 2.5, 1.5, 0]);
    expect([law.slopeAt(350), law.slopeAt(400)]).toEqual([0.02, -0.005]);
    expect(law.range).toEqual({ from: 300, to: 600 });
    // Trapezoids by hand; a kink inside a step of the rule costs below 2 K² times the change of slope, here it lies on a step.
    expect(expansionFromLaw(law).strainBetween(300, 600)).toBeCloseTo(200 + 500, 9);
  });

  it("refuse tables that are none", () => {
    expect(() => tableLaw([300], [1], { ...label, interpolation: "linear" })).toThrow(RangeError);
    expect(() => tableLaw([300, 300], [1, 2], { ...label, interpolation: "linear" })).toThrow(RangeError);
    expect(() => tableLaw([300, 400], [1], { ...label, interpolation: "linear" })).toThrow(RangeError);
    expect(() => tableLaw([300, 400], [1, -1], { ...label, interpolation: "logarithmic" })).toThrow(RangeError);
    expect(() => tableLaw([300, 400], [1, Number.NaN], { ...label, interpolation: "linear" })).toThrow(RangeError);
  });
});
