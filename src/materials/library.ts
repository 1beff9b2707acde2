/**
 * The material library: records by their usual names.
 */

import { gases } from "./gas.ts";
import { glassRows } from "./glasses.table.ts";
import { constantLaw } from "./law-makers.ts";
import type { Gas, Material } from "./material.ts";
import { metalFromRow } from "./metal-record.ts";
import { metalNotes, metalRows } from "./metals.table.ts";
import { etchStopSilicon, polysilicon, polysiliconClassic } from "./polysilicon.ts";
import { siliconTemperatureLimits } from "./silicon.ts";
import { polycrystalModuli, siliconStiffness } from "./silicon-elasticity.ts";
import {
  pureSiliconConductivity,
  siliconDensity,
  siliconEmissivity,
  siliconExpansion,
  siliconHeatCapacity,
} from "./silicon-thermal.ts";
import { materialFromRow } from "./solid-record.ts";
import { etchedSiliconStrength } from "./strength.ts";

const hill = polycrystalModuli(siliconStiffness(298.15, "p")).hill;
const hillLabel = {
  range: { from: 220, to: 423 },
  // The spread is the whole anisotropy: this record knows no direction.
  relativeSpread: 0.12,
  source: { key: "hill1952", consulted: "from memory", note: "mean over all directions; use siliconMaterial for a device" },
} as const;

/** Lightly doped silicon without a direction: for thermal tables and films. A device takes `siliconMaterial`. */
const siliconWithoutDirection: Material = {
  name: "silicon",
  kind: "crystal",
  conductivity: pureSiliconConductivity,
  expansion: siliconExpansion,
  heatCapacity: siliconHeatCapacity,
  density: siliconDensity,
  youngsModulus: constantLaw(hill.youngsModulus, { ...hillLabel, unit: "Pa" }),
  poissonRatio: constantLaw(hill.poissonRatio, { ...hillLabel, unit: "1" }),
  shearModulus: constantLaw(hill.shearModulus, { ...hillLabel, unit: "Pa" }),
  emissivity: siliconEmissivity,
  temperatureLimits: siliconTemperatureLimits,
  strength: etchedSiliconStrength,
  notes: ["No resistivity and no direction: state dopant, resistivity, wafer plane and axis for a device."],
};

const materials: readonly Material[] = [
  siliconWithoutDirection,
  polysilicon,
  polysiliconClassic,
  etchStopSilicon,
  ...glassRows.map(materialFromRow),
  ...metalRows.map((row) => metalFromRow(row, metalNotes[row[0]] ?? [])),
  ...gases,
];

const materialByName: ReadonlyMap<string, Material> = new Map(
  materials.map((material) => [material.name.toLowerCase(), material]),
);

/** Material of that name (capitals do not matter), or undefined. */
export function findMaterial(name: string): Material | undefined {
  return materialByName.get(name.trim().toLowerCase());
}

/** Gas of that name, or undefined. */
export function findGas(name: string): Gas | undefined {
  const wanted = name.trim().toLowerCase();
  return gases.find((gas) => gas.name === wanted);
}

/** Names of all materials, in the order of the library. */
export function materialNames(): string[] {
  return materials.map((material) => material.name);
}

/** Names of the gases. */
export function gasNames(): string[] {
  return gases.map((gas) => gas.name);
}
