/**
 * Turns a row of the metal table into a Material.
 */

import type { Material } from "./material.ts";
import { materialFromRow } from "./solid-record.ts";

export type MetalRow = readonly [
  name: string,
  youngsModulus: number,
  poissonRatio: number,
  density: number,
  expansion: number,
  conductivity: number,
  heatCapacity: number,
  resistivity: number,
  coefficient: number,
  resistivitySpread: number,
  meltingPoint: number,
  hottest: number,
];

/** The material of a metal row, with the notes given. */
export function metalFromRow(row: MetalRow, notes: readonly string[]): Material {
  const [
    name,
    youngsModulus,
    poissonRatio,
    density,
    expansion,
    conductivity,
    heatCapacity,
    resistivity,
    coefficient,
    spread,
    melt,
    hottest,
  ] = row;
  const source = { key: "crc2005", consulted: "from memory", note: "bulk values at 20-25 degC; films differ" } as const;
  return materialFromRow({
    name,
    kind: "metal",
    range: { from: 250, to: hottest },
    source,
    density: [density, 0.005],
    youngsModulus: [youngsModulus, 0.05],
    poissonRatio: [poissonRatio, 0.05],
    expansion: [expansion, 0.03],
    conductivity: [conductivity, 0.05],
    heatCapacity: [heatCapacity, 0.03],
    resistivity: { at293: resistivity, coefficient, relativeSpread: spread },
    // Common practice, no source: films coarsen and creep from about half the melting point.
    temperatureLimits: { warn: 0.45 * melt, stop: 0.6 * melt, melt, source },
    ...(notes.length === 0 ? {} : { notes }),
  });
}
