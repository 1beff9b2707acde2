/**
 * Force of an acceleration on the mass of one beam element, consistent with its cubic deflection and its turning chord.
 *
 * Work of the force b per mass: W = m b.((1/2 - d) u1 + (1/2 + d) u2) + (m L/12) (b.n) (t1 - t2), n normal to the present chord, d how
 * far the middle of the mass lies towards the end (a twelfth of the taper over the width): the second term is the mean of the cubic
 * deflection. Forces are dW/dq, and -d2W/dq2 goes to the tangent, so that the whole keeps an energy.
 * Source: consistent nodal loads of the cubic beam, common practice, no source. Main test: frame-theory.test.ts (sag of a cantilever).
 */
import { tangentAt } from "./beam-element.ts";
import type { ElementInput } from "./numbers.ts";

/** Adds dW/dq to the six entries of the element's nodes in `x`. `b` is the force per mass, [m/s^2]. */
export function addBodyForceInto(
  x: Float64Array,
  input: ElementInput,
  options: { readonly mass: number; readonly bx: number; readonly by: number },
): void {
  const { mass, bx, by } = options;
  const { start, motions: q, shape } = input;
  const startMass = (0.5 - input.massShift) * mass;
  const endMass = (0.5 + input.massShift) * mass;
  const cx = shape.dx + q[start + 3]! - q[start]!;
  const cy = shape.dy + q[start + 4]! - q[start + 1]!;
  const l = Math.sqrt(cx * cx + cy * cy);
  const c = cx / l;
  const s = cy / l;
  const arm = (mass * shape.length) / 12;
  const along = bx * c + by * s;
  const across = by * c - bx * s;
  const turning = (-arm * along * (q[start + 2]! - q[start + 5]!)) / l;
  x[start] = x[start]! + startMass * bx + turning * s;
  x[start + 1] = x[start + 1]! + startMass * by - turning * c;
  x[start + 2] = x[start + 2]! + arm * across;
  x[start + 3] = x[start + 3]! + endMass * bx - turning * s;
  x[start + 4] = x[start + 4]! + endMass * by + turning * c;
  x[start + 5] = x[start + 5]! - arm * across;
}

/** Takes d2W/dq2 off the packed tangent of the element at `at` of `elements`. */
export function addBodyStiffnessInto(
  elements: Float64Array,
  at: number,
  options: { readonly input: ElementInput; readonly mass: number; readonly bx: number; readonly by: number },
): void {
  const { input, mass, bx, by } = options;
  const { start, motions: q, shape } = input;
  const cx = shape.dx + q[start + 3]! - q[start]!;
  const cy = shape.dy + q[start + 4]! - q[start + 1]!;
  const l = Math.sqrt(cx * cx + cy * cy);
  const c = cx / l;
  const s = cy / l;
  const arm = (mass * shape.length) / 12;
  const along = bx * c + by * s;
  const across = by * c - bx * s;
  const turn = q[start + 2]! - q[start + 5]!;
  const nn = (arm * across * turn) / (l * l);
  const nt = (-arm * along * turn) / (l * l);
  const k = at + tangentAt;
  elements[k] = elements[k]! + nn * s * s - nt * 2 * c * s;
  elements[k + 1] = elements[k + 1]! - nn * c * s + nt * (c * c - s * s);
  elements[k + 2] = elements[k + 2]! + nn * c * c + nt * 2 * c * s;
  const column = (arm * along) / l;
  elements[k + 3] = elements[k + 3]! - column * s;
  elements[k + 4] = elements[k + 4]! + column * c;
  elements[k + 5] = elements[k + 5]! + column * s;
  elements[k + 6] = elements[k + 6]! - column * c;
}
