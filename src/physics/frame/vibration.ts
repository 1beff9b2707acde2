/**
 * Natural modes of a frame about a bent shape, in its plane and out of it.
 *
 * Stiffness is the tangent at the shape, mass is consistent; modes are the lowest eigenpairs, counted so that none is missed.
 * An unstable shape has modes with a negative eigenvalue, which have no frequency.
 * Validity: small motion, no damping. Error: a frequency is high by the order of (h/wavelength)^4 of the elements; 6 elements per
 * leg give the first four modes of a bent-beam actuator to 0.01 ... 0.13 %. Source: Clough & Penzien, Dynamics of Structures (key clough1993, from memory).
 * Main test: vibration.test.ts.
 */
import { findLowestEigenpairs, multiplySkylineInto } from "#numerics";
import type { FrameNetwork, FrameShape } from "./network.ts";
import { energyOfMotion } from "./vibration-energy.ts";
import type { SmallMotionSystem } from "./vibration-matrices.ts";
import { expandMotions } from "./vibration-motions.ts";
import { createSmallMotionSystem, type SmallMotionOptions } from "./vibration-system.ts";
import type { MotionFamily } from "./vibration-unknowns.ts";

export interface ModeOptions extends SmallMotionOptions {
  /** How many of the lowest modes, over all families asked for. */
  readonly count: number;
  /** Left out = both. */
  readonly families?: readonly MotionFamily[];
  /** Systems of the families about this very shape, where they are made already. */
  readonly systems?: Readonly<Partial<Record<MotionFamily, SmallMotionSystem>>>;
}

export interface Mode {
  readonly family: MotionFamily;
  /** [Hz]; NaN where the shape is unstable in this mode. */
  readonly frequency: number;
  /** Square of the angular frequency, [1/s^2]; negative where unstable. */
  readonly eigenvalue: number;
  /** Scaled so that the largest displacement (the largest turn, where nothing is displaced) is +1: [3 nJunctions]. */
  readonly junctionMotions: Float64Array;
  /** Per beam, the same scale: [3 (nElements + 1)]. */
  readonly beamMotions: readonly Float64Array[];
  /** With that scale, [kg] (or kg m^2 for a pure turn). */
  readonly modalMass: number;
  /** Mass that the mode carries when the surroundings move along x, y, z, [kg]. */
  readonly effectiveMass: readonly [x: number, y: number, z: number];
  /** [nUnknowns] of its family's system, modal mass 1. */
  readonly vector: Float64Array;
}

export interface ModeSet {
  /** In ascending order of the eigenvalue. */
  readonly modes: readonly Mode[];
  readonly systems: Readonly<Partial<Record<MotionFamily, SmallMotionSystem>>>;
}

export function findModes(network: FrameNetwork, shape: FrameShape, options: ModeOptions): ModeSet {
  const { count, families = ["in plane", "out of plane"], ...rest } = options;
  const systems: Partial<Record<MotionFamily, SmallMotionSystem>> = {};
  const modes: Mode[] = [];
  for (const family of families) {
    const system = options.systems?.[family] ?? createSmallMotionSystem(network, shape, { ...rest, family });
    systems[family] = system;
    if (system.unknowns.nUnknowns > 0) modes.push(...modesOf(system, count));
  }
  if (modes.length === 0) throw new RangeError("Cannot find modes: wanted a frame with a mass that can move, found none");
  modes.sort((a, b) => a.eigenvalue - b.eigenvalue);
  return { modes: modes.slice(0, count), systems };
}

function modesOf(system: SmallMotionSystem, count: number): Mode[] {
  const { stiffness, mass, factored, nNegative } = system;
  const n = stiffness.n;
  const pairs = findLowestEigenpairs(stiffness, mass, { count: Math.min(count, n), factored: { matrix: factored, nNegative } });
  return Array.from(pairs.values, (_, i) => {
    const vector = pairs.vectors.slice(i * n, (i + 1) * n);
    return describeMode(system, eigenvalueOf(system, vector), vector);
  });
}

/** Rayleigh's quotient of a motion: for one that is nearly a mode, its eigenvalue but for the square of what it is off. */
export function eigenvalueOf(system: SmallMotionSystem, vector: Float64Array): number {
  const product = new Float64Array(vector.length);
  multiplySkylineInto(product, system.mass, vector);
  return energyOfMotion(system, vector) / dot(product, vector);
}

function describeMode(system: SmallMotionSystem, eigenvalue: number, vector: Float64Array): Mode {
  const motions = expandMotions(system, vector);
  const largest = largestMotion(system.family, [motions.junctionMotions, ...motions.beamMotions]);
  for (const part of [motions.junctionMotions, ...motions.beamMotions])
    for (let i = 0; i < part.length; i++) part[i] = part[i]! / largest;
  const parts = system.inertia.map((inertia) => {
    let sum = 0;
    for (let i = 0; i < inertia.length; i++) sum += inertia[i]! * vector[i]!;
    return sum * sum;
  });
  return {
    family: system.family,
    frequency: eigenvalue < 0 ? Number.NaN : Math.sqrt(eigenvalue) / (2 * Math.PI),
    eigenvalue,
    ...motions,
    modalMass: 1 / (largest * largest),
    effectiveMass: system.family === "in plane" ? [parts[0]!, parts[1]!, 0] : [0, 0, parts[0]!],
    vector,
  };
}

/** The largest displacement with its sign, or the largest turn where no displacement is more than rounding. */
function largestMotion(family: MotionFamily, parts: readonly Float64Array[]): number {
  const displacements = family === "in plane" ? [0, 1] : [0];
  let length = 0;
  let turn = 0;
  for (const part of parts) {
    for (let i = 0; i < part.length; i++) {
      const value = part[i]!;
      if (displacements.includes(i % 3)) length = Math.abs(value) > 1.000001 * Math.abs(length) ? value : length;
      else turn = Math.abs(value) > 1.000001 * Math.abs(turn) ? value : turn;
    }
  }
  // Turns are counted in rad, displacements in m: a rod in pure torsion shows displacements of 1e-12 of that and less.
  return Math.abs(length) > 1e-11 * Math.abs(turn) ? length : turn;
}

export interface ModeMatch {
  /** [nModes of the first set] mode of the second set with the same shape, -1 where none is left. */
  readonly partner: Int32Array;
  /** [nModes of the first set] 0 (other shape) to 1 (same shape). */
  readonly overlap: Float64Array;
}

/** Pairs the modes of two states of one frame by shape, in the inner product of the first state's mass: not by their rank. */
export function matchModes(first: ModeSet, second: ModeSet): ModeMatch {
  const candidates: { i: number; j: number; overlap: number }[] = [];
  first.modes.forEach((mode, i) => {
    const system = first.systems[mode.family]!;
    const image = new Float64Array(mode.vector.length);
    multiplySkylineInto(image, system.mass, mode.vector);
    second.modes.forEach((other, j) => {
      if (other.family !== mode.family) return;
      if (other.vector.length !== image.length) {
        throw new RangeError(
          `Cannot match modes: wanted states of one frame (${image.length} unknowns), found ${other.vector.length}`,
        );
      }
      const product = new Float64Array(image.length);
      multiplySkylineInto(product, system.mass, other.vector);
      const size = Math.sqrt(dot(product, other.vector));
      candidates.push({ i, j, overlap: Math.abs(dot(image, other.vector)) / size });
    });
  });
  candidates.sort((a, b) => b.overlap - a.overlap);
  const partner = new Int32Array(first.modes.length).fill(-1);
  const overlap = new Float64Array(first.modes.length);
  const isTaken = new Set<number>();
  for (const { i, j, overlap: value } of candidates) {
    if (partner[i] !== -1 || isTaken.has(j)) continue;
    partner[i] = j;
    overlap[i] = value;
    isTaken.add(j);
  }
  return { partner, overlap };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
