import { describe, expect, it } from "vitest";
import { resistivityFromConcentration } from "./dopant-density.ts";
import { aroraMobility, intrinsicConcentration, intrinsicConcentrationMorin, masettiMobility } from "./mobility.ts";
import { modelResistivity, modelResistivityCoefficient, siliconResistivity, turnoverTemperature } from "./silicon-resistivity.ts";

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const q = 1.602176634e-19;

describe("mobility", () => {
  it("gives the boron value 73.17 cm²/(V s) at 1e19 (Masetti, Severi & Solmi 1983)", () => {
    expect(relative(1e4 * masettiMobility("boron", 1e25), 73.17)).toBeLessThan(1e-4);
  });

  it("gives the printed resistivities, within 11 % of the standard conversion", () => {
    for (const [dopant, density, printed] of [
      ["boron", 1e19, 8.53e-3],
      ["boron", 1e20, 1.252e-3],
      ["phosphorus", 1e19, 5.44e-3],
      ["phosphorus", 1e20, 8.52e-4],
      ["arsenic", 1e20, 1.025e-3],
    ] as const) {
      const rho = 100 / (q * density * 1e6 * masettiMobility(dopant, density * 1e6));
      expect(relative(rho, printed)).toBeLessThan(6e-4);
      expect(relative(rho, 100 * resistivityFromConcentration(dopant, density * 1e6))).toBeLessThan(0.11);
    }
  });

  it("uses 0.88 Tn^-0.146 as an exponent, not as the factor that some books print", () => {
    const standard = 8.8719e-3;
    const asExponent = 100 / (q * 1e25 * aroraMobility("hole", { T: 300, concentration: 1e25 }));
    const asFactor = 100 / (q * 1e25 * 1e-4 * (54.3 + (1.36e8 * 300 ** -2.23) / (1 + 0.88 * (1e19 / 2.35e17))));
    expect(relative(asExponent, standard)).toBeLessThan(0.025);
    expect(relative(asFactor, standard)).toBeGreaterThan(0.07);
  });
});

describe("intrinsic density", () => {
  it.each([
    [300, 9.7e9, 1.41e10],
    [500, 2.79e14, 3.5e14],
    [700, 3.06e16, 3.19e16],
    [900, 4.9e17, 4.31e17],
    [1000, 1.35e18, 1.1e18],
  ])("at %d K is %d (Misiakos & Tsamakis 1993) or %d (Morin & Maita 1954)", (T, misiakos, morin) => {
    // Three printed digits.
    expect(relative(1e-6 * intrinsicConcentration(T), misiakos)).toBeLessThan(5e-3);
    expect(relative(1e-6 * intrinsicConcentrationMorin(T), morin)).toBeLessThan(5e-3);
  });

  it("is 9.696e9 at 300 K", () => {
    expect(relative(1e-6 * intrinsicConcentration(300), 9.696e9)).toBeLessThan(1e-4);
  });
});

describe("resistivity over temperature", () => {
  const temperatures = [300, 400, 500, 600, 800, 900, 1000, 1200];
  const boron: [number, number[]][] = [
    [1e18, [4.358e-2, 5.197e-2, 6.253e-2, 7.46e-2, 9.587e-2, 7.276e-2, 3.453e-2, 8.458e-3]],
    [3e18, [2.227e-2, 2.504e-2, 2.825e-2, 3.185e-2, 3.96e-2, 4.109e-2, 3.255e-2, 9.638e-3]],
    [5e18, [1.557e-2, 1.741e-2, 1.938e-2, 2.149e-2, 2.6e-2, 2.774e-2, 2.601e-2, 1.021e-2]],
    [1e19, [9.076e-3, 1.021e-2, 1.129e-2, 1.238e-2, 1.459e-2, 1.564e-2, 1.611e-2, 1.018e-2]],
    [2e19, [5.01e-3, 5.7e-3, 6.323e-3, 6.913e-3, 8.051e-3, 8.599e-3, 9.061e-3, 8.131e-3]],
    [5e19, [2.156e-3, 2.488e-3, 2.781e-3, 3.05e-3, 3.543e-3, 3.774e-3, 3.994e-3, 4.247e-3]],
  ];

  it("reproduces the table of boron at print precision", () => {
    // Half a unit of the last of four digits, and 3 % of one for entries rounded at the edge (1.2375 printed as 1.238).
    for (const [density, row] of boron) {
      temperatures.forEach((T, i) => {
        expect(relative(100 * modelResistivity(T, { dopant: "boron", concentration: density * 1e6 }), row[i]!)).toBeLessThan(
          (0.53 * 10 ** (Math.floor(Math.log10(row[i]!)) - 3)) / row[i]!,
        );
      });
    }
    expect(relative(100 * modelResistivity(600, { dopant: "boron", concentration: 1e25 }), 1.2375e-2)).toBeLessThan(1e-4);
  });

  it("reproduces coefficient, turnover and greatest ratio of boron", () => {
    const printed: [number, number, number, number][] = [
      [1e18, 1618, 797, 2.2],
      [3e18, 1140, 878, 1.85],
      [5e18, 1163, 922, 1.79],
      [1e19, 1310, 987, 1.78],
      [2e19, 1485, 1063, 1.83],
      [5e19, 1669, 1185, 1.97],
    ];
    for (const [density, coefficient, turnover, ratio] of printed) {
      const material = { dopant: "boron", concentration: density * 1e6 } as const;
      expect(Math.abs(1e6 * modelResistivityCoefficient(300, material) - coefficient)).toBeLessThan(1);
      const found = turnoverTemperature(material);
      expect(Math.abs(found - turnover)).toBeLessThan(1);
      expect(Math.abs(modelResistivity(found, material) / modelResistivity(300, material) - ratio)).toBeLessThan(0.006);
    }
  });

  it("reproduces phosphorus", () => {
    const at = (T: number, density: number): number =>
      100 * modelResistivity(T, { dopant: "phosphorus", concentration: density * 1e6 });
    for (const [T, density, printed] of [
      [300, 1e18, 2.381e-2],
      [300, 1e19, 5.47e-3],
      [400, 1e19, 6.115e-3],
      [600, 1e19, 7.333e-3],
      [800, 1e19, 8.572e-3],
      [300, 5e19, 1.322e-3],
    ] as const) {
      expect(relative(at(T, density), printed)).toBeLessThan(4e-4);
    }
    for (const [density, turnover] of [
      [1e18, 826],
      [1e19, 1018],
      [5e19, 1225],
    ] as const) {
      expect(Math.abs(turnoverTemperature({ dopant: "phosphorus", concentration: density * 1e6 }) - turnover)).toBeLessThan(1);
    }
    for (const [density, coefficient] of [
      [1e19, 1246],
      [5e19, 1649],
    ] as const) {
      const found = modelResistivityCoefficient(300, { dopant: "phosphorus", concentration: density * 1e6 });
      expect(Math.abs(1e6 * found - coefficient)).toBeLessThan(1);
    }
  });

  it("passes through a measured value at 300 K with the shape of the model", () => {
    const law = siliconResistivity({ dopant: "boron", resistivityAt300: 1.5e-4 });
    expect(relative(law.at(300), 1.5e-4)).toBeLessThan(1e-12);
    expect(law.range).toEqual({ from: 250, to: 800 });
    // The quadratic 1 + 1.15e-3 d + 3.8e-7 d² is a least-squares form of the boron 5e18 column, good to 0.5 % over 300-800 K.
    for (let T = 300; T <= 800; T += 50) {
      const d = T - 300;
      expect(relative(law.at(T) / law.at(300), 1 + 1.15e-3 * d + 3.8e-7 * d * d)).toBeLessThan(0.005);
    }
  });

  it("ends its range at the turnover where that comes first", () => {
    const law = siliconResistivity({ dopant: "boron", concentration: 1e23 });
    const turnover = turnoverTemperature({ dopant: "boron", concentration: 1e23 });
    expect(turnover).toBeLessThan(800);
    expect(law.range.to).toBeCloseTo(turnover, 6);
  });

  it("is tabulated finely enough: within 2e-6 of the model everywhere", () => {
    const material = { dopant: "boron", concentration: 1e25 } as const;
    const law = siliconResistivity(material);
    for (let T = 250; T < 1390; T += 3.7) expect(relative(law.at(T), modelResistivity(T, material))).toBeLessThan(2e-6);
    // Past the grid the model itself answers.
    expect(law.at(1450)).toBe(modelResistivity(1450, material));
    expect(law.at(150)).toBe(modelResistivity(150, material));
  });

  it("refuses a density that is none", () => {
    expect(() => siliconResistivity({ dopant: "boron", concentration: 0 })).toThrow(RangeError);
  });
});
