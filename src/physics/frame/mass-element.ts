/**
 * Consistent mass of a straight beam element: deflection and slope follow the shape of the unloaded Timoshenko element, motion along
 * the beam and twist are linear between the ends.
 *
 * With phi = 12 EI/(k G A l^2) the shape is exact for a static element without load, so the mass has the same order of error as the
 * cubic of the beam stiff against shear (phi = 0), where it is the well-known 156, 22 l, 54, -13 l, ... matrix.
 * Source: Friedman & Kosmatka 1993 (key friedman1993, from memory). Main test: mass-element.test.ts.
 */

export interface ElementMass {
  /** Length between the ends, [m]. */
  readonly length: number;
  /** Mass per length at its middle, [kg/m]. */
  readonly perLength: number;
  /** Inertia of the section per length against the slope at its middle, rho I [kg m]; 0 to leave it out. */
  readonly rotary: number;
  /** How much wider it is at its end than at its start over its mean width; left out: of even width. */
  readonly taper?: number;
  /** Power of the width that the inertia of the section goes with: 3 in the plane, 1 out of it. */
  readonly rotaryPower?: 1 | 3;
  /** 12 EI/(k G A l^2), 0 where stiff against shear. */
  readonly shear: number;
}

/** Gauss points and weights for four points on 0..1: exact for the seventh powers of a tapered element. */
const points = [0.06943184420297371, 0.33000947820757187, 0.6699905217924281, 0.9305681557970263] as const;
const weights = [0.1739274225687269, 0.3260725774312731, 0.3260725774312731, 0.1739274225687269] as const;
const deflection = new Float64Array(4);
const slope = new Float64Array(4);

/** Writes the 4 x 4 row-major mass for deflection and slope at the start, deflection and slope at the end. */
export function bendingMassInto(mass: Float64Array, element: ElementMass): void {
  const { length: l, perLength, rotary, shear, taper = 0, rotaryPower = 3 } = element;
  const scale = 1 / (1 + shear);
  mass.fill(0);
  for (let p = 0; p < 4; p++) {
    const x = points[p]!;
    const square = x * x;
    const cubic = square * x;
    deflection[0] = scale * (2 * cubic - 3 * square - shear * x + 1 + shear);
    deflection[1] = scale * l * (cubic - (2 + shear / 2) * square + (1 + shear / 2) * x);
    deflection[2] = scale * (3 * square - 2 * cubic + shear * x);
    deflection[3] = scale * l * (cubic - (1 - shear / 2) * square - (shear / 2) * x);
    slope[0] = (scale * 6 * (square - x)) / l;
    slope[1] = scale * (3 * square - (4 + shear) * x + 1 + shear);
    slope[2] = -slope[0];
    slope[3] = scale * (3 * square - (2 - shear) * x);
    const width = 1 + taper * (x - 0.5);
    const m = weights[p]! * l * perLength * width;
    const r = weights[p]! * l * rotary * width ** rotaryPower;
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j <= i; j++) {
        mass[4 * i + j] = mass[4 * i + j]! + m * deflection[i]! * deflection[j]! + r * slope[i]! * slope[j]!;
      }
    }
  }
  for (let i = 0; i < 4; i++) for (let j = 0; j < i; j++) mass[4 * j + i] = mass[4 * i + j]!;
}

const bending = new Float64Array(16);

/**
 * Writes the 6 x 6 row-major mass of an element in the motions of its ends: x, y, turn in the plane; z, turn x, turn y out of it.
 * `polar` is the inertia per length against twist, [kg m], at the start and at the end.
 */
export function elementMassInto(
  mass: Float64Array,
  element: {
    readonly isPlanar: boolean;
    readonly cos: number;
    readonly sin: number;
    readonly length: number;
    readonly perLength: number;
    readonly rotary: number;
    readonly polar: readonly [start: number, end: number];
    readonly shear: number;
    readonly taper: number;
  },
): void {
  const { isPlanar, cos: c, sin: s, length, perLength, rotary, polar, shear, taper } = element;
  bendingMassInto(bending, { length, perLength, rotary, shear, taper, rotaryPower: isPlanar ? 3 : 1 });
  const ends = isPlanar ? ([perLength * (1 - taper / 2), perLength * (1 + taper / 2)] as const) : polar;
  for (let p = 0; p < 2; p++) {
    for (let q = 0; q < 2; q++) {
      const bb = bending[8 * p + 2 * q]!;
      const bs = bending[8 * p + 2 * q + 1]!;
      const sb = bending[8 * p + 4 + 2 * q]!;
      const ss = bending[8 * p + 4 + 2 * q + 1]!;
      const a = (length * (p === q ? 2 * ends[p]! + ends[0] + ends[1] : ends[0] + ends[1])) / 12;
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
