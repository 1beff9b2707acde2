/**
 * Small static motion of a frame about a bent shape: under forces on bodies and under acceleration of the surroundings.
 *
 * Gravity, side play and slow shock are one kind of load: the surroundings accelerate, every mass lags. A die that lies on a table
 * is accelerated upwards by 9.8 m/s^2, so gravity along -z is the acceleration (0, 0, +9.8).
 * Validity: linear about the shape. Error: that of the elements. Main tests: out-of-plane.test.ts, vibration-response.test.ts.
 */
import { solveSkylineInto } from "#numerics";
import { endWidths } from "./element-shape.ts";
import type { FrameNetwork, FrameShape, Motion, OutOfPlaneMotion } from "./network.ts";
import { rectangleTorsion } from "./torsion-rectangle.ts";
import type { SmallMotionSystem } from "./vibration-matrices.ts";
import { expandMotions } from "./vibration-motions.ts";
import { createSmallMotionSystem, type SmallMotionOptions } from "./vibration-system.ts";
import { liftedColumns, type MotionFamily, motionsOfFamily, offsetInShape, planarColumns } from "./vibration-unknowns.ts";

/** A motion of a point of a body. */
export interface SmallMotionPoint {
  readonly junction: number;
  readonly motion: Motion | OutOfPlaneMotion;
  /** Place of the point relative to the junction in the unstrained body, [m]; left out = the junction. */
  readonly offset?: readonly [x: number, y: number];
}

export interface SmallMotionForce extends SmallMotionPoint {
  /** [N] or [N m] */
  readonly value: number;
}

export interface SmallLoad {
  readonly forces?: readonly SmallMotionForce[];
  /** Acceleration of the surroundings, [m/s^2]; acts as a force -a on every mass. */
  readonly acceleration?: readonly [x: number, y: number, z: number];
}

/** Loads on the end of a beam and the stresses that they make in its section there, without notch factors. */
export interface BeamEndLoads {
  /** Tension positive, [N]; 0 out of the plane. */
  readonly axialForce: number;
  /** Along the normal of the motion: across the beam in its plane, or along z, [N], on the beam's end. */
  readonly shearForce: number;
  /** [N m] on the beam's end. */
  readonly bendingMoment: number;
  /** [N m]; 0 in the plane. */
  readonly torque: number;
  /** Greatest stress along the beam from bending, and that from the axial force, [Pa]; both 0 or more. */
  readonly bendingStress: number;
  readonly axialStress: number;
  /** Greatest shear stress of the torque (middle of the wide side) and of the shear force (middle of the section), [Pa]. */
  readonly torsionStress: number;
  readonly shearStress: number;
}

export interface SmallResponse {
  readonly system: SmallMotionSystem;
  readonly load: SmallLoad;
  /** [3 nJunctions] x, y, turn or z, turn x, turn y of every junction: m, rad. */
  readonly junctionMotions: Float64Array;
  /** Per beam: the same of every node, [3 (nElements + 1)]. */
  readonly beamMotions: readonly Float64Array[];
}

/** Coefficients of the unknowns in the motion of a point; undefined where it belongs to the other family. */
export function pointRow(
  system: SmallMotionSystem,
  point: SmallMotionPoint,
): { readonly unknowns: Int32Array; readonly parts: Float64Array } | undefined {
  const { family, unknowns, shape, network } = system;
  if (network.junctions[point.junction] === undefined) {
    throw new RangeError(
      `Cannot find a motion: wanted a junction from 0 to ${network.junctions.length - 1}, found ${point.junction}`,
    );
  }
  const k = motionsOfFamily[family].indexOf(point.motion);
  if (k < 0) return undefined;
  const [ox, oy] = point.offset === undefined ? [0, 0] : offsetInShape(shape, { junction: point.junction, offset: point.offset });
  const columns = family === "in plane" ? planarColumns(ox, oy, false) : liftedColumns(ox, oy);
  const first = 3 * point.junction;
  return { unknowns: unknowns.ofJunction.subarray(first, first + 3), parts: columns.subarray(4 * k, 4 * k + 3) };
}

/** Static motion about the shape. */
export function solveSmallMotion(system: SmallMotionSystem, load: SmallLoad): SmallResponse {
  const x = new Float64Array(system.unknowns.nUnknowns);
  for (const force of load.forces ?? []) addForce(x, system, force);
  const acceleration = accelerationOf(system, load);
  for (let d = 0; d < acceleration.length; d++) {
    const inertia = system.inertia[d]!;
    for (let i = 0; i < x.length; i++) x[i] = x[i]! - acceleration[d]! * inertia[i]!;
  }
  solveSkylineInto(x, system.factored);
  return { system, load, ...expandMotions(system, x) };
}

function addForce(x: Float64Array, system: SmallMotionSystem, force: SmallMotionForce): void {
  const row = pointRow(system, force);
  if (row === undefined) return;
  for (let i = 0; i < 3; i++) {
    const u = row.unknowns[i]!;
    if (u >= 0) x[u] = x[u]! + force.value * row.parts[i]!;
  }
}

/** Components of the acceleration that belong to the family. */
function accelerationOf(system: SmallMotionSystem, load: SmallLoad): readonly number[] {
  const [ax, ay, az] = load.acceleration ?? [0, 0, 0];
  return system.family === "in plane" ? [ax, ay] : [az];
}

/** Motion of a point under the load: m or rad; 0 where the motion belongs to the other family. */
export function motionOfPoint(response: SmallResponse, point: SmallMotionPoint): number {
  const row = pointRow(response.system, point);
  if (row === undefined) return 0;
  let sum = 0;
  for (let i = 0; i < 3; i++) sum += row.parts[i]! * response.junctionMotions[3 * point.junction + i]!;
  return sum;
}

/**
 * Force at a point over its motion along the force, everything else free: N/m or N m/rad. Infinite where the motion is held, negative
 * where the shape is unstable against it.
 */
export function stiffnessOfPoint(system: SmallMotionSystem, point: SmallMotionPoint): number {
  if (pointRow(system, point) === undefined) {
    throw new RangeError(
      `Cannot find a stiffness ${system.family}: wanted one of ${motionsOfFamily[system.family].join(", ")}, found ${point.motion}`,
    );
  }
  return 1 / motionOfPoint(solveSmallMotion(system, { forces: [{ ...point, value: 1 }] }), point);
}

/** Change of the loads on both ends of a beam that the small motion makes, on top of those of the shape. */
export function endLoadsOf(response: SmallResponse, beam: number): readonly [from: BeamEndLoads, to: BeamEndLoads] {
  const { system } = response;
  const { network } = system;
  const last = (network.beams[beam]?.widths.length ?? 0) - 1;
  if (last < 0) throw new RangeError(`Cannot find the loads of a beam: wanted one of ${network.beams.length}, found ${beam}`);
  return [endLoads(response, { beam, element: 0, end: 0 }), endLoads(response, { beam, element: last, end: 1 })];
}

function endLoads(
  response: SmallResponse,
  at: { readonly beam: number; readonly element: number; readonly end: 0 | 1 },
): BeamEndLoads {
  const { system, beamMotions, load } = response;
  const { stiffness, mass, cos, sin } = system.elements[at.beam]![at.element]!;
  const acceleration = accelerationOf(system, load);
  const motions = beamMotions[at.beam]!.subarray(3 * at.element, 3 * at.element + 6);
  const force = [0, 0, 0];
  for (let i = 0; i < 3; i++) {
    const row = 18 * at.end + 6 * i;
    let sum = 0;
    for (let j = 0; j < 6; j++) sum += stiffness[row + j]! * motions[j]!;
    // The inertia of the element itself passes its ends too.
    acceleration.forEach((a, d) => {
      sum += a * (mass[row + d]! + mass[row + 3 + d]!);
    });
    force[i] = sum;
  }
  const { thickness } = system.network.beams[at.beam]!;
  const width = endWidths(system.network.beams[at.beam]!, at.element)[at.end];
  return system.family === "in plane"
    ? planarLoads(force, { cos, sin, width, thickness, end: at.end })
    : liftedLoads(force, { cos, sin, width, thickness });
}

function planarLoads(
  force: readonly number[],
  about: { readonly cos: number; readonly sin: number; readonly width: number; readonly thickness: number; readonly end: 0 | 1 },
): BeamEndLoads {
  const { cos, sin, width, thickness, end } = about;
  const area = width * thickness;
  const axialForce = (end === 0 ? -1 : 1) * (cos * force[0]! + sin * force[1]!);
  const shearForce = -sin * force[0]! + cos * force[1]!;
  const bendingMoment = force[2]!;
  return {
    axialForce,
    shearForce,
    bendingMoment,
    torque: 0,
    bendingStress: (6 * Math.abs(bendingMoment)) / (area * width),
    axialStress: Math.abs(axialForce) / area,
    torsionStress: 0,
    shearStress: (1.5 * Math.abs(shearForce)) / area,
  };
}

function liftedLoads(
  force: readonly number[],
  about: { readonly cos: number; readonly sin: number; readonly width: number; readonly thickness: number },
): BeamEndLoads {
  const { cos, sin, width, thickness } = about;
  const area = width * thickness;
  const torque = cos * force[1]! + sin * force[2]!;
  const bendingMoment = sin * force[1]! - cos * force[2]!;
  return {
    axialForce: 0,
    shearForce: force[0]!,
    bendingMoment,
    torque,
    bendingStress: (6 * Math.abs(bendingMoment)) / (area * thickness),
    axialStress: 0,
    torsionStress: Math.abs(torque) / rectangleTorsion(width, thickness).torsionModulus,
    shearStress: (1.5 * Math.abs(force[0]!)) / area,
  };
}

export interface AccelerationResponse {
  readonly inPlane: SmallResponse;
  readonly outOfPlane: SmallResponse;
  /** Motion of a point of a body, in the plane or out of it: m or rad. */
  readonly motionOf: (point: SmallMotionPoint) => number;
}

/** Static motion about the shape when the surroundings accelerate (gravity, slow shock, a car in a bend). */
export function respondToAcceleration(
  network: FrameNetwork,
  shape: FrameShape,
  options: SmallMotionOptions & { readonly change: readonly [x: number, y: number, z: number] },
): AccelerationResponse {
  const respond = (family: MotionFamily): SmallResponse =>
    solveSmallMotion(createSmallMotionSystem(network, shape, { ...options, family }), { acceleration: options.change });
  const inPlane = respond("in plane");
  const outOfPlane = respond("out of plane");
  const motionOf = (point: SmallMotionPoint): number => motionOfPoint(inPlane, point) + motionOfPoint(outOfPlane, point);
  return { inPlane, outOfPlane, motionOf };
}
