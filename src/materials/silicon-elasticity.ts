/**
 * Elasticity of single-crystal silicon: cubic stiffness over temperature and what follows from it in any direction.
 *
 * Everything is written with three eigen-compliances, a = 1/(c11 - c12), b = 1/(c11 + 2 c12), s = 1/c44, because every inverse modulus
 * is a fixed linear combination of them: the temperature slope is then exact and cheap. Directions are given in crystal axes.
 * Validity: coefficients measured about 223-423 K on lightly doped silicon; up to 800 K this is a smooth extrapolation (E falls 4.5 %).
 * Heavily n-doped silicon is nearly free of the temperature slope [jaakkola2014]. Error 0.5 % at 298 K, about 2 % at 800 K.
 * Main test: the published direction table in silicon-elasticity.test.ts.
 */

import type { Law, Source } from "#base";
import { formulaLaw } from "./law-makers.ts";
import { siliconStiffnessAt298, siliconStiffnessCoefficients } from "./silicon.table.ts";

/** Type of conduction, which sets the temperature coefficients. */
export type DopingType = "p" | "n";

/** Plane of the wafer's face. */
export type WaferPlane = "100" | "111";

/** A direction in crystal axes; any length but zero. */
export type CrystalDirection = readonly [number, number, number];

/** Cubic stiffness [Pa]. */
export interface CubicStiffness {
  readonly c11: number;
  readonly c12: number;
  readonly c44: number;
}

const referenceTemperature = 298.15;

const elasticSource: Source = {
  key: "hopcroft2010",
  consulted: "from memory",
  note: "stiffness at 298 K; temperature coefficients of bourgeois1997, measured 223-423 K, extrapolated above",
};

/** Stiffness at temperature `T` [K]. */
export function siliconStiffness(T: number, type: DopingType): CubicStiffness {
  const { first, second } = siliconStiffnessCoefficients[type];
  const d = T - referenceTemperature;
  const base = siliconStiffnessAt298;
  return {
    c11: base.c11 * (1 + d * (first[0] + second[0] * d)),
    c12: base.c12 * (1 + d * (first[1] + second[1] * d)),
    c44: base.c44 * (1 + d * (first[2] + second[2] * d)),
  };
}

/** Weights of one compliance over the eigen-compliances [a, b, s]. */
type Weights = readonly [number, number, number];

function unitVector(direction: CrystalDirection): CrystalDirection {
  const length = Math.hypot(...direction);
  if (!(length > 0 && Number.isFinite(length))) {
    throw new RangeError(
      `Cannot use the crystal direction: wanted a finite direction that is not zero, found [${direction.join(" ")}]`,
    );
  }
  return [direction[0] / length, direction[1] / length, direction[2] / length];
}

function unitPair(direction: CrystalDirection, transverse: CrystalDirection): [CrystalDirection, CrystalDirection] {
  const n = unitVector(direction);
  const m = unitVector(transverse);
  const dot = n[0] * m[0] + n[1] * m[1] + n[2] * m[2];
  if (Math.abs(dot) > 1e-9) {
    throw new RangeError(
      `Cannot use the pair of crystal directions: wanted perpendicular ones, found a cosine of ${dot.toPrecision(3)}`,
    );
  }
  return [n, m];
}

/** Sum of n_i² m_i². */
function overlap(n: CrystalDirection, m: CrystalDirection): number {
  return n[0] * n[0] * m[0] * m[0] + n[1] * n[1] * m[1] * m[1] + n[2] * n[2] * m[2] * m[2];
}

/** 1/E = s11 - 2 (s11 - s12 - s44/2) q with q = sum of n_i² n_j² over the pairs ([brantley1973], FROM MEMORY), in eigen-compliances. */
function axialWeights(direction: CrystalDirection): Weights {
  const n = unitVector(direction);
  const q = (1 - overlap(n, n)) / 2;
  return [2 / 3 - 2 * q, 1 / 3, q];
}

/** s12' = s12 + (s11 - s12 - s44/2) p with p = sum of n_i² m_i²; nu = -s12' E. */
function transverseWeights(direction: CrystalDirection, transverse: CrystalDirection): Weights {
  const [n, m] = unitPair(direction, transverse);
  const p = overlap(n, m);
  return [p - 1 / 3, 1 / 3, -p / 2];
}

/** 1/G = s44 + 4 (s11 - s12 - s44/2) p. */
function shearWeights(direction: CrystalDirection, transverse: CrystalDirection): Weights {
  const [n, m] = unitPair(direction, transverse);
  const p = overlap(n, m);
  return [4 * p, 0, 1 - 2 * p];
}

/** Evaluates sum of weights × eigen-compliances and its slope at T. */
interface Compliance {
  at(T: number): number;
  slopeAt(T: number): number;
}

function compliance(weights: Weights, type: DopingType): Compliance {
  const [wa, wb, ws] = weights;
  const { c11, c12, c44 } = siliconStiffnessAt298;
  const { first, second } = siliconStiffnessCoefficients[type];
  // Polynomials of c11 - c12, c11 + 2 c12 and c44 in d = T - 298.15 K.
  const a = [c11 - c12, c11 * first[0] - c12 * first[1], c11 * second[0] - c12 * second[1]] as const;
  const b = [c11 + 2 * c12, c11 * first[0] + 2 * c12 * first[1], c11 * second[0] + 2 * c12 * second[1]] as const;
  const s = [c44, c44 * first[2], c44 * second[2]] as const;
  return {
    at: (T) => {
      const d = T - referenceTemperature;
      return wa / (a[0] + d * (a[1] + d * a[2])) + wb / (b[0] + d * (b[1] + d * b[2])) + ws / (s[0] + d * (s[1] + d * s[2]));
    },
    slopeAt: (T) => {
      const d = T - referenceTemperature;
      const va = a[0] + d * (a[1] + d * a[2]);
      const vb = b[0] + d * (b[1] + d * b[2]);
      const vs = s[0] + d * (s[1] + d * s[2]);
      return (
        -(wa * (a[1] + 2 * d * a[2])) / (va * va) -
        (wb * (b[1] + 2 * d * b[2])) / (vb * vb) -
        (ws * (s[1] + 2 * d * s[2])) / (vs * vs)
      );
    },
  };
}

const label = { range: { from: 220, to: 800 }, relativeSpread: 0.01, source: elasticSource };

function inverseLaw(inverse: Compliance): Law {
  return formulaLaw(
    {
      at: (T) => 1 / inverse.at(T),
      slopeAt: (T) => {
        const value = inverse.at(T);
        return -inverse.slopeAt(T) / (value * value);
      },
    },
    { ...label, unit: "Pa" },
  );
}

/** Young's modulus along a direction [Pa]. */
export function siliconYoungsModulus(direction: CrystalDirection, type: DopingType): Law {
  return inverseLaw(compliance(axialWeights(direction), type));
}

/** Poisson ratio: contraction along `transverse` per stretch along `direction`. */
export function siliconPoissonRatio(
  directions: { direction: CrystalDirection; transverse: CrystalDirection },
  type: DopingType,
): Law {
  const axial = compliance(axialWeights(directions.direction), type);
  const cross = compliance(transverseWeights(directions.direction, directions.transverse), type);
  return formulaLaw(
    {
      at: (T) => -cross.at(T) / axial.at(T),
      slopeAt: (T) => {
        const value = axial.at(T);
        return (cross.at(T) * axial.slopeAt(T) - cross.slopeAt(T) * value) / (value * value);
      },
    },
    { ...label, unit: "1" },
  );
}

/** Shear modulus between two perpendicular directions [Pa]. */
export function siliconShearModulus(
  directions: { direction: CrystalDirection; transverse: CrystalDirection },
  type: DopingType,
): Law {
  return inverseLaw(compliance(shearWeights(directions.direction, directions.transverse), type));
}

/** Crystal axes of a device on a wafer: along the part, across it in the wafer plane, and out of the wafer. */
export interface DeviceAxes {
  readonly along: CrystalDirection;
  readonly across: CrystalDirection;
  readonly out: CrystalDirection;
}

/**
 * Crystal axes of a part whose length lies at `axisAngle` [rad, counter-clockwise] from the <110> direction in the wafer plane,
 * which is the direction along the primary flat (or across the notch) of a standard wafer. In a (100) wafer the <100> directions
 * then lie at 45 degrees.
 */
export function deviceAxes(plane: WaferPlane, axisAngle: number): DeviceAxes {
  const root2 = Math.SQRT1_2;
  const root6 = 1 / Math.sqrt(6);
  const root3 = 1 / Math.sqrt(3);
  const flat: CrystalDirection = plane === "100" ? [root2, root2, 0] : [root2, -root2, 0];
  const aside: CrystalDirection = plane === "100" ? [-root2, root2, 0] : [root6, root6, -2 * root6];
  const out: CrystalDirection = plane === "100" ? [0, 0, 1] : [root3, root3, root3];
  const c = Math.cos(axisAngle);
  const s = Math.sin(axisAngle);
  const mix = (x: number, y: number): CrystalDirection => [
    x * flat[0] + y * aside[0],
    x * flat[1] + y * aside[1],
    x * flat[2] + y * aside[2],
  ];
  return { along: mix(c, s), across: mix(-s, c), out };
}

/** In-plane E/(1 - nu) of a film or plate under equal stress in all directions of the wafer plane [Pa]: the same at every angle. */
export function siliconBiaxialModulus(plane: WaferPlane, type: DopingType): Law {
  const { along, across } = deviceAxes(plane, 0);
  const axial = axialWeights(along);
  const cross = transverseWeights(along, across);
  return inverseLaw(compliance([axial[0] + cross[0], axial[1] + cross[1], axial[2] + cross[2]], type));
}

/** Isotropic moduli [Pa] and Poisson ratio of a polycrystal without texture. */
export interface PolycrystalModuli {
  readonly youngsModulus: number;
  readonly poissonRatio: number;
  readonly shearModulus: number;
}

function moduliFrom(bulk: number, shear: number): PolycrystalModuli {
  const youngsModulus = (9 * bulk * shear) / (3 * bulk + shear);
  return { youngsModulus, poissonRatio: youngsModulus / (2 * shear) - 1, shearModulus: shear };
}

/** Voigt (upper) and Reuss (lower) bound and their mean after Hill (shear and bulk modulus averaged), [hill1952] FROM MEMORY. */
export function polycrystalModuli(stiffness: CubicStiffness): {
  voigt: PolycrystalModuli;
  reuss: PolycrystalModuli;
  hill: PolycrystalModuli;
} {
  const { c11, c12, c44 } = stiffness;
  const bulk = (c11 + 2 * c12) / 3;
  const shearVoigt = (c11 - c12 + 3 * c44) / 5;
  const shearReuss = (5 * (c11 - c12) * c44) / (4 * c44 + 3 * (c11 - c12));
  return {
    voigt: moduliFrom(bulk, shearVoigt),
    reuss: moduliFrom(bulk, shearReuss),
    hill: moduliFrom(bulk, (shearVoigt + shearReuss) / 2),
  };
}
