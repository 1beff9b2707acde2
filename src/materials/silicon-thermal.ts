/**
 * Thermal laws of single-crystal silicon: conductivity with doping and layer thickness, specific heat, expansion, density.
 *
 * Expect 5 % on the conductivity of lightly doped silicon below 1000 K and 10-20 % when heavily doped, 1 % on the specific heat,
 * 2e-7 /K on expansion. Best practice is to fit the conductivity of one's own wafer. Main test: silicon.test.ts.
 */

import type { ExpansionLaw, Finding, Law, Source } from "#base";
import { saturatingExpansion } from "./expansion.ts";
import { constantLaw, formulaLaw, shomateLaw, tableLaw } from "./law-makers.ts";
import { siliconConductivityTable, siliconDopingFactorRows } from "./silicon.table.ts";

const conductivitySource: Source = {
  key: "glassbrenner1964",
  consulted: "read second hand",
  note: "smoothed table, linear in ln T and ln k; 156 W/(m K) at 300 K, later compilations prefer 148",
};

/** Conductivity of lightly doped bulk silicon. */
export const pureSiliconConductivity: Law = tableLaw(siliconConductivityTable.temperatures, siliconConductivityTable.values, {
  unit: "W/(m K)",
  interpolation: "logarithmic",
  relativeSpread: 0.05,
  source: conductivitySource,
});

/**
 * Factor on the conductivity at 300 K for a dopant concentration [1/m^3], interpolated in its logarithm.
 * Refuses concentrations above 3e26 /m^3, where the table ends.
 */
export function siliconDopingFactor(concentration: number): number {
  const rows = siliconDopingFactorRows;
  const last = rows[rows.length - 1]![0];
  if (!(concentration >= 0 && concentration <= last)) {
    throw new RangeError(
      `Cannot tell the conductivity of doped silicon: wanted a concentration of 0 to ${last} /m^3, found ${concentration}`,
    );
  }
  if (concentration <= rows[0]![0]) return 1;
  let i = 0;
  while (concentration > rows[i + 1]![0]) i++;
  const [lower, factorBelow] = rows[i]!;
  const [upper, factorAbove] = rows[i + 1]!;
  return factorBelow + (factorAbove - factorBelow) * (Math.log(concentration / lower) / Math.log(upper / lower));
}

/** Thickness below which the size effect passes 10 % at 300 K [m]. */
const thinLayer = 3e-6;

/**
 * Length L of the in-plane size factor d / (d + L 300 K / T) [m], chosen so that a layer of 0.42 um conducts 40 % less than bulk at
 * 300 K ([asheghi1998], READ second hand). The form, and the fading with temperature as the phonon path shortens, are a guess.
 */
const sizeLength = 0.28e-6;

function sizeFactor(thickness: number, T: number): number {
  return thickness / (thickness + (sizeLength * 300) / T);
}

/** In-plane conductivity of a layer relative to bulk; 1 from 3 um up, where the effect drowns in the spread of the bulk value. */
export function siliconSizeFactor(thickness: number, T: number): number {
  return thickness >= thinLayer ? 1 : sizeFactor(thickness, T);
}

/** A note where the silicon is so thin that its conductivity is no longer that of bulk. */
export function checkSiliconThickness(thickness: number, where: string): Finding | undefined {
  if (thickness >= thinLayer) return undefined;
  return {
    code: "thin-silicon-conductivity",
    severity: "warning",
    where,
    message: `Cannot vouch for the conductivity of so thin a silicon layer: wanted 3 um or more, found ${Number((thickness * 1e6).toPrecision(3))} um. Measure it, or take the size factor as a guess.`,
    measured: thickness,
    limit: thinLayer,
    unit: "m",
    source: "asheghi1998",
  };
}

/**
 * Conductivity of doped silicon: table × [1 - (1 - f300) (900 K - T)/600 K], bracket between f300 and 1. That the doped curves
 * meet the pure one near 900 K is FROM MEMORY, the straight fading is a guess. `concentration` counts all dopants [1/m^3].
 * With `thickness` [m] below 3 um the size factor multiplies.
 */
export function siliconConductivity(options: { concentration: number; thickness?: number }): Law {
  const { concentration, thickness } = options;
  const reduction = 1 - siliconDopingFactor(concentration);
  const isThin = thickness !== undefined && thickness < thinLayer;
  if (thickness !== undefined && !(thickness > 0))
    throw new RangeError(`Cannot tell the conductivity: wanted a thickness above zero, found ${thickness}`);
  if (reduction === 0 && !isThin) return pureSiliconConductivity;
  const pure = pureSiliconConductivity;
  const doping = (T: number): number => 1 - reduction * Math.min(1, Math.max(0, (900 - T) / 600));
  const dopingSlope = (T: number): number => (T > 300 && T < 900 ? reduction / 600 : 0);
  const size = (T: number): number => (isThin ? sizeFactor(thickness, T) : 1);
  // d/dT of d / (d + c/T) is f (1 - f) / T.
  const sizeSlope = (T: number): number => (isThin ? (sizeFactor(thickness, T) * (1 - sizeFactor(thickness, T))) / T : 0);
  return formulaLaw(
    {
      at: (T) => pure.at(T) * doping(T) * size(T),
      slopeAt: (T) => pure.slopeAt(T) * doping(T) * size(T) + pure.at(T) * (dopingSlope(T) * size(T) + doping(T) * sizeSlope(T)),
    },
    {
      unit: "W/(m K)",
      // Below 250 K impurity scattering changes the shape of the curve altogether.
      range: { from: 250, to: 1681 },
      // 40 % of the reduction itself: 9 % at 5e18, 11 % at 1e19, 21 % at 1e20 cm^-3.
      relativeSpread: Math.hypot(0.05, 0.4 * reduction, isThin ? 0.15 : 0),
      source: {
        key: "asheghi2002",
        consulted: "from memory",
        note: `factor ${(1 - reduction).toFixed(3)} at 300 K on the table of glassbrenner1964, fading to 1 at 900 K: a guess, fit your own wafer${isThin ? "; size factor of a thin layer included" : ""}`,
      },
    },
  );
}

/** [J/(kg K)] */
export const siliconHeatCapacity: Law = shomateLaw(
  { coefficients: [22.81719, 3.89951, -0.082885, 0.042111, -0.354063], molarMass: 28.0855e-3 },
  { unit: "J/(kg K)", range: { from: 298, to: 1685 }, relativeSpread: 0.01, source: { key: "chase1998", consulted: "read" } },
);

/** Density [kg/m^3]; the 0.3 % lost by expansion up to 1000 K is not counted: a drawn length is a cold length. */
export const siliconDensity: Law = constantLaw(2329, {
  unit: "kg/m^3",
  range: { from: 100, to: 1687 },
  relativeSpread: 0.001,
  source: { key: "korvink2010", consulted: "from memory", note: "value at 300 K; the source prints 2330" },
});

/** Free expansion; published uncertainty 2e-7 /K, 5 % at 600 K. Heavy doping changes it by less than 3 % (FROM MEMORY, not sure). */
export const siliconExpansion: ExpansionLaw = saturatingExpansion(
  { saturation: 3.725, rate: 5.88e-3, origin: 124, rise: 5.548e-4, factor: 1e-6 },
  {
    range: { from: 120, to: 1500 },
    // A later standard measurement [watanabe2004] lies within 2.4 % of this curve: that, not the 2e-7 /K, is taken as one sigma.
    relativeSpread: 0.02,
    source: { key: "okada1984", consulted: "read" },
  },
);

/** Total emissivity of doped silicon; lightly doped silicon below 700 K is half transparent and lower. */
export const siliconEmissivity: Law = constantLaw(0.6, {
  unit: "1",
  range: { from: 298, to: 1550 },
  relativeSpread: 0.25,
  source: { key: "totalemissivity1971", consulted: "read", note: "0.42-0.78 found over 880-1550 K; a middle value" },
});
