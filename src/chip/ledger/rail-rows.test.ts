import { describe, expect, test } from "vitest";
import { openChip } from "../predict/chip.ts";
import { buildLedger } from "./ledger.ts";
import { railRows } from "./rail-rows.ts";

const text = `chip: c
version: 1
surroundings: { gas: vacuum, temperature: 300 K }
materials:
  m: { conductivity: 100 W/(m K), resistivity: 1e-4 ohm m, expansion: 3 ppm/K, young modulus: 160 GPa, poisson ratio: 0.25, density: 2330 kg/m^3, specific heat: 700 J/(kg K) }
process:
  flow: idealised
  silicon thickness: 40 um
  gap under silicon: 10 um
  silicon: { material: m }
devices:
  one: { is: straight bar, length: 1 mm, width: 10 um, anchors: ideal, heat loss: none }
drive:
  cases:
    on: { current: 1 mA }
    double: { current: 2 mA }
brief:
  - name: enough
    of: pad voltage
    at: on
    need: at least 0.2 V
  - name: between
    of: pad voltage
    at: on
    need: 0.3 V within 0.1 V
  - name: both
    limits:
      - { of: pad voltage, at: on, need: at most 1 V }
      - { of: pad voltage, at: double, need: at most 1 V }
  - name: handed over
    of: no model
    proof: it is tried on the bench
`;

describe("rows of a ledger as rails", () => {
  const rails = () => railRows(buildLedger(openChip(text, { file: "chip.yaml" }), { samples: 0, seed: 1, doubtAsDrawn: false }));

  test("a one-sided limit counts its margin in parts of the limit: 0.25 V over 0.2 V stands a quarter clear", () => {
    // R = rho l / A = 1e-4 * 1e-3 / (10e-6 * 40e-6) = 250 ohm
    expect(rails()[0]).toMatchObject({ name: "enough", limit: "at least 0.2 V", verdict: "holds" });
    expect(rails()[0]!.built!.margin).toBeCloseTo(0.25, 9);
  });

  test("a limit from both sides counts from the lower one in half widths: 0.25 V in 0.2 to 0.4 V is at a half", () => {
    expect(rails()[1]!.twoSided).toBe(true);
    expect(rails()[1]!.built!.margin).toBeCloseTo(0.5, 9);
  });

  test("further limits of a row carry no name, and each says its case", () => {
    expect(rails().slice(2, 4)).toMatchObject([
      { name: "both", limit: "at most 1 V, on" },
      { name: "", limit: "at most 1 V, double" },
    ]);
  });

  test("what no model proves is to test", () => {
    expect(rails()[4]).toMatchObject({ limit: "proof by test", value: "no model proves it", verdict: "to test" });
  });

  test("units are printed as people write them", () => {
    const words = (limit: string): string => {
      const other = text.replace("of: pad voltage\n    at: on\n    need: at least 0.2 V", limit);
      return railRows(buildLedger(openChip(other, { file: "chip.yaml" }), { samples: 0, seed: 1, doubtAsDrawn: false }))[0]!
        .limit;
    };
    expect(words("of: cold resistance\n    need: at most 300 ohm")).toBe("at most 300 Ω");
    expect(words("of: motion along x\n    where: anchor left\n    at: on\n    need: 0 um within 5 um")).toBe("0 µm within 5 µm");
  });
});
