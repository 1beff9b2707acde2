/** Laws that hold for every network of current and heat, whatever its numbers: the first law, superposition, likeness. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Chip, openChip } from "#chip";
import { askMetric, metricOf } from "./chip-text.ts";

interface Star {
  /** Angles [deg] and lengths [um] of the arms from the middle. */
  readonly arms: readonly { readonly length: number; readonly width: number; readonly volts: number }[];
  readonly gas: string;
  readonly emissivity: number;
  readonly heat: string;
  readonly rho: string;
}

/** Arms from a common middle to an anchor each; the first two are plus and minus, the others nets of their own. */
function star({ arms, gas, emissivity, heat, rho }: Star): Chip {
  const nets = arms.map((_, i) => (i === 0 ? "plus" : i === 1 ? "minus" : `net ${i}`));
  const at = (i: number, r: number): string => {
    const angle = (2 * Math.PI * i) / arms.length + 0.3;
    return `{ x: ${(r * Math.cos(angle)).toFixed(4)} um, y: ${(r * Math.sin(angle)).toFixed(4)} um }`;
  };
  const others = nets.slice(2).map((net, i) => `${net}: ${arms[i + 2]!.volts} V`);
  return openChip(
    `chip: star
version: 1
surroundings: { ${gas}, temperature: 300 K, mount: free, base film: 300 W/(m^2 K) }
materials:
  m: { conductivity: 60 W/(m K), resistivity: ${rho}, expansion: 3 ppm/K, young modulus: 160 GPa, poisson ratio: 0.25, density: 2330 kg/m^3, specific heat: 700 J/(kg K) }
process:
  flow: idealised
  silicon thickness: 40 um
  gap under silicon: 10 um
  glass: { material: borosilicate glass 3.3, thickness: 0.5 mm }
  silicon: { material: m, emissivity: ${emissivity} }
devices:
  one:
    is: composition
    heat loss: gas
    points:
      o: { x: 0 um, y: 0 um }
${arms.map((arm, i) => `      p${i}: ${at(i, arm.length)}\n      f${i}: ${at(i, arm.length + 48)}`).join("\n")}
    parts:
${arms.map((arm, i) => `      a${i}: { is: anchor, at: f${i}, width: 100 um, height: 100 um${heat}, wire: ${nets[i]} }\n      b${i}: { is: beam, from: o, to: p${i}, width: ${arm.width} um }`).join("\n")}
drive:
  cases:
    on: { pads: ${arms[0]!.volts} V${others.length === 0 ? "" : `, potentials: { ${others.join(", ")} }`} }
`,
    { file: "star.yaml" },
  );
}

const arm = fc.record({
  length: fc.integer({ min: 250, max: 500 }),
  width: fc.integer({ min: 4, max: 12 }),
  volts: fc.integer({ min: -3, max: 3 }),
});
const anyStar = fc.record({
  arms: fc.array(arm, { minLength: 3, maxLength: 5 }),
  gas: fc.constantFrom("gas: vacuum", "gas: air, pressure: 101 kPa", "gas: air, pressure: 100 Pa"),
  emissivity: fc.constantFrom(0, 0.7),
  heat: fc.constantFrom("", ", heat: ideal", ", thermal resistance: 700 K/W"),
  rho: fc.constantFrom("1e-4 ohm m"),
});
const rise = (chip: Chip, part: string): number => askMetric(chip, "mean temperature", { caseName: "on", where: part }) - 300;

describe("every network", () => {
  it("gives off by gas, radiation and anchors what all of its nets bring, and draws no less than nothing", () => {
    fc.assert(
      fc.property(anyStar, (given) => {
        const chip = star(given);
        const power = metricOf(chip, "pad power");
        expect(power).toBeGreaterThanOrEqual(0);
        // by Ohm: currents of the arms from their net to the middle, whatever is warm
        const arms = given.arms.map((_, i) => askMetric(chip, "current through", { caseName: "on", where: `b${i}` }));
        const sum = arms.reduce((total, value) => total + value, 0);
        const largest = Math.max(...arms.map(Math.abs));
        expect(Math.abs(sum)).toBeLessThanOrEqual(1e-8 * largest + 1e-15);
        const volts = given.arms.map(({ volts }, i) => (i === 1 ? 0 : volts));
        const brought = arms.reduce((total, value, i) => total - value * volts[i]!, 0);
        expect(Math.abs(power - brought)).toBeLessThanOrEqual(1e-8 * Math.abs(power) + 1e-12);
        if (power < 1e-9) return;
        const shares = ["share of heat to gas", "share of heat radiated", "share of heat to the substrate"].map((word) =>
          metricOf(chip, word),
        );
        for (const share of shares) expect(share).toBeGreaterThanOrEqual(-1e-12);
        // the mesh is refined until fluxes and losses balance to 1e-4
        expect(Math.abs(shares.reduce((total, share) => total + share, 0) - 1)).toBeLessThan(2e-4);
        if (given.gas === "gas: vacuum") expect(Math.abs(shares[0]!)).toBeLessThan(1e-9);
        if (given.emissivity === 0) expect(shares[1]).toBe(0);
      }),
      { numRuns: 12 },
    );
  });

  it("warms by little in proportion to the power: four times for twice the voltages, alike with the other sign", () => {
    fc.assert(
      fc.property(anyStar, (given) => {
        const at = (factor: number): Chip =>
          star({ ...given, arms: given.arms.map((one) => ({ ...one, volts: 0.01 * factor * (one.volts + 4) })) });
        const [one, two, other] = [at(1), at(2), at(-1)];
        for (let i = 0; i < given.arms.length; i++) {
          // rises of some microkelvin of 300 K: rounding and the gas's slope leave 1e-3
          expect(Math.abs(rise(two, `b${i}`) / (4 * rise(one, `b${i}`)) - 1)).toBeLessThan(2e-3);
          expect(Math.abs(rise(other, `b${i}`) / rise(one, `b${i}`) - 1)).toBeLessThan(2e-3);
        }
      }),
      { numRuns: 6 },
    );
  });

  it("that is alike all around is as warm in all arms, and the sign of the drive changes signs alone", () => {
    for (const heat of ["", ", heat: ideal"]) {
      const alike = (sign: number): Chip =>
        star({
          arms: [1, 0, 1, 0].map((volts) => ({ length: 300, width: 6, volts: sign * volts })),
          gas: "gas: air, pressure: 101 kPa",
          emissivity: 0.7,
          heat,
          rho: "1e-4 ohm m",
        });
      const [plus, minus] = [alike(1), alike(-1)];
      for (let i = 1; i < 4; i++) expect(rise(plus, `b${i}`) / rise(plus, "b0")).toBeCloseTo(1, 7);
      expect(metricOf(minus, "supply current")).toBeCloseTo(-metricOf(plus, "supply current"), 12);
      expect(metricOf(minus, "pad voltage")).toBe(-1);
      expect(metricOf(minus, "pad power")).toBeCloseTo(metricOf(plus, "pad power"), 12);
    }
  });
});
