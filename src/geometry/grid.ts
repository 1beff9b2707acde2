/**
 * The mask grid: the one place where metres become whole database units and back.
 *
 * One database unit (dbu) is 1 nm, the usual unit of stream files. A 32-bit coordinate then reaches 2.147 m to each side,
 * beyond any wafer. Rounding is to the nearest grid point, halves upward, so that a shift by whole units commutes with it.
 */

/** Size of one database unit, [m]. */
export const metresPerDbu = 1e-9;

const dbuPerMetre = 1e9;

/** Largest coordinate that a polygon may hold, [dbu]. */
export const largestDbu = 2 ** 31 - 1;

/** The nearest whole database unit to a coordinate in database units; refuses what a 32-bit coordinate cannot hold. */
export function roundToDbu(value: number): number {
  const rounded = Math.floor(value + 0.5);
  if (!(Math.abs(rounded) <= largestDbu)) {
    throw new RangeError(
      `Cannot place ${value} on the mask grid: wanted a coordinate within ${largestDbu} database units, found ${value}`,
    );
  }
  return rounded;
}

/** Whole database units nearest to a length [m]. */
export function dbuFromMetres(metres: number): number {
  return roundToDbu(metres * dbuPerMetre);
}

/** Length [m] of a number of database units, whole or not. */
export function metresFromDbu(dbu: number): number {
  return dbu / dbuPerMetre;
}

/** Area [m^2] of an area in square database units. */
export function squareMetresFromDbu(area: number): number {
  return area / dbuPerMetre / dbuPerMetre;
}

/** Polygon on the grid [dbu, x0 y0 x1 y1 ...] from an outline [m, same shape]. */
export function polygonFromOutline(outline: Float64Array): Int32Array {
  return Int32Array.from(outline, dbuFromMetres);
}

/** Outline [m, x0 y0 x1 y1 ...] from a polygon [dbu, same shape]. */
export function outlineFromPolygon(polygon: Int32Array): Float64Array {
  return Float64Array.from(polygon, metresFromDbu);
}
