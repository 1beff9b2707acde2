/**
 * A law: one physical property as a function of temperature, with where it comes from and how far it reaches.
 * All values in SI; temperature in kelvin.
 */

/** How a source was consulted. */
export type Consulted = "read" | "read second hand" | "from memory" | "computed" | "given by the user";

export interface Source {
  /** Key in docs/references.bib, or a plain description for a value the user gave. */
  readonly key: string;
  readonly consulted: Consulted;
  readonly note?: string;
}

export interface Law {
  /** Value at temperature T [K], in `unit`. Does not check the range: the caller reports leaving it as a finding. */
  at(T: number): number;
  /** Derivative of the value with respect to T, [unit/K]. */
  slopeAt(T: number): number;
  /** SI unit text, for example "W/(m K)". */
  readonly unit: string;
  /** Temperatures over which the law holds, [K]. */
  readonly range: { readonly from: number; readonly to: number };
  /** One standard deviation, relative to the value. */
  readonly relativeSpread: number;
  readonly source: Source;
}

/** Thermal expansion needs its exact integral as well as its coefficient. */
export interface ExpansionLaw extends Law {
  /** Free strain on going from temperature `from` to `to` [K]: integral of the coefficient, dimensionless. */
  strainBetween(from: number, to: number): number;
}
