/**
 * What a slit grid shutter is made of and what light falls on it; both are checked here before anything is traced.
 *
 * Heights from below: glass, metal film (z = 0, no thickness), gap, blade from z = gap to z = gap + thickness. All slits run along x
 * without end and repeat along y with the pitch.
 */
import type { RefractiveIndex } from "./fresnel.ts";

export interface SlitGrids {
  /** Pitch of both grids [m]. */
  readonly pitch: number;
  /** Width of the slits in the fixed metal film [m]. */
  readonly fixedSlit: number;
  /** Width of the slits in the blade, walls vertical [m]. */
  readonly bladeSlit: number;
  /** From the metal up to the underside of the blade [m]. */
  readonly gap: number;
  /** Thickness of the blade [m]; 0 leaves no walls. */
  readonly thickness: number;
  /** Shift of the blade along y [m]: 0 has the bars centred over the fixed slits, half a pitch has the slits over them. */
  readonly offset: number;
  /** Share of the light that the metal film returns, from either side, for every direction. */
  readonly metalReflectance: number;
  /** Index of the blade at the wavelength in question. */
  readonly blade: RefractiveIndex;
  /** Absorption coefficient of the blade [1/m] for light that crosses the bars from top to bottom; left out, bars are opaque. */
  readonly absorption?: number;
}

/** Unpolarised light of equal radiance (Lambert) in all directions within a half-angle of the z axis, none outside. */
export interface ConeLight {
  /** Half-angle of the cone in air [rad], 0 (parallel light) to pi/2 (the whole half-space). */
  readonly halfAngle: number;
  /** The face that the light meets first. */
  readonly from: "blade" | "metal";
}

/** Shares of the light that falls on the face of the shutter which it meets first. */
export interface SlitGridLight {
  /** Leaves on the other side. */
  readonly transmitted: number;
  /** The part of it that touched nothing. */
  readonly direct: number;
  readonly reflected: number;
  /** Lost in metal and blade. */
  readonly absorbed: number;
  /** Estimate of the error of `transmitted` by quadrature and by paths not followed to their end; not that of the model. */
  readonly errorEstimate: number;
}

/** Throws a RangeError that names the first value that cannot be. */
export function requireSlitGrids(grids: SlitGrids, light: ConeLight): void {
  const { pitch, fixedSlit, bladeSlit, gap, thickness, offset, metalReflectance, blade, absorption } = grids;
  requireWithin("pitch", pitch, { above: 0 });
  requireWithin("width of the fixed slits", fixedSlit, { above: 0, below: pitch });
  requireWithin("width of the blade slits", bladeSlit, { above: 0, below: pitch });
  requireWithin("gap", gap, { above: 0 });
  requireWithin("thickness of the blade", thickness, { least: 0 });
  requireWithin("offset", offset, {});
  requireWithin("reflectance of the metal", metalReflectance, { least: 0, most: 1 });
  requireWithin("index of the blade", blade.n, { least: 0 });
  requireWithin("extinction of the blade", blade.k ?? 0, { least: 0 });
  requireWithin("absorption of the blade", absorption ?? 0, { least: 0 });
  requireWithin("half-angle of the light", light.halfAngle, { least: 0, most: Math.PI / 2 });
  // Below an index of 1 total reflection would lock the light out of the bars, which the passage through them does not know.
  if (absorption !== undefined && !(blade.n >= 1))
    throw new RangeError(`Cannot pass light through the bars: wanted an index of 1 or more, found ${blade.n}`);
}

interface Limits {
  readonly above?: number;
  readonly least?: number;
  readonly below?: number;
  readonly most?: number;
}

function requireWithin(name: string, value: number, limits: Limits): void {
  const { above = -Infinity, least = -Infinity, below = Infinity, most = Infinity } = limits;
  if (Number.isFinite(value) && value > above && value >= least && value < below && value <= most) return;
  const wanted = [
    "a finite number",
    ...(limits.above === undefined ? [] : [`above ${above}`]),
    ...(limits.least === undefined ? [] : [`at least ${least}`]),
    ...(limits.below === undefined ? [] : [`below ${below}`]),
    ...(limits.most === undefined ? [] : [`at most ${most}`]),
  ];
  throw new RangeError(`Cannot trace light through the slits: wanted as ${name} ${wanted.join(", ")}, found ${value}`);
}
