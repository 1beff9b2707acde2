export type { Dopant } from "./dopant-density.ts";
export {
  boronResistivityThurber,
  concentrationFromResistivity,
  dopantDensityTemperature,
  resistivityFromConcentration,
} from "./dopant-density.ts";
export { constantExpansion, expansionFromLaw } from "./expansion.ts";
export type { GasState } from "./gas.ts";
export {
  freeMolecularConductance,
  gapConductivity,
  gasDensity,
  meanFreePath,
  temperatureJumpCoefficient,
  temperatureJumpDistance,
} from "./gas.ts";
export type { LawLabel, TableInterpolation } from "./law-makers.ts";
export { constantLaw, formulaLaw, gasConstant, quadraticLaw, scaledLaw, tableLaw } from "./law-makers.ts";
export { checkLawRange } from "./law-range.ts";
export { findGas, findMaterial, gasNames, materialNames } from "./library.ts";
export type { Gas, Material, MaterialKind, Strength, TemperatureLimits } from "./material.ts";
export { aroraMobility, intrinsicConcentration, intrinsicConcentrationMorin, masettiMobility } from "./mobility.ts";
export { boronMisfit, etchStopConcentration } from "./polysilicon.ts";
export { radiatedFlux, radiativeFilmCoefficient, stefanBoltzmann } from "./radiation.ts";
export type { SiliconMaterial, SiliconOptions } from "./silicon.ts";
export { siliconMaterial, siliconTemperatureLimits } from "./silicon.ts";
export type {
  CrystalDirection,
  CubicStiffness,
  DeviceAxes,
  DopingType,
  PolycrystalModuli,
  WaferPlane,
} from "./silicon-elasticity.ts";
export {
  deviceAxes,
  polycrystalModuli,
  siliconBiaxialModulus,
  siliconPoissonRatio,
  siliconShearModulus,
  siliconStiffness,
  siliconYoungsModulus,
} from "./silicon-elasticity.ts";
export type { SiliconResistivityOptions } from "./silicon-resistivity.ts";
export { modelResistivity, modelResistivityCoefficient, siliconResistivity, turnoverTemperature } from "./silicon-resistivity.ts";
export {
  checkSiliconThickness,
  pureSiliconConductivity,
  siliconConductivity,
  siliconDensity,
  siliconDopingFactor,
  siliconEmissivity,
  siliconExpansion,
  siliconHeatCapacity,
  siliconSizeFactor,
} from "./silicon-thermal.ts";
export { breakChanceOfArea, breakChanceOfRoots, etchedSiliconStrength, stressForBreakChance } from "./strength.ts";
