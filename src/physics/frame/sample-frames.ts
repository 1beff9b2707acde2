/** Frames that several tests of this folder use. */
import type { FrameModel, FrameSolveOptions } from "./model.ts";
import type { FrameBeam, FrameJunction, FrameLoad, FrameNetwork } from "./network.ts";
import type { FrameEquilibrium } from "./state.ts";

export const um = 1e-6;
export const deg = Math.PI / 180;
export const clamped = ["x", "y", "turn"] as const;

/** A straight beam of even width between two places. */
export function straightBeam(
  ends: { readonly from: number; readonly to: number; readonly start: readonly number[]; readonly end: readonly number[] },
  options: {
    readonly width: number;
    readonly thickness: number;
    readonly youngsModulus: number;
    readonly nElements: number;
  } & Partial<Pick<FrameBeam, "name" | "shearModulus" | "density" | "hingedFrom" | "hingedTo">>,
): FrameBeam {
  const { from, to, start, end } = ends;
  const { width, nElements: n, name = "", shearModulus, density, ...rest } = options;
  const nodes = new Float64Array(2 * n + 2);
  for (let i = 0; i <= n; i++) {
    for (let k = 0; k < 2; k++) nodes[2 * i + k] = start[k]! + (i / n) * (end[k]! - start[k]!);
  }
  const { thickness, youngsModulus, hingedFrom, hingedTo } = rest;
  return {
    name,
    from,
    to,
    nodes,
    widths: new Float64Array(n).fill(width),
    thickness,
    youngsModulus,
    shearModulus,
    density,
    ...(hingedFrom === undefined ? {} : { hingedFrom }),
    ...(hingedTo === undefined ? {} : { hingedTo }),
  };
}

/** Beams straight between junctions. */
export function frameOf(
  junctions: readonly FrameJunction[],
  beams: readonly (readonly [from: number, to: number, size: Parameters<typeof straightBeam>[1]])[],
): FrameNetwork {
  return {
    junctions,
    beams: beams.map(([from, to, size]) => {
      const a = junctions[from]!;
      const b = junctions[to]!;
      return straightBeam({ from, to, start: [a.x, a.y], end: [b.x, b.y] }, size);
    }),
  };
}

export const at = (name: string, x: number, y: number, held: FrameJunction["held"] = []): FrameJunction => ({ name, x, y, held });

export interface ChevronShape {
  readonly l: number;
  readonly w: number;
  readonly t: number;
  /** [rad] */
  readonly angle: number;
  readonly E: number;
}

export const D1: ChevronShape = { l: 500 * um, w: 8 * um, t: 40 * um, angle: 3 * deg, E: 169e9 };
export const D2: ChevronShape = { l: 750 * um, w: 6 * um, t: 30 * um, angle: 2 * deg, E: 169e9 };
export const D5: ChevronShape = { l: 205 * um, w: 6 * um, t: 3 * um, angle: 0.1, E: 180e9 };
export const D6: ChevronShape = { l: 176 * um, w: 5 * um, t: 20 * um, angle: 5.6 * deg, E: 160e9 };
export const B9: ChevronShape = { l: 500 * um, w: 6 * um, t: 20 * um, angle: 0.1, E: 169e9 };

/** Two legs, anchors rigid, apex (junction 2) free to move as a whole: nothing here knows that it stays in the middle. */
export function chevron(shape: ChevronShape, nElements = 10): FrameNetwork {
  const half = shape.l * Math.cos(shape.angle);
  const leg = { width: shape.w, thickness: shape.t, youngsModulus: shape.E, nElements };
  return frameOf(
    [at("left", -half, 0, clamped), at("right", half, 0, clamped), at("apex", 0, shape.l * Math.sin(shape.angle))],
    [
      [0, 2, leg],
      [1, 2, leg],
    ],
  );
}

export const apex = { junction: 2, motion: "y" } as const;
export const apexRise = (motions: Float64Array): number => motions[7]!;

/** A straight beam along x in two halves whose middle (junction 1) stands off by `imperfection`. */
export function halvedBeam(options: {
  readonly length: number;
  readonly h: number;
  readonly imperfection: number;
  readonly ends: readonly (readonly ("x" | "y" | "turn")[])[];
  /** Elements in each half; 8 where left out. */
  readonly nElements?: number;
}): FrameNetwork {
  const { length, h, imperfection, ends, nElements = 8 } = options;
  const half = { width: h, thickness: 10 * um, youngsModulus: 169e9, nElements };
  return frameOf(
    [at("start", 0, 0, ends[0]!), at("middle", length / 2, imperfection), at("end", length, 0, ends[1]!)],
    [
      [0, 1, half],
      [1, 2, half],
    ],
  );
}

/** Cantilever along x, 1 m long, slenderness 1000; junction 1 is its tip. */
export function cantilever(nElements: number): FrameNetwork {
  return frameOf(
    [at("foot", 0, 0, clamped), at("tip", 1, 0)],
    [[0, 1, { width: 1e-3, thickness: 1e-3, youngsModulus: 1e11, nElements }]],
  );
}
export const cantileverEI = (1e11 * 1e-12) / 12;

export function equilibrium(model: FrameModel, load: FrameLoad, options: FrameSolveOptions = {}): FrameEquilibrium {
  const found = model.solve(load, options);
  if (found.outcome !== "equilibrium") throw new Error(found.reason);
  return found;
}

/** Relative error. */
export const errorOf = (found: number, wanted: number): number => Math.abs(found - wanted) / Math.abs(wanted);
