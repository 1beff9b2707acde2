/** A load in flat numbers, and the path from one load to another that the solver follows as a factor rises from 0 to 1. */
import type { FrameForce, FrameLoad, HeldMotion } from "./network.ts";
import type { FrameNumbers } from "./numbers.ts";
import { type FrameTopology, motionIndex } from "./topology.ts";

/** A load with nothing left out. */
export interface ResolvedLoad {
  /** [nElements] free strain and Young's modulus [Pa] of every element, beam after beam. */
  readonly strains: Float64Array;
  readonly moduli: Float64Array;
  /** [nJunctions] */
  readonly bodyStrains: Float64Array;
  readonly forces: readonly FrameForce[];
  /** Force of the acceleration on the rigid bodies. */
  readonly bodyForces: readonly FrameForce[];
  readonly held: readonly HeldMotion[];
  /** [m/s^2] */
  readonly acceleration: readonly [x: number, y: number];
}

/** Numbers at factor 0 and their change up to factor 1. */
export interface LoadPath {
  readonly strainStart: Float64Array;
  readonly strainChange: Float64Array;
  readonly modulusStart: Float64Array;
  readonly modulusChange: Float64Array;
  readonly bodyStart: Float64Array;
  readonly bodyChange: Float64Array;
  readonly heldChange: Float64Array;
  readonly forces: readonly PathForce[];
  readonly accelerationStart: readonly [number, number];
  readonly accelerationChange: readonly [number, number];
}

export interface PathForce {
  readonly junction: number;
  /** 0 x, 1 y, 2 moment */
  readonly motion: number;
  readonly x: number;
  readonly y: number;
  readonly start: number;
  readonly change: number;
}

export function resolveLoad(load: FrameLoad, options: { topology: FrameTopology; numbers: FrameNumbers }): ResolvedLoad {
  const { topology, numbers } = options;
  const { beams, junctions } = numbers.network;
  const strains = new Float64Array(topology.nElements);
  const moduli = new Float64Array(topology.nElements);
  beams.forEach((beam, b) => {
    const at = topology.firstElement[b]!;
    const n = topology.firstElement[b + 1]! - at;
    spread(strains, load.strains?.[b] ?? 0, { at, n, what: `free strains of beam "${beam.name}"` });
    spread(moduli, load.moduli?.[b] ?? beam.youngsModulus, { at, n, what: `moduli of beam "${beam.name}"` });
  });
  const bodyStrains = load.bodyStrains ?? new Float64Array(topology.nJunctions);
  if (bodyStrains.length !== topology.nJunctions) {
    throw new RangeError(`Cannot use the body strains: wanted ${topology.nJunctions} numbers, found ${bodyStrains.length}`);
  }
  const forces = load.forces ?? [];
  const bodyForces: FrameForce[] = [];
  const acceleration = load.acceleration ?? [0, 0];
  if (acceleration[0] !== 0 || acceleration[1] !== 0) {
    junctions.forEach(({ body }, junction) => {
      if (body === undefined) return;
      bodyForces.push({ junction, motion: "x", value: -body.mass * acceleration[0], offset: body.centre });
      bodyForces.push({ junction, motion: "y", value: -body.mass * acceleration[1], offset: body.centre });
    });
  }
  for (const { junction, value } of [...forces, ...(load.held ?? [])]) {
    if (!(Number.isInteger(junction) && junction >= 0 && junction < topology.nJunctions)) {
      throw new RangeError(`Cannot load the frame: wanted a junction from 0 to ${topology.nJunctions - 1}, found ${junction}`);
    }
    if (!Number.isFinite(value)) throw new RangeError(`Cannot load the frame: wanted a finite number, found ${value}`);
  }
  return { strains, moduli, bodyStrains, forces, bodyForces, held: load.held ?? [], acceleration };
}

function spread(out: Float64Array, value: number | Float64Array, options: { at: number; n: number; what: string }): void {
  const { at, n, what } = options;
  if (typeof value === "number") out.fill(value, at, at + n);
  else if (value.length === n) out.set(value, at);
  else throw new RangeError(`Cannot use the ${what}: wanted ${n} numbers, found ${value.length}`);
}

/** Which junction motions are held, for ever or by the load: [3 nJunctions]. */
export function markHeld(topology: FrameTopology, held: readonly HeldMotion[]): Uint8Array {
  const isHeld = Uint8Array.from(topology.isHeld);
  for (const { junction, motion } of held) isHeld[3 * junction + motionIndex[motion]] = 1;
  return isHeld;
}

export interface PathStart {
  readonly load: ResolvedLoad;
  /** Flat motions, see topology.ts. */
  readonly motions: Float64Array;
  /** [3 nJunctions] force on every held motion. */
  readonly reactions: Float64Array;
}

/** Path from the unstrained frame, or from a state, to a load. */
export function layPath(to: ResolvedLoad, options: { topology: FrameTopology; start?: PathStart }): LoadPath {
  const { topology, start } = options;
  const from = start?.load;
  const strainStart = from?.strains ?? new Float64Array(topology.nElements);
  const modulusStart = from?.moduli ?? to.moduli;
  const bodyStart = from?.bodyStrains ?? new Float64Array(topology.nJunctions);
  const heldChange = new Float64Array(3 * topology.nJunctions);
  const forces: PathForce[] = [];
  const push = (force: FrameForce, values: { start: number; change: number }): void => {
    const [x, y] = force.offset ?? [0, 0];
    forces.push({ junction: force.junction, motion: motionIndex[force.motion], x, y, ...values });
  };
  if (from !== undefined) {
    for (const list of [from.forces, from.bodyForces]) {
      for (const force of list) push(force, { start: force.value, change: -force.value });
    }
  }
  for (const list of [to.forces, to.bodyForces]) for (const force of list) push(force, { start: 0, change: force.value });
  for (const { junction, motion, value } of to.held) {
    const i = 3 * junction + motionIndex[motion];
    heldChange[i] = value - (start?.motions[i] ?? 0);
  }
  if (start !== undefined) {
    // a motion let go loses its reaction bit by bit
    const isHeld = markHeld(topology, to.held);
    for (const held of start.load.held) {
      const i = 3 * held.junction + motionIndex[held.motion];
      const value = start.reactions[i]!;
      if (isHeld[i] === 0) push({ junction: held.junction, motion: held.motion, value }, { start: value, change: -value });
    }
  }
  const ax = from?.acceleration[0] ?? 0;
  const ay = from?.acceleration[1] ?? 0;
  return {
    strainStart,
    strainChange: difference(to.strains, strainStart),
    modulusStart,
    modulusChange: difference(to.moduli, modulusStart),
    bodyStart,
    bodyChange: difference(to.bodyStrains, bodyStart),
    heldChange,
    forces,
    accelerationStart: [ax, ay],
    accelerationChange: [to.acceleration[0] - ax, to.acceleration[1] - ay],
  };
}

function difference(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! - b[i]!;
  return out;
}
