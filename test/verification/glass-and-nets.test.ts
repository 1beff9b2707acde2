/**
 * Leafgate (invented) with its anchors on glass that is computed, and with its blade wired: the slow drift of a warm glass, and the
 * current that a grounded blade would draw through stem and flexures.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Chip, metricRequest, openChip } from "#chip";

const text = readFileSync(join(import.meta.dirname ?? "", "../../examples/02-leafgate/chip.yaml"), "utf8");
const open = (change: (text: string) => string): Chip => openChip(change(text), { file: "chip.yaml" });
const value = (chip: Chip, word: string, at: string, where?: string): number =>
  chip.side("drawn").valueOf(metricRequest(chip, word, { caseName: at, ...(where !== undefined && { where }) })).value;

describe("anchors on computed glass", () => {
  const onGlass = (rest: (text: string) => string = (same) => same): Chip =>
    open((given) =>
      rest(
        given
          .replace(", thermal resistance: assumed 300 K/W ± 20 % }", " }")
          .replace(
            "  silicon:\n    dopant",
            "  glass: { material: borosilicate glass 3.3, thickness: assumed 0.5 mm }\n  silicon:\n    dopant",
          ),
      ),
    );
  const chip = onGlass();

  it("one anchor of 1.0 x 1.2 mm resists by the glass below it and by the silicon that spreads the heat", () => {
    // glass alone is 0.5 mm/(1.2 W/(m K) 1.2 mm^2) = 347 K/W without spreading; heat spreads to a larger base, and enters along one edge
    const anchor = value(chip, "anchor temperature", "hold") - 298;
    const heat = (value(chip, "pad power", "hold") * (1 - value(chip, "share of heat to gas", "hold"))) / 2;
    // half of the leads' 10 ohm warms the pads, not the silicon
    const leads = (10 * value(chip, "supply current", "hold") ** 2) / 2;
    const resistance = anchor / (heat - leads);
    expect(resistance).toBeGreaterThan(330);
    expect(resistance).toBeLessThan(450);
  });

  it("the travel drifts while the glass warms, by a few per cent within half a second", () => {
    const { results } = runOf(chip);
    const late = results.at(-1)!;
    // the moments of the run are its own: between two of them
    const i = results.findIndex(({ time }) => time > 0.03);
    const [a, b] = [results[i - 1]!, results[i]!];
    const early = a.travel + ((0.03 - a.time) / (b.time - a.time)) * (b.travel - a.travel);
    expect(late.travel / early).toBeGreaterThan(1.02);
    expect(late.travel / early).toBeLessThan(1.12);
  });

  it("glass that hangs in air under a film is much warmer than on a chuck", () => {
    const inAir = onGlass((given) => given.replace("  mount: chuck", "  mount: free\n  base film: assumed 500 W/(m^2 K)"));
    expect(value(inAir, "anchor temperature", "hold")).toBeGreaterThan(value(chip, "anchor temperature", "hold") + 10);
  });
});

describe("anchors that warm one another through the glass", () => {
  const bridge = (given: { film: number; place?: string; apart?: number; second?: string }): Chip => {
    const { film, place = "", apart = 10, second = "" } = given;
    const half = apart / 2;
    return openChip(
      `chip: c
version: 1
surroundings: { gas: vacuum, temperature: 300 K, mount: free, base film: ${film} W/(m^2 K) }
materials:
  m: { conductivity: 100 W/(m K), resistivity: 1e-4 ohm m, expansion: 3 ppm/K, young modulus: 160 GPa, poisson ratio: 0.25, density: 2330 kg/m^3, specific heat: 700 J/(kg K) }
process:
  flow: silicon on glass, three plates
  silicon thickness: 40 um
  glass: { material: borosilicate glass 3.3, thickness: 0.5 mm }
  recess margin: 8 um
  undercut per edge: 0.5 um
  bias per edge: 0.5 um
  silicon: { material: m }
devices:
  one:
    is: composition
    heat loss: none
    trench: 3 um
    points: { la: { x: ${-50 - half} um, y: 0 um }, ra: { x: ${50 + half} um, y: 0 um }, a: { x: ${-half} um, y: 0 um }, b: { x: ${half} um, y: 0 um } }
    parts:
      left: { is: anchor, at: la, width: 100 um, height: 100 um, wire: plus }
      right: { is: anchor, at: ra, width: 100 um, height: 100 um, ${second}wire: minus }
      one: { is: beam, from: a, to: b, width: 6 um, role: leg }
die: { size: { width: 5 mm, height: 5 mm }, street: 200 um, frame: 150 um${place} }
drive:
  cases:
    on: { current: 20 mA }
`,
      { file: "chip.yaml" },
    );
  };
  const rise = (chip: Chip): number => value(chip, "anchor temperature", "on") - 300;

  it("all heat of both leaves by the film: a base that gives little is as warm as power over film and area", () => {
    const film = 0.5;
    const chip = bridge({ film });
    const balance = value(chip, "pad power", "on") / (film * 25e-6);
    // the spread below the anchors comes on top: 3 K or so per milliwatt of 1.7 mW, of 130 K
    const spread = rise(bridge({ film: 1e4 }));
    expect(rise(chip) / balance).toBeGreaterThan(1);
    expect(rise(chip) / (balance + 1.1 * spread)).toBeLessThan(1);
  });

  it("closer together they are warmer", () => {
    const rises = [10, 50, 300].map((apart) => {
      const chip = bridge({ film: 50, apart });
      return rise(chip) / value(chip, "pad power", "on");
    });
    expect(rises[0]!).toBeGreaterThan(1.03 * rises[1]!);
    expect(rises[1]!).toBeGreaterThan(1.03 * rises[2]!);
  });

  it("what one takes from the other is what the other takes from the one", () => {
    // both alike: no heat through the silicon between them, both as warm, and as warm as each by half of the power
    const chip = bridge({ film: 50 });
    const [left, right] = ["left", "right"].map((part) => value(chip, "mean temperature", "on", part));
    expect(left! / right!).toBeCloseTo(1, 9);
  });

  it("a device near the edge of its die is warmer, at each edge alike", () => {
    const at = (x: number, y: number): number =>
      rise(bridge({ film: 1e3, place: `, places: { one: { x: ${x} mm, y: ${y} mm } }` }));
    const middle = at(0, 0);
    expect(middle).toBe(rise(bridge({ film: 1e3 })));
    expect(at(2, 2)).toBeGreaterThan(1.02 * middle);
    for (const [x, y] of [
      [-2, 2],
      [2, -2],
      [-2, -2],
    ] as const)
      expect(at(x, y) / at(2, 2)).toBeCloseTo(1, 9);
  });
});

/** Travel over a long hold, from cold. */
function runOf(chip: Chip): { results: { time: number; travel: number }[] } {
  const side = chip.side("drawn");
  const model = side.deviceModel("shutter");
  const drive = { kind: "pads", voltage: 10.2, potentials: new Map<string, number>() } as const;
  const found = model.run([{ duration: 1, drive }], { againstTravel: 0, forces: [], held: [], acceleration: [0, 0] });
  if ("reason" in found) throw new Error(found.reason);
  const { times, travel } = found.history;
  return { results: Array.from(times, (time, i) => ({ time, travel: travel[i]! })) };
}

describe("the blade's net", () => {
  const grounded = open((given) =>
    given.replace(
      "    hold: { pads: 10.20 V }",
      "    hold: { pads: 10.20 V }\n    wired: { pads: 10.20 V, potentials: { blade: 0 V } }",
    ),
  );
  it("floats at half the voltage and carries nothing", () => {
    expect(Math.abs(value(grounded, "current through", "hold", "stem"))).toBeLessThan(1e-9);
  });
  it("draws tens of milliamperes through stem and flexures where it is grounded", () => {
    // a hand estimate: half of 10.2 V over stem (47 ohm) and four flexures side by side (140 ohm) is 27 mA, less what the legs drop
    const leak = Math.abs(value(grounded, "current through", "wired", "stem"));
    expect(leak).toBeGreaterThan(10e-3);
    expect(leak).toBeLessThan(27e-3);
    const flexures = [
      "upper flexure beam out",
      "lower flexure beam out",
      "left upper flexure beam out",
      "left lower flexure beam out",
    ];
    const sum = flexures.reduce((total, part) => total + Math.abs(value(grounded, "current through", "wired", part)), 0);
    expect(Math.abs(sum / leak - 1)).toBeLessThan(1e-6);
  });
});
