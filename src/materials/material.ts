/**
 * The record of a material: its laws under fixed names, so that a model asks for what it needs and can say what is missing.
 */

import type { ExpansionLaw, Law, Source } from "#base";

export type MaterialKind = "crystal" | "polycrystal" | "glass" | "film" | "polymer" | "metal" | "gas";

export interface TemperatureLimits {
  /** Above this the program warns [K]. */
  readonly warn: number;
  /** Above this the program refuses [K]. */
  readonly stop: number;
  /** Melting or softening [K]. */
  readonly melt?: number;
  readonly source: Source;
}

/** Brittle strength as a two-parameter Weibull distribution for one stressed root or reference area. */
export interface Strength {
  /** Stress at which 63 % of the references have broken [Pa]. */
  readonly referenceStrength: number;
  /** Weibull modulus. */
  readonly modulus: number;
  /** Peak principal stress to design for [Pa]. */
  readonly designLimit: number;
  readonly source: Source;
  readonly designLimitSource: Source;
}

export interface Material {
  readonly name: string;
  readonly kind: MaterialKind;
  /** [W/(m K)] */
  readonly conductivity?: Law;
  /** [ohm m] */
  readonly resistivity?: Law;
  /** [1/K] */
  readonly expansion?: ExpansionLaw;
  /** Specific heat [J/(kg K)] */
  readonly heatCapacity?: Law;
  /** [kg/m^3] */
  readonly density?: Law;
  /** [Pa] */
  readonly youngsModulus?: Law;
  readonly poissonRatio?: Law;
  /** [Pa] */
  readonly shearModulus?: Law;
  /** Total hemispherical emissivity. */
  readonly emissivity?: Law;
  /** Relative permittivity. */
  readonly permittivity?: Law;
  /** Residual stress after deposition, tension positive [Pa]. */
  readonly residualStress?: Law;
  readonly temperatureLimits?: TemperatureLimits;
  readonly strength?: Strength;
  /** What to know before trusting the numbers. */
  readonly notes?: readonly string[];
}

/** A gas: conducts by `conductivity`, flows by `viscosity`, and slips at walls. */
export interface Gas extends Material {
  readonly kind: "gas";
  readonly conductivity: Law;
  /** [Pa s] */
  readonly viscosity: Law;
  /** [kg/mol] */
  readonly molarMass: number;
  /** Ratio of specific heats. */
  readonly heatRatio: number;
  readonly prandtlNumber: number;
}
