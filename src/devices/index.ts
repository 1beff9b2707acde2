export { AssemblyError } from "./assembly-error.ts";

import { bentBeamBank, bentBeamPair, straightBar } from "./families/index.ts";
import type { Family } from "./family.ts";

export type { Assembly, Part, PartOutline, PlateName } from "./assembly.ts";
export type { BeamMaterial, Conditions, ShapeFactorStore } from "./conditions.ts";
export type { DeviceModel, OperateOptions, VoltageForTravel } from "./device-model.ts";
export { createDeviceModel } from "./device-model.ts";
export type { Family } from "./family.ts";
export type { BuiltSizes, Frame, FrameBeam } from "./frame-builder.ts";
export type { BeamResult, DriveCase, EnergyReport, OperatingPoint } from "./operating-point.ts";

/** Every family that a chip text may name. */
export const families: readonly Family[] = [bentBeamPair, bentBeamBank, straightBar];
