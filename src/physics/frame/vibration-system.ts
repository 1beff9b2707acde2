/**
 * Stiffness and mass for small motion of a frame about a bent shape, in the plane or out of it.
 *
 * In the plane the stiffness is the tangent of beam-element.ts; out of it that of out-of-plane-element.ts. Rigid offsets between
 * junctions and beam ends turn, so that the force they carry adds stiffness. The mass is consistent (mass-element.ts); bodies have their
 * centre of mass anywhere. Dead forces of the shape at body points, and acceleration of the surroundings, act through their turning.
 * Validity: motions small against the widths of the beams. Main tests: vibration.test.ts, out-of-plane.test.ts.
 */
import { SolveError } from "#base";
import { factorSkylineInPlace, type SkylineMatrix } from "#numerics";
import { elementSize, evaluateElementInto, forceAt, resultantAt, tangentAt } from "./beam-element.ts";
import { bendingMassInto } from "./mass-element.ts";
import type { FrameForce, FrameNetwork, FrameShape } from "./network.ts";
import { liftedStiffnessInto } from "./out-of-plane-element.ts";
import { type RectangleTorsion, rectangleTorsion } from "./torsion-rectangle.ts";
import {
  createMatrix,
  type EndMap,
  type JunctionMotion,
  type MotionFamily,
  motionsOfFamily,
  numberUnknowns,
  offsetInShape,
  type Unknowns,
} from "./vibration-unknowns.ts";

export interface SmallMotionOptions {
  /** Motions held besides those that the junctions hold for ever: a blocked apex, a closed stop. */
  readonly alsoHeld?: readonly JunctionMotion[];
  /** True: leave out the inertia of the sections of beams against turning, as thin-beam formulas do. */
  readonly ignoreRotaryInertia?: boolean;
  /** Forces under which the shape is in balance: only those at an offset matter, since they turn with their body. */
  readonly forces?: readonly FrameForce[];
  /** Acceleration of the surroundings under which the shape is in balance, [m/s^2]: acts as a force -a on every mass. */
  readonly acceleration?: readonly [x: number, y: number];
}

/** What the answers need of one element: [m], [N], [N m]. */
export interface ElementFrame {
  readonly cos: number;
  readonly sin: number;
  readonly length: number;
  /** [6 x 6] row-major stiffness and mass in the motions of its two ends. */
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
}

export interface SmallMotionSystem {
  readonly family: MotionFamily;
  readonly network: FrameNetwork;
  readonly shape: FrameShape;
  readonly unknowns: Unknowns;
  readonly stiffness: SkylineMatrix;
  readonly mass: SkylineMatrix;
  /** The stiffness, factored. */
  readonly factored: SkylineMatrix;
  /** Number of negative eigenvalues of the stiffness: 0 where the shape is stable in this family. */
  readonly nNegative: number;
  /** Force on the unknowns per acceleration of the surroundings against a direction, [nUnknowns] kg: x and y, or z alone. */
  readonly inertia: readonly Float64Array[];
  /** Per beam and element. */
  readonly elements: readonly (readonly ElementFrame[])[];
}

/** Pivots smaller than this against their diagonal are rounding: the motion is held by nothing. */
const floatingPivot = 1e-12;
/** Shear correction factor of the rectangle, as in the plane (Reissner; common practice, no source). */
const shearFactor = 5 / 6;
/** G = E/2.6 (Poisson ratio 0.3) for torsion where a beam is called stiff against shear, see network.ts. */
const modulusRatio = 2.6;

interface Assembly {
  readonly network: FrameNetwork;
  readonly shape: FrameShape;
  readonly unknowns: Unknowns;
  readonly stiffness: SkylineMatrix;
  readonly mass: SkylineMatrix;
  readonly inertia: readonly Float64Array[];
  readonly withRotaryInertia: boolean;
}

/** Matrices of one family about the shape. Throws a RangeError where a motion is held by nothing. */
export function createSmallMotionSystem(
  network: FrameNetwork,
  shape: FrameShape,
  options: SmallMotionOptions & { readonly family: MotionFamily },
): SmallMotionSystem {
  const { family, alsoHeld = [], ignoreRotaryInertia = false, forces = [], acceleration = [0, 0] } = options;
  checkShape(network, shape);
  const unknowns = numberUnknowns(network, shape, { family, alsoHeld });
  const inertia = Array.from({ length: family === "in plane" ? 2 : 1 }, () => new Float64Array(unknowns.nUnknowns));
  const stiffness = createMatrix(unknowns);
  const mass = createMatrix(unknowns);
  const assembly = { network, shape, unknowns, stiffness, mass, inertia, withRotaryInertia: !ignoreRotaryInertia };
  const elements = network.beams.map((_, b) => addBeam(assembly, b));
  addJunctions(assembly);
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
  const factored = { ...stiffness, values: Float64Array.from(stiffness.values) };
  const nNegative = factorSkylineInPlace(factored);
  const system = { family, network, shape, unknowns, stiffness, mass, factored, nNegative, inertia, elements };
  checkSupport(system);
  return system;
}

function checkShape(network: FrameNetwork, shape: FrameShape): void {
  const isFitting =
    shape.motions.length === 3 * network.junctions.length &&
    shape.beamMotions.length === network.beams.length &&
    network.beams.every((beam, b) => shape.beamMotions[b]!.length === 3 * (beam.widths.length + 1));
  if (!isFitting) throw new RangeError("Cannot find small motions: wanted a shape of this frame, found one of another frame");
}

const result = new Float64Array(elementSize);

function addBeam(assembly: Assembly, b: number): ElementFrame[] {
  const { network, shape, unknowns, withRotaryInertia } = assembly;
  const beam = network.beams[b]!;
  const { nodes, widths, thickness, shearModulus, density = 0 } = beam;
  const motions = shape.beamMotions[b]!;
  const n = widths.length;
  const isPlanar = unknowns.family === "in plane";
  const frames: ElementFrame[] = [];
  let torsion: RectangleTorsion | undefined;
  for (let e = 0; e < n; e++) {
    const width = widths[e]!;
    const dx = nodes[2 * e + 2]! - nodes[2 * e]!;
    const dy = nodes[2 * e + 3]! - nodes[2 * e + 1]!;
    const restLength = Math.sqrt(dx * dx + dy * dy);
    const area = width * thickness;
    const secondMoment = (area * width * width) / 12;
    const effectiveShearModulus = shearModulus === undefined ? undefined : shearFactor * shearModulus;
    const youngsModulus = shape.moduli[b]![e]!;
    const element = { dx, dy, length: restLength, area, secondMoment, effectiveShearModulus };
    evaluateElementInto(result, 0, { shape: element, youngsModulus, freeStrain: shape.strains[b]![e]!, motions, start: 3 * e });
    const length = result[resultantAt + 3]!;
    const cos = (dx + motions[3 * e + 3]! - motions[3 * e]!) / length;
    const sin = (dy + motions[3 * e + 4]! - motions[3 * e + 1]!) / length;
    const across = isPlanar ? secondMoment : (area * thickness * thickness) / 12;
    const shearOver = (12 * youngsModulus * across) / area / (effectiveShearModulus ?? Number.POSITIVE_INFINITY);
    const frame = { cos, sin, length, stiffness: new Float64Array(36), mass: new Float64Array(36) };
    if (isPlanar) unpackTangentInto(frame.stiffness);
    else {
      if (torsion === undefined || width !== widths[e - 1]) torsion = rectangleTorsion(width, thickness);
      liftedStiffnessInto(frame.stiffness, {
        length,
        cos,
        sin,
        restLength,
        bending: youngsModulus * across,
        shear: shearOver / restLength ** 2,
        torsion: (shearModulus ?? youngsModulus / modulusRatio) * torsion.torsionConstant,
        polarRadiusSquared: (width * width + thickness * thickness) / 12,
        axialForce: result[resultantAt]!,
        startMoment: result[resultantAt + 1]!,
        endMoment: result[resultantAt + 2]!,
      });
    }
    if (density > 0) {
      massInto(frame, {
        isPlanar,
        // The mass is that of the unstrained element.
        perLength: (density * area * restLength) / length,
        rotary: withRotaryInertia ? density * across : 0,
        polar: (density * area * (width * width + thickness * thickness)) / 12,
        shear: shearOver / length ** 2,
      });
    }
    const start = unknowns.maps[b]![e]!;
    const end = unknowns.maps[b]![e + 1]!;
    scatter(assembly.stiffness, frame.stiffness, { start, end });
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

const bendingMass = new Float64Array(16);

/** Mass in the motions of the ends: along and across the element in the plane; z, twist and slope out of it. */
function massInto(
  frame: ElementFrame,
  about: { readonly isPlanar: boolean; perLength: number; rotary: number; polar: number; shear: number },
): void {
  const { cos: c, sin: s, length, mass } = frame;
  const { isPlanar, perLength, rotary, polar, shear } = about;
  bendingMassInto(bendingMass, { length, perLength, rotary, shear });
  const along = ((isPlanar ? perLength : polar) * length) / 6;
  for (let p = 0; p < 2; p++) {
    for (let q = 0; q < 2; q++) {
      const bb = bendingMass[8 * p + 2 * q]!;
      const bs = bendingMass[8 * p + 2 * q + 1]!;
      const sb = bendingMass[8 * p + 4 + 2 * q]!;
      const ss = bendingMass[8 * p + 4 + 2 * q + 1]!;
      const a = p === q ? 2 * along : along;
      const at = 18 * p + 3 * q;
      if (isPlanar) {
        // u = c x + s y, v = -s x + c y, slope = turn
        mass.set([c * c * a + s * s * bb, c * s * (a - bb), -s * bs], at);
        mass.set([c * s * (a - bb), s * s * a + c * c * bb, c * bs], at + 6);
        mass.set([-s * sb, c * sb, ss], at + 12);
      } else {
        // twist = c rx + s ry, slope = s rx - c ry
        mass.set([bb, s * bs, -c * bs], at);
        mass.set([s * sb, c * c * a + s * s * ss, c * s * (a - ss)], at + 6);
        mass.set([-c * sb, c * s * (a - ss), s * s * a + c * c * ss], at + 12);
      }
    }
  }
}

const half = new Float64Array(12);

/** Adds a 6 x 6 element matrix to the rows of its ends. */
function scatter(matrix: SkylineMatrix, block: Float64Array, ends: { readonly start: EndMap; readonly end: EndMap }): void {
  for (let p = 0; p < 2; p++) {
    const rows = p === 0 ? ends.start : ends.end;
    for (let q = 0; q <= p; q++) {
      const columns = q === 0 ? ends.start : ends.end;
      const at = 18 * p + 3 * q;
      // half [3 x 4] = block times the columns of end q
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 4; j++) {
          half[4 * i + j] =
            columns.columns === undefined
              ? j < 3
                ? block[at + 6 * i + j]!
                : 0
              : block[at + 6 * i]! * columns.columns[j]! +
                block[at + 6 * i + 1]! * columns.columns[4 + j]! +
                block[at + 6 * i + 2]! * columns.columns[8 + j]!;
        }
      }
      for (let i = 0; i < 4; i++) {
        const row = rows.unknowns[i]!;
        if (row < 0) continue;
        for (let j = 0; j < 4; j++) {
          const column = columns.unknowns[j]!;
          if (column < 0 || (p === q && column > row)) continue;
          const value =
            rows.columns === undefined
              ? half[4 * i + j]!
              : rows.columns[i]! * half[j]! + rows.columns[4 + i]! * half[4 + j]! + rows.columns[8 + i]! * half[8 + j]!;
          add(matrix, row, column, value);
        }
      }
    }
  }
}

function add(matrix: SkylineMatrix, a: number, b: number, value: number): void {
  const row = Math.max(a, b);
  const place = matrix.start[row]! + Math.min(a, b) - matrix.firstColumn[row]!;
  matrix.values[place] = matrix.values[place]! + value;
}

/** Mass times a unit translation along direction d: held nodes move with the surroundings too. */
function scatterInertia(
  inertia: Float64Array,
  mass: Float64Array,
  at: { readonly d: number; readonly start: EndMap; readonly end: EndMap },
): void {
  for (let p = 0; p < 2; p++) {
    const { unknowns, columns } = p === 0 ? at.start : at.end;
    for (let i = 0; i < 3; i++) {
      const force = mass[18 * p + 6 * i + at.d]! + mass[18 * p + 6 * i + 3 + at.d]!;
      for (let j = 0; j < 4; j++) {
        const part = columns === undefined ? (i === j ? 1 : 0) : columns[4 * i + j]!;
        const u = unknowns[j]!;
        if (u >= 0 && part !== 0) inertia[u] = inertia[u]! + part * force;
      }
    }
  }
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

/**
 * Stiffness of a force with a fixed direction at an offset o: minus the second-order part of its work.
 * In the plane f.o on the turn; for a turn r out of it r.r f.o - (r.f)(r.o).
 */
function addTurningForce(
  assembly: Assembly,
  about: { readonly junction: number; readonly force: readonly [number, number]; readonly at: readonly [number, number] },
): void {
  const { unknowns, stiffness } = assembly;
  const [fx, fy] = about.force;
  const [ox, oy] = about.at;
  const along = fx * ox + fy * oy;
  const first = 3 * about.junction;
  if (unknowns.family === "in plane") {
    const turn = unknowns.ofJunction[first + 2]!;
    if (turn >= 0) add(stiffness, turn, turn, along);
    return;
  }
  const rx = unknowns.ofJunction[first + 1]!;
  const ry = unknowns.ofJunction[first + 2]!;
  if (rx >= 0) add(stiffness, rx, rx, along - fx * ox);
  if (ry >= 0) add(stiffness, ry, ry, along - fy * oy);
  if (rx >= 0 && ry >= 0) add(stiffness, rx, ry, -0.5 * (fx * oy + fy * ox));
}

/** Springs to ground and rigid bodies. */
function addJunctions(assembly: Assembly): void {
  const { network, shape, unknowns, stiffness, mass, inertia } = assembly;
  const isPlanar = unknowns.family === "in plane";
  network.junctions.forEach(({ springs, body }, junction) => {
    const u = unknowns.ofJunction.subarray(3 * junction, 3 * junction + 3);
    if (springs !== undefined) {
      motionsOfFamily[unknowns.family].forEach((motion, k) => {
        if (u[k]! >= 0) add(stiffness, u[k]!, u[k]!, springs[motion] ?? 0);
      });
    }
    if (body === undefined) return;
    const [cx, cy] = offsetInShape(shape, { junction, offset: body.centre });
    const block = isPlanar
      ? planarBodyMass(body, cx, cy)
      : liftedBodyMass(body, { cx, cy, turn: shape.motions[3 * junction + 2]! });
    for (let i = 0; i < 3; i++) {
      if (u[i]! < 0) continue;
      for (let j = 0; j <= i; j++) if (u[j]! >= 0) add(mass, u[i]!, u[j]!, block[3 * i + j]!);
      for (let d = 0; d < inertia.length; d++) inertia[d]![u[i]!] = inertia[d]![u[i]!]! + block[3 * i + d]!;
    }
  });
}

type Body = { readonly mass: number; readonly aboutX: number; readonly aboutY: number; readonly aboutZ: number };

function planarBodyMass({ mass: m, aboutZ }: Body, cx: number, cy: number): Float64Array {
  return Float64Array.of(m, 0, -m * cy, 0, m, m * cx, -m * cy, m * cx, aboutZ + m * (cx * cx + cy * cy));
}

function liftedBodyMass(body: Body, at: { readonly cx: number; readonly cy: number; readonly turn: number }): Float64Array {
  const { mass: m, aboutX, aboutY } = body;
  const { cx, cy, turn } = at;
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const xx = c * c * aboutX + s * s * aboutY + m * cy * cy;
  const yy = s * s * aboutX + c * c * aboutY + m * cx * cx;
  const xy = c * s * (aboutX - aboutY) - m * cx * cy;
  return Float64Array.of(m, m * cy, -m * cx, m * cy, xx, xy, -m * cx, xy, yy);
}

/** Refuses a frame of which a part is held by nothing, naming a junction that moves. */
function checkSupport(system: SmallMotionSystem): void {
  const { stiffness, factored, nNegative, unknowns, network, family } = system;
  const { n, start } = stiffness;
  if (n === 0) return;
  let isFloating = nNegative < 0;
  for (let i = 0; i < n && !isFloating; i++) {
    const at = start[i + 1]! - 1;
    isFloating = !(Math.abs(factored.values[at]!) > floatingPivot * Math.abs(stiffness.values[at]!));
  }
  if (!isFloating) return;
  // A step of inverse iteration on a slightly stiffened matrix shows the motion.
  const held = { ...stiffness, values: Float64Array.from(stiffness.values) };
  for (let i = 0; i < n; i++) {
    const at = start[i + 1]! - 1;
    held.values[at] = held.values[at]! * (1 + 1e-9) + (held.values[at] === 0 ? 1 : 0);
  }
  if (factorSkylineInPlace(held) < 0) {
    throw new SolveError(`Cannot find small motions ${family}: wanted a supported frame, found a singular stiffness`, {
      method: "skyline factorisation",
      iterations: 1,
      residual: Number.NaN,
      target: floatingPivot,
      hint: "hold one more motion of each part of the frame",
    });
  }
  const diagonal = Float64Array.from({ length: n }, (_, i) => held.values[start[i + 1]! - 1]!);
  let weakest = 0;
  for (let i = 0; i < n; i++) {
    const ratio = Math.abs(diagonal[i]! / (stiffness.values[start[i + 1]! - 1]! || 1));
    if (ratio < Math.abs(diagonal[weakest]! / (stiffness.values[start[weakest + 1]! - 1]! || 1))) weakest = i;
  }
  throw new RangeError(
    `Cannot find small motions ${family}: wanted every motion held by a support or a spring, found ${nameUnknown(unknowns, network, weakest)} held by nothing`,
  );
}

function nameUnknown(unknowns: Unknowns, network: FrameNetwork, unknown: number): string {
  const at = unknowns.ofJunction.indexOf(unknown);
  if (at >= 0)
    return `"${motionsOfFamily[unknowns.family][at % 3]}" of junction "${network.junctions[Math.floor(at / 3)]!.name}"`;
  const b = unknowns.maps.findIndex((maps) => maps.some((map) => map.unknowns.includes(unknown)));
  return `a motion of beam "${network.beams[b]?.name}"`;
}
