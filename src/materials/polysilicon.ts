/**
 * Polysilicon and boron etch-stop (p++) silicon: defaults only. Every number depends on the deposition; measure your own.
 * Expect 20-40 % on conductivity and resistivity, 5 % on the modulus. Main test: polysilicon.test.ts.
 */

import type { Source } from "#base";
import { constantExpansion, saturatingExpansion } from "./expansion.ts";
import { constantLaw, formulaLaw, powerLaw, quadraticLaw } from "./law-makers.ts";
import type { Material } from "./material.ts";
import { siliconTemperatureLimits } from "./silicon.ts";
import { siliconResistivity } from "./silicon-resistivity.ts";
import { siliconDensity, siliconEmissivity, siliconHeatCapacity } from "./silicon-thermal.ts";

const hotRange = { from: 250, to: 900 };

function siliconLikeExpansion(factor: number, form: { relativeSpread: number; source: Source }) {
  return saturatingExpansion(
    { saturation: 3.725, rate: 5.88e-3, origin: 124, rise: 5.548e-4, factor: 1e-6 * factor },
    { ...form, range: { from: 250, to: 1300 } },
  );
}

/** k = 1/(-2.2e-11 t³ + 9.0e-8 t² - 1.0e-5 t + 0.014), t in degrees Celsius, of [manginell1997] as used by [lott2002], FROM MEMORY. */
const conductivity = formulaLaw(
  {
    at: (T) => {
      const t = T - 273.15;
      return 1 / (0.014 + t * (-1e-5 + t * (9e-8 - 2.2e-11 * t)));
    },
    slopeAt: (T) => {
      const t = T - 273.15;
      const inverse = 0.014 + t * (-1e-5 + t * (9e-8 - 2.2e-11 * t));
      return -(-1e-5 + t * (18e-8 - 6.6e-11 * t)) / (inverse * inverse);
    },
  },
  {
    unit: "W/(m K)",
    range: { from: 293, to: 900 },
    relativeSpread: 0.3,
    source: { key: "manginell1997", consulted: "from memory", note: "20-60 W/(m K) at 300 K by grain size and doping" },
  },
);

/** Heavily doped polysilicon of a surface process. */
export const polysilicon: Material = {
  name: "polysilicon",
  kind: "polycrystal",
  conductivity,
  // 20.86 + 0.0297 t, in ohm um with t in degrees Celsius, rewritten about 20 degC.
  resistivity: quadraticLaw(
    { reference: (20.86 + 0.0297 * 20) * 1e-6, at: 293.15, first: 0.0297 / (20.86 + 0.0297 * 20), second: 0 },
    {
      unit: "ohm m",
      range: { from: 273, to: 573 },
      relativeSpread: 0.3,
      source: {
        key: "lott2002",
        consulted: "from memory",
        note: "not sure; the temperature coefficient can be tuned through zero",
      },
    },
  ),
  expansion: siliconLikeExpansion(1.05, {
    relativeSpread: 0.06,
    source: { key: "chae1999", consulted: "from memory", note: "2.6-2.9e-6 /K at 300 K; shape of okada1984 scaled to 2.7e-6" },
  }),
  heatCapacity: siliconHeatCapacity,
  density: siliconDensity,
  youngsModulus: constantLaw(165e9, {
    unit: "Pa",
    range: hotRange,
    relativeSpread: 0.05,
    source: {
      key: "korvink2010",
      consulted: "from memory",
      note: "table 130-174 GPa, usual 160-170; Hill mean of the crystal 162.6",
    },
  }),
  poissonRatio: constantLaw(0.22, {
    unit: "1",
    range: hotRange,
    relativeSpread: 0.1,
    source: { key: "korvink2010", consulted: "read" },
  }),
  emissivity: siliconEmissivity,
  temperatureLimits: siliconTemperatureLimits,
  notes: ["Values change from deposition to deposition: replace them by your own measurements."],
};

const classicSource: Source = {
  key: "lin1996",
  consulted: "from memory",
  note: "set also used by huang1999; for comparison with published models",
};

/** The parameter set of early published models of polysilicon actuators, constant except the resistivity. */
export const polysiliconClassic: Material = {
  name: "polysilicon, classic set",
  kind: "polycrystal",
  conductivity: constantLaw(32, { unit: "W/(m K)", range: hotRange, relativeSpread: 0.3, source: classicSource }),
  resistivity: quadraticLaw(
    { reference: 20e-6, at: 293.15, first: 1.25e-3, second: 0 },
    { unit: "ohm m", range: hotRange, relativeSpread: 0.3, source: classicSource },
  ),
  expansion: constantExpansion(2.7e-6, { range: hotRange, relativeSpread: 0.1, source: classicSource }),
  heatCapacity: siliconHeatCapacity,
  density: siliconDensity,
  youngsModulus: constantLaw(162e9, { unit: "Pa", range: hotRange, relativeSpread: 0.05, source: classicSource }),
  poissonRatio: constantLaw(0.22, { unit: "1", range: hotRange, relativeSpread: 0.1, source: classicSource }),
};

/** Boron density of the etch-stop silicon described here [1/m^3]. */
export const etchStopConcentration = 1.3e26;

const etchStopSource: Source = {
  key: "lee-han-kim",
  consulted: "read",
  note: "abstract: dislocation-free membrane, boron 1.3e20 cm^-3",
};

/** Boron etch-stop silicon. The residual stress is that of dislocation-free films; ordinary films average 50 MPa [yang1995]. */
export const etchStopSilicon: Material = {
  name: "p++ silicon",
  kind: "crystal",
  conductivity: powerLaw(
    { reference: 70, at: 300, exponent: -0.7 },
    {
      unit: "W/(m K)",
      range: hotRange,
      relativeSpread: 0.25,
      source: { key: "asheghi2002", consulted: "from memory", note: "50-90 W/(m K) at 300 K, exponent 0.6-0.8, not sure" },
    },
  ),
  resistivity: siliconResistivity({ dopant: "boron", concentration: etchStopConcentration }),
  expansion: siliconLikeExpansion(1, {
    relativeSpread: 0.03,
    source: { key: "okada1984", consulted: "read", note: "taken as that of pure silicon" },
  }),
  heatCapacity: siliconHeatCapacity,
  density: siliconDensity,
  youngsModulus: constantLaw(145e9, { unit: "Pa", range: hotRange, relativeSpread: 0.05, source: etchStopSource }),
  poissonRatio: constantLaw(0.28, {
    unit: "1",
    range: hotRange,
    relativeSpread: 0.1,
    source: { key: "korvink2010", consulted: "from memory" },
  }),
  residualStress: constantLaw(270e6, { unit: "Pa", range: { from: 290, to: 310 }, relativeSpread: 0.1, source: etchStopSource }),
  emissivity: siliconEmissivity,
  temperatureLimits: siliconTemperatureLimits,
};

/** Volume misfit per boron atom [m^3]: tensile strain of a film held to the undoped lattice = misfit × density. */
export const boronMisfit = 1.03e-29;
