/**
 * Devices that no family describes, composed in the user's text, against closed forms of strength of materials (Gere & Timoshenko,
 * Mechanics of Materials; Roark's Formulas; Castigliano's theorem: from memory) and of heated conductors (Kohlrausch, Ann. Phys. 306 (1900)
 * 132: T - T0 = p (V - p)/(2 k rho) wherever the potential is p, for any shape; from memory). Each derivation stands beside its device.
 */
import { describe, expect, it } from "vitest";
import type { Chip } from "#chip";
import { askMetric, bareChip, metricOf, plainMaterial } from "./chip-text.ts";

const um = 1e-6;
const errorOf = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const [E, t, k, rho, ambient] = [160e9, 20 * um, 100, 1e-4, 293.15];
/** Second moment of a beam of a width [m] in the plane, [m^4]. */
const bending = (width: number): number => (t * width ** 3) / 12;

interface Own {
  readonly points: string;
  readonly parts: string;
  readonly cases: string;
  readonly heatLoss?: string;
}

const lines = (text: string): string =>
  text
    .trim()
    .split("\n")
    .map((line) => `  ${line.trim()}`)
    .join("\n");

const compose = ({ points, parts, cases, heatLoss = "none" }: Own): Chip =>
  bareChip({
    materials: plainMaterial({ E: "160 GPa" }),
    silicon: "material: plain",
    thickness: "20 um",
    device: `is: composition\npoints:\n${lines(points)}\nparts:\n${lines(parts)}\nheat loss: ${heatLoss}\nroots: rigid`,
    cases,
  });

const wall = (name: string, at: string, wire = ""): string =>
  `${name}: { is: anchor, at: ${at}, width: 40 um, height: 200 um, heat: ideal${wire === "" ? "" : `, wire: ${wire}`} }`;
const moved = (chip: Chip, axis: "x" | "y", where: string, caseName = "push"): number =>
  askMetric(chip, `motion along ${axis}`, { caseName, where });

describe("bent by a small force", () => {
  const L = 400 * um;
  const between = `
    left foot: { x: -20 um, y: 0 um }
    right foot: { x: 420 um, y: 0 um }
    start: { x: 0 um, y: 0 um }
    end: { x: 400 um, y: 0 um }`;
  const I = bending(4 * um);

  it("a beam held at both ends gives way in its middle as 192 EI/L^3", () => {
    const chip = compose({
      points: between,
      parts: `${wall("left", "left foot")}\n${wall("right", "right foot")}\nbeam: { is: beam, from: start, to: end, width: 4 um, joint at: 0.5 }`,
      cases: "push: { uniform rise: 0 K, forces: { beam joint: { y: 0.1 uN } } }",
    });
    const wanted = (192 * E * I) / L ** 3;
    expect(errorOf(1e-7 / moved(chip, "y", "beam joint"), wanted)).toBeLessThan(1e-5);
    expect(errorOf(askMetric(chip, "stiffness along y", { caseName: "push", where: "beam joint" }), wanted)).toBeLessThan(1e-4);
  });

  it("one held at one end and borne at the other gives way in its middle as 768 EI/(7 L^3)", () => {
    const chip = compose({
      points: between,
      parts: `${wall("left", "left foot")}\nrest: { is: support, at: end, holds: [y] }\nbeam: { is: beam, from: start, to: end, width: 4 um, joint at: 0.5 }`,
      cases: "push: { uniform rise: 0 K, forces: { beam joint: { y: 0.1 uN } } }",
    });
    expect(errorOf(1e-7 / moved(chip, "y", "beam joint"), (768 * E * I) / (7 * L ** 3))).toBeLessThan(1e-5);
  });

  it("a cantilever with a spring at its tip is 3 EI/L^3 and the spring, side by side", () => {
    const chip = compose({
      points: between,
      parts: `${wall("left", "left foot")}\nbeam: { is: beam, from: start, to: end, width: 4 um }\npull: { is: spring, at: end, y: 0.7 N/m }`,
      cases: "push: { uniform rise: 0 K, forces: { end: { y: 0.1 uN } } }",
    });
    expect(errorOf(1e-7 / moved(chip, "y", "end"), (3 * E * I) / L ** 3 + 0.7)).toBeLessThan(1e-5);
  });

  it("a stepped cantilever: the moment F x over EI of either width, doubled with x and summed (Castigliano)", () => {
    const chip = compose({
      points: `${between}\nstep: { x: 150 um, y: 0 um }`,
      parts: `${wall("left", "left foot")}\nthick: { is: beam, from: start, to: step, width: 8 um }\nthin: { is: beam, from: step, to: end, width: 4 um }`,
      cases: "push: { uniform rise: 0 K, forces: { end: { y: 0.1 uN } } }",
    });
    const thin = 250 * um;
    const wanted = ((L ** 3 - thin ** 3) / bending(8 * um) + thin ** 3 / bending(4 * um)) / (3 * E);
    expect(errorOf(moved(chip, "y", "end") / 1e-7, wanted)).toBeLessThan(1e-5);
  });

  it("an L: the far arm bends, the near one turns and stretches (Castigliano)", () => {
    const chip = compose({
      points: `${between}\ntop: { x: 400 um, y: 300 um }`,
      parts: `${wall("left", "left foot")}\nnear: { is: beam, from: start, to: end, width: 4 um }\nfar: { is: beam, from: end, to: top, width: 4 um }`,
      cases: `push: { uniform rise: 0 K, forces: { top: { x: 0.02 uN } } }
lift: { uniform rise: 0 K, forces: { top: { y: 0.005 uN } } }`,
    });
    const b = 300 * um;
    const area = 4 * um * t;
    const aside = b ** 3 / (3 * E * I) + (b * b * L) / (E * I) + L / (E * area);
    expect(errorOf(moved(chip, "x", "top") / 2e-8, aside)).toBeLessThan(1e-4);
    expect(errorOf(moved(chip, "y", "top", "lift") / 5e-9, L ** 3 / (3 * E * I) + b / (E * area))).toBeLessThan(1e-4);
    // Maxwell and Betti: the same cross term from either load, and by hand F b L^2/(2 EI)
    expect(errorOf(moved(chip, "y", "top", "push") / 2e-8, moved(chip, "x", "top", "lift") / 5e-9)).toBeLessThan(1e-3);
    expect(errorOf(-moved(chip, "y", "top", "push") / 2e-8, (b * L * L) / (2 * E * I))).toBeLessThan(1e-3);
  });

  it("a plate on two legs, pushed beyond their ends: legs of 12 EI/l^3 that stretch where the plate turns", () => {
    const [l, d, s] = [400 * um, 100 * um, 30 * um];
    const chip = compose({
      points: `
        foot: { x: -20 um, y: 0 um }
        low start: { x: 0 um, y: -50 um }
        low end: { x: 400 um, y: -50 um }
        high start: { x: 0 um, y: 50 um }
        high end: { x: 400 um, y: 50 um }
        middle: { x: 430 um, y: 0 um }`,
      parts: `${wall("left", "foot")}
        low: { is: beam, from: low start, to: low end, width: 4 um }
        high: { is: beam, from: high start, to: high end, width: 4 um }
        plate: { is: plate, at: middle, width: 60 um, height: 140 um }`,
      cases: "push: { uniform rise: 0 K, forces: { middle: { y: 0.1 uN } } }",
    });
    // v and turn at the legs' ends: [2a, -2b; -2b, 2c + 2e (d/2)^2] (v, turn) = F (1, s), the middle moves by v + s turn
    const [a, b, c, e] = [(12 * E * I) / l ** 3, (6 * E * I) / l ** 2, (4 * E * I) / l, (E * 4 * um * t) / l];
    const [k11, k12, k22] = [2 * a, -2 * b, 2 * c + (e * d * d) / 2];
    const determinant = k11 * k22 - k12 * k12;
    const wanted = (k22 - 2 * s * k12 + s * s * k11) / determinant;
    expect(errorOf(moved(chip, "y", "middle") / 1e-7, wanted)).toBeLessThan(1e-5);
  });

  it("a bent beam of unequal arms, warmed: three equations of equilibrium at its apex", () => {
    const apex = { x: 180 * um, y: 12 * um };
    const chip = compose({
      points: `${between}\napex: { x: 180 um, y: 12 um }`,
      parts: `${wall("left", "left foot")}\n${wall("right", "right foot")}
        short arm: { is: beam, from: start, to: apex, width: 4 um }
        long arm: { is: beam, from: end, to: apex, width: 4 um }`,
      cases: "push: { uniform rise: 0.1 K }",
    });
    const K = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    const load = [0, 0, 0];
    const add = (i: number, j: number, value: number): void => {
      K[3 * i + j] = K[3 * i + j]! + value;
    };
    for (const foot of [0, L]) {
      const [dx, dy] = [apex.x - foot, apex.y];
      const l = Math.hypot(dx, dy);
      const [cosine, sine] = [dx / l, dy / l];
      const [axial, bend, mixed, turn] = [(E * 4 * um * t) / l, (12 * E * I) / l ** 3, (6 * E * I) / l ** 2, (4 * E * I) / l];
      add(0, 0, axial * cosine ** 2 + bend * sine ** 2);
      add(1, 1, axial * sine ** 2 + bend * cosine ** 2);
      add(0, 1, (axial - bend) * cosine * sine);
      add(1, 0, (axial - bend) * cosine * sine);
      for (const [i, j] of [
        [0, 2],
        [2, 0],
      ] as const)
        add(i, j, mixed * sine);
      for (const [i, j] of [
        [1, 2],
        [2, 1],
      ] as const)
        add(i, j, -mixed * cosine);
      add(2, 2, turn);
      // free strain 3e-6/K over 0.1 K
      load[0] = load[0]! + axial * l * 3e-7 * cosine;
      load[1] = load[1]! + axial * l * 3e-7 * sine;
    }
    const minor = (a: readonly number[]): number =>
      a[0]! * (a[4]! * a[8]! - a[5]! * a[7]!) - a[1]! * (a[3]! * a[8]! - a[5]! * a[6]!) + a[2]! * (a[3]! * a[7]! - a[4]! * a[6]!);
    // Cramer's rule
    const replaced = (column: number): number[] => K.map((value, i) => (i % 3 === column ? load[Math.floor(i / 3)]! : value));
    expect(errorOf(moved(chip, "y", "apex"), minor(replaced(1)) / minor(K))).toBeLessThan(1e-3);
    expect(errorOf(moved(chip, "x", "apex"), minor(replaced(0)) / minor(K))).toBeLessThan(2e-3);
  });
});

describe("heated by a current", () => {
  const feet = `
    left foot: { x: -20 um, y: 0 um }
    right foot: { x: 420 um, y: 0 um }`;
  const rise = (chip: Chip, where: string): number => askMetric(chip, "temperature", { caseName: "on", where }) - ambient;
  const peak = (volts: number): number => volts ** 2 / (8 * k * rho);
  const walls = `${wall("left", "left foot", "plus")}\n${wall("right", "right foot", "minus")}`;

  it("bars of two widths side by side share the current as their widths and are equally warm", () => {
    const chip = compose({
      points: `${feet}
        low start: { x: 0 um, y: -50 um }
        low end: { x: 400 um, y: -50 um }
        high start: { x: 0 um, y: 50 um }
        high end: { x: 400 um, y: 50 um }`,
      parts: `${walls}\nlow: { is: beam, from: low start, to: low end, width: 4 um, joint at: 50 % }\nhigh: { is: beam, from: high start, to: high end, width: 10 um, joint at: 50 % }`,
      cases: "on: { pads: 1 V }",
    });
    for (const [name, width] of [
      ["low", 4],
      ["high", 10],
    ] as const) {
      const current = askMetric(chip, "current through", { caseName: "on", where: `${name} first part` });
      expect(errorOf(Math.abs(current), (width * um * t) / (rho * 400 * um))).toBeLessThan(1e-8);
      expect(errorOf(rise(chip, `${name} joint`), peak(1))).toBeLessThan(1e-6);
    }
  });

  it("heaters in series: one current, the joint as warm as its potential says", () => {
    const chip = compose({
      points: `${feet}\nstart: { x: 0 um, y: 0 um }\njoint: { x: 120 um, y: 0 um }\nend: { x: 400 um, y: 0 um }`,
      parts: `${walls}\none bar: { is: beam, from: start, to: joint, width: 12 um }\nother bar: { is: beam, from: joint, to: end, width: 5 um }`,
      cases: "on: { pads: 2 V }",
    });
    const [one, other] = [(rho * 120 * um) / (12 * um * t), (rho * 280 * um) / (5 * um * t)];
    expect(errorOf(metricOf(chip, "supply current"), 2 / (one + other))).toBeLessThan(1e-8);
    const potential = (2 * other) / (one + other);
    expect(errorOf(rise(chip, "joint"), (potential * (2 - potential)) / (2 * k * rho))).toBeLessThan(1e-6);
    expect(errorOf(metricOf(chip, "hottest silicon temperature") - ambient, peak(2))).toBeLessThan(1e-6);
  });

  it("a loop in the shape of a U: its whole length resists, its link is hottest", () => {
    const chip = compose({
      points: `
        low foot: { x: -20 um, y: -150 um }
        high foot: { x: -20 um, y: 150 um }
        low start: { x: 0 um, y: -150 um }
        high start: { x: 0 um, y: 150 um }
        low end: { x: 300 um, y: -150 um }
        high end: { x: 300 um, y: 150 um }`,
      parts: `${wall("low anchor", "low foot", "plus")}\n${wall("high anchor", "high foot", "minus")}
        low: { is: beam, from: low start, to: low end, width: 6 um }
        link: { is: beam, from: low end, to: high end, width: 6 um, joint at: 50 % }
        high: { is: beam, from: high start, to: high end, width: 6 um }`,
      cases: "on: { pads: 1.5 V }",
    });
    expect(errorOf(metricOf(chip, "supply current"), (1.5 * 6 * um * t) / (rho * 900 * um))).toBeLessThan(1e-8);
    expect(errorOf(rise(chip, "link joint"), peak(1.5))).toBeLessThan(1e-6);
    // a third of the way: (1/3)(2/3)/2 of V^2/(k rho) = 8/9 of the peak
    expect(errorOf(rise(chip, "low end"), (8 / 9) * peak(1.5))).toBeLessThan(1e-6);
  });

  it("a tapered heater resists as the logarithm of its widths and is no hotter than an even one", () => {
    const chip = compose({
      points: `${feet}\nstart: { x: 0 um, y: 0 um }\nend: { x: 400 um, y: 0 um }`,
      parts: `${walls}\nbar: { is: beam, from: start, to: end, width: 4 um, end width: 16 um, joint at: 25 % }`,
      cases: "on: { pads: 1 V }",
    });
    expect(errorOf(metricOf(chip, "supply current"), (12 * um * t) / (rho * 400 * um * Math.log(4)))).toBeLessThan(1e-6);
    expect(errorOf(metricOf(chip, "hottest silicon temperature") - ambient, peak(1))).toBeLessThan(1e-5);
    // a quarter along it is 7 um wide, at the potential ln(7/4)/ln(16/4) of the whole
    const share = Math.log(7 / 4) / Math.log(4);
    expect(errorOf(rise(chip, "bar joint"), 4 * share * (1 - share) * peak(1))).toBeLessThan(1e-5);
  });

  it("with a given loss per length a bar is as warm as cosh says, and so is each of two that share twice the current", () => {
    // k A T'' = G (T - T0) - I^2 rho/A between ends at T0: peak D (1 - 1/cosh x), mean D (1 - tanh x/x), x = sqrt(G/(k A)) L/2, D = I^2 rho/(A G)
    const [G, I, L, area] = [0.02, 2e-3, 400 * um, 5 * um * t];
    const x = (Math.sqrt(G / (k * area)) * L) / 2;
    const D = (I * I * rho) / (area * G);
    for (const [count, current] of [
      [1, 2],
      [2, 4],
      [4, 8],
    ] as const) {
      const legs = Array.from({ length: count }, (_, i) => ({ name: `bar ${"abcd"[i]}`, y: 20 * i - 30 }));
      const chip = compose({
        heatLoss: `{ per length: ${G} W/(m K) }`,
        points: `${feet}\n${legs.map(({ name, y }) => `${name} start: { x: 0 um, y: ${y} um }\n${name} end: { x: 400 um, y: ${y} um }`).join("\n")}`,
        parts: `${walls}\n${legs.map(({ name }) => `${name}: { is: beam, from: ${name} start, to: ${name} end, width: 5 um, joint at: 50 % }`).join("\n")}`,
        cases: `on: { current: ${current} mA }`,
      });
      for (const { name } of legs) {
        expect(errorOf(rise(chip, `${name} joint`), D * (1 - 1 / Math.cosh(x)))).toBeLessThan(1e-6);
        const mean = askMetric(chip, "mean temperature", { caseName: "on", where: `${name} second part` }) - ambient;
        expect(errorOf(mean, D * (1 - Math.tanh(x) / x))).toBeLessThan(1e-6);
      }
      expect(errorOf(metricOf(chip, "pad voltage"), (I * rho * L) / area)).toBeLessThan(1e-8);
      expect(errorOf(metricOf(chip, "share of heat to the substrate"), Math.tanh(x) / x)).toBeLessThan(1e-4);
    }
  });
});
