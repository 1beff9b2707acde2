import { describe, expect, it } from "vitest";
import { siliconMaterial } from "./silicon.ts";
import {
  checkSiliconThickness,
  pureSiliconConductivity,
  siliconConductivity,
  siliconDensity,
  siliconDopingFactor,
  siliconExpansion,
  siliconHeatCapacity,
  siliconSizeFactor,
} from "./silicon-thermal.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe("conductivity of silicon", () => {
  it("passes through the smoothed table (Glassbrenner & Slack 1964) and is a power law between rows", () => {
    expect(pureSiliconConductivity.at(300)).toBeCloseTo(156, 10);
    expect(pureSiliconConductivity.at(1000)).toBeCloseTo(31, 10);
    // Five printed digits.
    expect(relative(pureSiliconConductivity.at(350), 126.18)).toBeLessThan(1e-4);
    expect(pureSiliconConductivity.range).toEqual({ from: 100, to: 1681 });
  });

  it("differs from the quadratic fit of textbooks by what is known, -10.4 % at 1200 K and -22.6 % at 1400 K (fit from memory: Sze)", () => {
    const quadratic = (T: number): number => 1 / (3e-4 + 1.56e-5 * T + 1.65e-8 * T * T);
    // Deviations are printed to 0.1 %.
    expect(quadratic(600) / pureSiliconConductivity.at(600) - 1).toBeCloseTo(0.002, 3);
    expect(quadratic(1200) / pureSiliconConductivity.at(1200) - 1).toBeCloseTo(-0.104, 2.9);
    expect(quadratic(1400) / pureSiliconConductivity.at(1400) - 1).toBeCloseTo(-0.226, 2.9);
  });

  it("agrees with an independent measurement: 125 ± 19 at 303 K within twice, 46 ± 7 at 698 K (Morris & Hust 1961)", () => {
    expect(Math.abs(pureSiliconConductivity.at(303) - 125)).toBeLessThan(2 * 19);
    expect(Math.abs(pureSiliconConductivity.at(698) - 46)).toBeLessThan(7);
  });

  it("takes the doping factor through its table, in the logarithm of the density", () => {
    expect(siliconDopingFactor(1e20)).toBe(1);
    expect(siliconDopingFactor(1e24)).toBeCloseTo(0.95, 12);
    expect(siliconDopingFactor(1e25)).toBeCloseTo(0.75, 12);
    expect(siliconDopingFactor(Math.sqrt(1e24 * 1e25))).toBeCloseTo(0.85, 12);
    expect(siliconDopingFactor(3e26)).toBeCloseTo(0.4, 12);
    expect(() => siliconDopingFactor(4e26)).toThrow(RangeError);
  });

  it("fades the doping effect towards 900 K on a straight line", () => {
    const law = siliconConductivity({ concentration: 1e25 });
    expect(law.at(300)).toBeCloseTo(156 * 0.75, 9);
    expect(law.at(600)).toBeCloseTo(64 * 0.875, 9);
    expect(law.at(900)).toBeCloseTo(35.6, 9);
    expect(law.at(1000)).toBeCloseTo(31, 9);
    expect(law.source.consulted).toBe("from memory");
    // Spread 15-20 % at the heaviest doping, 5 % at none.
    expect(siliconConductivity({ concentration: 1e26 }).relativeSpread).toBeGreaterThan(0.15);
    expect(siliconConductivity({ concentration: 1e20 }).relativeSpread).toBe(0.05);
  });

  it("loses 40 % in a layer of 0.42 um and less than 10 % from 3 um up (Asheghi et al. 1998)", () => {
    expect(siliconSizeFactor(0.42e-6, 300)).toBeCloseTo(0.6, 12);
    expect(siliconSizeFactor(2.999e-6, 300)).toBeGreaterThan(0.9);
    expect(siliconSizeFactor(40e-6, 300)).toBe(1);
    expect(siliconConductivity({ concentration: 1e20, thickness: 0.42e-6 }).at(300)).toBeCloseTo(0.6 * 156, 9);
    expect(checkSiliconThickness(2e-6, "leg")?.code).toBe("thin-silicon-conductivity");
    expect(checkSiliconThickness(40e-6, "leg")).toBeUndefined();
  });
});

describe("specific heat of silicon (Shomate form, NIST-JANAF)", () => {
  it.each([
    [298.15, 711.8],
    [400, 788.8],
    [500, 830.9],
    [600, 860.0],
    [700, 883.0],
    [800, 902.7],
    [900, 920.5],
    [1000, 937.2],
    [1200, 968.6],
    [1400, 998.7],
  ])("at %d K is %d J/(kg K)", (T, cp) => {
    // Printed to 0.1.
    expect(Math.abs(siliconHeatCapacity.at(T) - cp)).toBeLessThan(0.051);
  });

  it("gives the diffusivity 94 mm²/s at 298 K and 32.0 at 600 K", () => {
    const diffusivity = (T: number): number => pureSiliconConductivity.at(T) / (siliconDensity.at(T) * siliconHeatCapacity.at(T));
    expect(Math.abs(diffusivity(300) * 1e6 - 94)).toBeLessThan(0.6);
    expect(Math.abs(diffusivity(600) * 1e6 - 32.0)).toBeLessThan(0.06);
  });
});

describe("expansion of silicon (Okada & Tokumaru 1984)", () => {
  it.each([
    [293.15, 2.5099, 0],
    [300, 2.5681, 0.01739],
    [350, 2.9329, 0.15533],
    [400, 3.2119, 0.30926],
    [500, 3.5941, 0.65115],
    [600, 3.8311, 1.02329],
    [700, 3.9874, 1.41471],
    [800, 4.0989, 1.8193],
    [900, 4.1855, 2.23367],
    [1000, 4.2582, 2.65593],
    [1200, 4.3841, 3.52045],
  ])("at %d K has coefficient %d e-6 and strain %d e-3 from 293.15 K", (T, alpha, strain) => {
    // Half a unit of the last printed digit.
    expect(Math.abs(siliconExpansion.at(T) * 1e6 - alpha)).toBeLessThan(0.51e-4);
    expect(Math.abs(siliconExpansion.strainBetween(293.15, T) * 1e3 - strain)).toBeLessThan(0.51e-5);
  });

  it("does not carry the misplaced bracket of circulating code, which gives 3.02e-6 at 300 K", () => {
    const misplaced = 3.725e-6 * (1 - Math.exp(-5.88e-3 * (300 - 124)) + 5.548e-4 * 300);
    expect(misplaced).toBeGreaterThan(2.9e-6);
    expect(relative(siliconExpansion.at(300), 2.5681e-6)).toBeLessThan(1e-4);
  });

  it("lies within 2.4 % of a later measurement (Watanabe, Yamada & Okaji 2004, polynomial from memory)", () => {
    const watanabe = (T: number): number =>
      (-3.0451 + T * (0.035705 + T * (-7.981e-5 + T * (9.5783e-8 + T * (-5.8919e-11 + T * 1.4614e-14))))) * 1e-6;
    for (const T of [300, 500, 700, 1000]) expect(relative(siliconExpansion.at(T), watanabe(T))).toBeLessThan(0.024);
  });

  it("leaves the published strain after anodic bonding to glass of constant expansion", () => {
    // Free contraction of silicon minus that of glass from the bond temperature to 20 degC, in ppm, printed as whole numbers.
    const mismatch = (celsius: number, glass: number): number =>
      1e6 * (glass * (celsius - 20) - siliconExpansion.strainBetween(293.15, celsius + 273.15));
    const rows: [number, number[]][] = [
      [3.2e-6, [25, 56, 92, 131]],
      [3.25e-6, [11, 40, 73, 110]],
      [3.3e-6, [-3, 23, 54, 88]],
    ];
    for (const [glass, strains] of rows) {
      [300, 350, 400, 450].forEach((celsius, i) => {
        // The note counts silicon in tension positive, that is where silicon has shrunk more than the glass.
        expect(Math.abs(-mismatch(celsius, glass) - strains[i]!)).toBeLessThan(0.6);
      });
    }
    // Bond temperature without strain: 252, 278, 306 degC.
    for (const [glass, celsius] of [
      [3.2e-6, 252],
      [3.25e-6, 278],
      [3.3e-6, 306],
    ] as const) {
      expect(mismatch(celsius - 1, glass) * mismatch(celsius + 1, glass)).toBeLessThan(0);
    }
  });
});

describe("silicon of a device", () => {
  it("knows its moduli in the direction of the part", () => {
    const along = siliconMaterial({ dopant: "boron", resistivityAt300: 1.5e-4, waferPlane: "100", axisAngle: 0 });
    expect(relative(along.youngsModulus.at(298.15), 168.93e9)).toBeLessThan(1e-4);
    expect(relative(along.poissonRatio.at(298.15), 0.06246)).toBeLessThan(1e-3);
    expect(along.resistivity.at(300)).toBeCloseTo(1.5e-4, 15);
    // The two directions of the standard differ by up to 3 % for boron.
    expect(relative(along.concentration, 5e24)).toBeLessThan(0.03);
    const diagonal = siliconMaterial({ dopant: "boron", resistivityAt300: 1.5e-4, waferPlane: "100", axisAngle: Math.PI / 4 });
    // A wafer cut 45 degrees off: 130 GPa.
    expect(relative(diagonal.youngsModulus.at(298.15), 130.0e9)).toBeLessThan(5e-4);
    const tilted = siliconMaterial({
      dopant: "boron",
      resistivityAt300: 1.5e-4,
      waferPlane: "100",
      axisAngle: (3 * Math.PI) / 180,
    });
    expect(relative(tilted.youngsModulus.at(298.15), 168.4e9)).toBeLessThan(5e-4);
  });

  it("accepts a density of dopant in place of a resistivity", () => {
    const heavy = siliconMaterial({
      dopant: "phosphorus",
      concentration: 1e25,
      waferPlane: "111",
      axisAngle: 0.3,
      thickness: 1e-6,
    });
    expect(heavy.concentration).toBe(1e25);
    expect(heavy.resistivity.relativeSpread).toBe(0.2);
    expect(heavy.conductivity.at(300)).toBeLessThan(0.75 * 156);
  });
});
