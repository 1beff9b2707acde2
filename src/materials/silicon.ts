/**
 * Silicon as a device sees it: one dopant, a wafer plane, and the direction of the part in that plane.
 */

import type { Law } from "#base";
import { concentrationFromResistivity, type Dopant } from "./dopant-density.ts";
import type { Material } from "./material.ts";
import {
  type DeviceAxes,
  deviceAxes,
  siliconBiaxialModulus,
  siliconPoissonRatio,
  siliconShearModulus,
  siliconYoungsModulus,
  type WaferPlane,
} from "./silicon-elasticity.ts";
import { siliconResistivity } from "./silicon-resistivity.ts";
import {
  siliconConductivity,
  siliconDensity,
  siliconEmissivity,
  siliconExpansion,
  siliconHeatCapacity,
} from "./silicon-thermal.ts";
import { etchedSiliconStrength } from "./strength.ts";

/** Silicon with the moduli that an isotropic record has no place for. */
export interface SiliconMaterial extends Material {
  readonly conductivity: Law;
  readonly resistivity: Law;
  readonly youngsModulus: Law;
  /** Contraction across the part in the wafer plane. */
  readonly poissonRatio: Law;
  /** Contraction through the thickness. */
  readonly poissonRatioOutOfPlane: Law;
  /** Shear between the part's axis and the in-plane direction across it [Pa]. */
  readonly shearModulus: Law;
  /** Shear between the part's axis and the wafer normal [Pa]. */
  readonly shearModulusOutOfPlane: Law;
  /** In-plane E/(1 - nu) [Pa]. */
  readonly biaxialModulus: Law;
  /** Dopant density [1/m^3]. */
  readonly concentration: number;
  readonly axes: DeviceAxes;
}

export type SiliconOptions = {
  readonly dopant: Dopant;
  readonly waferPlane: WaferPlane;
  /** Direction of the part, counter-clockwise from the <110> direction along the primary flat [rad]. */
  readonly axisAngle: number;
  /** Layer thickness [m], for the size effect below 3 um. */
  readonly thickness?: number;
} & ({ readonly resistivityAt300: number } | { readonly concentration: number });

/** Laws of doped single-crystal silicon. `resistivityAt300` in ohm m, or `concentration` in 1/m^3. */
export function siliconMaterial(options: SiliconOptions): SiliconMaterial {
  const { dopant, waferPlane, axisAngle, thickness } = options;
  const concentration =
    "resistivityAt300" in options ? concentrationFromResistivity(dopant, options.resistivityAt300) : options.concentration;
  const type = dopant === "boron" ? "p" : "n";
  const axes = deviceAxes(waferPlane, axisAngle);
  const inPlane = { direction: axes.along, transverse: axes.across };
  const outOfPlane = { direction: axes.along, transverse: axes.out };
  return {
    name: "silicon",
    kind: "crystal",
    conductivity: siliconConductivity(thickness === undefined ? { concentration } : { concentration, thickness }),
    resistivity: siliconResistivity(
      "resistivityAt300" in options ? { dopant, resistivityAt300: options.resistivityAt300 } : { dopant, concentration },
    ),
    expansion: siliconExpansion,
    heatCapacity: siliconHeatCapacity,
    density: siliconDensity,
    youngsModulus: siliconYoungsModulus(axes.along, type),
    poissonRatio: siliconPoissonRatio(inPlane, type),
    poissonRatioOutOfPlane: siliconPoissonRatio(outOfPlane, type),
    shearModulus: siliconShearModulus(inPlane, type),
    shearModulusOutOfPlane: siliconShearModulus(outOfPlane, type),
    biaxialModulus: siliconBiaxialModulus(waferPlane, type),
    emissivity: siliconEmissivity,
    temperatureLimits: siliconTemperatureLimits,
    strength: etchedSiliconStrength,
    concentration,
    axes,
  };
}

/** Permanent set of bent beams is a risk above 550-600 degC: warned from 500 degC, refused above 700 degC. Common practice, no source. */
export const siliconTemperatureLimits = {
  warn: 773,
  stop: 973,
  melt: 1687,
  source: { key: "common practice", consulted: "computed", note: "no source; creep of polysilicon starts near 1060 K, tuck2005" },
} as const;
