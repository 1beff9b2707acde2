export type {
  CrossSection,
  CrossSectionCouplings,
  LadderTerm,
  LineSection,
  ShapeFactorCurve,
  ShapeFactorCurveOptions,
  ShapeFactorOptions,
  SheetEntry,
  SlitGrid,
  SpreadingLadder,
  SpreadingPlate,
  SpreadingResistance,
  SpreadingSource,
} from "./conduction/index.ts";
export {
  createShapeFactorCurve,
  crossSectionCouplings,
  crossSectionShapeFactors,
  ladderResponse,
  meijsFokkemaShapeFactor,
  plateConduction,
  plateEdgeFactor,
  sheetEntryResistance,
  slitGridFactor,
  spreadingConductances,
  spreadingLadder,
  spreadingResistances,
  spreadingStep,
  thinFilmShapeFactor,
} from "./conduction/index.ts";
export type {
  CircularFilm,
  CylinderDrag,
  FilmForce,
  FilmMoment,
  FilmVibration,
  NoisyMode,
  PlateOpenings,
  RectangularFilm,
  ShearedGas,
  WallDrag,
} from "./damping/index.ts";
export {
  accelerationNoise,
  capacitorNoise,
  circularFilmDamping,
  compressibleSqueezeFilm,
  cylinderAtWallDrag,
  cylinderDrag,
  effectiveFilmViscosity,
  filmViscosityFactor,
  forceNoise,
  freeFaceDamping,
  knudsenNumber,
  leakyFilmDamping,
  lengthenedFilm,
  openingResistance,
  penetrationDepth,
  resistorNoise,
  slidingFilmDamping,
  slidingSlipFactor,
  slipViscosityFactor,
  squeezeFilmDamping,
  squeezeNumber,
  thermalDisplacement,
  thermalMotion,
  tiltingFilm,
} from "./damping/index.ts";
export type {
  Characteristic,
  CharacteristicOptions,
  CharacteristicPoint,
  StateAtDrive,
  SteadyStates,
} from "./electro-thermal/characteristic.ts";
export { findSteadyStates, traceCharacteristic } from "./electro-thermal/characteristic.ts";
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
export type { FrameSolution } from "./electro-thermal/frame-solution.ts";
export type { HeatExchange, PairExchange } from "./electro-thermal/heat-exchange.ts";
export {
  gasExchange,
  gasPairExchange,
  linearExchange,
  linearPairExchange,
  radiationExchange,
  sumExchange,
} from "./electro-thermal/heat-exchange.ts";
export type { DecayMode, LinearisedFrame } from "./electro-thermal/linearised-frame.ts";
export { lineariseFrame } from "./electro-thermal/linearised-frame.ts";
export {
  fieldsOnTrajectory,
  type LinearisedTransient,
  lineariseTransient,
  type MomentaryFields,
  type NeighbourTransient,
  type TransientNeighbour,
} from "./electro-thermal/linearised-transient.ts";
export type {
  AlongBranch,
  ChainSink,
  ConductanceSink,
  CouplingSide,
  CurrentSource,
  ElectricSource,
  ElectroThermalBranch,
  ElectroThermalNetwork,
  FosterElement,
  GasCoupling,
  HeatSink,
  ThermalJunction,
  ThermalLink,
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
export { timeToReach } from "./electro-thermal/time-to-reach.ts";
export { findUncooledJunction } from "./electro-thermal/topology.ts";
export { simulateTransient } from "./electro-thermal/transient.ts";
export type {
  LimitEvent,
  Trajectory,
  TrajectoryPoint,
  TransientHistory,
  TransientOptions,
  TransientPhase,
  TransientView,
} from "./electro-thermal/transient-history.ts";
export type {
  BeamForces,
  BeamSection,
  BlockedForce,
  ContactStop,
  DiscretisationError,
  ForceTravelLine,
  ForceTravelPoint,
  FrameBeam,
  FrameEquilibrium,
  FrameForce,
  FrameJunction,
  FrameLoad,
  FrameModel,
  FrameNetwork,
  FrameShape,
  FrameSolveOptions,
  FrameState,
  HeldMotion,
  Motion,
  NoEquilibrium,
  NoSpecialState,
  OutOfPlaneMotion,
  PathPoint,
  PointMotion,
  RigidBodyMass,
  SpecialPoint,
  SpecialState,
  SpecialStateOptions,
  StateExtent,
  StopState,
  TracedPath,
  TraceOptions,
} from "./frame/index.ts";
export {
  createFrameModel,
  estimateDiscretisation,
  estimateNeighbour,
  FreeMotionError,
  findAllStates,
  findBeamForces,
  findBlockedForce,
  findBucklingFactor,
  findForceTravel,
  findSpecialState,
  flexibilityAt,
  motionAt,
  recommendElements,
  shapeOf,
  stiffnessAt,
  tracePath,
} from "./frame/index.ts";
export { createOutOfPlaneModel } from "./frame/out-of-plane.ts";
export type { Mode, ModeSet } from "./frame/vibration.ts";
export { eigenvalueOf, findModes, matchModes } from "./frame/vibration.ts";
export type { SmallMotionSystem } from "./frame/vibration-matrices.ts";
export type { SmallMotionPoint, SmallResponse } from "./frame/vibration-response.ts";
export { motionOfPoint, solveSmallMotion, stiffnessOfPoint } from "./frame/vibration-response.ts";
export { createSmallMotionSystem } from "./frame/vibration-system.ts";
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
