/**
 * An assembly: the parts of one device at their target sizes. A part gives its share of the frame model AND its outline on the
 * plates, so that the two cannot disagree.
 */
import type { Law } from "#base";
import type { FrameBuilder } from "./frame-builder.ts";

/** Which plate a shape is drawn on. */
export type PlateName = "silicon" | "metal" | "recess";

/** One outline of a part. Coordinates in metres, counter-clockwise, [x0, y0, x1, y1, ...]. */
export interface PartOutline {
  readonly plate: PlateName;
  readonly polygon: Float64Array;
  /** True where the silicon is free to move, so that a recess must lie under it. */
  readonly free: boolean;
}

export interface Part {
  /** Name within the device, for example "leg 3 left". */
  readonly name: string;
  /** Outlines at target size. */
  outlines(): readonly PartOutline[];
  /** Adds the part's share of the frame model. The builder knows the built sizes. */
  addToFrame(frame: FrameBuilder): void;
}

/** How beams lose heat besides through their ends: computed for the gas, not at all, or as given. */
export type HeatLoss =
  | "gas"
  | "none"
  | {
      /** Of each beam, per length and kelvin, [W/(m K)]. */
      readonly perLength: number | undefined;
      /** Of every underside, per area and kelvin, as a law of the wall temperature, [W/(m^2 K)]. */
      readonly film: Law | undefined;
    };

export interface Assembly {
  readonly parts: readonly Part[];
  readonly heatLoss: HeatLoss;
  /** Clear width kept open round the device, [m]; undefined for an idealised device without a mask. */
  readonly trench: number | undefined;
  /** Roots of beams, where a break would start. */
  readonly nRoots: number;
}
