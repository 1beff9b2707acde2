export type { ApertureLight, SlitAperture } from "./aperture.ts";
export { apertureLight } from "./aperture.ts";
export type { RefractiveIndex } from "./fresnel.ts";
export type { LightOptions } from "./light-through-slit-grids.ts";
export { lightThroughSlitGrids } from "./light-through-slit-grids.ts";
export type { CurveOptions, ShutterLight } from "./shutter-curve.ts";
export { lightAgainstOffset, lightOfShutter } from "./shutter-curve.ts";
export type { ConeLight, SlitGridLight, SlitGrids } from "./slit-grids.ts";
