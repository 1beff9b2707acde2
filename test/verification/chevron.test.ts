/**
 * The guided chevron of 500 um at 0.1 rad, 6 x 20 um, through the user's text: travel, load, held and blocked force, softening.
 * Exact extensible rod by shooting (computed independently for these checks); linear form Que, Park & Gianchandani, JMEMS 10 (2001) 247,
 * and Gianchandani & Najafi, JMEMS 5 (1996) 52 (from memory).
 */
import { describe, expect, it } from "vitest";
import { askMetric, bareChip, metricOf, plainMaterial } from "./chip-text.ts";

const um = 1e-6;
const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const loads = [
  [1, 2.6216437],
  [2, 1.4709429],
  [3, 0.2156687],
] as const;
const [c, s] = [Math.cos(0.1), Math.sin(0.1)];
const chip = bareChip({
  materials: plainMaterial({ E: "169 GPa", alpha: "2.6e-6/K" }),
  silicon: "material: plain",
  thickness: "20 um",
  device: `is: composition
points:
  apex: { x: 0 um, y: 0 um }
  left: { x: ${-500 * c} um, y: ${-500 * s} um }
  right: { x: ${500 * c} um, y: ${-500 * s} um }
parts:
  left leg: { is: beam, from: left, to: apex, width: 6 um, role: leg }
  right leg: { is: beam, from: right, to: apex, width: 6 um, role: leg }
  left wall: { is: support, at: left, holds: [x, y, turn] }
  right wall: { is: support, at: right, holds: [x, y, turn] }
  guide: { is: support, at: apex, holds: [x, turn] }
output: { point: apex, direction: 90 deg }
heat loss: none
roots: rigid`,
  cases: `cold: { uniform rise: 0 K }
tiny: { uniform rise: 1 mK }
warm 100: { uniform rise: 100 K }
warm 300: { uniform rise: 300 K }
warm 500: { uniform rise: 500 K }
${loads.map(([force]) => `load ${force}: { uniform rise: 300 K, apex load: ${force} mN, follow: { state: 1 } }`).join("\n")}
held: { uniform rise: 300 K, held: { apex: { y: 2 um } } }
blocked: { uniform rise: 300 K, held: { apex: { y: 0 um } }, follow: { state: 1 } }
up: { uniform rise: 0 K, held: { apex: { y: 3 um } } }
down: { uniform rise: 0 K, held: { apex: { y: -3 um } }, follow: { state: 1 } }
heavy: { uniform rise: 300 K, apex load: 2 mN }`,
});
const holding = (caseName: string): number => askMetric(chip, "holding force along y", { caseName, where: "apex" });

// 2e-3 is asked for throughout; elements are refined to 1e-4 of the motion
describe("the guided chevron", () => {
  it.each([
    [100, 1.2655417, 0.071478708],
    [300, 3.6953346, 0.19742446],
    [500, 6.0059337, 0.30513763],
  ])("%d K warmer it rises by %d um and pushes with %d mN at its anchor", (rise, travel, force) => {
    expect(errorOf(metricOf(chip, "steady travel", `warm ${rise}`) / um, travel)).toBeLessThan(1e-4);
    const atAnchor = askMetric(chip, "holding force along x", { caseName: `warm ${rise}`, where: "left" });
    expect(errorOf(atAnchor * 1e3, force)).toBeLessThan(2e-4);
  });
  it("moves by the linear formula where little warmer", () => {
    // alpha dT l sin a/(sin^2 a + 12 I cos^2 a/(A l^2)), 3.8514166 um for 300 K
    expect(errorOf((metricOf(chip, "steady travel", "tiny") / um) * 3e5, 3.8514166)).toBeLessThan(1e-5);
  });
  it.each(loads)("moves against %d mN by %d um", (force, travel) => {
    // close to blocked the travel is what a larger one loses
    expect(Math.abs(metricOf(chip, "steady travel", `load ${force}`) / um - travel)).toBeLessThan(2e-4);
  });
  it("its legs bow by themselves beyond Euler's load, 4 pi^2 E I/l^2 = 9.6 mN: the table is the balance of legs that do not", () => {
    expect(metricOf(chip, "steady travel", "heavy")).toBeNaN();
    expect(metricOf(chip, "axial force per leg", "load 1")).toBeLessThan(9.6e-3);
    expect(metricOf(chip, "axial force per leg", "load 2")).toBeGreaterThan(9.6e-3);
  });
  it("pushes with 1.5495106 mN when held at 2 um", () => {
    expect(errorOf(-holding("held") * 1e3, 1.5495106)).toBeLessThan(2e-4);
  });
  it("pushes with 2 E A alpha dT sin a when blocked and its legs stay straight, which they do not by themselves", () => {
    expect(errorOf(-holding("blocked") * 1e3, 3.15840984)).toBeLessThan(1e-6);
    expect(metricOf(chip, "blocked force", "warm 300")).toBeNaN();
    expect(metricOf(chip, "critical load factor", "blocked")).toBeLessThan(1);
  });
  it("is 820.06446 N/m stiff when cold, more upwards and less towards flat", () => {
    expect(errorOf(metricOf(chip, "cold stiffness"), 820.06446)).toBeLessThan(1e-7);
    expect(errorOf(holding("up") * 1e3, 2.712704)).toBeLessThan(2e-4);
    expect(errorOf(holding("down") * 1e3, -2.151789)).toBeLessThan(2e-4);
  });
});
