/**
 * Integrals over a beam element whose width grows evenly from its start to its end, exact for bending, shear, pull and twist at its ends.
 *
 * With s from 0 to 1 along the element and w(s) the width, the flexibility of a bent element against its end moments is
 * L times the integrals of (1 - s)^2, -s (1 - s) and s^2 over E I(s). With w = w0 exp(q u), q = log(w1/w0), the integrands become
 * exponentials of u, which a Gauss rule takes to rounding however steep the taper; q = 0 needs no case of its own.
 * Source: unit loads on a beam of changing section (key timoshenko1970, from memory). Main test: tapered-section.test.ts.
 */
import { gaussLegendreRule } from "#numerics";

/** Widths of an element at its start and its end, [m]. */
export type EndWidths = readonly [start: number, end: number];

/** 12 points: exp(-3 q u) to rounding up to q = 3, a twentyfold taper of one element. */
const rule = gaussLegendreRule(12);

/** Calls `at` with every point s of the rule, its weight and the width there. */
function integrate([start, end]: EndWidths, at: (s: number, weight: number, width: number) => void): void {
  const q = Math.log(end / start);
  const whole = q === 0 ? 1 : Math.expm1(q) / q;
  for (let p = 0; p < rule.nodes.length; p++) {
    const u = (1 + rule.nodes[p]!) / 2;
    const growth = Math.exp(q * u);
    const s = q === 0 ? u : Math.expm1(q * u) / Math.expm1(q);
    at(s, (rule.weights[p]! / 2) * (growth / whole), start * growth);
  }
}

/** Mean over the element of what a width makes. */
export function meanAlongTaper(widths: EndWidths, of: (width: number) => number): number {
  let sum = 0;
  integrate(widths, (_, weight, width) => {
    sum += weight * of(width);
  });
  return sum;
}

/** Integrals of the squared moments that unit moments at the ends make, each times what a width makes. */
export interface BendingIntegrals {
  readonly start: number;
  /** Of both ends; below zero, since moments of one sense at both ends bend it against each other. */
  readonly cross: number;
  readonly end: number;
}

export function bendingIntegrals(widths: EndWidths, of: (width: number) => number): BendingIntegrals {
  let [first, cross, last] = [0, 0, 0];
  integrate(widths, (s, weight, width) => {
    const value = weight * of(width);
    first += value * (1 - s) * (1 - s);
    cross -= value * s * (1 - s);
    last += value * s * s;
  });
  return { start: first, cross, end: last };
}

/** Stiffness of an element against turns of its ends from its chord, [N m]. */
export interface TurnStiffness {
  readonly start: number;
  readonly cross: number;
  readonly end: number;
}

/** From flexibilities, [1/(N m)]: those of bending, and what shear adds to each. */
export function turnStiffness(bending: BendingIntegrals, shear: number): TurnStiffness {
  const [a, b, c] = [bending.start + shear, bending.cross + shear, bending.end + shear];
  const determinant = a * c - b * b;
  return { start: c / determinant, cross: -b / determinant, end: a / determinant };
}
