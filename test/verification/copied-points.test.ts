/** Names that copies give to points, and names of parts in cases: laws of mirror images and of superposition, no source needed. */
import { describe, expect, it } from "vitest";
import { askMetric, bareChip, plainMaterial } from "./chip-text.ts";

const base = {
  materials: plainMaterial({ E: "160 GPa", poisson: 0.25 }),
  silicon: "material: plain",
  thickness: "40 um",
};

describe("points of copies", () => {
  const chip = bareChip({
    ...base,
    device: `is: composition
points: { root: { x: 100 um, y: 0 um }, tip: { x: 500 um, y: 0 um }, nose: { x: 530 um, y: 0 um }, wall: { x: 60 um, y: 0 um } }
parts:
  block: { is: anchor, at: wall, width: 80 um, height: 80 um, heat: ideal }
  arm: { is: beam, from: root, to: tip, width: 6 um }
  end: { is: beam, from: tip, to: nose, width: 6 um }
copies:
  left: { of: [block, arm, end], mirror at x: 0 um }
  row: { of: [block, arm, left, nose], times: 2, step y: 300 um }
heat loss: none
roots: rigid`,
    cases: `push: { uniform rise: 0 K, forces: { nose: { y: 10 uN }, left nose: { y: 10 uN }, row 2 tip: { y: 10 uN }, row 2 left nose: { y: 10 uN } } }`,
  });
  const at = (where: string): number => askMetric(chip, "motion along y", { caseName: "push", where });
  it("are named after both, and move as the points that they are copies of", () => {
    expect(at("tip")).toBeGreaterThan(0);
    for (const point of ["tip", "nose"]) {
      // mirror images, but for rounding
      expect(Math.abs(at(`left ${point}`) / at(point) - 1)).toBeLessThan(1e-10);
      // copies of copies
      expect(Math.abs(at(`row 2 left ${point}`) / at(point) - 1)).toBeLessThan(1e-10);
      expect(at(`row 1 left ${point}`)).toBe(0);
    }
    // pushed at its tip alone: 3 EI/L^3 with shear (5/6 of the area, G = E/2.5)
    const [E, L, w, t] = [160e9, 400e-6, 6e-6, 40e-6];
    const give = (4 * L ** 3) / (E * t * w ** 3) + L / (((5 / 6) * E * w * t) / 2.5);
    expect(Math.abs(at("row 2 tip") / (1e-5 * give) - 1)).toBeLessThan(1e-3);
  });
});

describe("strains and rises of parts", () => {
  const pair = (cases: string): number =>
    askMetric(
      bareChip({
        ...base,
        device: `is: bent-beam pair
legs: { length: 500 um, width: 6 um, tilt: 3 deg }
shuttle: { width: 30 um, height: 40 um }
anchors: ideal
heat loss: none`,
        cases: `v: { ${cases} }`,
      }),
      "steady travel",
      { caseName: "v" },
    );
  it("name parts whose names a sum would read otherwise, as everywhere", () => {
    const whole = pair("uniform strain: 3e-4");
    expect(pair("uniform strain: 0, part strains: { leg 1 left: 3e-4, leg 1 right: 3e-4 }")).not.toBe(0);
    expect(
      pair("uniform strain: 1e-4, part strains: { leg 1 left: 3e-4, leg 1 right: 3e-4, shuttle: 3e-4 }") / whole,
    ).toBeCloseTo(1, 10);
    // 3 ppm/K: a rise of 100 K is a strain of 3e-4
    expect(pair("uniform rise: 10 K, part rises: { leg 1 left: 100 K, leg 1 right: 100 K, shuttle: 100 K }") / whole).toBeCloseTo(
      1,
      8,
    );
  });
});
