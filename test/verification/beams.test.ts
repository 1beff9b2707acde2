/**
 * Straight beams through the user's text: end loads, restrained heat, large turns, stretching.
 * MacNeal & Harder, Finite Elements in Analysis and Design 1 (1985) 3; Mattiasson, Int. J. Numer. Meth. Eng. 17 (1981) 145; Frisch-Fay,
 * Flexible Bars (1962): all from memory; numbers computed independently for these checks (closed forms, elliptic integrals).
 */
import { describe, expect, it } from "vitest";
import type { Chip } from "#chip";
import { askMetric, bareChip, plainMaterial } from "./chip-text.ts";

const um = 1e-6;
const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

interface Cantilever {
  readonly material: string;
  readonly thickness: string;
  readonly length: string;
  readonly width: string;
  readonly cases: string;
}

const cantilever = ({ material, thickness, length, width, cases }: Cantilever): Chip =>
  bareChip({
    materials: material,
    silicon: "material: plain",
    thickness,
    device: `is: composition
points: { root: { x: 0 um, y: 0 um }, tip: { x: ${length}, y: 0 um } }
parts:
  wall: { is: support, at: root, holds: [x, y, turn, z] }
  beam: { is: beam, from: root, to: tip, width: ${width} }
heat loss: none
roots: rigid`,
    cases,
  });

const tip = (chip: Chip, word: string, caseName: string): number => askMetric(chip, word, { caseName, where: "tip" });

describe("MacNeal and Harder's straight cantilever, one ten-thousandth as large (length 6, depth 0.2, thickness 0.1)", () => {
  // E = 1e7 and unit loads there are 10 GPa and 10 uN here; a hundredth of that load keeps it linear to 1e-7
  const chip = cantilever({
    material: plainMaterial({ E: "10 GPa", poisson: 0.3 }),
    thickness: "10 um",
    length: "600 um",
    width: "20 um",
    cases: `pull: { uniform rise: 0 K, forces: { tip: { x: 0.1 uN } } }
push: { uniform rise: 0 K, forces: { tip: { y: 0.1 uN } } }`,
  });
  const unit = 1e-4 / 100;
  it("lengthens by 3.0e-5", () => {
    expect(errorOf(tip(chip, "motion along x", "pull") / unit, 3e-5)).toBeLessThan(1e-6);
  });
  it("bends in its plane by 0.1080936, shear included (published 0.1081)", () => {
    expect(errorOf(tip(chip, "motion along y", "push") / unit, 0.1080936)).toBeLessThan(1e-6);
  });
  it("bends out of its plane by 0.4320936 (published 0.4321)", () => {
    expect(errorOf(1e-5 / tip(chip, "stiffness along z", "push") / 1e-4, 0.4320936)).toBeLessThan(1e-6);
  });
});

describe("restrained heat (textbook)", () => {
  const material = plainMaterial({ E: "169 GPa", alpha: "2.6e-6/K", poisson: 0.28 });
  it("a held bar 300 K warmer is under 131.82 MPa", () => {
    const chip = bareChip({
      materials: material,
      silicon: "material: plain",
      thickness: "20 um",
      device: "is: straight bar\nlength: 200 um\nwidth: 20 um\nanchors: ideal\nheat loss: none",
      cases: "warm: { uniform rise: 300 K }",
    });
    expect(errorOf(askMetric(chip, "axial force", { caseName: "warm", where: "bar" }) / (20 * um) ** 2, -131.82e6)).toBeLessThan(
      1e-9,
    );
    expect(errorOf(askMetric(chip, "stress", { caseName: "warm", where: "bar" }), 131.82e6)).toBeLessThan(1e-9);
  });
  it("a free one lengthens by 7.8e-4 without stress", () => {
    const chip = cantilever({
      material,
      thickness: "20 um",
      length: "200 um",
      width: "20 um",
      cases: "warm: { uniform rise: 300 K }",
    });
    expect(errorOf(tip(chip, "motion along x", "warm") / (200 * um), 7.8e-4)).toBeLessThan(1e-9);
    expect(askMetric(chip, "stress", { caseName: "warm", where: "beam" })).toBeLessThan(1e-9 * 131.82e6);
  });
});

/** 400 um long, 2 um wide, 10 um thick, 160 GPa: stretch under the largest load of the table below is 2e-5. */
const slender = { E: 160e9, L: 400 * um, w: 2 * um, t: 10 * um };
const EI = (slender.E * slender.t * slender.w ** 3) / 12;
const slenderCantilever = (cases: string): Chip =>
  cantilever({ material: plainMaterial({ E: "160 GPa" }), thickness: "10 um", length: "400 um", width: "2 um", cases });

describe("Mattiasson's elastica: a cantilever under a dead force across its end, P L^2 = alpha E I", () => {
  const rows = [
    [0.2, 0.0026465483, 0.066364482, 0.099636163],
    [0.5, 0.015918962, 0.16214358, 0.24453365],
    [1, 0.056433236, 0.30172077, 0.46135195],
    [2, 0.16064172, 0.49345748, 0.78174983],
    [5, 0.38762836, 0.71379152, 1.2153681],
    [10, 0.5549956, 0.81060902, 1.4302855],
  ] as const;
  const chip = slenderCantilever(
    rows
      .map(([alpha], i) => `a${i}: { uniform rise: 0 K, forces: { tip: { y: ${(alpha * EI) / slender.L ** 2} N } } }`)
      .join("\n"),
  );
  it.each(rows.map((row, i) => ({ i, row })))("alpha = $row.0", ({ i, row: [, u, w, theta] }) => {
    // 1e-3 is asked for; elements are refined to 1e-4 of the motion
    const at = `a${i}`;
    expect(errorOf(-tip(chip, "motion along x", at) / slender.L, u)).toBeLessThan(1.5e-4);
    expect(errorOf(tip(chip, "motion along y", at) / slender.L, w)).toBeLessThan(1e-4);
    expect(errorOf(tip(chip, "turn", at), theta)).toBeLessThan(1e-4);
  });
});

describe("a cantilever rolled up by a moment at its end (classical: an arc of the angle M L/E I)", () => {
  const angles = [Math.PI / 2, Math.PI, 2 * Math.PI] as const;
  const chip = slenderCantilever(
    angles
      .map((angle, i) => `m${i}: { uniform rise: 0 K, forces: { tip: { turn: ${(angle * EI) / slender.L} N m } } }`)
      .join("\n"),
  );
  it.each(angles.map((angle, i) => ({ angle, i })))("by $angle rad", ({ angle, i }) => {
    const x = 1 + tip(chip, "motion along x", `m${i}`) / slender.L;
    const y = tip(chip, "motion along y", `m${i}`) / slender.L;
    // 1e-3 of the length is asked for
    expect(Math.abs(x - Math.sin(angle) / angle)).toBeLessThan(1e-4);
    expect(Math.abs(y - (1 - Math.cos(angle)) / angle)).toBeLessThan(1e-4);
    expect(errorOf(tip(chip, "turn", `m${i}`), angle)).toBeLessThan(1e-6);
  });
});

describe("a clamped beam pushed in its middle, which stretches (shallow beam, exact)", () => {
  const rows = [
    [0.25, 50.156556],
    [0.5, 113.172385],
    [1, 327.087599],
    [2, 1413.795894],
    [3, 3892.010056],
  ] as const;
  const { E, t, w, L } = slender;
  const chip = bareChip({
    materials: plainMaterial({ E: "160 GPa" }),
    silicon: "material: plain",
    thickness: "10 um",
    device: `is: composition
points: { left: { x: 0 um, y: 0 um }, middle: { x: 200 um, y: 0 um }, right: { x: 400 um, y: 0 um } }
parts:
  left wall: { is: support, at: left, holds: [x, y, turn] }
  right wall: { is: support, at: right, holds: [x, y, turn] }
  left half: { is: beam, from: left, to: middle, width: 2 um }
  right half: { is: beam, from: middle, to: right, width: 2 um }
heat loss: none
roots: rigid`,
    cases: rows.map(([rise], i) => `r${i}: { uniform rise: 0 K, held: { middle: { y: ${2 * rise} um } } }`).join("\n"),
  });
  it.each(rows.map(([rise, force], i) => ({ rise, force, i })))("by $rise widths", ({ force, i }) => {
    const found = askMetric(chip, "holding force along y", { caseName: `r${i}`, where: "middle" });
    // 5e-3 is asked for; a rise of 6 um in 400 um leaves the shallow beam 5e-4
    expect(errorOf((found * L ** 3) / (((E * t * w ** 3) / 12) * w), force)).toBeLessThan(1e-3);
  });
});
