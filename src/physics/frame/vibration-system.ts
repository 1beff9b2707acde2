/**
 * Stiffness and mass for small motion of a frame about a bent shape, in the plane or out of it.
 *
 * In the plane the stiffness is the tangent of beam-element.ts; out of it that of out-of-plane-element.ts. Rigid offsets between
 * junctions and beam ends turn, so that the force they carry adds stiffness. The mass is consistent (mass-element.ts); bodies have their
 * centre of mass anywhere. Dead forces of the shape at body points, and acceleration of the surroundings, act through their turning.
 * Validity: motions small against the widths of the beams. Main tests: vibration.test.ts, out-of-plane.test.ts.
 */
import { factorSkylineInPlace, type SkylineMatrix } from "#numerics";
import {
  type ElementShape,
  elementSize,
  evaluateElementInto,
  forceAt,
  resultantAt,
  strainForceAt,
  tangentAt,
} from "./beam-element.ts";
import { elementShape, endWidths } from "./element-shape.ts";
import { elementMassInto } from "./mass-element.ts";
import type { FrameBeam, FrameForce, FrameNetwork, FrameShape } from "./network.ts";
import { liftedStiffnessInto } from "./out-of-plane-element.ts";
import { bendingIntegrals, type EndWidths, meanAlongTaper, type TurnStiffness, turnStiffness } from "./tapered-section.ts";
import { rectangleTorsion } from "./torsion-rectangle.ts";
import { addContact, addJunctions, addTurningForce, type ContactSpring, type JunctionAssembly } from "./vibration-junctions.ts";
import type { ElementFrame, SmallMotionSystem } from "./vibration-matrices.ts";
import { scatter, scatterInertia } from "./vibration-scatter.ts";
import { requireSupport } from "./vibration-support.ts";
import { createMatrix, type JunctionMotion, type MotionFamily, numberUnknowns, offsetInShape } from "./vibration-unknowns.ts";

export interface SmallMotionOptions {
  /** Motions held besides those that the junctions hold for ever: a blocked apex, a closed stop. */
  readonly alsoHeld?: readonly JunctionMotion[];
  /** True: leave out the inertia of the sections of beams against turning, as thin-beam formulas do. */
  readonly ignoreRotaryInertia?: boolean;
  /** Forces under which the shape is in balance: only those at an offset matter, since they turn with their body. */
  readonly forces?: readonly FrameForce[];
  /** Acceleration of the surroundings under which the shape is in balance, [m/s^2]: acts as a force -a on every mass. */
  readonly acceleration?: readonly [x: number, y: number];
  /** Stops that stay closed: springs of the contact in the plane; without friction, so that nothing is held out of it. */
  readonly contacts?: readonly ContactSpring[];
  /** Factor on the forces in the shape where they act out of the plane; left out = 1. For buckling out of the plane. */
  readonly stressFactor?: number;
}

/** G = E/2.6 (Poisson ratio 0.3) for torsion where a beam is called stiff against shear, see network.ts. */
const modulusRatio = 2.6;

interface Assembly extends JunctionAssembly {
  /** Of the elements; `stiffness` is that at the junctions. */
  readonly elastic: SkylineMatrix;
  readonly network: FrameNetwork;
  readonly shape: FrameShape;
  readonly withRotaryInertia: boolean;
}

/** Matrices of one family about the shape. Throws a RangeError where a motion is held by nothing. */
export function createSmallMotionSystem(
  network: FrameNetwork,
  shape: FrameShape,
  options: SmallMotionOptions & { readonly family: MotionFamily },
): SmallMotionSystem {
  const { family, alsoHeld = [], ignoreRotaryInertia = false, forces = [], contacts = [] } = options;
  const { acceleration = [0, 0], stressFactor = 1 } = options;
  checkShape(network, shape);
  const unknowns = numberUnknowns(network, shape, { family, alsoHeld });
  const inertia = Array.from({ length: family === "in plane" ? 2 : 1 }, () => new Float64Array(unknowns.nUnknowns));
  const elastic = createMatrix(unknowns);
  const atJunctions = createMatrix(unknowns);
  const mass = createMatrix(unknowns);
  const forceFactor = family === "in plane" ? 1 : stressFactor;
  const withRotaryInertia = !ignoreRotaryInertia;
  const matrices = { elastic, stiffness: atJunctions, mass, inertia };
  const assembly = { network, shape, unknowns, ...matrices, withRotaryInertia, forceFactor };
  const elements = network.beams.map((_, b) => addBeam(assembly, b));
  addJunctions(network, shape, assembly);
  for (const contact of contacts) addContact(shape, assembly, contact);
  for (const { junction, motion, value, offset } of forces) {
    if (offset === undefined || motion === "turn") continue;
    addTurningForce(assembly, {
      junction,
      force: motion === "x" ? [value, 0] : [0, value],
      at: offsetInShape(shape, { junction, offset }),
    });
  }
  network.junctions.forEach(({ body }, junction) => {
    if (body === undefined || (acceleration[0] === 0 && acceleration[1] === 0)) return;
    const force = [-body.mass * acceleration[0], -body.mass * acceleration[1]] as const;
    addTurningForce(assembly, { junction, force, at: offsetInShape(shape, { junction, offset: body.centre }) });
  });
  const stiffness = { ...elastic, values: elastic.values.map((value, i) => value + atJunctions.values[i]!) };
  const factored = { ...stiffness, values: Float64Array.from(stiffness.values) };
  const nNegative = factorSkylineInPlace(factored);
  const system = { family, network, shape, unknowns, stiffness, mass, atJunctions, factored, nNegative, inertia, elements };
  requireSupport(network, unknowns, system);
  return system;
}

function checkShape(network: FrameNetwork, shape: FrameShape): void {
  const isFitting =
    shape.motions.length === 3 * network.junctions.length &&
    shape.beamMotions.length === network.beams.length &&
    network.beams.every((beam, b) => shape.beamMotions[b]!.length === 3 * (beam.widths.length + 1));
  if (!isFitting) throw new RangeError("Cannot find small motions: wanted a shape of this frame, found one of another frame");
}

/** Torsion constant of an element, [m^4]: of a tapered one, 1/J is the mean along it. */
function twistOf(ends: EndWidths, thickness: number): number {
  if (ends[0] === ends[1]) return rectangleTorsion(ends[0], thickness).torsionConstant;
  return 1 / meanAlongTaper(ends, (w) => 1 / rectangleTorsion(w, thickness).torsionConstant);
}

/** Stiffness of a tapered element against turns of its ends out of the plane; undefined for an even one. */
function liftedTurns(
  beam: FrameBeam,
  e: number,
  of: { readonly youngsModulus: number; readonly shape: ElementShape },
): TurnStiffness | undefined {
  const ends = endWidths(beam, e);
  if (ends[0] === ends[1]) return undefined;
  const { youngsModulus, shape } = of;
  const scale = shape.length / youngsModulus;
  const { start, cross, end } = bendingIntegrals(ends, (w) => 12 / (w * beam.thickness ** 3));
  const shear = shape.effectiveShearModulus === undefined ? 0 : 1 / (shape.effectiveShearModulus * shape.area * shape.length);
  return turnStiffness({ start: scale * start, cross: scale * cross, end: scale * end }, shear);
}

/** Inertia of a beam per length against twist at the ends of an element, [kg m]. */
function polarAt(beam: FrameBeam, e: number): readonly [number, number] {
  const { thickness: t, density = 0 } = beam;
  const at = (w: number): number => (density * w * t * (w * w + t * t)) / 12;
  const [start, end] = endWidths(beam, e);
  return [at(start), at(end)];
}

const result = new Float64Array(elementSize);

function addBeam(assembly: Assembly, b: number): ElementFrame[] {
  const { network, shape, unknowns, withRotaryInertia, forceFactor } = assembly;
  const beam = network.beams[b]!;
  const { widths, thickness, shearModulus, density = 0 } = beam;
  const motions = shape.beamMotions[b]!;
  const n = widths.length;
  const isPlanar = unknowns.family === "in plane";
  const frames: ElementFrame[] = [];
  let torsionConstant = Number.NaN;
  let twisted = Number.NaN;
  for (let e = 0; e < n; e++) {
    const width = widths[e]!;
    const element = elementShape(beam, e);
    const { dx, dy, length: restLength, effectiveShearModulus } = element;
    const area = width * thickness;
    const youngsModulus = shape.moduli[b]![e]!;
    evaluateElementInto(result, 0, { shape: element, youngsModulus, freeStrain: shape.strains[b]![e]!, motions, start: 3 * e });
    const length = result[resultantAt + 3]!;
    const cos = (dx + motions[3 * e + 3]! - motions[3 * e]!) / length;
    const sin = (dy + motions[3 * e + 4]! - motions[3 * e + 1]!) / length;
    const across = isPlanar ? element.secondMoment : (area * thickness * thickness) / 12;
    const shearOver = (12 * youngsModulus * across) / area / (effectiveShearModulus ?? Number.POSITIVE_INFINITY);
    const frame = { cos, sin, length, stiffness: new Float64Array(36), mass: new Float64Array(36), own: new Float64Array(8) };
    if (isPlanar) {
      unpackTangentInto(frame.stiffness);
      ownStiffnessInto(frame.own, element, youngsModulus);
    } else {
      const ends = endWidths(beam, e);
      if (ends[0] !== ends[1] || width !== twisted) torsionConstant = twistOf(ends, thickness);
      twisted = ends[0] === ends[1] ? width : Number.NaN;
      liftedStiffnessInto(frame, {
        length,
        cos,
        sin,
        restLength,
        bending: youngsModulus * across,
        shear: shearOver / restLength ** 2,
        turns: liftedTurns(beam, e, { youngsModulus, shape: element }),
        torsion: (shearModulus ?? youngsModulus / modulusRatio) * torsionConstant,
        polarRadiusSquared: (width * width + thickness * thickness) / 12,
        axialForce: forceFactor * result[resultantAt]!,
        startMoment: forceFactor * result[resultantAt + 1]!,
        endMoment: forceFactor * result[resultantAt + 2]!,
      });
    }
    if (density > 0) {
      elementMassInto(frame.mass, {
        isPlanar,
        cos,
        sin,
        length,
        // The mass is that of the unstrained element.
        perLength: (density * area * restLength) / length,
        rotary: withRotaryInertia ? density * across : 0,
        polar: polarAt(beam, e),
        taper: (beam.tapers?.[e] ?? 0) / width,
        shear: shearOver / length ** 2,
      });
    }
    const start = unknowns.maps[b]![e]!;
    const end = unknowns.maps[b]![e + 1]!;
    scatter(assembly.elastic, frame.stiffness, { start, end });
    if (density > 0) {
      scatter(assembly.mass, frame.mass, { start, end });
      for (let d = 0; d < assembly.inertia.length; d++) scatterInertia(assembly.inertia[d]!, frame.mass, { d, start, end });
    }
    if (e === 0) addOffset(assembly, { junction: beam.from, columns: start.columns!, forceAt });
    if (e === n - 1) addOffset(assembly, { junction: beam.to, columns: end.columns!, forceAt: forceAt + 3 });
    frames.push(frame);
  }
  return frames;
}

/** The same in the element's own motions. */
function ownStiffnessInto(own: Float64Array, element: ElementShape, youngsModulus: number): void {
  const { length, area, axialShare } = element;
  const moments = result[resultantAt + 1]! + result[resultantAt + 2]!;
  own.set([
    (youngsModulus * area * axialShare) / length,
    -result[strainForceAt + 2]! / length,
    -result[strainForceAt + 5]! / length,
  ]);
  own.set(result.subarray(tangentAt + 7, tangentAt + 10), 3);
  own.set([result[resultantAt]!, moments / result[resultantAt + 3]!], 6);
}

/** The packed tangent of beam-element.ts as 6 x 6. */
function unpackTangentInto(full: Float64Array): void {
  const k = result.subarray(tangentAt);
  const xx = k[0]!;
  const xy = k[1]!;
  const yy = k[2]!;
  full.set([xx, xy, -k[3]!, -xx, -xy, -k[5]!]);
  full.set([xy, yy, -k[4]!, -xy, -yy, -k[6]!], 6);
  full.set([-k[3]!, -k[4]!, k[7]!, k[3]!, k[4]!, k[8]!], 12);
  full.set([-xx, -xy, k[3]!, xx, xy, k[5]!], 18);
  full.set([-xy, -yy, k[4]!, xy, yy, k[6]!], 24);
  full.set([-k[5]!, -k[6]!, k[8]!, k[5]!, k[6]!, k[9]!], 30);
}

/** The force that a rigid offset carries in the shape turns with it. */
function addOffset(
  assembly: Assembly,
  at: { readonly junction: number; readonly columns: Float64Array; readonly forceAt: number },
): void {
  const isPlanar = assembly.unknowns.family === "in plane";
  const ox = isPlanar ? at.columns[6]! : -at.columns[2]!;
  const oy = isPlanar ? -at.columns[2]! : at.columns[1]!;
  if (ox === 0 && oy === 0) return;
  // The element pulls back on the offset with the opposite of the force that bends it.
  addTurningForce(assembly, { junction: at.junction, force: [-result[at.forceAt]!, -result[at.forceAt + 1]!], at: [ox, oy] });
}
