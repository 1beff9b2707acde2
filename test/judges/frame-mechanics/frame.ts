/**
 * What a planar elastic frame is made of: straight beams (branches) between junctions that have three motions each.
 *
 * Pure description. Coordinates in the plane of the wafer, x right, y up, rotation counter-clockwise [rad]. SI throughout.
 */

/** A motion of a junction. */
export type Motion = "x" | "y" | "rotation";

export const motionIndex: Readonly<Record<Motion, 0 | 1 | 2>> = { x: 0, y: 1, rotation: 2 };

export interface FrameJunction {
  /** Stress-free place [m]. */
  readonly x: number;
  readonly y: number;
  /** Motions that are held at zero for ever. */
  readonly fixed?: readonly Motion[];
  /** Linear springs to ground [N/m], [N m/rad]; they act on the motion from the stress-free place. */
  readonly springs?: Partial<Readonly<Record<Motion, number>>>;
}

/** Cross-section of a beam bending in the plane. */
export interface BeamSection {
  /** [m^2] */
  readonly area: number;
  /** Second moment for bending in the plane [m^4]. */
  readonly secondMoment: number;
  /** Extent in the plane, across the beam [m]: the outer fibres lie at half of it. */
  readonly depth: number;
}

/** Rectangle `width` in the plane by `thickness` out of it. */
export function rectangularSection(width: number, thickness: number): BeamSection {
  return { area: width * thickness, secondMoment: (thickness * width ** 3) / 12, depth: width };
}

export interface FrameBranch {
  readonly from: number;
  readonly to: number;
  /** Place of the beam's end relative to the junction it is rigidly joined to, stress-free [m]: the junction is then a rigid body. */
  readonly offsetFrom?: readonly [x: number, y: number];
  readonly offsetTo?: readonly [x: number, y: number];
  readonly section: BeamSection;
  /** [Pa], where a load does not give another. */
  readonly youngsModulus: number;
  /** Shear modulus times shear correction factor [Pa]; left out = no shear deformation. */
  readonly effectiveShearModulus?: number;
  /** Beam elements along the branch. */
  readonly nElements: number;
}

export interface FrameNetwork {
  readonly junctions: readonly FrameJunction[];
  readonly branches: readonly FrameBranch[];
}

/** One motion of one junction. */
export interface JunctionMotion {
  readonly junction: number;
  readonly motion: Motion;
}

/**
 * What acts on a frame. FREE STRAIN is the strain that the material would take if nothing held it:
 * thermal strain minus residual tension strain (a residual strain > 0 means tension in the clamped film: it wants to shorten).
 */
export interface FrameLoad {
  /** Per branch: one number, or one per element. Left out = none. */
  readonly freeStrains?: readonly (number | Float64Array)[];
  /** Young's modulus per branch, likewise [Pa]. Left out = that of the branch. */
  readonly moduli?: readonly (number | Float64Array)[];
  /** Forces that keep their direction [N], moments [N m]. */
  readonly forces?: readonly (JunctionMotion & { readonly value: number })[];
  /** Motions held at a value [m], [rad]. */
  readonly held?: readonly (JunctionMotion & { readonly value: number })[];
}

/** Throws a RangeError at the first impossible number. */
export function checkFrame(network: FrameNetwork): void {
  const { junctions, branches } = network;
  branches.forEach((branch, b) => {
    for (const end of [branch.from, branch.to]) {
      if (!(Number.isInteger(end) && end >= 0 && end < junctions.length)) {
        throw new RangeError(`Cannot use beam ${b}: wanted a junction from 0 to ${junctions.length - 1}, found ${end}`);
      }
    }
    const { area, secondMoment, depth } = branch.section;
    for (const [what, value] of [
      ["cross-section", area],
      ["second moment", secondMoment],
      ["depth", depth],
      ["modulus", branch.youngsModulus],
      ["length", branchVector(network, branch).length],
    ] as const) {
      if (!(value > 0 && Number.isFinite(value))) {
        throw new RangeError(`Cannot use the ${what} of beam ${b}: wanted a positive number, found ${value}`);
      }
    }
    if (!(Number.isInteger(branch.nElements) && branch.nElements >= 1)) {
      throw new RangeError(`Cannot mesh beam ${b}: wanted a whole number of elements >= 1, found ${branch.nElements}`);
    }
  });
}

/** Stress-free vector from the start to the end of a beam, offsets included [m]. */
export function branchVector(network: FrameNetwork, branch: FrameBranch): { dx: number; dy: number; length: number } {
  const from = network.junctions[branch.from]!;
  const to = network.junctions[branch.to]!;
  const [ax, ay] = branch.offsetFrom ?? [0, 0];
  const [bx, by] = branch.offsetTo ?? [0, 0];
  const dx = to.x + bx - from.x - ax;
  const dy = to.y + by - from.y - ay;
  return { dx, dy, length: Math.hypot(dx, dy) };
}
