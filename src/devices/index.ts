export type { Assembly, Part, PartOutline, PlateName } from "./assembly.ts";
export { AssemblyError } from "./assembly-error.ts";
export type { BeamMaterial, Conditions, ShapeFactorStore } from "./conditions.ts";
export type { DeviceModel, OperateOptions, VoltageForTravel } from "./device-model.ts";
export { createDeviceModel } from "./device-model.ts";
export { families } from "./families/index.ts";
export type { Family } from "./family.ts";
export type { BuiltSizes, Frame, FrameBeam } from "./frame-builder.ts";
export type { BeamResult, DriveCase, EnergyReport, OperatingPoint } from "./operating-point.ts";
