/**
 * Electrothermal actuators through the user's text: bent beams (forces at their roots, limits of blocking, facing gauges), a bar that
 * buckles, a hot and a cold arm with its coupled network, a cascade. Closed forms: Gianchandani & Najafi, JMEMS 5 (1996) 52, Timoshenko &
 * Gere (both from memory); exact plane rod by shooting, Euler frames and finite volumes: computed independently for these checks. Layouts:
 * Que et al. 2001, Lin & Chiao 1996, Huang & Lee 1999 (from memory).
 */
import { describe, expect, it } from "vitest";
import type { Chip } from "#chip";
import { askMetric, bareChip, metricOf, plainMaterial, vee } from "./chip-text.ts";

const um = 1e-6;
const degree = Math.PI / 180;
const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

interface Legs {
  /** [um] */
  readonly l: number;
  readonly w: number;
  readonly t: number;
  /** [rad] */
  readonly tilt: number;
  /** [GPa] */
  readonly E: number;
  readonly alpha: string;
}

const d1: Legs = { l: 500, w: 8, t: 40, tilt: 3 * degree, E: 169, alpha: "3e-6/K" };
const d2: Legs = { l: 750, w: 6, t: 30, tilt: 2 * degree, E: 169, alpha: "3e-6/K" };
const d5: Legs = { l: 205, w: 6, t: 3, tilt: 0.1, E: 180, alpha: "13.4e-6/K" };
const d6: Legs = { l: 176, w: 5, t: 20, tilt: 5.6 * degree, E: 160, alpha: "2.5e-6/K" };

/** A guided pair on clamped roots, so that what holds each root can be asked. */
function rodChip({ l, w, t, tilt, E, alpha }: Legs, cases: string): Chip {
  const [x, y] = [l * Math.cos(tilt), l * Math.sin(tilt)];
  return bareChip({
    materials: plainMaterial({ E: `${E} GPa`, alpha }),
    silicon: "material: plain",
    thickness: `${t} um`,
    device: `is: composition
points:
  left: { x: ${-x} um, y: 0 um }
  right: { x: ${x} um, y: 0 um }
  apex: { x: 0 um, y: ${y} um }
parts:
  left leg: { is: beam, from: left, to: apex, width: ${w} um, role: leg }
  right leg: { is: beam, from: apex, to: right, width: ${w} um, role: leg }
  left wall: { is: support, at: left, holds: [x, y, turn] }
  right wall: { is: support, at: right, holds: [x, y, turn] }
  guide: { is: support, at: apex, holds: [x, turn] }
output: { point: apex, direction: 90 deg, guided: yes }
heat loss: none`,
    cases,
  });
}

describe("large displacement: force and moment at the roots against the exact rod", () => {
  const rises = [100, 200, 300, 500] as const;
  /** Axial force along the span [uN] and root moment [uN mm] at each rise. */
  const devices = [
    {
      name: "D1",
      legs: d1,
      rows: [
        [1189.56, 17.058],
        [2087.01, 32.345],
        [2791.24, 46.269],
        [3833.22, 71.069],
      ],
    },
    {
      name: "D2",
      legs: d2,
      rows: [
        [327.05, 5.182],
        [514.15, 9.339],
        [638.21, 12.89],
        [796.51, 18.88],
      ],
    },
    { name: "D5", legs: d5, rows: [[284.04, 3.248], undefined, [638.85, 8.642], undefined] },
  ] as const;
  describe.each(devices)("$name", ({ legs, rows }) => {
    const chip = rodChip(legs, rises.map((rise) => `r${rise}: { uniform rise: ${rise} K }`).join("\n"));
    it.each(rises.map((rise, i) => ({ rise, row: rows[i] })).filter(({ row }) => row !== undefined))(
      "$rise K",
      ({ rise, row }) => {
        const [force, moment] = row!;
        const at = (word: string, where: string): number => askMetric(chip, word, { caseName: `r${rise}`, where });
        // the stretch in the middle of both legs pushes its walls apart; 1e-3 is asked for
        expect(errorOf(at("holding force along x", "left") / um, force)).toBeLessThan(2e-4);
        expect(errorOf(at("holding force along x", "right") / um, -force)).toBeLessThan(2e-4);
        expect(errorOf(Math.abs(at("holding moment", "left")) / 1e-9, moment)).toBeLessThan(3e-4);
        // nothing pushes along the travel: what holds it is in balance
        expect(Math.abs(at("holding force along y", "left"))).toBeLessThan(1e-6 * force * um);
      },
    );
  });
});

describe("blocked force", () => {
  it.each([
    ["D1", d1, 8.42e-4],
    ["D2", d2, 2.11e-4],
    ["D6", d6, 2.66e-3],
  ] as const)(
    "%s: 2 E w t eps sin exactly, up to the strain pi^2 w^2/(3 l^2) where its straight legs buckle",
    (_name, legs, printed) => {
      const limit = (Math.PI * legs.w) ** 2 / (3 * legs.l ** 2);
      expect(errorOf(limit, printed)).toBeLessThan(3e-3);
      const chip = rodChip(
        legs,
        `below: { uniform strain: ${0.98 * limit} }
above: { uniform strain: ${1.02 * limit} }
held: { uniform strain: ${limit}, held: { apex: { y: 0 um } } }`,
      );
      const exact = 2 * legs.E * 1e9 * legs.w * legs.t * um ** 2 * 0.98 * limit * Math.sin(legs.tilt);
      expect(errorOf(metricOf(chip, "blocked force", "below"), exact)).toBeLessThan(1e-6);
      expect(metricOf(chip, "blocked force", "above")).toBeNaN();
      // the legs' own shortening under the force: a part of the strain itself, 3e-3 at most
      expect(errorOf(metricOf(chip, "critical load factor", "held"), 1)).toBeLessThan(2 * limit + 1e-4);
    },
  );
});

describe("small motion in closed form", () => {
  const perStrain = (legs: Legs): number =>
    metricOf(rodChip(legs, "warm: { uniform strain: 1e-9 }"), "steady travel") / 1e-9 / um;
  it("does not depend on thickness, modulus or the number of pairs", () => {
    const one = perStrain(d1);
    expect(errorOf(perStrain({ ...d1, t: 3 }), one)).toBeLessThan(1e-7);
    expect(errorOf(perStrain({ ...d1, E: 70 }), one)).toBeLessThan(1e-7);
  });
  it("is largest where tan(tilt) = w/l, there eps l^2/(2 w) but for w/l squared, and eps l/sin(tilt) where steep", () => {
    const at = (tilt: number): number => perStrain({ ...d1, tilt });
    const best = Math.atan(8 / 500);
    expect(at(best)).toBeGreaterThan(at(0.97 * best));
    expect(at(best)).toBeGreaterThan(at(1.03 * best));
    expect(errorOf(at(best), 500 ** 2 / (2 * 8))).toBeLessThan(1e-3);
    expect(errorOf(at(0.3), 500 / Math.sin(0.3))).toBeLessThan(3e-3);
  });
  it("blocked force over stiffness is the travel", () => {
    const chip = rodChip(d1, "warm: { uniform strain: 1e-7 }");
    const travel = metricOf(chip, "blocked force") / metricOf(chip, "cold stiffness");
    expect(errorOf(metricOf(chip, "steady travel"), travel)).toBeLessThan(1e-4);
  });
});

describe("two facing bent-beam gauges (Gianchandani & Najafi 1996: 10 MPa, a strain of 6e-5, can be read between them)", () => {
  const [x, y] = [100 * Math.cos(0.05), 100 * Math.sin(0.05)];
  const half = (name: string, sign: 1 | -1): { points: string; parts: string } => {
    const base = sign * -20;
    return {
      points: `  ${name} left: { x: ${-x} um, y: ${base} um }
  ${name} right: { x: ${x} um, y: ${base} um }
  ${name} apex: { x: 0 um, y: ${base + sign * y} um }`,
      parts: `  ${name} leg a: { is: beam, from: ${name} left, to: ${name} apex, width: 2 um, role: leg }
  ${name} leg b: { is: beam, from: ${name} apex, to: ${name} right, width: 2 um, role: leg }
  ${name} wall a: { is: support, at: ${name} left, holds: [x, y, turn] }
  ${name} wall b: { is: support, at: ${name} right, holds: [x, y, turn] }`,
    };
  };
  const [low, high] = [half("low", 1), half("high", -1)];
  const strains = [6e-5, -6e-5, 3e-4, -3e-4];
  const chip = bareChip({
    materials: plainMaterial({ E: "167 GPa" }),
    silicon: "material: plain",
    thickness: "1.5 um",
    device: `is: composition
points:
${low.points}
${high.points}
parts:
${low.parts}
${high.parts}
heat loss: none`,
    cases: strains.map((strain, i) => `s${i}: { uniform strain: ${strain} }`).join("\n"),
  });
  it.each([
    [0, 0.10277],
    [1, -0.10427],
    [2, 0.49918],
    [3, -0.53624],
  ])("case %i: each apex moves %f um, the two twice that against each other", (i, apex) => {
    const of = (name: string): number => askMetric(chip, "motion along y", { caseName: `s${i}`, where: `${name} apex` }) / um;
    // five printed digits
    expect(Math.abs(of("low") - apex)).toBeLessThan(2e-5);
    expect(Math.abs(of("low") - of("high") - 2 * apex)).toBeLessThan(4e-5);
  });
});

describe("a straight clamped bar beyond its buckling (Euler; amplitude of the extensible bar, linearised)", () => {
  const bowed = (length: number, width: number, alpha: string, rise: number): number => {
    // a thousandth of the width out of line shows it the way
    const chip = bareChip({
      materials: plainMaterial({ E: "169 GPa", alpha }),
      silicon: "material: plain",
      thickness: "40 um",
      device: `is: composition
points:
  left: { x: 0 um, y: 0 um }
  middle: { x: ${length / 2} um, y: ${width / 1000} um }
  right: { x: ${length} um, y: 0 um }
parts:
  one: { is: beam, from: left, to: middle, width: ${width} um, role: leg }
  other: { is: beam, from: middle, to: right, width: ${width} um, role: leg }
  left wall: { is: support, at: left, holds: [x, y, turn] }
  right wall: { is: support, at: right, holds: [x, y, turn] }
heat loss: none`,
      cases: `warm: { uniform rise: ${rise} K }`,
    });
    return askMetric(chip, "motion along y", { caseName: "warm", where: "middle" }) / um;
  };
  it.each([
    [500, 8, "3e-6/K", 2 * 280.735, 9.2376, 0.005],
    [500, 8, "3e-6/K", 4 * 280.735, 16.0, 0.01],
    [200, 2, "2.9e-6/K", 2 * 113.444, 2.3094, 0.005],
  ] as const)("%i um long, %i um wide, %s, %f K: %f um", (length, width, alpha, rise, amplitude, below) => {
    const found = bowed(length, width, alpha, rise) / amplitude;
    // the formula leaves out the higher turns: less amplitude, by up to a per cent at four times the limit
    expect(found).toBeLessThan(1.001);
    expect(found).toBeGreaterThan(1 - below);
  });
});

describe("a hot and a cold arm", () => {
  // a hundred-thousandth of the expansion keeps it as linear as the frame it is checked against
  const linear = (alpha: number): string => `${alpha * 1e-5}/K`;

  it("of 240 and 200 um bends as its frame of four Euler beams", () => {
    const chip = bareChip({
      materials: plainMaterial({ E: "160 GPa", alpha: linear(3e-6) }),
      silicon: "material: plain",
      thickness: "2 um",
      device: `is: hot and cold arm
hot arm: { length: 240 um, width: 2 um }
cold arm: { length: 200 um, width: 14 um }
flexure: { width: 2 um }
gap: 2 um
anchors: ideal
heat loss: none
roots: rigid`,
      cases: `warm: { uniform rise: 50 K, part rises: { hot arm: 400 K, link: 400 K } }
held: { uniform rise: 50 K, part rises: { hot arm: 400 K, link: 400 K }, held: { tip: { y: 0 um } } }`,
    });
    const at = (word: string, caseName = "warm"): number => askMetric(chip, word, { caseName, where: "tip" });
    expect(errorOf(at("motion along y") / um / 1e-5, 4.685177)).toBeLessThan(1e-5);
    expect(errorOf(at("motion along x") / um / 1e-5, 0.037765)).toBeLessThan(1e-4);
    expect(errorOf(at("stiffness along y"), 1.252743)).toBeLessThan(1e-5);
    expect(errorOf(-at("holding force along y", "held") / um / 1e-5, 5.869324)).toBeLessThan(1e-5);
  });

  const [narrow, wide] = [0.026 * 3.961, 0.026 * 10.55708];
  const chip = bareChip({
    materials: `film:
  conductivity: 32 W/(m K)
  resistivity: { formula: 2.0e-5 * (1 + 1.25e-3 * (T - 293.15)), unit: ohm m, range: 250 K to 1500 K, source: classic values of thin films }
  expansion: ${linear(2.7e-6)}
  young modulus: 162 GPa`,
    silicon: "material: film",
    thickness: "2 um",
    device: `is: composition
points:
  A: { x: 0 um, y: 0 um }
  B: { x: 240 um, y: 0 um }
  C: { x: 240 um, y: 10 um }
  D: { x: 40 um, y: 10 um }
  G: { x: 0 um, y: 10 um }
  hot foot: { x: -50 um, y: -47 um }
  cold foot: { x: -50 um, y: 57 um }
parts:
  a: { is: anchor, at: hot foot, width: 100 um, height: 100 um, heat: ideal, wire: plus }
  g: { is: anchor, at: cold foot, width: 100 um, height: 100 um, heat: ideal, wire: minus }
  hot: { is: beam, from: A, to: B, width: 2 um, loss per length: ${narrow} W/(m K) }
  link: { is: beam, from: B, to: C, width: 2 um, loss per length: ${narrow} W/(m K) }
  cold: { is: beam, from: C, to: D, width: 14 um, loss per length: ${wide} W/(m K) }
  flexure: { is: beam, from: D, to: G, width: 2 um, loss per length: ${narrow} W/(m K) }
output: { point: C, direction: 90 deg }
heat loss: none
roots: rigid`,
    cases: "low: { current: 2 mA }\nhigh: { current: 3 mA }",
  });
  it.each([
    ["low", 3.7809, [186.625, 75.779, 26.957, 32.455], 235.603, 7.5618, 6.3044, 1.91214],
    ["high", 7.6779, [613.46, 223.71, 71.67, 77.9], 802.12, 23.034, 19.648, 6.5132],
  ] as const)(
    "as a coupled network, %s current (finite volumes, right to 1e-4)",
    (caseName, V, means, hottest, P, toGas, tip) => {
      const of = (word: string): number => metricOf(chip, word, caseName);
      expect(errorOf(of("pad voltage"), V)).toBeLessThan(2e-4);
      ["hot", "link", "cold", "flexure"].forEach((part, i) => {
        const mean = askMetric(chip, "mean temperature", { caseName, where: part }) - 293.15;
        expect(errorOf(mean, means[i]!)).toBeLessThan(4e-4);
      });
      expect(errorOf(of("hottest silicon temperature") - 293.15, hottest)).toBeLessThan(4e-4);
      expect(errorOf(of("pad power") * 1e3, P)).toBeLessThan(2e-4);
      expect(errorOf(of("pad power") * of("share of heat to gas") * 1e3, toGas)).toBeLessThan(4e-4);
      expect(errorOf(of("steady travel") / um / 1e-5, tip)).toBeLessThan(1e-3);
    },
  );
});

describe("a cascade: two facing pairs squeeze the ends of a third (Euler frame)", () => {
  const chip = bareChip({
    materials: plainMaterial({ E: "169 GPa" }),
    silicon: "material: plain",
    thickness: "40 um",
    device: `is: cascade
primaries:
  legs: { pairs: 1, length: 500 um, width: 8 um, tilt: 3 deg }
  shuttle: point
  anchors: ideal
secondary: { length: 400 um, width: 6 um, tilt: 6 deg }
shuttle: point
current: through primaries
heat loss: none
roots: rigid`,
    // a hundred-thousandth of the strains keeps it linear: the secondary's tilt changes with the travel
    cases: `primaries: { uniform strain: 6e-9, part strains: { secondary leg left: 0, secondary leg right: 0 } }
all: { uniform strain: 6e-9, part strains: { secondary leg left: 3e-9, secondary leg right: 3e-9 } }`,
  });
  it.each([
    ["primaries", 1.427465, 13.349529],
    ["all", 1.340612, 13.665911],
  ])("warmed: %s", (caseName, primary, output) => {
    const at = { caseName, where: "left primary inner" };
    // 1e-4 is asked for
    expect(errorOf((askMetric(chip, "motion along x", at) / um) * 1e5, primary)).toBeLessThan(1e-5);
    expect(errorOf((metricOf(chip, "steady travel", caseName) / um) * 1e5, output)).toBeLessThan(1e-5);
  });
});

describe("always", () => {
  const gasless = (V: number) => `v: { pads: ${V} V }`;
  const bank = (V: number): Chip =>
    bareChip({
      materials: plainMaterial({ E: "169 GPa", rho: "1.5e-4 ohm m", k: "120 W/(m K)" }),
      silicon: "material: plain",
      thickness: "40 um",
      device: `is: bent-beam bank
legs: { pairs: 3, length: 500 um, width: 8 um, tilt: 3 deg, pitch: 20 um }
shuttle: { width: 40 um, height: 80 um }
anchors: ideal
heat loss: { per length: 0.1 W/(m K) }`,
      cases: gasless(V),
    });
  it("what goes in comes out, and the current that enters leaves", () => {
    const chip = bank(5);
    expect(chip.side("drawn").pointAt("one", "v").energy!.relativeDefect).toBeLessThan(1e-6);
    const through = (side: string): number =>
      [1, 2, 3].reduce((sum, i) => sum + askMetric(chip, "current through", { where: `leg ${i} ${side}` }), 0);
    // both run from their anchor to the shuttle
    expect(Math.abs(through("left") + through("right"))).toBeLessThan(1e-9 * through("left"));
    expect(errorOf(through("left"), metricOf(chip, "supply current"))).toBeLessThan(1e-9);
    expect(errorOf(metricOf(chip, "pad power"), 5 * metricOf(chip, "supply current"))).toBeLessThan(1e-12);
  });
  it("what holds it takes what pushes it", () => {
    const chip = rodChip(d1, "pushed: { uniform rise: 150 K, forces: { apex: { x: 40 uN, y: 300 uN, turn: 2 nN m } } }");
    const sum = (word: string): number =>
      ["left", "right", "apex"].reduce((total, where) => total + askMetric(chip, word, { caseName: "pushed", where }), 0);
    expect(Math.abs(sum("holding force along x") / um + 40)).toBeLessThan(1e-5);
    expect(Math.abs(sum("holding force along y") / um + 300)).toBeLessThan(1e-5);
  });
  it("a mirror image moves as the image does", () => {
    const arm = (sign: 1 | -1): Chip =>
      bareChip({
        materials: plainMaterial({ E: "160 GPa" }),
        silicon: "material: plain",
        thickness: "10 um",
        device: `is: composition
points:
  root: { x: 0 um, y: 0 um }
  knee: { x: ${sign * 200} um, y: 60 um }
  tip: { x: ${sign * 260} um, y: -90 um }
parts:
  wall: { is: support, at: root, holds: [x, y, turn] }
  one: { is: beam, from: root, to: knee, width: 5 um, end width: 3 um }
  other: { is: beam, from: knee, to: tip, width: 4 um }
heat loss: none`,
        cases: `on: { uniform rise: 200 K, forces: { tip: { x: ${sign * 30} uN, y: 20 uN } } }`,
      });
    const of = (sign: 1 | -1, word: string): number => askMetric(arm(sign), word, { caseName: "on", where: "tip" });
    expect(errorOf(of(-1, "motion along x"), -of(1, "motion along x"))).toBeLessThan(1e-9);
    expect(errorOf(of(-1, "motion along y"), of(1, "motion along y"))).toBeLessThan(1e-9);
    expect(errorOf(of(-1, "turn"), -of(1, "turn"))).toBeLessThan(1e-9);
  });
  it("without a voltage nothing is warm and nothing moves", () => {
    const chip = bank(0);
    expect(metricOf(chip, "supply current")).toBe(0);
    expect(metricOf(chip, "hottest silicon temperature")).toBeCloseTo(293.15, 12);
    expect(Math.abs(metricOf(chip, "steady travel"))).toBeLessThan(1e-15);
  });
  it("the error that it prints covers the distance to the exact rod", () => {
    const chip = rodChip(d2, "warm: { uniform rise: 300 K }");
    const printed = chip.side("drawn").pointAt("one", "warm").discretisationError;
    // five digits of the rod are known
    expect(errorOf(metricOf(chip, "steady travel") / um, 14.21915)).toBeLessThan(printed + 1e-6);
  });
});

describe("a report whose printed heat density lacks a factor of two (read), with its shuttle of 20 x 10 um", () => {
  const material = plainMaterial({
    E: "160 GPa",
    alpha: "2.5e-6/K",
    k: "156 W/(m K)",
    rho: "51e-6 ohm m",
    density: "2330 kg/m^3",
    c: "732 J/(kg K)",
  });
  const chip = bareChip({
    materials: material,
    silicon: "material: plain",
    thickness: "20 um",
    device: vee({ length: "176 um", width: "5 um", tilt: "5.6 deg", shuttle: "{ width: 20 um, height: 10 um }" }),
    cases: "on: { pads: 3 V }",
  });
  it("no place exceeds 141.403 K; mean, junction and resistance but for the crowding at the shuttle", () => {
    expect(metricOf(chip, "hottest silicon temperature") - 293.15).toBeLessThanOrEqual(141.402715 * (1 + 1e-9));
    // 0.14 squares at each side of 3.62 um^-1 in all
    expect(metricOf(chip, "hot resistance") / 184.62).toBeGreaterThan(1);
    expect(metricOf(chip, "hot resistance") / 184.62).toBeLessThan(1.005);
    expect(errorOf(metricOf(chip, "mean leg temperature") - 293.15, 92.93)).toBeLessThan(5e-3);
  });
  it("its slowest time constant lies above that of a bar of its length, 0.153295 ms, as the shuttle is wider", () => {
    const bar = bareChip({
      materials: material,
      silicon: "material: plain",
      thickness: "20 um",
      device: "is: straight bar\nlength: 372 um\nwidth: 5 um\nanchors: ideal\nheat loss: none",
      cases: "on: { pads: 3 V }",
    });
    expect(errorOf(askMetric(bar, "thermal time constant", { argument: 1 }) * 1e3, 0.153295)).toBeLessThan(1e-5);
    const slowest = askMetric(chip, "thermal time constant", { argument: 1 }) * 1e3;
    expect(slowest).toBeGreaterThan(0.153295);
    expect(slowest).toBeLessThan(0.175);
  });
});
