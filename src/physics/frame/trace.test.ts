import { describe, expect, it } from "vitest";
import { createFrameModel } from "./model.ts";
import type { FrameNetwork } from "./network.ts";
import { at, cantilever, cantileverEI, clamped, errorOf, frameOf, halvedBeam, straightBeam, um } from "./sample-frames.ts";
import { findAllStates, type PathPoint, type TracedPath, tracePath } from "./trace.ts";

type Reading = (point: PathPoint) => number;
const factor: Reading = ({ loadFactor }) => loadFactor;

/** A reading where a path passes a value of another one, by a parabola through the points around; each pass in turn. */
function readingsAt(path: TracedPath, value: number, options: { readonly of: Reading; readonly want: Reading }): number[] {
  const { of, want } = options;
  const { points } = path;
  const found: number[] = [];
  for (let i = 1; i + 1 < points.length; i++) {
    const [a, b, c] = [points[i - 1]!, points[i]!, points[i + 1]!];
    if ((of(a) - value) * (of(b) - value) > 0) continue;
    const [x0, x1, x2] = [of(a), of(b), of(c)];
    const basis = (x: number, u: number, w: number): number => ((value - u) * (value - w)) / ((x - u) * (x - w));
    found.push(want(a) * basis(x0, x1, x2) + want(b) * basis(x1, x0, x2) + want(c) * basis(x2, x0, x1));
  }
  return found;
}

const factorsAt = (path: TracedPath, value: number, of: Reading): number[] => readingsAt(path, value, { of, want: factor });

// Two pinned bars, half-span 100, rise 10, EA 1e4 each. Engineering strain: 2 EA (1 - (b/L)^(2/3))^(3/2) at apex drop 4.236074473
// (closed form). Our element's strain is l/L - 1, so this is its limit load, not the one of Green's strain (3.79198).
describe("two-bar truss", () => {
  const bar = { width: 20, thickness: 1 / 20, youngsModulus: 1e4, nElements: 1, hingedFrom: true, hingedTo: true };
  const model = createFrameModel(
    frameOf(
      [at("left", -100, 0, clamped), at("right", 100, 0, clamped), at("apex", 0, 10, ["turn"])],
      [
        [0, 2, bar],
        [1, 2, bar],
      ],
    ),
  );
  const load = { forces: [{ junction: 2, motion: "y", value: -1 }] } as const;
  const options = { factorRange: [-8, 8], largestMove: 1 } as const;
  it("passes both limit points", () => {
    const [path] = tracePath(model, load, options);
    expect(path!.end).toBe("range");
    const limits = path!.specialPoints;
    expect(limits.map(({ kind }) => kind)).toEqual(["limit", "limit"]);
    // the load is flat at a limit point, so it is found to the square of the place's error
    expect(errorOf(limits[0]!.loadFactor, 3.810871904)).toBeLessThan(2e-10);
    expect(errorOf(limits[1]!.loadFactor, -3.810871904)).toBeLessThan(2e-10);
    expect(errorOf(-limits[0]!.motions[7]!, 4.236074473)).toBeLessThan(1e-6);
    expect(errorOf(20 + limits[1]!.motions[7]!, 4.236074473)).toBeLessThan(1e-6);
    // the mode at the limit is the drop itself
    expect(Math.abs(limits[0]!.mode[6]!)).toBeLessThan(1e-9 * Math.abs(limits[0]!.mode[7]!));
  });
  // Force at apex height z: 2 EA (l - L)/L z/l (closed form), unity at three heights.
  it("finds the three states at one load", () => {
    const states = findAllStates(model, load, options);
    expect(states.map(({ nNegative }) => nNegative)).toEqual([0, 1, 0]);
    for (const { motions } of states) {
      const z = 10 + motions[7]!;
      const [l, L] = [Math.hypot(100, z), Math.hypot(100, 10)];
      expect(Math.abs((2e4 * (l - L) * z) / (L * l) + 1)).toBeLessThan(1e-9);
    }
  });
});

describe("a path that begins at a loaded state", () => {
  // A beam buckled up by heat, pushed down in its middle: it gives way at the same force on the way from its hot state as on any other,
  // and the mirrored force brings it back from below.
  it("snaps a hot buckled beam and finds the way back", () => {
    const model = createFrameModel(halvedBeam({ length: 400 * um, h: 2 * um, imperfection: 0, ends: [clamped, clamped] }));
    const strains = [3e-4, 3e-4];
    const [up, down] = findAllStates(model, { strains }, { factorRange: [-0.1, 1.05], mostPaths: 3 }).filter(
      (s) => s.nNegative === 0,
    );
    const push = { strains, forces: [{ junction: 1, motion: "y", value: -1e-3 * Math.sign(up!.motions[4]!) }] } as const;
    const [path] = tracePath(model, push, { start: up!, factorRange: [-1, 1] });
    const firstLoss = path!.specialPoints[0]!;
    expect(firstLoss.loadFactor).toBeGreaterThan(0);
    const pull = { strains, forces: [{ ...push.forces[0]!, value: -push.forces[0]!.value }] };
    const [back] = tracePath(model, pull, { start: down!, factorRange: [-1, 1] });
    expect(errorOf(back!.specialPoints[0]!.loadFactor, firstLoss.loadFactor)).toBeLessThan(1e-6);
    // the second shape stays where it is when solved from itself, and comes from there
    const again = model.solve({ strains: [3.01e-4, 3.01e-4] }, { start: down! });
    if (again.outcome !== "equilibrium") throw new Error(again.reason);
    expect(again.cameFrom).toBe("start");
    expect(Math.sign(again.motions[4]!)).toBe(Math.sign(down!.motions[4]!));
  });
});

// Lee, Manuel & Rossow 1968; Schweizerhof & Wriggers 1986 (from memory); values by exact shooting (computed).
describe("Lee's frame", () => {
  const size = { width: 2, thickness: 3, youngsModulus: 720 };
  const model = createFrameModel(
    frameOf(
      [at("foot", 0, 0, ["x", "y"]), at("corner", 0, 120), at("load", 24, 120), at("end", 120, 120, ["x", "y"])],
      [
        [0, 1, { ...size, nElements: 10 }],
        [1, 2, { ...size, nElements: 2 }],
        [2, 3, { ...size, nElements: 8 }],
      ],
    ),
  );
  const [path] = tracePath(
    model,
    { forces: [{ junction: 2, motion: "y", value: -1 }] },
    { factorRange: [-3, 3], largestMove: 0.25 },
  );
  it("passes its limit points and the snap-back between", () => {
    const [first, second] = path!.specialPoints;
    // 20 elements: 4e-5
    expect(errorOf(first!.loadFactor, 1.85567)).toBeLessThan(1e-4);
    expect(errorOf(-first!.motions[7]!, 48.735)).toBeLessThan(1e-4);
    expect(errorOf(second!.loadFactor, -0.9415)).toBeLessThan(1e-4);
    // flat: the place is known to a few digits only
    expect(errorOf(-second!.motions[7]!, 58.2)).toBeLessThan(5e-4);
    expect(errorOf(second!.motions[6]!, 90.19)).toBeLessThan(5e-4);
    expect(path!.specialPoints.map(({ kind }) => kind)).toEqual(["limit", "limit"]);
  });
  it("meets three states at one load, however long its steps are", () => {
    for (const largestMove of [0.1, 0.5, 1]) {
      const states = findAllStates(
        model,
        { forces: [{ junction: 2, motion: "y", value: -1 }] },
        { factorRange: [-3, 3], largestMove, mostPaths: 1 },
      );
      expect(states.map(({ nNegative }) => nNegative)).toEqual([0, 1, 0]);
      expect(states[0]!.motions[6]).toBeLessThan(5.25518);
    }
  });
  it("passes the points of the exact rod", () => {
    const drop = ({ motions }: PathPoint): number => -motions[7]!;
    const sideways = ({ motions }: PathPoint): number => motions[6]!;
    expect(errorOf(factorsAt(path!, 20, drop)[0]!, 1.345791)).toBeLessThan(2e-4);
    expect(errorOf(factorsAt(path!, 40, drop)[0]!, 1.780782)).toBeLessThan(2e-4);
    expect(errorOf(factorsAt(path!, 5.25518, sideways)[0]!, 1.345791)).toBeLessThan(2e-4);
    expect(errorOf(factorsAt(path!, 17.55762, sideways)[0]!, 1.780782)).toBeLessThan(2e-4);
    // snap-back: the drop turns round before the load does
    const before = path!.points.filter(({ motions }) => motions[6]! < 85);
    const deepest = before.reduce((a, b) => (drop(b) > drop(a) ? b : a));
    expect(errorOf(drop(deepest), 61)).toBeLessThan(1e-3);
    expect(errorOf(deepest.loadFactor, 1.206)).toBeLessThan(2e-2);
  });
});

// Timoshenko & Gere, Theory of Elastic Stability, table 2-4 (from memory; elliptic integrals): end slope, P/Pcr, tip x/L, y/L.
describe("cantilever column beyond buckling", () => {
  it("leaves the straight path at the Euler load and follows the elastica", () => {
    const model = createFrameModel(cantilever(16));
    const critical = (Math.PI ** 2 / 4) * cantileverEI;
    const paths = tracePath(
      model,
      { forces: [{ junction: 1, motion: "x", value: -critical }] },
      { factorRange: [0, 3], largestMove: 0.005, mostPaths: 3 },
    );
    const [straight, up, down] = paths;
    expect(straight!.specialPoints[0]!.kind).toBe("bifurcation");
    expect(errorOf(straight!.specialPoints[0]!.loadFactor, 1)).toBeLessThan(1e-5);
    expect(up!.leaves).toEqual({ path: 0, specialPoint: 0 });
    const slope = ({ motions }: PathPoint): number => Math.abs(motions[5]!) / (Math.PI / 180);
    for (const [angle, load, x, y] of [
      [20, 1.0153969, 0.9697309, 0.219413],
      [60, 1.1517196, 0.7410196, 0.5932077],
      [100, 1.5183888, 0.3489893, 0.7915395],
      [140, 2.5422584, -0.1069232, 0.7503884],
    ] as const) {
      for (const branch of [up!, down!]) {
        // sixteen elements, and the parabola between points
        expect(errorOf(factorsAt(branch, angle, slope)[0]!, load)).toBeLessThan(2e-4);
        const tip = (want: Reading): number => readingsAt(branch, angle, { of: slope, want })[0]!;
        expect(Math.abs(1 + tip(({ motions }) => motions[3]!) - x)).toBeLessThan(2e-4);
        expect(Math.abs(tip(({ motions }) => Math.abs(motions[4]!)) - y)).toBeLessThan(2e-4);
      }
    }
    expect(Math.sign(up!.points[5]!.motions[4]!)).toBe(-Math.sign(down!.points[5]!.motions[4]!));
  });
});

// Amplitude (2 L/pi) sqrt(eps - eps_cr) (extensible, linearised: 1 % low at six times critical).
describe("perfect beam under thermal strain", () => {
  it("has two stable states, mirror images, beside the straight unstable one", () => {
    const model = createFrameModel(halvedBeam({ length: 400 * um, h: 2 * um, imperfection: 0, ends: [clamped, clamped] }));
    const states = findAllStates(model, { strains: [5e-4, 5e-4] }, { factorRange: [-0.1, 1.05], mostPaths: 3 });
    const stable = states.filter(({ nNegative }) => nNegative === 0);
    expect(stable.length).toBe(2);
    expect(stable[0]!.motions[4]! + stable[1]!.motions[4]!).toBeCloseTo(0, 14);
    expect(errorOf(Math.abs(stable[0]!.motions[4]!) / um, 5.204752)).toBeLessThan(1e-3);
    expect(states.some(({ motions, nNegative }) => motions[4] === 0 && nNegative > 0)).toBe(true);
  });
});

/** Half of a clamped beam shaped as h (1 - cos 2 pi x/l)/2, its middle guided: what bends to one side only cannot happen. */
function curvedHalf(options: { l: number; h: number; t: number; nElements: number }): FrameNetwork {
  const { l, h, t, nElements: n } = options;
  const straight = straightBeam(
    { from: 0, to: 1, start: [0, 0], end: [l / 2, h] },
    { width: t, thickness: 1, youngsModulus: 1, nElements: n },
  );
  const nodes = straight.nodes.map((value, i) =>
    i % 2 === 0 ? value : (h / 2) * (1 - Math.cos((2 * Math.PI * straight.nodes[i - 1]!) / l)),
  );
  return { junctions: [at("clamp", 0, 0, clamped), at("middle", l / 2, h, ["x", "turn"])], beams: [{ ...straight, nodes }] };
}

// Qiu, Lang & Slocum 2004 (formulas from memory); targets: exact symmetric shallow arch (computed). F = f l^3/(E I h), D = drop/h.
describe("pre-shaped curved beam, second mode prevented", () => {
  const [l, h, t] = [1, 2e-3, 5e-4];
  const model = createFrameModel(curvedHalf({ l, h, t, nElements: 40 }));
  const unit = (t ** 3 / 12) * (h / l ** 3);
  // half the force on the half model
  const load = { forces: [{ junction: 1, motion: "y", value: -0.5 * unit }] } as const;
  const paths = tracePath(model, load, { factorRange: [-1500, 1500], mostPaths: 3, largestMove: 1e-5 });
  const drop = ({ motions }: PathPoint): number => -motions[4]! / h;
  it("rises along the first branch", () => {
    // forty elements of the drawn polygon, h/l 2e-3
    for (const [d, force] of [
      [0.02, 69.18255],
      [0.05, 165.30141],
      [0.1, 305.85537],
    ] as const)
      expect(errorOf(factorsAt(paths[0]!, d, drop)[0]!, force)).toBeLessThan(1e-3);
  });
  it("leaves it where the third mode gives way, and runs down the straight line", () => {
    const leaving = paths[0]!.specialPoints.find(({ kind }) => kind === "bifurcation")!;
    expect(errorOf(drop(leaving), 0.2989872)).toBeLessThan(2e-3);
    expect(errorOf(leaving.loadFactor, 653.3496)).toBeLessThan(1e-3);
    for (const d of [0.6, 1, 1.6]) {
      const wanted = 64 * Math.PI ** 2 * (4 / 3 - d);
      const readings = paths.slice(1).flatMap((path) => factorsAt(path, d, drop));
      expect(readings.some((reading) => Math.abs(reading - wanted) < 1)).toBe(true);
    }
  });
  it("comes back to the first branch at the lower end of the line, and has a second shape without force", () => {
    const bottom = paths[0]!.specialPoints.filter(({ kind }) => kind === "bifurcation")[1]!;
    expect(errorOf(drop(bottom), 1.7750869)).toBeLessThan(2e-3);
    expect(errorOf(bottom.loadFactor, -279.0357)).toBeLessThan(2e-3);
    expect(paths.slice(1).every(({ end }) => end === "loop")).toBe(true);
    const shapes = paths.flatMap((path) => readingsAt(path, 0, { of: factor, want: drop }));
    expect(shapes.some((d) => errorOf(d, 1.9082483) < 1e-3)).toBe(true);
    expect(shapes.some((d) => errorOf(d, 4 / 3) < 1e-3)).toBe(true);
  });
});
