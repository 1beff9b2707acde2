/**
 * What a frame is made of: beams between junctions. A junction is a point, or a rigid body that beams join at offsets from it.
 *
 * Pure description, nothing computed here. Every frame lies in one plane without load (x right, y up, turn counter-clockwise), so
 * that motions in the plane (x, y, turn) and out of it (z, and turns about x and y) do not mix for small out-of-plane motion. Motions
 * in the plane may be of any size (frame.ts); those out of it are small and follow the tangent about the bent shape (out-of-plane.ts).
 * SI throughout. FREE STRAIN is the strain that a material would take if nothing held it: thermal strain minus bond strain.
 */

/** A motion in the plane. */
export type Motion = "x" | "y" | "turn";
/** A motion out of the plane: along z, and small turns about the x and the y axis. */
export type OutOfPlaneMotion = "z" | "turn x" | "turn y";

export interface FrameJunction {
  readonly name: string;
  /** Place without load or strain, [m]. */
  readonly x: number;
  readonly y: number;
  /** Motions held at zero for ever. */
  readonly held: readonly (Motion | OutOfPlaneMotion)[];
  /** Linear springs to ground [N/m] or [N m/rad], on the motion from the unstrained place. */
  readonly springs?: Partial<Readonly<Record<Motion | OutOfPlaneMotion, number>>>;
  /** Mass of a rigid body at this junction; left out = massless. */
  readonly body?: RigidBodyMass;
}

/** Inertia of a rigid body about its own centre of mass. */
export interface RigidBodyMass {
  /** [kg] */
  readonly mass: number;
  /** Centre of mass relative to the junction, [m]. */
  readonly centre: readonly [x: number, y: number];
  /** [kg m^2] about axes through the centre of mass: along x, along y, and out of the plane. */
  readonly aboutX: number;
  readonly aboutY: number;
  readonly aboutZ: number;
  /** Integral of x y over the mass about the same centre [kg m^2]; left out where x and y are principal axes. */
  readonly productXY?: number;
}

/** One element of a beam: straight, of even section. */
export interface BeamSection {
  /** Extent in the plane, across the beam, [m]. */
  readonly width: number;
  /** Extent out of the plane, [m]. */
  readonly thickness: number;
}

export interface FrameBeam {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  /** Places of the nodes from the start to the end of the beam without load, [(nElements + 1) × 2] m: straight or curved. */
  readonly nodes: Float64Array;
  /** Mean width of each element in the plane, [nElements] m. */
  readonly widths: Float64Array;
  /** How much wider each element is at its end than at its start, evenly between, [nElements] m. Left out: of even width. */
  readonly tapers?: Float64Array;
  /** Out of the plane, [m]. */
  readonly thickness: number;
  /** Along the beam, [nElements] Pa, where a load does not give another. */
  readonly youngsModulus: number;
  /** [Pa]; for shear in the plane, shear out of it, and torsion. Undefined: stiff against shear; torsion then takes E/2.6. */
  readonly shearModulus: number | undefined;
  /** [kg/m^3]; undefined = massless. */
  readonly density: number | undefined;
  /** Part of its stiffness along itself that is left where what it is joined to gives along it. Left out: all of it. */
  readonly axialShare?: number;
  /**
   * How much of it, at its start and end, stands for the give of what it roots in, [m]: it bends, but has no stress of its own. Left
   * out: nothing.
   */
  readonly reaches?: readonly [start: number, end: number];
  /** True where the end turns freely in the plane against its junction (a hinge). */
  readonly hingedFrom?: boolean;
  readonly hingedTo?: boolean;
}

/**
 * The beam's first node need not lie at its junction: the difference is a rigid offset that turns with the junction, and that
 * lengthens with the junction's own free strain.
 */
export interface FrameNetwork {
  readonly junctions: readonly FrameJunction[];
  readonly beams: readonly FrameBeam[];
  /** Left out = nothing in the way. */
  readonly stops?: readonly ContactStop[];
}

/** Something in the way: the junction point may move along a direction by `gap` freely, then it meets a stop. */
export interface ContactStop {
  readonly name: string;
  readonly junction: number;
  /** Point of the body that meets the stop, relative to the junction, [m]. */
  readonly offset: readonly [x: number, y: number];
  /** Unit vector of the motion that closes the gap. */
  readonly direction: readonly [x: number, y: number];
  /** Free way, [m], 0 or more. */
  readonly gap: number;
}

export interface FrameForce {
  readonly junction: number;
  /** Force [N] with a fixed direction, or moment [N m]. */
  readonly motion: Motion;
  readonly value: number;
  /** Point of the body where a force acts, relative to the junction, [m]; left out = at the junction. */
  readonly offset?: readonly [x: number, y: number];
}

export interface HeldMotion {
  readonly junction: number;
  readonly motion: Motion;
  /** [m] or [rad] */
  readonly value: number;
}

export interface FrameLoad {
  /** Free strain per beam: one number, or one per element. Left out = none. */
  readonly strains?: readonly (number | Float64Array)[];
  /** Free strain of the rigid body at each junction, [nJunctions]: its offsets lengthen by it. Left out = none. */
  readonly bodyStrains?: Float64Array;
  /** Young's modulus per beam, likewise one number or one per element, [Pa]. Left out = that of the beam. */
  readonly moduli?: readonly (number | Float64Array)[];
  readonly forces?: readonly FrameForce[];
  readonly held?: readonly HeldMotion[];
  /** Acceleration of the surroundings acts as a force -a on every mass, [m/s^2]: a die standing upright under gravity is (0, +9.8). */
  readonly acceleration?: readonly [x: number, y: number];
}

/** A deformed state of balance, as the out-of-plane and vibration models need it. */
export interface FrameShape {
  /** [nJunctions × 3] x, y, turn: m, m, rad. */
  readonly motions: Float64Array;
  /** Per beam: motions of every node, [(nElements + 1) × 3] m, m, rad. */
  readonly beamMotions: readonly Float64Array[];
  /** Per beam: free strain of each element, [nElements]. */
  readonly strains: readonly Float64Array[];
  /** Per beam: Young's modulus of each element, [nElements] Pa. */
  readonly moduli: readonly Float64Array[];
  /** Per beam: axial force of each element, tension positive, [nElements] N. */
  readonly axialForces: readonly Float64Array[];
  /** Free strain of the bodies, [nJunctions]. */
  readonly bodyStrains: Float64Array;
}
