export type {
  CrossSection,
  LadderTerm,
  LineSection,
  ShapeFactorOptions,
  SheetEntry,
  SpreadingLadder,
  SpreadingPlate,
  SpreadingResistance,
  SpreadingSource,
} from "./conduction/index.ts";
export {
  crossSectionShapeFactors,
  ladderResponse,
  meijsFokkemaShapeFactor,
  plateConduction,
  plateEdgeFactor,
  sheetEntryResistance,
  spreadingLadder,
  spreadingResistance,
  spreadingResistances,
  spreadingStep,
  thinFilmShapeFactor,
} from "./conduction/index.ts";
export type { EnergyBalance } from "./electro-thermal/energy-balance.ts";
export type { BranchField, Extreme } from "./electro-thermal/field.ts";
export {
  extremeTemperature,
  meanAlong,
  meanFreeStrain,
  meanTemperature,
  partMeansInto,
  temperatureAlong,
} from "./electro-thermal/field.ts";
export type { HeatExchange } from "./electro-thermal/heat-exchange.ts";
export { gasExchange, linearExchange, radiationExchange, sumExchange } from "./electro-thermal/heat-exchange.ts";
export type {
  AlongBranch,
  CurrentSource,
  ElectricSource,
  ElectroThermalBranch,
  ElectroThermalNetwork,
  HeatSink,
  ThermalJunction,
  VoltageSource,
} from "./electro-thermal/network.ts";
export type {
  ElectroThermalModel,
  NoSteadyState,
  SteadyOptions,
  SteadyOutcome,
  SteadyState,
} from "./electro-thermal/steady.ts";
export { createElectroThermalModel } from "./electro-thermal/steady.ts";
export type { TransientHistory, TransientOptions, TransientPhase, TransientView } from "./electro-thermal/transient.ts";
export { simulateTransient, timeToReach } from "./electro-thermal/transient.ts";
export type {
  ApertureLight,
  ConeLight,
  CurveOptions,
  LightOptions,
  RefractiveIndex,
  ShutterLight,
  SlitAperture,
  SlitGridLight,
  SlitGrids,
} from "./light/index.ts";
export { apertureLight, lightAgainstOffset, lightOfShutter, lightThroughSlitGrids } from "./light/index.ts";
export type {
  FrameJoint,
  FrameLoading,
  FrameMember,
  FrameState,
  JointMotion,
  MemberForces,
  PlanarFrame,
} from "./planar-frame/index.ts";
export { PlanarFrameModel } from "./planar-frame/index.ts";
