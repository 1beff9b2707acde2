/**
 * Planar frame against exact rods and closed forms.
 * Reference values of bent beams: exact plane rod, extensible, by shooting (computed independently for these tests, digits as printed);
 * closed form for small motion: Gianchandani & Najafi, JMEMS 5 (1996) 52 (form from memory); Euler columns and elastica: Timoshenko &
 * Gere, Theory of Elastic Stability (from memory), values computed from elliptic integrals.
 */
import { describe, expect, it } from "vitest";
import { type FrameLoading, PlanarFrameModel } from "./frame.ts";

const um = 1e-6;

interface Vee {
  readonly l: number;
  readonly w: number;
  readonly t: number;
  readonly tilt: number;
  readonly E: number;
  readonly n: number;
}

/** Two legs from fixed roots to one free joint (index 1). */
function vee({ l, w, t, tilt, E, n }: Vee): PlanarFrameModel {
  const [c, s] = [Math.cos(tilt) * l, Math.sin(tilt) * l];
  const leg = { width: w, thickness: t, youngsModulus: E, nElements: n };
  return new PlanarFrameModel({
    joints: [
      { x: -c, y: 0, fixed: true },
      { x: 0, y: s, fixed: false },
      { x: c, y: 0, fixed: true },
    ],
    members: [
      { from: 0, to: 1, ...leg },
      { from: 2, to: 1, ...leg },
    ],
  });
}

function strained(n: number, eps: number, rest: Partial<FrameLoading> = {}): FrameLoading {
  return { strains: [new Float64Array(n).fill(eps), new Float64Array(n).fill(eps)], loads: [], held: [], ...rest };
}

const degree = Math.PI / 180;
const d1: Omit<Vee, "n"> = { l: 500 * um, w: 8 * um, t: 40 * um, tilt: 3 * degree, E: 169e9 };
const d2: Omit<Vee, "n"> = { l: 750 * um, w: 6 * um, t: 30 * um, tilt: 2 * degree, E: 169e9 };
const d5: Omit<Vee, "n"> = { l: 205 * um, w: 6 * um, t: 3 * um, tilt: 0.1, E: 180e9 };

describe("bent beams against the exact rod", () => {
  const cases = [
    { name: "D1 100 K", device: d1, eps: 3e-4, apex: 2.51172, moment: 17.058, stress: 43.69 },
    { name: "D1 200 K", device: d1, eps: 6e-4, apex: 4.82894, moment: 32.345, stress: 82.32 },
    { name: "D1 300 K", device: d1, eps: 9e-4, apex: 6.98488, moment: 46.269, stress: 117.15 },
    { name: "D1 500 K", device: d1, eps: 15e-4, apex: 10.91279, moment: 71.069, stress: 178.53 },
    { name: "D2 100 K", device: d2, eps: 3e-4, apex: 5.51629, moment: 5.182, stress: 30.61 },
    { name: "D2 200 K", device: d2, eps: 6e-4, apex: 10.15349, moment: 9.339, stress: 54.74 },
    { name: "D2 300 K", device: d2, eps: 9e-4, apex: 14.21915, moment: 12.89, stress: 75.15 },
    { name: "D2 500 K", device: d2, eps: 15e-4, apex: 21.2329, moment: 18.88, stress: 109.31 },
    { name: "D5 100 K", device: d5, eps: 13.4e-4, apex: 2.40457, moment: 3.248, stress: 196.2 },
    { name: "D5 300 K", device: d5, eps: 40.2e-4, apex: 6.58901, moment: 8.642, stress: 515.4 },
  ] as const;
  it.each(cases)("$name: apex within 2e-5, moment and stress as printed", ({ device, eps, apex, moment, stress }) => {
    // eight elements of a leg leave 1.3e-5 at most (D2, 500 K); reference has 6 digits
    const state = vee({ ...device, n: 8 }).solve(strained(8, eps));
    expect(state.joints[4]! / um / apex).toBeCloseTo(1, 4);
    expect(Math.abs(state.joints[4]! / um / apex - 1)).toBeLessThan(2e-5);
    expect(Math.abs((Math.abs(state.members[0]!.endMoments[0]) * 1e9) / moment - 1)).toBeLessThan(2e-4);
    expect(Math.abs(state.members[0]!.peakStress / 1e6 / stress - 1)).toBeLessThan(5e-4);
    expect(state.nNegative).toBe(0);
  });

  it("converges with the second power of the element length or better, and the size of the error is told", () => {
    const exact = vee({ ...d2, n: 64 }).solve(strained(64, 15e-4)).joints[4]!;
    const errors = [4, 8, 16].map((n) => Math.abs(vee({ ...d2, n }).solve(strained(n, 15e-4)).joints[4]! / exact - 1));
    expect(Math.log2(errors[0]! / errors[1]!)).toBeGreaterThan(1.9);
    expect(Math.log2(errors[1]! / errors[2]!)).toBeGreaterThan(1.9);
    expect(errors[2]).toBeLessThan(2e-6);
  });

  it("pulls the apex back under residual tension (negative free strain)", () => {
    const pull = (device: Omit<Vee, "n">, eps: number) => vee({ ...device, n: 8 }).solve(strained(8, eps)).joints[4]! / um;
    expect(pull(d1, -73e-6)).toBeCloseTo(-0.64497, 4);
    expect(pull(d1, -40e-6)).toBeCloseTo(-0.35166, 4);
    expect(pull(d2, -73e-6)).toBeCloseTo(-1.53599, 4);
    expect(pull(d1, 6e-4 - 73e-6) - pull(d1, -73e-6)).toBeCloseTo(4.92604, 3);
  });

  it("never lands on the snapped-through branch of a flat device, which a large step finds without complaint", () => {
    const flat = { l: 800 * um, w: 6 * um, t: 40 * um, tilt: 1.5 * degree, E: 169e9 };
    for (const eps of [1e-4, 5e-4, 1e-3, 2e-3])
      expect(vee({ ...flat, n: 8 }).solve(strained(8, eps)).joints[4]).toBeGreaterThan(0);
  });
});

describe("small motion and blocked force", () => {
  const rows = [
    { device: d1, stiffness: 647.738, unit: 17.47823, blocked: 3396.394 },
    { device: d2, stiffness: 103.9875, unit: 27.22489, blocked: 1273.971 },
    {
      device: { l: 176 * um, w: 5 * um, t: 20 * um, tilt: 5.6 * degree, E: 160e9 },
      stiffness: 1876.693,
      unit: 9.45405,
      blocked: 1873.592,
    },
  ] as const;
  it.each(rows)("stiffness $stiffness N/m and travel per strain follow the closed form", ({ device, stiffness, unit }) => {
    const model = vee({ ...device, n: 4 });
    const rest = model.solve(strained(4, 0));
    expect(model.stiffnessAt(rest, strained(4, 0), { joint: 1, motion: 1 }) / stiffness).toBeCloseTo(1, 6);
    const small = 1e-9;
    const state = model.solve(strained(4, small));
    expect(state.joints[4]! / (small * device.l) / unit).toBeCloseTo(1, 4);
  });

  const held = ([0, 1, 2] as const).map((motion) => ({ joint: 1, motion, value: 0 }));
  it("equals 2 E w t eps sin(tilt) exactly while the straight legs are stable, and does not exist beyond", () => {
    for (const { device, blocked } of [rows[0], rows[2]]) {
      const state = vee({ ...device, n: 8 }).solve(strained(8, 6e-4, { held }));
      expect(Math.abs(state.reactions[1]!) / um / blocked).toBeCloseTo(1, 6);
    }
    // the leg between two clamps buckles at eps = pi^2 w^2 / (3 l^2): 8.42e-4 for D1, 2.11e-4 for D2
    expect(() => vee({ ...d1, n: 8 }).solve(strained(8, 8.36e-4, { held }))).not.toThrow();
    expect(() => vee({ ...d1, n: 8 }).solve(strained(8, 8.48e-4, { held }))).toThrow(/no stable state/);
    expect(() => vee({ ...d2, n: 8 }).solve(strained(8, 6e-4, { held }))).toThrow(/no stable state/);
  });
});

describe("loads on a warm bent beam (exact rod by shooting)", () => {
  const device = { l: 500 * um, w: 6 * um, t: 20 * um, tilt: 0.1, E: 169e9 };
  const eps = 2.6e-6 * 300;
  // the reference guides the apex: without a guide the loaded pair would tip over sideways
  const guide = ([0, 2] as const).map((motion) => ({ joint: 1, motion, value: 0 }));
  it.each([
    { load: 0, apex: 3.6953346 },
    { load: 1e-3, apex: 2.6216437 },
    { load: 2e-3, apex: 1.4709429 },
    { load: 3e-3, apex: 0.2156687 },
  ])("$load N against the travel leaves $apex um", ({ load, apex }) => {
    // pressed nearly flat, the legs are past their own buckling strain of 4.7e-4: the state is in balance but not stable
    const state = vee({ ...device, n: 10 }).solve(
      strained(10, eps, { loads: [{ joint: 1, motion: 1, value: -load }], held: guide }),
      { allowUnstable: true },
    );
    expect(state.joints[4]! / um).toBeCloseTo(apex, 4);
    expect(state.nNegative > 0).toBe(load > 1.5e-3);
  });
  it("held at 2 um pushes with 1.5495106 mN", () => {
    const held = [{ joint: 1, motion: 1 as const, value: 2 * um }, ...guide];
    const state = vee({ ...device, n: 10 }).solve(strained(10, eps, { held }));
    expect(Math.abs(state.reactions[0]!) / 1.5495106e-3).toBeCloseTo(1, 4);
  });
});

describe("cantilever elastica (Mattiasson, IJNME 17 (1981) 145; values by elliptic integrals)", () => {
  it.each([
    { alpha: 1, tip: 0.30172077, shortening: 0.056433236 },
    { alpha: 5, tip: 0.71379152, shortening: 0.38762836 },
    { alpha: 10, tip: 0.81060902, shortening: 0.5549956 },
  ])("P L^2 / EI = $alpha bends the tip by $tip L", ({ alpha, tip, shortening }) => {
    const [L, w, t, E, n] = [1e-3, 4 * um, 10 * um, 169e9, 20];
    const EI = (E * t * w ** 3) / 12;
    const model = new PlanarFrameModel({
      joints: [
        { x: 0, y: 0, fixed: true },
        { x: L, y: 0, fixed: false },
      ],
      members: [{ from: 0, to: 1, width: w, thickness: t, youngsModulus: E, nElements: n }],
    });
    const state = model.solve({
      strains: [new Float64Array(n)],
      loads: [{ joint: 1, motion: 1, value: (alpha * EI) / L ** 2 }],
      held: [],
    });
    // 0.1 % is asked for with ten elements; twenty leave 1.3e-5
    expect(Math.abs(state.joints[4]! / L / tip - 1)).toBeLessThan(2e-5);
    expect(Math.abs(-state.joints[3]! / L / shortening - 1)).toBeLessThan(2e-5);
  });
});

describe("straight clamped bar", () => {
  const bar = (L: number, w: number, bow: number): PlanarFrameModel => {
    const half = { width: w, thickness: 10 * um, youngsModulus: 169e9, nElements: 12 };
    return new PlanarFrameModel({
      joints: [
        { x: 0, y: 0, fixed: true },
        { x: L / 2, y: bow, fixed: false },
        { x: L, y: 0, fixed: true },
      ],
      members: [
        { from: 0, to: 1, ...half },
        { from: 1, to: 2, ...half },
      ],
    });
  };
  const warm = (eps: number): FrameLoading => ({
    strains: [new Float64Array(12).fill(eps), new Float64Array(12).fill(eps)],
    loads: [],
    held: [],
  });

  it("buckles at the strain pi^2 h^2 / (3 L^2), found by the sign of the tangent", () => {
    const critical = (Math.PI ** 2 * (8 * um) ** 2) / (3 * (500 * um) ** 2);
    const model = bar(500 * um, 8 * um, 0);
    expect(model.solve(warm(0.998 * critical), { allowUnstable: true }).nNegative).toBe(0);
    expect(model.solve(warm(1.002 * critical), { allowUnstable: true }).nNegative).toBe(1);
  });

  it("bows out by (2L/pi) sqrt(eps - eps_cr) beyond (extensible, linearised: within 2 %)", () => {
    const critical = (Math.PI ** 2 * (8 * um) ** 2) / (3 * (500 * um) ** 2);
    for (const [factor, amplitude] of [
      [2, 9.2376],
      [4, 16],
    ] as const) {
      const state = bar(500 * um, 8 * um, 0.02 * um).solve(warm(factor * critical));
      expect(Math.abs((state.joints[4]! + 0.02 * um) / um / amplitude - 1)).toBeLessThan(0.02);
    }
  });
});

describe("invariants", () => {
  it("a mirrored frame gives the mirrored answer", () => {
    const right = vee({ ...d1, n: 8 }).solve(strained(8, 6e-4));
    expect(right.joints[3]).toBeCloseTo(0, 12);
    expect(right.joints[5]).toBeCloseTo(0, 9);
    expect(right.members[0]!.axialForce).toBeCloseTo(right.members[1]!.axialForce, 12);
  });
  it("no strain and no load move nothing", () => {
    // rounding of the drawn places alone: below a femtometre
    for (const value of vee({ ...d1, n: 8 }).solve(strained(8, 0)).joints) expect(Math.abs(value)).toBeLessThan(1e-15);
  });
  it("bends less with a finite shear modulus only by what Timoshenko's term says", () => {
    const [L, w] = [100 * um, 20 * um];
    const beam = (shearModulus?: number) =>
      new PlanarFrameModel({
        joints: [
          { x: 0, y: 0, fixed: true },
          { x: L, y: 0, fixed: false },
        ],
        members: [
          {
            from: 0,
            to: 1,
            width: w,
            thickness: w,
            youngsModulus: 169e9,
            nElements: 4,
            ...(shearModulus !== undefined && { shearModulus }),
          },
        ],
      });
    const F = 1e-9;
    const tip = (shearModulus?: number) =>
      beam(shearModulus).solve({ strains: [new Float64Array(4)], loads: [{ joint: 1, motion: 1, value: F }], held: [] })
        .joints[4]!;
    const EI = (169e9 * w ** 4) / 12;
    expect(tip() / ((F * L ** 3) / (3 * EI))).toBeCloseTo(1, 6);
    const shear = (F * L) / ((5 / 6) * 50.9e9 * w * w);
    expect((tip(50.9e9) - tip()) / shear).toBeCloseTo(1, 4);
  });
});
