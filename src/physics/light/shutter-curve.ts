/**
 * A shutter as a whole: its light closed and open, and along a movement of the blade.
 * Accuracy, validity and tests as light-through-slit-grids.ts.
 */
import { type LightOptions, lightThroughSlitGrids } from "./light-through-slit-grids.ts";
import type { ConeLight, SlitGridLight, SlitGrids } from "./slit-grids.ts";

export interface ShutterLight {
  /** Bars centred over the fixed slits. */
  readonly closed: SlitGridLight;
  /** Half a pitch on: slits centred over the fixed slits. */
  readonly open: SlitGridLight;
  /** Transmitted closed over transmitted open. */
  readonly leak: number;
}

/** Light of a perfectly placed blade; the offset of `grids` does not count. */
export function lightOfShutter(grids: SlitGrids, light: ConeLight, options: LightOptions): ShutterLight {
  const closed = lightThroughSlitGrids({ ...grids, offset: 0 }, light, options);
  const open = lightThroughSlitGrids({ ...grids, offset: grids.pitch / 2 }, light, options);
  return { closed, open, leak: closed.transmitted / open.transmitted };
}

export interface CurveOptions extends LightOptions {
  /** Shifts of the blade along y [m]. */
  readonly offsets: Float64Array;
}

/** Transmitted share at each offset; the offset of `grids` does not count. */
export function lightAgainstOffset(grids: SlitGrids, light: ConeLight, options: CurveOptions): Float64Array {
  return options.offsets.map((offset) => lightThroughSlitGrids({ ...grids, offset }, light, options).transmitted);
}
