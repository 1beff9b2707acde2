/** What junctions add to the matrices of small motion: springs, rigid bodies, forces that turn with a body. */
import { addToSkyline, type SkylineMatrix } from "#numerics";
import type { ContactStop, FrameNetwork, FrameShape, RigidBodyMass } from "./network.ts";
import { motionsOfFamily, offsetInShape, type Unknowns } from "./vibration-unknowns.ts";

export interface JunctionAssembly {
  readonly unknowns: Unknowns;
  readonly stiffness: SkylineMatrix;
  readonly mass: SkylineMatrix;
  /** Per direction of the family, [nUnknowns] kg. */
  readonly inertia: readonly Float64Array[];
  /** Factor on the forces of the shape. */
  readonly forceFactor: number;
}

/** A closed stop as a spring. */
export interface ContactSpring extends Pick<ContactStop, "junction" | "offset" | "direction"> {
  /** Of the contact, along its direction, [N/m]. */
  readonly stiffness: number;
}

/**
 * Stiffness of a force with a fixed direction at an offset o: minus the second-order part of its work.
 * In the plane f.o on the turn; for a turn r out of it r.r f.o - (r.f)(r.o).
 */
export function addTurningForce(
  assembly: JunctionAssembly,
  about: { readonly junction: number; readonly force: readonly [number, number]; readonly at: readonly [number, number] },
): void {
  const { unknowns, stiffness } = assembly;
  const fx = assembly.forceFactor * about.force[0];
  const fy = assembly.forceFactor * about.force[1];
  const [ox, oy] = about.at;
  const along = fx * ox + fy * oy;
  const first = 3 * about.junction;
  if (unknowns.family === "in plane") {
    const turn = unknowns.ofJunction[first + 2]!;
    if (turn >= 0) addToSkyline(stiffness, { row: turn, column: turn }, along);
    return;
  }
  const rx = unknowns.ofJunction[first + 1]!;
  const ry = unknowns.ofJunction[first + 2]!;
  if (rx >= 0) addToSkyline(stiffness, { row: rx, column: rx }, along - fx * ox);
  if (ry >= 0) addToSkyline(stiffness, { row: ry, column: ry }, along - fy * oy);
  if (rx >= 0 && ry >= 0) addToSkyline(stiffness, { row: rx, column: ry }, -0.5 * (fx * oy + fy * ox));
}

/** Stiffness against the motion d.u + (o x d) turn of the point of a body that touches. */
export function addContact(shape: FrameShape, assembly: JunctionAssembly, contact: ContactSpring): void {
  const { unknowns, stiffness } = assembly;
  if (unknowns.family !== "in plane") return;
  const [dx, dy] = contact.direction;
  const [ox, oy] = offsetInShape(shape, contact);
  const row = [dx, dy, ox * dy - oy * dx];
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j <= i; j++) {
      const a = unknowns.ofJunction[3 * contact.junction + i]!;
      const b = unknowns.ofJunction[3 * contact.junction + j]!;
      if (a >= 0 && b >= 0) addToSkyline(stiffness, { row: a, column: b }, contact.stiffness * row[i]! * row[j]!);
    }
  }
}

/** Springs to ground and rigid bodies. */
export function addJunctions(network: FrameNetwork, shape: FrameShape, assembly: JunctionAssembly): void {
  const { unknowns, stiffness, mass, inertia } = assembly;
  const isPlanar = unknowns.family === "in plane";
  network.junctions.forEach(({ springs, body }, junction) => {
    const u = unknowns.ofJunction.subarray(3 * junction, 3 * junction + 3);
    if (springs !== undefined) {
      motionsOfFamily[unknowns.family].forEach((motion, k) => {
        if (u[k]! >= 0) addToSkyline(stiffness, { row: u[k]!, column: u[k]! }, springs[motion] ?? 0);
      });
    }
    if (body === undefined) return;
    const [cx, cy] = offsetInShape(shape, { junction, offset: body.centre });
    const block = isPlanar
      ? planarBodyMass(body, cx, cy)
      : liftedBodyMass(body, { cx, cy, turn: shape.motions[3 * junction + 2]! });
    for (let i = 0; i < 3; i++) {
      if (u[i]! < 0) continue;
      for (let j = 0; j <= i; j++) if (u[j]! >= 0) addToSkyline(mass, { row: u[i]!, column: u[j]! }, block[3 * i + j]!);
      for (let d = 0; d < inertia.length; d++) inertia[d]![u[i]!] = inertia[d]![u[i]!]! + block[3 * i + d]!;
    }
  });
}

function planarBodyMass({ mass: m, aboutZ }: RigidBodyMass, cx: number, cy: number): Float64Array {
  return Float64Array.of(m, 0, -m * cy, 0, m, m * cx, -m * cy, m * cx, aboutZ + m * (cx * cx + cy * cy));
}

function liftedBodyMass(
  body: RigidBodyMass,
  at: { readonly cx: number; readonly cy: number; readonly turn: number },
): Float64Array {
  const { mass: m, aboutX, aboutY, productXY = 0 } = body;
  const { cx, cy, turn } = at;
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const xx = c * c * aboutX + s * s * aboutY + 2 * c * s * productXY + m * cy * cy;
  const yy = s * s * aboutX + c * c * aboutY - 2 * c * s * productXY + m * cx * cx;
  const xy = c * s * (aboutX - aboutY) - (c * c - s * s) * productXY - m * cx * cy;
  return Float64Array.of(m, m * cy, -m * cx, m * cy, xx, xy, -m * cx, xy, yy);
}
