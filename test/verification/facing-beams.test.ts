/**
 * A warm beam beside a cold one: what passes between them through the gas, through the user's text, against the conductances of their
 * common cross-section. Far from the ends a long beam without current takes the temperature at which what it gains from its warm
 * neighbour leaves to the ground: rise = between/(between + toGround) of the neighbour's. That gas between the arms matters for such
 * devices: Colbert, Naraghi & Boyd 2017 (abstract read).
 */
import { describe, expect, it } from "vitest";
import { type Chip, metricRequest } from "#chip";
import { crossSectionCouplings } from "#physics";
import { bareChip } from "./chip-text.ts";

const um = 1e-6;

/** Two long thin bars side by side; the upper one carries the current. */
function pair(gap: number, neighbours: "shared" | "apart"): Chip {
  return bareChip({
    materials: "film: { conductivity: 40 W/(m K), resistivity: 2e-5 ohm m, expansion: 2.7 ppm/K, young modulus: 160 GPa }",
    silicon: "material: film",
    thickness: "4 um",
    process: "gap under silicon: 3 um",
    // so dense a gas that the walls' temperature jump is nothing
    gas: "gas: nitrogen, pressure: 900 kPa",
    device: `is: composition
heat loss: gas
neighbours: ${neighbours}
points:
  left hot: { x: -1500 um, y: 0 um }
  right hot: { x: 1500 um, y: 0 um }
  left cold: { x: -1500 um, y: ${-(gap + 4)} um }
  right cold: { x: 1500 um, y: ${-(gap + 4)} um }
  foot 1: { x: -1510 um, y: 0 um }
  foot 2: { x: 1510 um, y: 0 um }
  foot 3: { x: -1510 um, y: ${-(gap + 4)} um }
  foot 4: { x: 1510 um, y: ${-(gap + 4)} um }
parts:
  a: { is: anchor, at: foot 1, width: 20 um, height: 4 um, heat: ideal, wire: plus }
  b: { is: anchor, at: foot 2, width: 20 um, height: 4 um, heat: ideal, wire: minus }
  c: { is: anchor, at: foot 3, width: 20 um, height: 4 um, heat: ideal }
  d: { is: anchor, at: foot 4, width: 20 um, height: 4 um, heat: ideal }
  hot: { is: beam, from: left hot, to: right hot, width: 4 um }
  cold: { is: beam, from: right cold, to: left cold, width: 4 um }`,
    cases: "on: { current: 0.5 mA }",
  });
}

function hottest(chip: Chip, part: string): number {
  const request = metricRequest(chip, "highest temperature", { caseName: "on", where: part });
  return chip.side("drawn").valueOf(request).value - 293.15;
}

describe("two long bars side by side", () => {
  it.each([2, 4, 8])("%d um apart: the bar without current is warmed by the gas alone", (gap) => {
    const chip = pair(gap, "shared");
    const bar = (x: number) => ({ x: x * um, width: 4 * um, height: 4 * um, gap: 3 * um, potential: "hot" as const });
    const { toGround, between } = crossSectionCouplings({ rectangles: [bar(0), bar(gap + 4)] });
    const wanted = between[1]! / (between[1]! + toGround[0]!);
    // half a per cent: the gas conducts better at the warm bar than between cold bar and ground, and a trace of temperature jump is left
    expect(Math.abs(hottest(chip, "cold") / hottest(chip, "hot") / wanted - 1)).toBeLessThan(0.02);
  });
  it("bars that do not share the gas keep their heat apart", () => {
    expect(Math.abs(hottest(pair(2, "apart"), "cold"))).toBeLessThan(1e-6);
  });
});
