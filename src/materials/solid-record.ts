/**
 * Turns a table row of a simple solid into a Material: constants at room temperature, each with range and spread.
 */

import type { Source } from "#base";
import { constantExpansion } from "./expansion.ts";
import { constantLaw, quadraticLaw, shomateLaw } from "./law-makers.ts";
import type { Material, MaterialKind, TemperatureLimits } from "./material.ts";

/** A number with one relative sigma. */
export type Spread = readonly [value: number, relativeSpread: number];

export interface SolidRow {
  readonly name: string;
  readonly kind: MaterialKind;
  /** [K] over which the constants may be used. */
  readonly range: { readonly from: number; readonly to: number };
  readonly source: Source;
  readonly density: Spread;
  readonly youngsModulus: Spread;
  readonly poissonRatio: Spread;
  readonly expansion: Spread;
  readonly conductivity: Spread;
  readonly heatCapacity: Spread;
  /** Molar Shomate constants A..E in J/(mol K) and molar mass [kg/mol], in place of the constant specific heat. */
  readonly shomate?: { readonly coefficients: readonly [number, number, number, number, number]; readonly molarMass: number };
  /** Resistivity at 293.15 K [ohm m], its coefficient [1/K] and relative spread. */
  readonly resistivity?: { readonly at293: number; readonly coefficient: number; readonly relativeSpread: number };
  readonly permittivity?: Spread;
  readonly residualStress?: Spread;
  readonly temperatureLimits?: TemperatureLimits;
  readonly notes?: readonly string[];
}

/** The material of a table row. */
export function materialFromRow(row: SolidRow): Material {
  const { range, source } = row;
  const constant = (value: Spread, unit: string) => constantLaw(value[0], { unit, range, relativeSpread: value[1], source });
  return {
    name: row.name,
    kind: row.kind,
    density: constant(row.density, "kg/m^3"),
    youngsModulus: constant(row.youngsModulus, "Pa"),
    poissonRatio: constant(row.poissonRatio, "1"),
    expansion: constantExpansion(row.expansion[0], { range, relativeSpread: row.expansion[1], source }),
    conductivity: constant(row.conductivity, "W/(m K)"),
    heatCapacity:
      row.shomate === undefined
        ? constant(row.heatCapacity, "J/(kg K)")
        : shomateLaw(row.shomate, {
            unit: "J/(kg K)",
            range: { from: 298, to: 847 },
            relativeSpread: row.heatCapacity[1],
            source: { key: "chase1998", consulted: "read", note: "constants of quartz, 742 J/(kg K) at 298 K like the glass" },
          }),
    ...(row.resistivity === undefined
      ? {}
      : {
          resistivity: quadraticLaw(
            { reference: row.resistivity.at293, at: 293.15, first: row.resistivity.coefficient, second: 0 },
            { unit: "ohm m", range, relativeSpread: row.resistivity.relativeSpread, source },
          ),
        }),
    ...(row.permittivity === undefined ? {} : { permittivity: constant(row.permittivity, "1") }),
    ...(row.residualStress === undefined ? {} : { residualStress: constant(row.residualStress, "Pa") }),
    ...(row.temperatureLimits === undefined ? {} : { temperatureLimits: row.temperatureLimits }),
    ...(row.notes === undefined ? {} : { notes: row.notes }),
  };
}
