/**
 * From a grid without end to an aperture: whole slits only, and ribs that cross them.
 *
 * The grid's transmission is an area share, so an aperture passes it on whatever part of its area is grid. Light that crosses the
 * border of the aperture or of a rib obliquely is ignored: an error of about (thickness + gap) × tan(half-angle) over the free length.
 * Main test: aperture.test.ts.
 */

export interface SlitAperture {
  readonly pitch: number;
  /** Size across the slits, along y [m]. */
  readonly across: number;
  /** Size along the slits, along x [m]. */
  readonly along: number;
  /** Widths of the ribs inside the aperture that cross the slits [m]. */
  readonly ribs: readonly number[];
}

export interface ApertureLight {
  /** Share of the light on the whole aperture. */
  readonly transmitted: number;
  readonly nSlits: number;
  /** Share of the aperture's length along the slits that ribs leave free. */
  readonly freeShare: number;
}

/** A size that misses a whole number of pitches by less than this share of a pitch is that number. */
const roundingShare = 1e-6;

/** What an aperture passes on of the light that falls on it, from what an endless grid passes on. */
export function apertureLight(gridTransmission: number, aperture: SlitAperture): ApertureLight {
  const { pitch, across, along, ribs } = aperture;
  if (!(gridTransmission >= 0 && gridTransmission <= 1))
    throw new RangeError(`Cannot fill the aperture: wanted a transmission from 0 to 1, found ${gridTransmission}`);
  if (!(pitch > 0 && across > 0 && along > 0))
    throw new RangeError(
      `Cannot fill the aperture: wanted sizes above 0, found pitch ${pitch}, across ${across}, along ${along}`,
    );
  const blocked = ribs.reduce((sum, width) => sum + width, 0);
  if (!(ribs.every((width) => width >= 0) && blocked <= along))
    throw new RangeError(`Cannot fill the aperture: wanted ribs of ${along} in all at most, found ${blocked}`);
  const nSlits = Math.floor(across / pitch + roundingShare);
  const freeShare = 1 - blocked / along;
  return { transmitted: gridTransmission * Math.min((nSlits * pitch) / across, 1) * freeShare, nSlits, freeShare };
}
